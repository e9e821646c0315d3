package loft

import (
	"fmt"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// standing gives frames of a cylinder that stands on its end: the waterlines
// are all the curve y(x), and level strakes bend about its rulings.
func standing(xs []float64, y func(float64) float64) []hull.Frame {
	var out []hull.Frame
	for i, x := range xs {
		f := hull.Frame{Name: fmt.Sprintf("F%d", i)}
		for k := range 6 {
			f.Points = append(f.Points, mgl64.Vec3{x, y(x), 40 - 8*float64(k)})
		}
		out = append(out, f)
	}
	return out
}

// On a round cylinder of radius R the face strain is t/2R all along.
func TestBendOnACylinder(t *testing.T) {
	const radius = 100.0
	frames := standing(bodies.Spaced(-60, 60, 25), func(x float64) float64 { return math.Sqrt(radius*radius - x*x) })
	k, err := Plank(hull.NewPlan("cylinder", hull.Hull{Frames: frames}))
	require.NoError(t, err)
	for thickness, how := range map[float64]How{1.9: Dry, 2.1: Soaked, 3.9: Soaked, 4.1: Heated, 7.9: Heated, 8.1: Carved} {
		for _, b := range k.Layers[0].bends(thickness, BendLimitsOf(hull.NewTrade())) {
			assert.InDelta(t, radius, b.Radius, 0.5, "the cubic through frames 5 mm apart keeps the radius to half a percent")
			assert.InDelta(t, thickness/(2*radius), b.Strain, 1e-4)
			assert.InDelta(t, 2*b.Radius, b.Form, 1e-9, "its inner face lies on the cylinder")
			assert.InDelta(t, 0, float64(b.Twist), 1e-6)
			require.Len(t, b.Spans, 1)
			assert.Equal(t, how, b.Spans[0].How, "%g mm", thickness)
			assert.Equal(t, 0, b.Spans[0].From)
			assert.Equal(t, 24, b.Spans[0].To)
		}
	}
}

// On an elliptic cylinder the curvature is a·b/(a²·sin²t + b²·cos²t)^(3/2) at
// x = a·cos t: it is steepest towards the ends. The spans change in the bay in
// which it passes each limit.
func TestBendSpansOnAnEllipse(t *testing.T) {
	const a, b, thickness = 120.0, 60.0, 2.0
	xs := bodies.Spaced(-108, 108, 37)
	frames := standing(xs, func(x float64) float64 { return b * math.Sqrt(1-x*x/(a*a)) })
	k, err := Plank(hull.NewPlan("ellipse", hull.Hull{Frames: frames}))
	require.NoError(t, err)
	strain := func(x float64) float64 {
		c := x / a
		return thickness / 2 * a * b / math.Pow(a*a*(1-c*c)+b*b*c*c, 1.5)
	}
	limits := BendLimits{Dry: 0.0059, Soaked: 0.0103} // at least 4 % away from the strain at any frame
	want := func(bay int) How {
		return limits.How(max(strain(xs[bay]), strain(xs[bay+1])))
	}
	for _, bend := range k.Layers[0].bends(thickness, limits) {
		require.Len(t, bend.Spans, 5, "heated, soaked, dry, soaked, heated")
		at := 0
		for _, s := range bend.Spans {
			assert.Equal(t, at, s.From, "no gap between spans")
			for bay := s.From; bay < s.To; bay++ {
				assert.Equal(t, want(bay), s.How, "bay %d", bay)
			}
			at = s.To
		}
		assert.Equal(t, 36, at)
	}
}
