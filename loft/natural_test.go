package loft

import (
	"bytes"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/assets"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
	"github.com/strakewright/strakewright/loft/rod"
)

// fiveBy is a strip 5 mm wide.
func fiveBy(thickness float64) Ribbon { return Ribbon{Width: 5, Thickness: thickness} }

// naturalLie is a lie that must be found.
func naturalLie(t testing.TB, s *Surface, r Ribbon, frame int, down float64, aim *hull.Angle, held ...int) *NaturalLie {
	t.Helper()
	n, err := s.NaturalLie(r, frame, down, aim, held)
	require.NoError(t, err)
	require.Equal(t, Told, n.Untold)
	return n
}

// offMiddle is the distance of a strip from the thin one at mid-thickness, at every
// frame.
func (n *NaturalLie) offMiddle() (out []float64) {
	for _, a := range n.Frames {
		out = append(out, a.Natural-a.Middle)
	}
	return out
}

// most is the greatest absolute value.
func most(values []float64) float64 {
	out := 0.0
	for _, v := range values {
		out = max(out, math.Abs(v))
	}
	return out
}

// TestTorsionOfRectangles: J = β·a·b³, with β of a/b from the table of Timoshenko and
// Goodier, Theory of Elasticity, art. 109 (k₁ there), to its three figures.
func TestTorsionOfRectangles(t *testing.T) {
	for ratio, beta := range map[float64]float64{1: 0.1406, 1.5: 0.196, 2: 0.229, 2.5: 0.249, 3: 0.263, 5: 0.291, 10: 0.312} {
		assert.InDelta(t, beta, rod.Torsion(ratio, 1)/ratio, 6e-4, "%g to 1", ratio)
		assert.InEpsilon(t, rod.Torsion(ratio, 1), rod.Torsion(1, ratio), 1e-12)
	}
}

// TestNaturalLieBySymmetry: where a surface is symmetric, the strip on it follows the
// same line as the thin one: with free ends the generators of a cylinder and a cone and
// a sphere's great circle across its frames, by reflection in the plane through them;
// held at both ends the helix of a cylinder, which a screw motion maps onto itself.
// Tolerance 0.01 mm, the error of the spline through a half circle of 31 points.
func TestNaturalLieBySymmetry(t *testing.T) {
	square, oblique := hull.Angle(0), hull.Degrees(20)
	cone, err := Loft(bodies.ConeHull().Frames)
	require.NoError(t, err)
	sphere, err := Loft(bodies.Revolved(bodies.Spaced(-64, 64, 15), 31, func(x float64) float64 { return math.Sqrt(80*80 - x*x) }))
	require.NoError(t, err)
	for name, c := range map[string]struct {
		s     *Surface
		frame int
		down  float64
		aim   *hull.Angle
		held  []int
	}{
		"generator of a cylinder": {cylinder(t, 200, 9, 31, 40), 4, 50, &square, nil},
		"helix":                   {cylinder(t, 200, 9, 31, 40), 4, 60, &oblique, []int{0, 8}},
		"generator of a cone":     {cone, 3, 60, &square, nil},
		"great circle":            {sphere, 7, 100, &square, nil},
	} {
		n := naturalLie(t, c.s, fiveBy(2), c.frame, c.down, c.aim, c.held...)
		assert.False(t, n.Slid, name)
		assert.Less(t, most(n.offMiddle()), 0.01, name)
	}
}

// TestNaturalLieOnACylinder: a strip held askew at two frames of a cylinder of radius
// R. Unrolled, with y(x) its course and slopes so small that their squares can be
// neglected, the energy is ½∫(B₂·y″² + T·y′²) dx with T = C/R²: a beam bent edgewise
// under the tension T (Timoshenko, Strength of Materials II, on beams with axial
// tension). Held at ±a, where y = ±m·a, and free at ±L it is A·x + B·sinh λx within and
// c + E·sinh λ(x−L) outside, λ² = T/B₂; y, y′ and y″ are continuous at a. Tolerance 0.2
// % of the distance of its ends from the straight line; the error falls as the square
// of the slope, 3e-4.
func TestNaturalLieOnACylinder(t *testing.T) {
	const radius, half, a = 30.0, 200.0, 50.0
	s := cylinder(t, 2*half, 17, 61, radius)
	aim := hull.Degrees(1)
	r := fiveBy(2)
	n := naturalLie(t, s, r, 8, radius*math.Pi/2, &aim, 6, 10)
	middle := radius + r.Thickness/2
	lambda := math.Sqrt(r.rigidity().twist) / middle
	m := math.Tan(float64(aim))
	sinh, cosh := math.Sinh, math.Cosh
	b := -sinh(lambda*(half-a)) / sinh(lambda*a) // for E = 1, as everything below
	slope := lambda*cosh(lambda*(half-a)) - b*lambda*cosh(lambda*a)
	e := m * a / (slope*a + b*sinh(lambda*a))
	want := (m*a + e*sinh(lambda*(half-a)) - m*half) * radius / middle
	off := n.offMiddle()
	t.Log("off at the end", off[16], "mm, by the beam", want)
	assert.InEpsilon(t, want, off[16], 2e-3)
	assert.InEpsilon(t, -want, off[0], 2e-3)
	assert.InDelta(t, 0, off[6], 1e-5)
	assert.InDelta(t, 0, off[10], 1e-5)
}

