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

// at gives the point of a lie at an arc length from the start, by tracing on from the
// last of its points before that.
func (l *Lie) at(s *Surface, length float64) (mgl64.Vec3, hull.Angle) {
	best := l.Points[0]
	for _, p := range l.Points {
		if math.Abs(p.S-length) < math.Abs(best.S-length) {
			best = p
		}
	}
	if best.S == length {
		return best.P, best.Heading
	}
	sign := 1.0
	if length < best.S {
		sign = -1
	}
	t := s.tracer()
	t.longest = math.Abs(length - best.S)
	t.enough = nil
	trace := s.setOut(&t, best.U, best.V, best.Heading, sign)
	for i := 1; i < len(trace); i++ {
		if trace[i].s >= t.longest {
			m := between(trace[i-1], trace[i], (t.longest-trace[i-1].s)/(trace[i].s-trace[i-1].s))
			j := s.At(m.u, m.v)
			return j.P, j.heading(j.Pu.Mul(sign * m.du).Add(j.Pv.Mul(sign * m.dv)))
		}
	}
	panic("the line is too short")
}

// TestLieOnSpheroid compares with GeodSolve. The tolerance is 0.1 mm over 200 mm; the
// surface itself is within 0.005 mm.
func TestLieOnSpheroid(t *testing.T) {
	t.Parallel()
	checked := 0
	for _, polar := range []float64{300, 180} {
		const equator = 60.0
		f := 1 - polar/equator
		radius := func(x float64) float64 { return equator * math.Sqrt(1-x*x/polar/polar) }
		s, err := Loft(bodies.Revolved(bodies.Spaced(-0.9*polar, 0.9*polar, 41), 31, radius))
		require.NoError(t, err)
		for _, azimuth := range []float64{0, 10, -10, 25, 40, 160, -150} {
			for _, lon := range []float64{60.0, 90, 120} {
				for _, distance := range []float64{50, 100, 200} {
					lat2, lon2, azi2 := geodSolve(t, equator, f, 0, lon, azimuth, distance)
					beta := math.Atan((1 - f) * math.Tan(lat2*math.Pi/180))
					a := lon2 * math.Pi / 180
					want := mgl64.Vec3{polar * math.Sin(beta), equator * math.Cos(beta) * math.Sin(a), equator * math.Cos(beta) * math.Cos(a)}
					length, aim := distance, azimuth
					if math.Abs(azimuth) > 90 { // against the heading
						length, aim = -distance, azimuth-180*math.Copysign(1, azimuth)
						azi2 -= 180 * math.Copysign(1, azi2)
					}
					heading := hull.Degrees(aim)
					lie, err := s.Lie(20, lon*math.Pi/180*equator, &heading)
					require.NoError(t, err)
					if length < lie.Points[0].S || length > lie.Points[len(lie.Points)-1].S {
						continue
					}
					checked++
					got, h := lie.at(s, length)
					name := fmt.Sprintf("polar %g azimuth %g lon %g at %g", polar, azimuth, lon, distance)
					assert.Less(t, got.Sub(want).Len(), 0.02, name)
					assert.InDelta(t, azi2, h.Degrees(), 0.02, name)
				}
			}
		}
	}
	assert.Greater(t, checked, 80)
	t.Logf("%d lines checked", checked)
}

func TestLieKeepsClairaut(t *testing.T) {
	// r·sin α is constant along a geodesic of a surface of revolution (Clairaut's relation;
	// do Carmo, 4-4), to a relative 1e-4.
	radius := func(x float64) float64 { return 60 * math.Sqrt(1-x*x/300/300) }
	s, err := Loft(bodies.Revolved(bodies.Spaced(-270, 270, 41), 31, radius))
	require.NoError(t, err)
	heading := hull.Degrees(20)
	lie, err := s.Lie(20, 80, &heading)
	require.NoError(t, err)
	want := 60 * math.Sin(float64(heading))
	worst := 0.0
	for _, p := range lie.Points {
		got := math.Hypot(p.P.Y(), p.P.Z()) * math.Sin(float64(p.Heading))
		worst = max(worst, math.Abs(got/want-1))
	}
	t.Log("worst", worst)
	assert.Less(t, worst, 1e-4)
}

