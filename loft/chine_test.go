package loft

import (
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
)

// TestFramesOfThreePoints: a straight-sided hull of one chine is three points a
// frame, the middle one a knuckle. Its sides and its bottom stay straight across, and
// its girths are exact.
func TestFramesOfThreePoints(t *testing.T) {
	var h hull.Hull
	for i, half := range []float64{14, 20, 24, 25, 23, 18} {
		x := 40 * float64(i)
		h.Frames = append(h.Frames, hull.Frame{Name: string(rune('A' + i)), Knuckles: []int{1}, Points: []mgl64.Vec3{{x, half + 4, 40}, {x, half, 12}, {x, 0, 4}}})
	}
	p := hull.NewPlan("punt", h)
	require.Empty(t, p.Check())
	k, err := Plank(p)
	require.NoError(t, err)
	s := k.Layers[0].Surface
	for i, f := range h.Frames {
		a, b := f.Points[0].Sub(f.Points[1]).Len(), f.Points[1].Sub(f.Points[2]).Len()
		assert.InDelta(t, a+b, s.Girth(i), 1e-9)
		side := s.AtDown(i, a/2)
		assert.InDelta(t, 0, side.Sub(f.Points[0].Add(f.Points[1]).Mul(0.5)).Len(), 1e-6)
		bottom := s.AtDown(i, a+b/2)
		assert.InDelta(t, 0, bottom.Sub(f.Points[1].Add(f.Points[2]).Mul(0.5)).Len(), 1e-6)
	}
}
