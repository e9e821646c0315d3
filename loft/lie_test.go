package loft

import (
	"fmt"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strakewright/hull"
)

// at gives the point of a lie at an arc length from the start, by tracing on
// from the last of its points before it.
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

// TestLieOnSpheroid compares with GeodSolve. Tolerance 0.1 mm over 200 mm, as
// the issue of the lofted surface allows; the surface itself is within 0.005 mm.
func TestLieOnSpheroid(t *testing.T) {
	checked := 0
	for _, polar := range []float64{300, 180} {
		const equator = 60.0
		f := 1 - polar/equator
		radius := func(x float64) float64 { return equator * math.Sqrt(1-x*x/polar/polar) }
		s, err := Loft(revolved(spaced(-0.9*polar, 0.9*polar, 41), 31, radius))
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
	// r·sin α is constant along a geodesic of a surface of revolution
	// (Clairaut's relation; do Carmo, 4-4), to 1e-4 of it.
	radius := func(x float64) float64 { return 60 * math.Sqrt(1-x*x/300/300) }
	s, err := Loft(revolved(spaced(-270, 270, 41), 31, radius))
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
