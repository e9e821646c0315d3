package loft

import (
	"math"
	"testing"

	"github.com/strakewright/strakewright/loft/internal/bodies"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A cylinder moved in by d has sections that are circles of radius R − d. The
// tolerance is that of the cubic through 61 points of the half circle.
func TestSectionOfACylinder(t *testing.T) {
	const radius = 60.0
	s := cylinder(t, 200, 6, 61, radius)
	for _, inset := range []float64{0, 2.5, -3} {
		for _, x := range []float64{0, 40, 63.7, 200} {
			pts, err := s.Section(x, inset)
			require.NoError(t, err)
			assert.Greater(t, len(pts), 30)
			for _, p := range pts {
				assert.Equal(t, x, p.X())
				assert.InDelta(t, radius-inset, math.Hypot(p.Y(), p.Z()), 1e-4)
				assert.GreaterOrEqual(t, p.Y(), 0.0)
			}
		}
	}
}

// A cone r = r0 − x·tan(a), moved in by d, is the cone r0 − x·tan(a) − d/cos(a).
func TestSectionOfACone(t *testing.T) {
	const r0, slope = 70.0, 0.25
	s, err := Loft(bodies.Revolved(bodies.Spaced(0, 160, 9), 61, func(x float64) float64 { return r0 - slope*x }))
	require.NoError(t, err)
	sec := math.Sqrt(1 + slope*slope)
	for _, inset := range []float64{0, 2, -1.5} {
		for _, x := range []float64{30, 77.3, 120} {
			pts, err := s.Section(x, inset)
			require.NoError(t, err)
			for _, p := range pts {
				assert.InDelta(t, r0-slope*x-inset*sec, math.Hypot(p.Y(), p.Z()), 1e-4)
			}
		}
	}
}

// A sphere moved in by d is the sphere of radius R − d. The tolerance is that
// of the cubic through frames 10 mm apart.
func TestSectionOfASphere(t *testing.T) {
	const radius = 100.0
	s, err := Loft(bodies.Revolved(bodies.Spaced(-60, 60, 13), 61, func(x float64) float64 { return math.Sqrt(radius*radius - x*x) }))
	require.NoError(t, err)
	for _, inset := range []float64{0, 3} {
		for _, x := range []float64{-41, 0, 17.9, 50} {
			pts, err := s.Section(x, inset)
			require.NoError(t, err)
			want := math.Sqrt((radius-inset)*(radius-inset) - x*x)
			for _, p := range pts {
				assert.InDelta(t, want, math.Hypot(p.Y(), p.Z()), 0.002)
			}
		}
	}
}

// A box's corner keeps its place on the mitre: moved in by d, both sides are d
// from the old ones.
func TestSectionKeepsAKnuckle(t *testing.T) {
	frames := bodies.Revolved(bodies.Spaced(0, 100, 4), 9, func(float64) float64 { return 1 })
	for i := range frames {
		x := frames[i].Points[0].X()
		frames[i].Points = frames[i].Points[:0]
		for k := range 5 {
			frames[i].Points = append(frames[i].Points, mgl64.Vec3{x, 40, 50 - 10*float64(k)})
		}
		for k := 1; k < 5; k++ {
			frames[i].Points = append(frames[i].Points, mgl64.Vec3{x, 40 - 10*float64(k), 10})
		}
		frames[i].Knuckles = []int{4}
	}
	s, err := Loft(frames)
	require.NoError(t, err)
	pts, err := s.Section(37, 3)
	require.NoError(t, err)
	corner := false
	for _, p := range pts {
		off := min(math.Abs(p.Y()-37), math.Abs(p.Z()-13))
		assert.InDelta(t, 0, off, 1e-9)
		corner = corner || math.Abs(p.Y()-37) < 1e-9 && math.Abs(p.Z()-13) < 1e-9
	}
	assert.True(t, corner)
}

func TestSectionOffTheHull(t *testing.T) {
	s := cylinder(t, 200, 6, 31, 20)
	for _, x := range []float64{-1, 201, math.NaN()} {
		_, err := s.Section(x, 0)
		assert.ErrorContains(t, err, "off the hull")
	}
	_, err := s.Section(50, math.NaN())
	assert.ErrorContains(t, err, "inset")
	_, err = s.Section(50, 25)
	assert.ErrorContains(t, err, "smaller inset")
}

// Near a raked end only the part that reaches x is given.
func TestSectionAtARakedEnd(t *testing.T) {
	frames := bodies.Revolved(bodies.Spaced(0, 100, 5), 31, func(float64) float64 { return 30 })
	frames[0].Name = "stem"
	for k := range frames[0].Points {
		frames[0].Points[k][0] -= frames[0].Points[k].Z() / 3 // from −10 at the top to 10 at the foot
	}
	s, err := Loft(frames)
	require.NoError(t, err)
	pts, err := s.Section(-5, 0)
	require.NoError(t, err)
	for _, p := range pts {
		assert.GreaterOrEqual(t, p.Z(), 15-0.1, "the end curve crosses x = −5 at z = 15")
	}
}
