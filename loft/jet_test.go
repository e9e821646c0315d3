package loft

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// cylinder is a half cylinder with the given number of points on every frame.
func cylinder(t testing.TB, length float64, frames, points int, radius float64) *Surface {
	t.Helper()
	s, err := Loft(bodies.Revolved(bodies.Spaced(0, length, frames), points, func(float64) float64 { return radius }))
	require.NoError(t, err)
	return s
}

// TestStrainsOnCylinder: on a cylinder of radius R every line at a constant angle to
// the rulings is a geodesic with normal curvature −sin²α/R (convex) and geodesic
// torsion of size sin α·cos α/R (Struik, 4-1). Tolerance 1e-3 of 1/R: the curvature of
// a cubic through points h radians apart has a relative error of h²/12 (de Boor), 9e-4
// for 31 points of a half circle.
func TestStrainsOnCylinder(t *testing.T) {
	const radius = 50.0
	s := cylinder(t, 200, 9, 31, radius)
	for _, deg := range []float64{-40, 0, 15, 60} {
		a := float64(hull.Degrees(deg))
		j := s.At(90, 0.4)
		du, dv := j.direction(hull.Angle(a))
		st := j.strainsOf(du, dv, 0, 0)
		assert.InDelta(t, 1, st.speed, 1e-6)
		assert.InDelta(t, 0, float64(st.edge)*radius, 1e-3)
		assert.InDelta(t, -math.Pow(math.Sin(a), 2), float64(st.face)*radius, 1e-3)
		assert.InDelta(t, -math.Sin(a)*math.Cos(a), float64(st.twist)*radius, 1e-3)
		assert.InDelta(t, deg, j.heading(st.tangent).Degrees(), 1e-6)
	}
}

// TestTwistIsTheTurnOfTheNormal checks the torsion against its definition, −n′·U, by
// central differences along a line (error of order h²: 1e-7).
func TestTwistIsTheTurnOfTheNormal(t *testing.T) {
	s, err := Loft(bodies.Wigley(1600, 21, 15))
	require.NoError(t, err)
	const u, v, dv, h = 700.3, 0.37, 4e-4, 1e-3
	j := s.At(u, v)
	st := j.strainsOf(1, dv, 0, 0)
	a, b := s.At(u-h, v-h*dv), s.At(u+h, v+h*dv)
	turn := b.Normal().Sub(a.Normal()).Mul(1 / (2 * h * st.speed))
	side := j.Normal().Cross(st.tangent)
	assert.InDelta(t, -turn.Dot(side), float64(st.twist), 1e-8)
	assert.InDelta(t, -turn.Dot(st.tangent), float64(st.face), 1e-8)
	assert.NotZero(t, st.twist)
}

// TestParallelsOfSphere: a line that keeps its distance from the equator has
// geodesic curvature tan(latitude)/R (do Carmo, 4-4). Tolerance 0.1 %.
func TestParallelsOfSphere(t *testing.T) {
	const radius = 80.0
	s, err := Loft(bodies.Revolved(bodies.Spaced(-60, 60, 25), 31, func(x float64) float64 { return math.Sqrt(radius*radius - x*x) }))
	require.NoError(t, err)
	// The great circle through midships at z = 0 is the equator; the line at
	// constant z above it is a parallel.
	for _, lat := range []float64{10, 25, 40} {
		z := radius * math.Sin(float64(hull.Degrees(lat)))
		var us, vs []float64
		for _, u := range s.stations {
			x := s.At(u, 0).P.X()
			r := math.Sqrt(radius*radius - x*x)
			if z >= r {
				continue
			}
			us = append(us, u)
			vs = append(vs, math.Acos(z/r)/math.Pi)
		}
		l := s.lineAlong(s.sprung(us, vs))
		got := l.EdgeSet[s.FrameStation(12)]
		// It bends upwards, away from the equator: negative.
		assert.InEpsilon(t, -math.Tan(float64(hull.Degrees(lat)))/radius, float64(got), 1e-3)
		assert.InEpsilon(t, -1/radius, float64(l.Face[s.FrameStation(12)]), 1e-3)
	}
}
