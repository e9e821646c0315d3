package loft

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// TestSurfacesOfRevolution: between frames the loft lies within 0.05 % of the
// largest radius of the exact surface.
func TestSurfacesOfRevolution(t *testing.T) {
	cases := map[string]struct {
		xs     []float64
		radius func(float64) float64
	}{
		"cylinder": {[]float64{0, 11, 40, 55, 90, 120}, func(float64) float64 { return 60 }},
		"cone":     {[]float64{0, 11, 40, 55, 90, 120}, func(x float64) float64 { return 20 + x/4 }},
		"sphere":   {bodies.Spaced(-50, 50, 15), func(x float64) float64 { return math.Sqrt(60*60 - x*x) }},
		"spheroid": {bodies.Spaced(-270, 270, 41), func(x float64) float64 { return 60 * math.Sqrt(1-x*x/300/300) }},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			s, err := Loft(bodies.Revolved(c.xs, 31, c.radius))
			require.NoError(t, err)
			largest, worst := 0.0, 0.0
			for i := range 301 {
				for k := range 61 {
					j := s.At(s.u[len(s.u)-1]*float64(i)/300, float64(k)/60)
					r := c.radius(j.P.X())
					largest = max(largest, r)
					worst = max(worst, math.Abs(math.Hypot(j.P.Y(), j.P.Z())-r))
				}
			}
			assert.Less(t, worst, largest*0.0005)
		})
	}
}

// TestWigley checks the loft of 21 frames of 15 points against Wigley's hull itself:
// within 0.02 % of the beam between frames, and normals within 0.2 degrees away from
// the ends.
func TestWigley(t *testing.T) {
	const length = 1600.0
	s, err := Loft(bodies.Wigley(length, 21, 15))
	require.NoError(t, err)
	worst, turn := 0.0, 0.0
	for i := range 401 {
		for k := range 61 {
			j := s.At(s.u[len(s.u)-1]*float64(i)/400, float64(k)/60)
			worst = max(worst, math.Abs(j.P.Y()-bodies.HalfBreadth(length, j.P.X(), j.P.Z())))
			if math.Abs(j.P.X()) < 0.45*length {
				turn = max(turn, math.Acos(min(j.Normal().Dot(wigleyNormal(length, j.P)), 1)))
			}
		}
	}
	assert.Less(t, worst, length/10*0.0002)
	assert.Less(t, turn, float64(hull.Degrees(0.2)))
}

// wigleyNormal is the gradient of y − f(x, z), made unit.
func wigleyNormal(length float64, p mgl64.Vec3) mgl64.Vec3 {
	b, d := length/10, length/16
	x, z := p.X(), p.Z()
	fx := b / 2 * (-8 * x / length / length) * (1 - z*z/d/d)
	fz := b / 2 * (1 - 4*x*x/length/length) * (-2 * z / d / d)
	return mgl64.Vec3{-fx, 1, -fz}.Normalize()
}

// TestDerivatives checks the analytic derivatives against central differences.
func TestDerivatives(t *testing.T) {
	s, err := Loft(bodies.Wigley(1600, 21, 15))
	require.NoError(t, err)
	for _, at := range [][2]float64{{333.3, 0.31}, {801, 0.66}, {20, -0.2}, {600, 1.3}} {
		u, v := at[0], at[1]
		const hu, hv = 1e-3, 1e-6
		j := s.At(u, v)
		a, b := s.At(u-hu, v), s.At(u+hu, v)
		c, d := s.At(u, v-hv), s.At(u, v+hv)
		near := func(want, lo, hi mgl64.Vec3, h float64) {
			t.Helper()
			got := hi.Sub(lo).Mul(1 / (2 * h))
			assert.Less(t, got.Sub(want).Len(), 1e-5*(1+want.Len()))
		}
		near(j.Pu, a.P, b.P, hu)
		near(j.Pv, c.P, d.P, hv)
		near(j.Puu, a.Pu, b.Pu, hu)
		near(j.Puv, c.Pu, d.Pu, hv)
		near(j.Puv, a.Pv, b.Pv, hu)
		near(j.Pvv, c.Pv, d.Pv, hv)
	}
}

