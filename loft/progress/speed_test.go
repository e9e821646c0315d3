package progress

import (
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// busyBench is the demo hull with a long record on both sides: all strakes except the
// last three of each band laid, and what is left measured at every other frame after
// every third.
func busyBench(tb testing.TB) *loft.Planking {
	f, err := os.Open("../../assets/coaster.strakeplan")
	require.NoError(tb, err)
	defer f.Close()
	p, err := hull.ReadPlan(f, "coaster")
	require.NoError(tb, err)
	k, err := loft.Plank(p)
	require.NoError(tb, err)
	l := k.Layers[0]
	rng := rand.New(rand.NewPCG(1, 2))
	for _, side := range hull.Sides() {
		for _, b := range l.Bands {
			for n := range len(b.Weights) - 3 {
				p.Record.Add(side, hull.Entry{Date: "2026-03-01", EntryKind: hull.Glued, Layer: 1, Strake: loft.StrakeID(1, b.Number, n+1)})
				if (n+1)%3 != 0 {
					continue
				}
				for i := 0; i < len(l.Girths); i += 2 {
					left := b.Girths[i] * (1 - float64(n+1)*1.02/float64(len(b.Weights)))
					p.Record.Add(side, hull.Entry{Date: "2026-03-01", EntryKind: hull.LeftOver, Layer: 1, Band: b.Number, Frame: l.Surface.FrameName(i), MM: max(left+0.2*rng.NormFloat64(), 0)})
				}
			}
		}
	}
	k, err = loft.Plank(p)
	require.NoError(tb, err)
	return k
}

func BenchmarkBothSidesOfABusyBench(b *testing.B) {
	k := busyBench(b)
	for b.Loop() {
		if _, err := BothSides(k, 0, &k.Plan.Record, UsualHabit()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkOptions(b *testing.B) {
	k := busyBench(b)
	for b.Loop() {
		if _, err := Options(b.Context(), k, hull.Port, 0, 0, UsualHabit()); err != nil {
			b.Fatal(err)
		}
	}
}
