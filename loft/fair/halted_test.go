package fair

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/strakewright/strakewright/loft/internal/bodies"
	"github.com/strakewright/strakewright/loft/internal/checks"

	"github.com/stretchr/testify/require"
)

// longFairing is fairing that may take a second or more. Size 4 is as large as a
// builder may have it; at most one smooth surface through all points lies between two
// looks at the context: its equations factorised, solved and inverted.
func longFairing(tb testing.TB, size int) map[string]checks.LongWork {
	tb.Helper()
	r := rand.New(rand.NewPCG(1, 9))
	frames := displaced(bodies.Wigley(800, 6+5*size, 20*size), func(int, int) float64 { return 0.2 * r.NormFloat64() })
	surface := func() {
		g, err := newGrid(context.Background(), frames)
		require.NoError(tb, err)
		_, err = g.smooth([2]float64{1, 1}, slices.Repeat([]bool{true}, len(g.at)))
		require.NoError(tb, err)
	}
	return map[string]checks.LongWork{
		"Misfits": {Do: func(ctx context.Context) error { _, err := Misfits(ctx, frames); return err }, Unit: surface, Part: 1, Late: 10},
		"Fair":    {Do: func(ctx context.Context) error { _, err := Fair(ctx, frames, 0.3); return err }, Unit: surface, Part: 1, Late: 10},
	}
}

func TestLongFairingIsStopped(t *testing.T) { checks.StopsInTime(t, longFairing(t, 1)) }

// BenchmarkStopFairing measures the longest time between two looks at the context in
// fairing a large hull.
func BenchmarkStopFairing(b *testing.B) { checks.LongestWait(b, longFairing(b, 4)) }