// TestHelix: on a cylinder a geodesic is the exact helix, in length as well. Tolerance
// 0.01 mm in 200, from the spline through the half circle.
func TestHelix(t *testing.T) {
	const radius = 40.0
	s := cylinder(t, 200, 9, 31, radius)
	heading := hull.Degrees(20)
	lie, err := s.Lie(0, 20, &heading)
	require.NoError(t, err)
	last := lie.Points[len(lie.Points)-1]
	assert.InDelta(t, 200, last.P.X(), 1e-9)
	assert.InDelta(t, 200/math.Cos(float64(heading)), lie.Length, 1e-2)
	for _, p := range lie.Points {
		a := (20 + p.S*math.Sin(float64(heading))) / radius
		want := mgl64.Vec3{p.S * math.Cos(float64(heading)), radius * math.Sin(a), radius * math.Cos(a)}
		assert.Less(t, p.P.Sub(want).Len(), 1e-2)
		assert.InDelta(t, 20, p.Heading.Degrees(), 1e-2)
		assert.InDelta(t, 20+p.S*math.Sin(float64(heading)), p.Down, 1e-2)
	}
	// Total twist of a helix: length·sin α·cos α/R.
	want := lie.Length * math.Sin(float64(heading)) * math.Cos(float64(heading)) / radius
	assert.InEpsilon(t, want, math.Abs(float64(lie.Twist)), 1e-3)
}

// TestConeUnrolled: unrolled, a geodesic of a cone is straight; the angle at the apex
// is the girth angle times the sine of the half-angle.
func TestConeUnrolled(t *testing.T) {
	// r = x/4 from x = 80 to 240; half-angle β with tan β = 1/4.
	s, err := Loft(bodies.Revolved(bodies.Spaced(80, 240, 17), 31, func(x float64) float64 { return x / 4 }))
	require.NoError(t, err)
	beta := math.Atan(0.25)
	heading := hull.Degrees(12)
	lie, err := s.Lie(2, 20, &heading)
	require.NoError(t, err)
	flat := func(p mgl64.Vec3) (x, y float64) {
		slant := p.Len() // distance from the apex at the origin
		a := math.Atan2(p.Y(), p.Z()) * math.Sin(beta)
		return slant * math.Cos(a), slant * math.Sin(a)
	}
	x0, y0 := flat(lie.Points[0].P)
	x1, y1 := flat(lie.Points[len(lie.Points)-1].P)
	assert.InDelta(t, math.Hypot(x1-x0, y1-y0), lie.Length, 1e-3)
	for _, p := range lie.Points {
		x, y := flat(p.P)
		off := ((x-x0)*(y1-y0) - (y-y0)*(x1-x0)) / math.Hypot(x1-x0, y1-y0)
		assert.InDelta(t, 0, off, 5e-3)
	}
}

// TestGreatCircle: every point of a geodesic of a sphere lies in one plane through its
// centre.
func TestGreatCircle(t *testing.T) {
	const radius = 60.0
	s, err := Loft(bodies.Revolved(bodies.Spaced(-45, 45, 25), 31, func(x float64) float64 { return math.Sqrt(radius*radius - x*x) }))
	require.NoError(t, err)
	heading := hull.Degrees(30)
	lie, err := s.Lie(12, 70, &heading)
	require.NoError(t, err)
	start := s.AtDown(12, 70)
	j := s.At(s.u[12], s.vDown(s.FrameStation(12), 70))
	du, dv := j.direction(heading)
	pole := start.Cross(j.Pu.Mul(du).Add(j.Pv.Mul(dv))).Normalize()
	for _, p := range lie.Points {
		assert.InDelta(t, 0, p.P.Dot(pole), 5e-3)
		assert.InDelta(t, radius*math.Sin(p.S/radius), p.P.Sub(start.Mul(math.Cos(p.S/radius))).Len()*math.Copysign(1, p.S), 5e-3)
	}
}

