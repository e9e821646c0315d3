package loft

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
	"github.com/strakewright/strakewright/loft/internal/checks"
)

// longWork lists every kind of long computation. Size 4 is as large as a builder may
// have it; the longest interval between two looks at the context is
//
//   - in laying band lines, lining off and staggering, one layer: its surface and strakes;
//   - in cutting layers, a twentieth of the butting of one, and for the cutting from
//     strips the amount that TestCuttingIsStopped allows; where strakes are cut from
//     sheet, one layer.
func longWork(tb testing.TB, size int) map[string]checks.LongWork {
	tb.Helper()
	many := oneLayer(bodies.Wigley(600+250*float64(size), 20*size, 8*size), bodies.FiveByTwo, 6)
	many.Layers[0].Stock.Length = 300 // so that all strakes are butted
	many.Layers = append(many.Layers, many.Layers[0])
	laid, err := Plank(many)
	require.NoError(tb, err)
	layer := func() {
		s := laid.Layers[0].Surface
		s = s.offset(many.Layers[0].Stock.Thickness, 0, s.Frames()-1)
		_, err := newLayer(context.Background(), many, 1, s, nil)
		require.NoError(tb, err)
	}
	strips := many.Clone()
	for i := range strips.Layers {
		for b := range strips.Layers[i].Bands {
			strips.Layers[i].Bands[b].Modes = slices.Repeat([]hull.Mode{hull.Sprung}, 500) // none is cut from sheet
		}
	}
	sprung, err := Plank(strips)
	require.NoError(tb, err)
	butting := func() { sprung.Layers[0].buttEvenly(hull.NewCutting(), func(*Strake) float64 { return 300 }) }
	return map[string]checks.LongWork{
		"FairLines":            {Do: func(ctx context.Context) error { _, err := FairLines(ctx, many, 0, 6); return err }, Unit: layer, Part: 1, Late: 0},
		"LineOff":              {Do: func(ctx context.Context) error { _, err := LineOff(ctx, many, 0, 2, 2, nil); return err }, Unit: layer, Part: 1, Late: 0},
		"Stagger":              {Do: func(ctx context.Context) error { _, err := Stagger(ctx, many, 1); return err }, Unit: layer, Part: 1, Late: 0},
		"CutLayers":            {Do: func(ctx context.Context) error { _, err := sprung.cutLayers(ctx); return err }, Unit: butting, Part: 20, Late: 40},
		"CutLayers from sheet": {Do: func(ctx context.Context) error { _, err := laid.cutLayers(ctx); return err }, Unit: layer, Part: 1, Late: 40},
	}
}

func TestLongWorkIsStopped(t *testing.T) { checks.StopsInTime(t, longWork(t, 1)) }

// BenchmarkStop measures the longest time between two looks at the context in all long
// work, each on a large case.
func BenchmarkStop(b *testing.B) { checks.LongestWait(b, longWork(b, 4)) }