// TestSmoothAcrossFrames: C2 along the length, C2 down the girth.
func TestSmoothAcrossFrames(t *testing.T) {
	s, err := Loft(bodies.Wigley(1600, 9, 9))
	require.NoError(t, err)
	for i := 1; i < len(s.u)-1; i++ {
		a, b := s.At(s.u[i]-1e-9, 0.4), s.At(s.u[i]+1e-9, 0.4)
		assert.Less(t, a.Puu.Sub(b.Puu).Len(), 1e-9)
		assert.Less(t, a.Puv.Sub(b.Puv).Len(), 1e-7)
		assert.Less(t, a.Pvv.Sub(b.Pvv).Len(), 1e-4)
	}
}

func TestKnucklesStaySharp(t *testing.T) {
	s, err := Loft(bodies.Boxy(7))
	require.NoError(t, err)
	for _, u := range []float64{3, 100, 177} {
		above, below := s.at(0, u, s.breaks[1]), s.at(1, u, s.breaks[1])
		assert.InDelta(t, 0, above.P.Sub(below.P).Len(), 1e-9)
		// Side and bottom of the section below are planes a right angle apart.
		assert.InDelta(t, 0, above.Normal().Dot(below.Normal()), 1e-6)
	}
}

// TestKnuckleThatFades: a frame without the knuckle of its neighbours is still lofted,
// and the knuckle line continues through it.
func TestKnuckleThatFades(t *testing.T) {
	frames := bodies.Boxy(7)
	frames[6].Knuckles = nil
	s, err := Loft(frames)
	require.NoError(t, err)
	require.Len(t, s.panels, 2)
	g := s.girths
	assert.InDelta(t, g[5][1]/g[5][2], g[6][1]/g[6][2], 1e-9)
}

func TestGirthOfCircle(t *testing.T) {
	s := cylinder(t, 100, 5, 31, 30)
	for i := range s.Frames() {
		assert.InEpsilon(t, 30*math.Pi, s.Girth(i), 1e-6)
		k := s.FrameStation(i)
		for _, v := range []float64{-0.1, 0.2, 0.77, 1.2} {
			assert.InDelta(t, v, s.vDown(k, s.down(k, v)), 1e-12)
			assert.InDelta(t, 30*math.Pi*v, s.down(k, v), 1e-3)
			assert.InDelta(t, s.down(k, v), s.downAt(s.u[i], v), 1e-3)
		}
	}
	assert.InDelta(t, 0, s.AtDown(2, 15*math.Pi).Sub(mgl64.Vec3{50, 30, 0}).Len(), 1e-4)
	side := func(p mgl64.Vec3) (x, y float64) { return p.Y(), p.Z() }
	assert.InDelta(t, 10*math.Pi, s.DownAt(2, side, 31*math.Sin(math.Pi/3), 31*math.Cos(math.Pi/3)), 1e-3)
}

func TestVeryUnevenFramesAreLofted(t *testing.T) {
	s, err := Loft(bodies.Revolved([]float64{0, 1, 101, 102, 200}, 9, func(x float64) float64 { return 40 }))
	require.NoError(t, err)
	for i := range 100 {
		assert.Positive(t, s.At(s.u[4]*float64(i)/99, 0.5).Pu.X())
	}
}

func TestFoldedFramesAreRefused(t *testing.T) {
	frames := bodies.Revolved([]float64{0, 50, 100}, 9, func(x float64) float64 { return 40 })
	frames[1], frames[2] = frames[2], frames[1]
	_, err := Loft(frames)
	assert.ErrorContains(t, err, "folds between frames")
	_, err = Loft(frames[:2])
	assert.ErrorContains(t, err, "at least three")
}
