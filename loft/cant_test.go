package loft

import (
	"fmt"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mathext"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// cutCylinder gives half a cylinder about the x axis cut by planes: ellipses, of
// n points each.
func cutCylinder(radius float64, n int, planes ...hull.Plane) []hull.Frame {
	var out []hull.Frame
	for i, p := range planes {
		f := hull.Frame{Name: fmt.Sprintf("F%d", i)}
		for _, a := range bodies.Spaced(0, math.Pi, n) {
			y, z := radius*math.Sin(a), radius*math.Cos(a)
			if y < 1e-9 {
				y = 0
			}
			f.Points = append(f.Points, mgl64.Vec3{p.At(y, z), y, z})
		}
		out = append(out, f)
	}
	return out
}

// fanned are planes whose cant increases towards either end, as that of cant frames
// does.
func fanned() []hull.Plane {
	var out []hull.Plane
	for i, deg := range []float64{-30, -20, -10, 0, 0, 10, 20, 30} {
		out = append(out, hull.Plane{X: 60 * float64(i), Cant: hull.Degrees(deg)})
	}
	return out
}

// halfEllipse is the girth of half a cylinder of that radius cut at an angle off
// square: half the ellipse of half-axes r and r/cos a, 2·(r/cos a)·E(sin² a) with
// the complete elliptic integral of the second kind (Abramowitz and Stegun,
// 17.3.3, by the parameter m).
func halfEllipse(radius float64, a hull.Angle) float64 {
	s := math.Sin(float64(a))
	return 2 * radius / math.Cos(float64(a)) * mathext.CompleteE(s*s)
}

// offCylinder is the distance of a surface from a cylinder about the x axis.
func offCylinder(s *Surface, radius float64) float64 {
	worst := 0.0
	for i := range 201 {
		for k := range 61 {
			j := s.At(s.u[len(s.u)-1]*float64(i)/200, float64(k)/60)
			worst = max(worst, math.Abs(math.Hypot(j.P.Y(), j.P.Z())-radius))
		}
	}
	return worst
}

// TestCantedCylinder: girths to 1e-5 of the ellipse's (37 points a frame), the loft
// within 0.05 % of the cylinder, likewise on the outer face of a layer, whose frames
// stand in the planes of the inner ones.
func TestCantedCylinder(t *testing.T) {
	const r, thick = 60.0, 2.0
	leaning := []hull.Plane{{X: 0, Rake: hull.Degrees(-25)}, {X: 70}, {X: 120, Rake: hull.Degrees(5)}, {X: 200, Rake: hull.Degrees(15)}, {X: 270, Rake: hull.Degrees(30)}}
	for name, planes := range map[string][]hull.Plane{"canted": fanned(), "leaning": leaning} {
		t.Run(name, func(t *testing.T) {
			s, err := Loft(cutCylinder(r, 37, planes...))
			require.NoError(t, err)
			out := s.offset(thick, 0, s.Frames()-1)
			for radius, s := range map[float64]*Surface{r: s, r + thick: out} {
				assert.Less(t, offCylinder(s, radius), 0.0005*radius)
				for i, p := range planes {
					assert.InEpsilon(t, halfEllipse(radius, p.Cant+p.Rake), s.Girth(i), 1e-5, "frame %d of radius %g", i, radius)
					for v := 0.0; v <= 1; v += 0.01 {
						q := s.At(s.u[i], v).P
						assert.InDelta(t, p.At(q.Y(), q.Z()), q.X(), 1e-6)
					}
				}
			}
		})
	}
}

// TestLieOverCantedFrames: headings stay square to the frame. The straight line along a
// cylinder crosses a canted frame off square by the angle of the frame's own tangent,
// and lies straight. The lie at that heading follows it within 0.05 % of the radius, as
// the loft does.
func TestLieOverCantedFrames(t *testing.T) {
	const r = 60.0
	s, err := Loft(cutCylinder(r, 37, fanned()...))
	require.NoError(t, err)
	const frame, angle = 5, math.Pi / 3
	cant := math.Tan(float64(fanned()[frame].Cant))
	down := 0.0 // along the ellipse, by Simpson's rule
	const n = 2000
	for i := range n + 1 {
		w := float64(2 + 2*(i%2))
		if i == 0 || i == n {
			w = 1
		}
		down += w * angle / n / 3 * r * math.Hypot(1, math.Cos(angle*float64(i)/n)*cant)
	}
	slope := math.Cos(angle) * cant
	aim := hull.Angle(math.Atan(slope))
	lie, err := s.Lie(frame, down, &aim)
	require.NoError(t, err)
	for _, p := range lie.Points {
		assert.InDelta(t, r*math.Sin(angle), p.P.Y(), 0.0005*r)
		assert.InDelta(t, r*math.Cos(angle), p.P.Z(), 0.0005*r)
	}
	first, last := lie.Points[0].P, lie.Points[len(lie.Points)-1].P
	assert.InEpsilon(t, last.X()-first.X(), lie.Length, 1e-5)
	x := fanned()
	assert.InDelta(t, x[len(x)-1].At(r*math.Sin(angle), 0), last.X(), 0.05)
}

// TestTransoms: planking ends in the plane of a raked transom, layer on layer. A
// bulging one, which lies in no plane, is lofted and offset along its own normal.
func TestTransoms(t *testing.T) {
	const r, thick = 60.0, 2.0
	raked := hull.Plane{X: 300, Rake: hull.Degrees(35)}
	frames := cutCylinder(r, 37, hull.Plane{}, hull.Plane{X: 80}, hull.Plane{X: 160}, raked)
	frames[3].Name = "transom"
	h := hull.Hull{Frames: frames}
	require.Empty(t, h.Check())
	s, err := loftHull(&h)
	require.NoError(t, err)
	out := s.offset(thick, 0, s.Frames()-1)
	assert.InEpsilon(t, halfEllipse(r+thick, raked.Rake), out.Girth(3), 1e-5)
	assert.Less(t, offCylinder(out, r+thick), 0.0005*r)

	for i := range frames[3].Points {
		p := &frames[3].Points[i]
		p[0] = 300 - p.Y()*p.Y()/90
	}
	require.Empty(t, h.Check())
	s, err = loftHull(&h)
	require.NoError(t, err)
	assert.Less(t, offCylinder(s, r), 0.0005*r)
	out = s.offset(thick, 0, s.Frames()-1)
	assert.Less(t, offCylinder(out, r+thick), 0.0005*r)
}
