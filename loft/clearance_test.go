package loft

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// twoLayers lays 5 mm strips on an upright side of 50 mm, and over them a second layer
// of 50/9 mm strakes in one band.
func twoLayers(width float64, strakes int) *hull.Plan {
	p := oneLayer(bodies.Trough(5, 60, func(float64) [][2]float64 { return bodies.Flat(50) }), bodies.FiveByTwo, 1)
	p.Layers = append(p.Layers, p.Layers[0])
	p.Layers[0].Bands = []hull.Band{{Strakes: 10}}
	p.Layers[1].Stock = hull.Stock{Width: width, Thickness: 0.6, Length: 1000}
	p.Layers[1].Bands = []hull.Band{{Strakes: strakes}}
	return p
}

// TestClearances: seams every 5 mm beneath seams every 50/9 mm: the k-th of the
// nine comes within 5k/9 of a millimetre of one beneath it.
func TestClearances(t *testing.T) {
	k, err := Plank(twoLayers(5.5, 9))
	require.NoError(t, err)
	c := k.Clearances(1)
	require.Len(t, c, 8)
	for i := range c {
		at := 50. / 9 * float64(i+1)
		want := 50.
		for s := 5.0; s < 50; s += 5 {
			want = min(want, max(s-at, at-s))
		}
		assert.InDelta(t, want, c[i].Distance, 1e-4)
	}
	assert.InDelta(t, 5./9, Nearest(c).Distance, 1e-4)
	assert.Nil(t, k.Clearances(0))
}

// TestStagger: seams that coincide are moved apart.
func TestStagger(t *testing.T) {
	p := twoLayers(5, 10)
	k, err := Plank(p)
	require.NoError(t, err)
	assert.InDelta(t, 0, Nearest(k.Clearances(1)).Distance, 1e-4)
	q, err := Stagger(context.Background(), p, 1)
	require.NoError(t, err)
	k, err = Plank(q)
	require.NoError(t, err)
	assert.Greater(t, spread(k.Clearances(1))[0], 0.8)
	assert.Nil(t, p.Layers[1].Bands[0].Weights, "the plan given is not changed")
}
