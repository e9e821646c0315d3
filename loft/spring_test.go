package loft

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
	"github.com/strakewright/strakewright/loft/internal/checks"
)

// sprungOver lays a strip 5 mm wide over the frames of half a body of revolution,
// along its greatest breadth, which is a plane curve.
func sprungOver(t *testing.T, xs []float64, thickness float64, modulus Range, radius func(x float64) float64) *Springing {
	t.Helper()
	k, err := Plank(hull.NewPlan("body", hull.Hull{Frames: bodies.Revolved(xs, 33, radius)}))
	require.NoError(t, err)
	l := k.Layers[0]
	sp, err := l.Spring(l.Surface.lineAlong(level(len(l.Surface.stations), 0.5)), 0, len(xs)-1, 5, thickness, modulus)
	require.NoError(t, err)
	return sp
}

// arc is the radius of a body whose breadth line is an arc of a large circle.
func arc(r float64) func(x float64) float64 {
	return func(x float64) float64 { return 60 + math.Sqrt(r*r-x*x) - r }
}

var known = Range{8, 10} // GPa

// Held at three frames a bay l apart on a wide arc the strip is a beam in three-point
// bending, raised by the sagitta h = l²/2R. Beyond them it is straight and falls 1.5·h
// a bay, while the hull falls as the square of the distance: it stands off by 4h −
// 2.5h, 9h − 4h, 16h − 5.5h (Euler and Bernoulli). It presses with 48·B·h/(2l)³ at the
// middle and half at each side.
func TestSprungOverAnArc(t *testing.T) {
	t.Parallel()
	const r, l, thick = 2000, 40, 1.0
	sp := sprungOver(t, bodies.Spaced(-4*l, 4*l, 9), thick, known, arc(r))
	assert.Equal(t, 4, sp.middle())
	assert.Equal(t, []int{4, 5, 3, 6, 2, 7, 1, 8, 0}, sp.Order())
	s, err := sp.Held(t.Context(), sp.Amidships())
	require.NoError(t, err)
	require.True(t, s.Converged)
	h := l * l / (2 * (r + thick/2))
	for bays, want := range map[int]float64{2: 1.5 * h, 3: 5 * h, 4: 10.5 * h} {
		for _, f := range []int{4 - bays, 4 + bays} {
			assert.InDelta(t, want, s.At[f].LiftOff, 0.02*want, "frame %d", f)
			assert.InDelta(t, 0, s.At[f].Stray, 1e-3)
			assert.Zero(t, s.At[f].Press)
		}
	}
	b := 10000 * 5 * thick * thick * thick / 12
	assert.InEpsilon(t, 48*b*h/math.Pow(2*l, 3), s.At[4].Bears.High, 0.01)
	assert.InEpsilon(t, 24*b*h/math.Pow(2*l, 3), s.At[3].Press.High, 0.01)
	assert.InEpsilon(t, 0.8*s.At[3].Press.High, s.At[3].Press.Low, 1e-9, "softer wood presses less in proportion")
	assert.Equal(t, 4, s.Worst)
	assert.InEpsilon(t, thick/2*3*h/(l*l), s.Strain, 0.02) // M/B = 3h/l² at the middle of three-point bending
	assert.Equal(t, Dry, s.Bends)
	assert.Len(t, s.Course, 8*s.Bay+1)
	// Held at all frames, the moment M₁ at the second frame is balanced at the first by
	// M₁/l.
	s, err = sp.Held(t.Context(), sp.Order())
	require.NoError(t, err)
	m := moments(9)
	assert.InEpsilon(t, m[1]*b/(r+thick/2)/l, s.At[0].Press.High, 0.02)
}

// moments are the moments at n frames, over B/R, by Clapeyron's theorem of three
// moments, M(i−1) + 4·M(i) + M(i+1) = 6·B/R with zero at the ends.
func moments(n int) []float64 {
	m := make([]float64, n)
	for range 100 {
		for i := 1; i < n-1; i++ {
			m[i] = (6 - m[i-1] - m[i+1]) / 4
		}
	}
	return m
}

