package loft

import (
	"context"
	"runtime"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// TestNarrowStripsAreRefusedBeforeTheyAreLaid: the number of strakes in a girth is
// bounded even for the narrowest strips, and a plan that is refused uses almost no
// memory.
func TestNarrowStripsAreRefusedBeforeTheyAreLaid(t *testing.T) {
	for want, spoil := range map[string]func(*hull.Layer){
		"the strip's width is 1e-06 mm: give it from 0.1 to 1000 mm":          func(l *hull.Layer) { l.Stock.Width = 1e-6 },
		"the strip's thickness is 1000000000 mm: give it from 0.05 to 100 mm": func(l *hull.Layer) { l.Stock.Thickness = 1e9 },
		"the strip's length is 1e+308 mm: give it from 1 to 100000 mm":        func(l *hull.Layer) { l.Stock.Length = 1e308 },
		"would take more than 500 strips 0.1 mm wide: give wider strips":      func(l *hull.Layer) { l.Stock.Width = 0.1 },
		"would take more than 500 strips 5 mm wide: give wider strips, or":    func(l *hull.Layer) { l.Bands[0].Strakes = 1e9 },
	} {
		p := oneLayer(bodies.Wigley(1600, 25, 15), bodies.FiveByTwo, 1)
		spoil(&p.Layers[0])
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := Plank(p)
		runtime.ReadMemStats(&after)
		assert.ErrorContains(t, err, want)
		assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(16<<20), "bytes")
	}
}

func TestStrakesAcrossAllLayersAreBounded(t *testing.T) {
	p := oneLayer(bodies.Wigley(800, 101, 11), hull.Stock{Width: 0.5, Thickness: 0.1, Length: 1000}, 1)
	k, err := Plank(p)
	require.NoError(t, err)
	crossings := len(k.Layers[0].Strakes) * 101
	p.Layers = slices.Repeat(p.Layers, 10)
	require.Greater(t, 10*crossings, hull.MostCrossings)
	_, err = Plank(p)
	assert.ErrorContains(t, err, "the strakes of the layers up to it cross the frames more than 50000 times, the limit")
}

func TestStrakesForKeepsItsLimit(t *testing.T) {
	l := &hull.Layer{Stock: hull.Stock{Width: 1e-6, Thickness: 1, Length: 1000}}
	assert.Equal(t, 501, strakesFor(1e5, 0, l, 0.03))
	l.Stock.Width = 5
	assert.Equal(t, 20, strakesFor(100, 0, l, 0.03))
}

func TestMixesAreBounded(t *testing.T) {
	k, err := Plank(workload(t, 25))
	require.NoError(t, err)
	_, err = k.BestMix(context.Background(), 0, 0, []float64{0.001, 4})
	assert.EqualError(t, err, "a strip's width is 0.001 mm: give it from 0.1 to 1000 mm")
	many := make([]float64, 13)
	for i := range many {
		many[i] = float64(i + 3)
	}
	_, err = k.BestMix(context.Background(), 0, 0, many)
	assert.EqualError(t, err, "a mix of 13 widths is too much to search: give 12 at most")
}