// TestHeadingThrough: the line between two points of a cylinder has the pitch
// of the helix between them.
func TestHeadingThrough(t *testing.T) {
	const radius = 40.0
	s := cylinder(t, 200, 9, 31, radius)
	girth := math.Pi * radius
	for _, c := range []struct{ from, to int }{{1, 7}, {7, 1}, {0, 8}, {4, 3}} {
		h, ok := s.headingThrough(c.from, 0.3, c.to, 0.7)
		require.True(t, ok)
		run := float64(c.to-c.from) * 25
		want := math.Atan2(0.4*girth, math.Abs(run))
		if run < 0 {
			want = -want
		}
		assert.InDelta(t, want, float64(h), 1e-4)
		t0 := s.tracer()
		v, ok := s.reachFrame(&t0, c.from, 0.3, h, c.to)
		assert.True(t, ok)
		assert.InDelta(t, 0.7, v, 1e-8)
	}
}

// TestDefaultHeading: on a cone the default heading keeps to the ruling through the
// point, which has the same fraction of the girth at every frame.
func TestDefaultHeading(t *testing.T) {
	s, err := Loft(bodies.Revolved(bodies.Spaced(80, 240, 17), 31, func(x float64) float64 { return x / 4 }))
	require.NoError(t, err)
	lie, err := s.Lie(8, 0.3*s.Girth(8), nil)
	require.NoError(t, err)
	for _, p := range lie.Points {
		if p.Frame >= 0 {
			assert.InDelta(t, 0.3, p.Down/s.Girth(p.Frame), 1e-6)
		}
	}
	assert.Equal(t, 17, lieFrames(lie))
}

// lieFrames counts the points of a line that lie on frames.
func lieFrames(l *Lie) int {
	n := 0
	for _, p := range l.Points {
		if p.Frame >= 0 {
			n++
		}
	}
	return n
}

func TestLiePointsAreClose(t *testing.T) {
	s, err := Loft(bodies.Wigley(1600, 21, 15))
	require.NoError(t, err)
	lie, err := s.Lie(10, 40, nil)
	require.NoError(t, err)
	for i := 1; i < len(lie.Points); i++ {
		d := lie.Points[i].S - lie.Points[i-1].S
		assert.Positive(t, d)
		assert.LessOrEqual(t, d, liePitch+1e-9)
	}
	for _, p := range lie.Points {
		assert.InDelta(t, 0, p.EdgeSet.PerMetre(), 1e-3)
	}
	assert.Equal(t, 21, lieFrames(lie))
}

// TestLieOverKnuckle: across the corner of an unfolded right-angled box the line runs
// straight on.
func TestLieOverKnuckle(t *testing.T) {
	frames := bodies.Boxy(7)
	for i := range frames { // the corner is level, so that it can be unfolded by eye
		for k := 2; k < 5; k++ {
			frames[i].Points[k][2] = 10
		}
	}
	s, err := Loft(frames)
	require.NoError(t, err)
	heading := hull.Degrees(15)
	lie, err := s.Lie(0, 20, &heading)
	require.NoError(t, err)
	for _, p := range lie.Points {
		assert.InDelta(t, 20+p.S*math.Sin(float64(heading)), p.Down, 1e-6)
		assert.InDelta(t, p.S*math.Cos(float64(heading)), p.P.X(), 1e-6)
	}
	assert.InDelta(t, 200, lie.Points[len(lie.Points)-1].P.X(), 1e-6)
	assert.Less(t, lie.Points[len(lie.Points)-1].P.Y(), 35., "it came round the corner")
}

func TestLieOffTheFrame(t *testing.T) {
	s, err := Loft(bodies.Boxy(7))
	require.NoError(t, err)
	_, err = s.Lie(2, 900, nil)
	assert.ErrorContains(t, err, "900.00 mm down is off frame C")
	_, err = s.Lie(9, 1, nil)
	assert.Error(t, err)
}