// The wood's modulus determines the forces but not the course, and without one no
// forces are given.
func TestSprungOfUnknownWood(t *testing.T) {
	t.Parallel()
	xs := bodies.Spaced(-100, 100, 6)
	var of [2]*Sprung
	for i, e := range []Range{known, {}} {
		sp := sprungOver(t, xs, 1, e, arc(500))
		var err error
		of[i], err = sp.Held(t.Context(), sp.Amidships())
		require.NoError(t, err)
	}
	for i := range xs {
		assert.InDelta(t, of[0].At[i].LiftOff, of[1].At[i].LiftOff, 1e-5)
		assert.Zero(t, of[1].At[i].Press)
		assert.Zero(t, of[1].At[i].Bears)
	}
	birch, woods := ModulusOf(&hull.Plan{}, "birch")
	assert.Len(t, woods, 2)
	assert.Less(t, birch.Low, birch.High)
	none, woods := ModulusOf(&hull.Plan{}, "no such wood")
	assert.Empty(t, woods)
	assert.Zero(t, none)
}

// Over a body with a hollow run the strip bridges the hollow, and has to be held in it:
// each of the holds found is needed, and together they are enough.
func TestHoldsOverAHollow(t *testing.T) {
	t.Parallel()
	sp := sprungOver(t, bodies.Spaced(-150, 150, 11), 1.5, known, func(x float64) float64 { return 50 + 8*math.Cos(x*math.Pi/100) })
	const within = 0.1
	last := 0
	told := func(tried, prospect int) {
		assert.Equal(t, last+1, tried)
		assert.GreaterOrEqual(t, prospect, tried)
		last = tried
	}
	s, err := sp.Holds(t.Context(), within, told)
	require.NoError(t, err)
	require.True(t, s.Converged)
	assert.Less(t, len(s.Held), 11)
	assert.Positive(t, last)
	for _, f := range s.At {
		assert.LessOrEqual(t, f.LiftOff, within+1e-6)
		assert.LessOrEqual(t, math.Abs(f.Stray), within+1e-6)
		assert.GreaterOrEqual(t, f.LiftOff, 0.0)
		assert.False(t, f.Press.High > 0 && !f.Held, "only holds press it on")
	}
	for i := range s.Held {
		fewer := slices.Delete(slices.Clone(s.Held), i, i+1)
		o, err := sp.Held(t.Context(), fewer)
		require.NoError(t, err)
		assert.NotEmpty(t, o.astray(within), "without frame %d", s.Held[i])
	}
}

// From the first contact to the last the strip is bent more and more.
func TestPressesFromTheFirstToTheLast(t *testing.T) {
	t.Parallel()
	sp := sprungOver(t, bodies.Spaced(-120, 120, 9), 1, known, arc(300))
	last, held := 0.0, 3
	err := sp.Presses(t.Context(), func(s *Sprung) error {
		assert.True(t, s.Converged)
		assert.Len(t, s.Held, held)
		assert.Greater(t, s.Energy, last)
		assert.Len(t, s.Course, 8*s.Bay+1, "so that one course can become the next")
		last, held = s.Energy, held+1
		return nil
	})
	require.NoError(t, err)
	assert.Equal(t, 10, held)
	enough := errors.New("enough")
	assert.ErrorIs(t, sp.Presses(t.Context(), func(*Sprung) error { return enough }), enough)
}

func TestSpringingStops(t *testing.T) {
	t.Parallel()
	sp := sprungOver(t, bodies.Spaced(-120, 120, 9), 1, known, arc(300))
	ctx := checks.LookedAt(3)
	_, err := sp.Holds(ctx, 0.1, nil)
	require.ErrorIs(t, err, context.Canceled)
	assert.LessOrEqual(t, ctx.Late(), 1)
	assert.ErrorIs(t, sp.Presses(checks.LookedAt(3), func(*Sprung) error { return nil }), context.Canceled)
}

// At a frame with a knuckle the outline is that of a smooth frame except within two
// places of the knuckle, and faces outwards all along.
func TestMidOutline(t *testing.T) {
	t.Parallel()
	k, err := Plank(hull.NewPlan("body", hull.Hull{Frames: bodies.Revolved(bodies.Spaced(-100, 100, 5), 33, func(float64) float64 { return 60 })}))
	require.NoError(t, err)
	o := k.Layers[0].Surface.midOutline(2, 0.5, 2)
	for _, along := range []float64{1, 30.3, 61, 95.7, 150, 190} {
		p := o.place(along)
		assert.InDelta(t, 61, math.Hypot(p.P.Y(), p.P.Z()), 2e-3)
		assert.InDelta(t, 1./61, p.Bend, 2e-4)
		assert.InDelta(t, 61, p.P.Dot(p.Normal), 2e-3, "outwards")
		assert.InDelta(t, along, o.alongTo(p.P), 1e-6)
		assert.InDelta(t, 1, p.Tangent.Cross(p.Normal).Len(), 1e-9)
	}
	end := o.place(-5)
	assert.Zero(t, end.Bend)
	assert.InDelta(t, 5, end.P.Sub(o.place(0).P).Len(), 1e-9)
}