// TestNaturalLieThins: a strip of no thickness lies on the geodesic, to the last digit,
// and a thin one departs from it as the square of its thickness.
func TestNaturalLieThins(t *testing.T) {
	s, err := Loft(bodies.Wigley(600, 13, 15))
	require.NoError(t, err)
	n := naturalLie(t, s, fiveBy(0), 6, 20, nil)
	for i, a := range n.Frames {
		assert.Equal(t, a.Thin, a.Middle, i)
		assert.Equal(t, a.Thin, a.Natural, i)
	}
	off := func(thickness float64) float64 {
		return most(naturalLie(t, s, fiveBy(thickness), 6, 20, nil).offMiddle())
	}
	thin, thinner := off(0.2), off(0.1)
	assert.Greater(t, thin, 1e-3)
	assert.InDelta(t, 4, thin/thinner, 0.04, "the next term is of the fourth power, and mid-thickness moves")
}

// TestNaturalLieConverges: twice as many knots move strips up to 2 mm thick by less
// than 0.05 mm at any frame of the two demo hulls, the bluff coaster among them, where
// the strip leaves the batten by millimetres; and the batten's course at mid-thickness
// departs from that on the frames in proportion to the distance between the surfaces.
func TestNaturalLieConverges(t *testing.T) {
	for name, file := range map[string][]byte{"coaster": assets.Demo(), "skiff": assets.Skiff()} {
		p, err := hull.ReadPlan(bytes.NewReader(file), name)
		require.NoError(t, err)
		s, err := loftHull(&p.Hull)
		require.NoError(t, err)
		mid := s.Frames() / 2
		between := map[float64]float64{}
		for _, thickness := range []float64{0.5, 1, 2} {
			n := naturalLie(t, s, fiveBy(thickness), mid, 0.3*s.Girth(mid), nil)
			t.Log(name, thickness, "off", most(n.offMiddle()), "error", n.Error)
			assert.Less(t, n.Error, 0.05, "%s, %g mm", name, thickness)
			assert.Greater(t, most(n.offMiddle()), 0.1*thickness*thickness, "%s, %g mm", name, thickness)
			for _, a := range n.Frames {
				between[thickness] = max(between[thickness], math.Abs(a.Middle-a.Thin))
			}
		}
		assert.InEpsilon(t, 2*between[0.5], between[1], 0.05, name)
		assert.InEpsilon(t, 2*between[1], between[2], 0.05, name)
	}
}

// TestAnyNaturalLie: for any strip anywhere the energy is no higher than that of the
// thin strip's course, the strip lies where it is held, no figure given is NaN, and
// where none is given the reason is.
func TestAnyNaturalLie(t *testing.T) {
	var hulls []*Surface
	for _, frames := range [][]hull.Frame{bodies.Wigley(600, 11, 9), bodies.Boxy(8), bodies.Tucked(func(x float64) float64 { return 9 + x/30 })} {
		s, err := Loft(frames)
		require.NoError(t, err)
		hulls = append(hulls, s)
	}
	told := 0
	rapid.Check(t, func(t *rapid.T) {
		s := hulls[rapid.IntRange(0, len(hulls)-1).Draw(t, "hull")]
		frame := rapid.IntRange(0, s.Frames()-1).Draw(t, "frame")
		down := rapid.Float64Range(0, 1).Draw(t, "share") * s.Girth(frame)
		aim := hull.Degrees(rapid.Float64Range(-60, 60).Draw(t, "aim"))
		r := Ribbon{Width: rapid.Float64Range(1, 12).Draw(t, "width")}
		r.Thickness = r.Width * rapid.Float64Range(0.02, 1).Draw(t, "thickness")
		held := rapid.SliceOfNDistinct(rapid.IntRange(0, s.Frames()-1), 2, 4, func(i int) int { return i }).Draw(t, "held")
		n, err := s.NaturalLie(r, frame, down, &aim, held)
		require.NoError(t, err)
		if n.Untold != Told {
			assert.Nil(t, n.Line)
			return
		}
		told++
		assert.LessOrEqual(t, n.Bent.Sum(), n.ThinBent.Sum()*(1+1e-9)+1e-8, "mJ/GPa: what differences in the slopes leave")
		for _, i := range n.Held {
			k := s.FrameStation(i)
			assert.InDelta(t, n.Thin.V[k], n.Line.V[k], 1e-12)
		}
		for i, a := range n.Frames {
			k := s.FrameStation(i)
			within := k >= n.From && k <= n.To && !math.IsNaN(a.Thin)
			assert.Equal(t, within, !math.IsNaN(a.Natural), "frame %d", i)
		}
		for _, v := range n.Line.V {
			require.False(t, math.IsNaN(v))
		}
	})
	assert.Positive(t, told)
}

