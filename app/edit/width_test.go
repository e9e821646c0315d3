package edit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/loft"
)

// The width asked for is the one that a planking from nothing gives.
func TestSetWidth(t *testing.T) {
	p, _ := planAndCourse(t)
	k, err := loft.Plank(p)
	require.NoError(t, err)
	cut := func(c loft.Crossing) float64 { return c.WidthCut }
	frame := k.Layers[0].Greatest()
	s := k.Layers[0].Strakes[1]
	for _, by := range []float64{0.4, -0.3} {
		want := s.At[frame].WidthCut + by
		q := p.Clone()
		require.NoError(t, SetWidth(k, 0, s.ID, frame, want, cut)(q))
		fresh, err := loft.Plank(q)
		require.NoError(t, err)
		assert.InDelta(t, want, fresh.Layers[0].Strakes[1].At[frame].WidthCut, widthReached)
	}
	err = SetWidth(k, 0, s.ID, frame, 60, cut)(p.Clone())
	var beyond WidthBeyond
	require.ErrorAs(t, err, &beyond)
	assert.InDelta(t, beyond.Least, s.At[frame].WidthCut, 1e-9)
	assert.Greater(t, beyond.Most, 2*s.At[frame].WidthCut)
	assert.Less(t, beyond.Most, 60.0)
	assert.ErrorContains(t, SetWidth(k, 0, "9.99", frame, 4, cut)(p.Clone()), "not laid")
}