func TestSpringRefuses(t *testing.T) {
	t.Parallel()
	k, err := Plank(hull.NewPlan("body", hull.Hull{Frames: bodies.Revolved(bodies.Spaced(-100, 100, 5), 33, arc(500))}))
	require.NoError(t, err)
	l := k.Layers[0]
	line := l.Lines[0].Line
	_, err = l.Spring(line, 2, 2, 5, 1, Range{})
	assert.EqualError(t, err, "a strip that is laid over fewer than two frames is not bent: choose a longer one")
	_, err = l.Spring(line, 0, 4, 5, 0, Range{})
	assert.EqualError(t, err, "there is no strip 0 mm thick: give it more than 0")
	_, err = l.Spring(line, 0, 4, math.NaN(), 1, Range{})
	assert.EqualError(t, err, "there is no strip NaN mm wide: give it more than 0")
	sp, err := l.Spring(line, 1, 3, 5, 1, Range{})
	require.NoError(t, err)
	_, err = sp.Held(t.Context(), nil)
	assert.EqualError(t, err, "a strip held at no frame swings: hold it at two frames at least")
	_, err = sp.Held(t.Context(), []int{2, 2})
	assert.EqualError(t, err, "a strip held at one frame alone swings: hold it at two frames at least")
	_, err = sp.Held(t.Context(), []int{0, 2})
	assert.EqualError(t, err, "the strip does not cross frame F0: it goes from F1 to F3")
	_, err = sp.Holds(t.Context(), 0, nil)
	assert.EqualError(t, err, "a strip cannot be held within 0 mm: give more than 0")

	var girths hull.Hull
	girths.SetGirths([]hull.Girth{{Frame: "A", X: 0, Girth: 50}, {Frame: "B", X: 50, Girth: 60}, {Frame: "C", X: 100, Girth: 50}})
	k, err = Plank(hull.NewPlan("girths", girths))
	require.NoError(t, err)
	_, err = k.Layers[0].Spring(k.Layers[0].Lines[0].Line, 0, 2, 5, 1, Range{})
	assert.ErrorIs(t, err, ErrShapeless)
}

func TestSpringBack(t *testing.T) {
	t.Parallel()
	assert.Equal(t, backWhole, SpringBackOf(Dry))
	for _, how := range []How{Soaked, Heated, Carved} {
		assert.Equal(t, backUnknown, SpringBackOf(how), how)
	}
}

// Along a great circle of a sphere the strip is held by pressing alone: the circle is a
// geodesic, and by symmetry nothing pulls the strip sideways.
func TestSprungAlongALie(t *testing.T) {
	t.Parallel()
	xs := bodies.Spaced(-70, 70, 8)
	k, err := Plank(hull.NewPlan("ball", hull.Hull{Frames: bodies.Revolved(xs, 65, func(x float64) float64 { return math.Sqrt(100*100 - x*x) })}))
	require.NoError(t, err)
	l := k.Layers[0]
	aim := hull.Angle(0)
	lie, err := l.Surface.Lie(4, 0.4*l.Surface.Girth(4), &aim)
	require.NoError(t, err)
	sp, err := l.SpringLie(lie, 5, 1, known)
	require.NoError(t, err)
	assert.Equal(t, 0, sp.First)
	assert.Equal(t, 7, sp.Last)
	sp.Play = 0
	s, err := sp.Held(t.Context(), sp.Order())
	require.NoError(t, err)
	require.True(t, s.Converged)
	for _, f := range s.At {
		assert.Less(t, sideways(f.Side), 0.02*s.At[0].Press.High, "frame %d", f.Frame)
	}
	assert.Positive(t, s.At[0].Press.High)
}

func sideways(r Range) float64 { return max(math.Abs(r.Low), math.Abs(r.High)) }