// TestNaturalLieRefuses: what cannot hold a strip is refused with a reason.
func TestNaturalLieRefuses(t *testing.T) {
	s, err := Loft(bodies.Wigley(600, 11, 9))
	require.NoError(t, err)
	for want, held := range map[string][]int{
		"swings freely":                {4, 4},
		"no planked frame of index 11": {3, 11},
	} {
		_, err := s.NaturalLie(fiveBy(1), 5, 20, nil, held)
		assert.ErrorContains(t, err, want)
	}
	_, err = s.NaturalLie(fiveBy(1), 5, 2000, nil, nil)
	assert.ErrorContains(t, err, "off frame W5")
	steep := hull.Degrees(80)
	n, err := s.NaturalLie(fiveBy(1), 5, 20, &steep, []int{0, 5})
	require.NoError(t, err)
	assert.Equal(t, HeldUnreached, n.Untold)
	assert.Equal(t, 0, n.UntoldAt)
	boxy, err := Loft(bodies.Boxy(8))
	require.NoError(t, err)
	down := hull.Degrees(40)
	n, err = boxy.NaturalLie(fiveBy(1), 3, 28, &down, nil)
	require.NoError(t, err)
	assert.Equal(t, AtKnuckle, n.Ends[1])
}

// TestLineFollowsItsStrip: a free line that follows the strip runs where the strip lies
// by its handles, has little edge-set and shows no lie-off; where the natural lie
// cannot be found it follows the batten, and says so.
func TestLineFollowsItsStrip(t *testing.T) {
	p := workload(t, 13)
	batten, err := Plank(p)
	require.NoError(t, err)
	p = p.Clone()
	p.Layers[0].Lines[0].Follows = hull.StripItself
	strip, err := Plank(p)
	require.NoError(t, err)
	l, b := strip.Layers[0], p.Layers[0].Lines[0]
	n := l.Natural(1)
	require.Equal(t, Told, n.Untold)
	assert.Equal(t, []int{b.Hold, b.Aim}, n.Held)
	assert.Less(t, n.Error, 0.01)
	off := 0.0
	for i, a := range n.Frames {
		down := l.Lines[1].Down[l.Surface.FrameStation(i)]
		assert.InDelta(t, a.Natural, down, 1e-9)
		assert.InDelta(t, 0, l.Lines[1].LieOff[i], 1e-9)
		off = max(off, math.Abs(down-batten.Layers[0].Lines[1].Down[l.Surface.FrameStation(i)]))
	}
	for _, i := range n.Held {
		assert.InDelta(t, b.Handles[i].Down, n.Frames[i].Natural, 0.01, "where it is held")
	}
	assert.Greater(t, off, 0.1)
	assert.Less(t, edgeSetMost(l.Lines[1].Line), 1.0/1000)
	assert.Nil(t, l.Natural(0))
	assert.Nil(t, l.Natural(3))

	over := hull.NewPlan("Box", hull.Hull{Frames: bodies.Boxy(8)})
	over.Layers[0].Bands = make([]hull.Band, 2)
	line := hull.BandLine{LineType: hull.Free, Hold: 0, Aim: 7, Handles: make([]hull.Handle, 8)}
	line.Handles[0].Down, line.Handles[7].Down = 28, 50
	over.Layers[0].Lines = []hull.BandLine{line}
	plain, err := Plank(over)
	require.NoError(t, err)
	over = over.Clone()
	over.Layers[0].Lines[0].Follows = hull.StripItself
	k, err := Plank(over)
	require.NoError(t, err)
	assert.Equal(t, plain.Layers[0].Lines[1].Down, k.Layers[0].Lines[1].Down)
	assert.Contains(t, k.Layers[0].Notes, FollowsBatten{Line: 1, Why: HeldUnreached, Frame: 7})
}

// TestNoStripIsFollowedFarOffTheHull: a trial of a strip that finds no rest may lie a
// million half widths away, and the surface felt there was kept, with all up to it.
func TestNoStripIsFollowedFarOffTheHull(t *testing.T) {
	s, err := Loft(bodies.Wigley(800, 9, 9))
	require.NoError(t, err)
	r := fiveBy(1)
	l := newStripLay(s.middleOf(r.Thickness), r, 4, 0.4, s.defaultHeading(4, 0.4))
	b := l.beam([]int{4, 5}, 1)
	require.False(t, math.IsInf(b.energy(b.q), 0))
	for _, far := range []float64{1e3, 1e6, 1e18, 1e300} {
		q := slices.Clone(b.q)
		q[0] = far
		assert.True(t, math.IsInf(b.energy(q), 1))
		b.felt(&b.spots[0], far)
		b.felt(&b.spots[0], -far)
	}
	assert.Less(t, len(b.spots[0].felt), 1000)
}
