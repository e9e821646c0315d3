package loft

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// Lie is the course that a thin strip takes by itself: a geodesic of the surface, from
// one end of the planked region to the other, by rising arc length.
type Lie struct {
	Aim    hull.Angle // its heading at the start
	Points []LiePoint
	Length float64    // mm
	Twist  hull.Angle // from end to end
}

// LiePoint is a point of an unstressed line.
type LiePoint struct {
	P       mgl64.Vec3 // mm
	U, V    float64
	Frame   int            // index of the frame it lies on, -1 between frames
	Down    float64        // mm of girth below the upper limit
	S       float64        // mm from the start, negative towards falling x
	Heading hull.Angle     // from square to the frame, positive downwards
	EdgeSet hull.Curvature // zero apart from rounding
	Face    hull.Curvature // negative where convex
	Twist   hull.Curvature // rad/mm
}

// liePitch is the greatest distance between points of a Lie, mm.
const liePitch = 5.0

// Lie gives the unstressed line through the point on a frame at the given girth (mm)
// below the upper limit, with the given heading there or, if none is given, the heading
// that keeps closest to the same fraction of the girth over the two neighbouring
// frames. The line ends at the ends of the hull and at the limits. The error says what
// is wrong with the start.
func (s *Surface) Lie(frame int, down float64, aim *hull.Angle) (*Lie, error) {
	if err := s.startsLie(frame, down); err != nil {
		return nil, err
	}
	u, v := s.u[frame], s.vDown(s.FrameStation(frame), down)
	var heading hull.Angle
	if aim != nil {
		heading = *aim
	} else {
		heading = s.defaultHeading(frame, v)
	}
	t := s.tracer()
	t.first, t.last = s.u[s.first], s.u[s.last]
	after := slices.Clone(s.setOut(&t, u, v, heading, 1))
	before := s.setOut(&t, u, v, heading, -1)
	out := &Lie{Aim: heading, Length: after[len(after)-1].s + before[len(before)-1].s}
	pts := s.liePoints(before, -1)
	for i := len(pts) - 1; i > 0; i-- {
		out.Points = append(out.Points, pts[i])
	}
	out.Points = append(out.Points, s.liePoints(after, 1)...)
	out.Twist = twistAlong(out.Points)
	return out, nil
}

// startsLie says what is wrong with a point as the start of a lie.
func (s *Surface) startsLie(frame int, down float64) error {
	if s.shapeless {
		return tongue.Errorf("the lie of a strip cannot be found: %w", ErrShapeless)
	}
	if frame < 0 || frame >= s.Frames() {
		return tongue.Errorf("there is no frame of index %d: the hull has %d", frame, s.Frames())
	}
	if !s.Planks(frame) {
		return tongue.Errorf("frame %s is not planked: the hull is from frame %s to %s", s.names[frame], s.names[s.first], s.names[s.last])
	}
	if !(down >= 0 && down <= s.Girth(frame)) {
		return tongue.Errorf("%.2f mm down is off frame %s: its girth is %.2f mm", down, s.names[frame], s.Girth(frame))
	}
	return nil
}

// setOut traces from (u, v) along the heading, or against it for sign −1.
func (s *Surface) setOut(t *tracer, u, v float64, heading hull.Angle, sign float64) []sample {
	j := s.At(u, v)
	du, dv := j.direction(heading)
	out, _ := t.trace(u, v, sign*du, sign*dv)
	return out
}

// liePoints gives points at every frame crossed and at most liePitch apart. A trace
// against the heading (sign −1) has its arc length and direction reversed.
func (s *Surface) liePoints(trace []sample, sign float64) []LiePoint {
	out := []LiePoint{s.liePoint(trace[0], sign)}
	for i := 1; i < len(trace); i++ {
		a, b := trace[i-1], trace[i]
		if b.s == a.s {
			continue // the two sides of a knuckle
		}
		for _, x := range s.marksBetween(a, b) {
			out = append(out, s.liePoint(between(a, b, x), sign))
		}
		out = append(out, s.liePoint(b, sign))
	}
	return out
}

// marksBetween gives the fractions of the step at which a point is wanted.
func (s *Surface) marksBetween(a, b sample) []float64 {
	var marks []float64
	from, to := s.bay(min(a.u, b.u)), s.bay(max(a.u, b.u))
	for _, u := range s.u[from : to+2] {
		if (a.u-u)*(b.u-u) < -1e-18 {
			marks = append(marks, reach(a, b, false, u))
		}
	}
	n := int(math.Ceil((b.s - a.s) / liePitch))
	for k := 1; k < n; k++ {
		marks = append(marks, float64(k)/float64(n))
	}
	slices.Sort(marks)
	return marks
}

// liePoint fills in everything at a sample.
func (s *Surface) liePoint(a sample, sign float64) LiePoint {
	j := s.At(a.u, a.v)
	st := j.strainsOf(a.du, a.dv, a.ddu, a.ddv)
	p := LiePoint{P: j.P, U: a.u, V: a.v, Frame: -1, S: sign * a.s,
		Heading: j.heading(st.tangent.Mul(sign)), EdgeSet: hull.Curvature(sign) * st.edge, Face: st.face, Twist: st.twist}
	for i := range 2 {
		i += s.bay(a.u)
		if u := s.u[i]; math.Abs(a.u-u) < 1e-9*(1+math.Abs(u)) {
			p.Frame, p.U = i, u
		}
	}
	if p.Frame >= 0 {
		p.Down = s.down(s.FrameStation(p.Frame), a.v)
	} else {
		p.Down = s.downAt(a.u, a.v)
	}
	return p
}

// twistAlong integrates the torsion over the points by the trapezium rule.
func twistAlong(p []LiePoint) hull.Angle {
	sum := 0.0
	for i := 1; i < len(p); i++ {
		sum += (p[i].S - p[i-1].S) * float64(p[i].Twist+p[i-1].Twist) / 2
	}
	return hull.Angle(sum)
}

// defaultHeading is the heading at (frame, v) of the unstressed line that keeps closest
// to the same fraction of the girth: least squares, in mm of girth, over the two
// neighbouring frames (one at an end), by the Gauss-Newton method from the line of
// constant v.
func (s *Surface) defaultHeading(frame int, v float64) hull.Angle {
	j := s.At(s.u[frame], v)
	a := j.heading(j.Pu)
	share := s.down(s.FrameStation(frame), v) / s.Girth(frame)
	t := s.tracer()
	miss := func(a hull.Angle) (r [2]float64, ok bool) {
		ok = true
		for i, f := range []int{frame - 1, frame + 1} {
			if f < 0 || f >= s.Frames() {
				continue
			}
			there, reached := s.reachFrame(&t, frame, v, a, f)
			ok = ok && reached
			r[i] = s.down(s.FrameStation(f), there) - share*s.Girth(f)
		}
		return r, ok
	}
	for range 8 {
		const d = 1e-4
		r, ok := miss(a)
		r1, ok1 := miss(a + d)
		if !ok || !ok1 {
			break
		}
		var num, den float64
		for i := range r {
			m := (r1[i] - r[i]) / d
			num += m * r[i]
			den += m * m
		}
		if den == 0 {
			break
		}
		step := num / den
		a -= hull.Angle(step)
		if math.Abs(step) < 1e-10 {
			break
		}
	}
	return a
}

// reachFrame follows the unstressed line from (frame, v) with a heading to another
// frame and gives its v there. If the line does not reach the frame, ok is false and v
// is that of the side on which it left.
func (s *Surface) reachFrame(t *tracer, frame int, v float64, heading hull.Angle, to int) (there float64, ok bool) {
	t.tolerance, t.upper, t.lower = aimTolerance, -beyond, 1+beyond
	sign := 1.0
	if to < frame {
		sign = -1
	}
	target := s.u[to]
	t.enough = func(a sample) bool { return (a.u-target)*sign >= 0 || a.du*sign <= 0 }
	trace := s.setOut(t, s.u[frame], v, heading, sign)
	last := trace[len(trace)-1]
	if (last.u-target)*sign < -1e-9 {
		return last.v, false
	}
	if len(trace) < 2 || math.Abs(last.u-target) < 1e-12 {
		return last.v, true
	}
	a := trace[len(trace)-2]
	return between(a, last, reach(a, last, false, target)).v, true
}

// headingThrough is the heading at (frame, v) of the unstressed line that
// meets frame to at v2. ok is false where no heading within 80 degrees of
// square does.
func (s *Surface) headingThrough(frame int, v float64, to int, v2 float64) (heading hull.Angle, ok bool) {
	sign := 1.0
	if to < frame {
		sign = -1
	}
	t := s.tracer()
	miss := func(a hull.Angle) float64 {
		there, _ := s.reachFrame(&t, frame, v, a, to)
		return sign * (there - v2) // rises with the heading
	}
	j := s.At(s.u[frame], v)
	from := s.At(s.u[to], v2)
	chord := from.P.Sub(j.P).Mul(sign)
	n := j.Normal()
	a := j.heading(chord.Sub(n.Mul(chord.Dot(n))))
	z, ok := bracket(miss, a)
	if !ok {
		return 0, false
	}
	return illinois(miss, z), true
}

// crossed is the zero of a rising function of an angle between lo and hi, given its
// values there.
type crossed struct {
	lo, hi hull.Angle
	y0, y1 float64
}

// bracket widens an interval about a until f, which rises, changes sign.
func bracket(f func(hull.Angle) float64, a hull.Angle) (z crossed, ok bool) {
	limit := hull.Degrees(80)
	a = min(max(a, -limit), limit)
	y := f(a)
	z = crossed{a, a, y, y}
	step := hull.Degrees(0.5)
	for z.y0 > 0 || z.y1 < 0 {
		if z.y0 > 0 {
			if z.lo <= -limit {
				return z, false
			}
			z.lo = max(z.lo-step, -limit)
			z.y0 = f(z.lo)
		}
		if z.y1 < 0 {
			if z.hi >= limit {
				return z, false
			}
			z.hi = min(z.hi+step, limit)
			z.y1 = f(z.hi)
		}
		step *= 2
	}
	return z, true
}

// illinois finds the zero of a rising f by the Illinois variant of false position
// (Dowell and Jarratt, BIT 11, 1971), to 1e-11 rad.
func illinois(f func(hull.Angle) float64, z crossed) hull.Angle {
	lo, hi, y0, y1 := z.lo, z.hi, z.y0, z.y1
	side := 0
	for range 60 {
		if y0 == y1 || hi-lo < 1e-11 {
			break
		}
		x := lo - hull.Angle(y0)*(hi-lo)/hull.Angle(y1-y0)
		y := f(x)
		if math.Abs(y) < 1e-12 {
			return x
		}
		if y < 0 {
			lo, y0 = x, y
			if side < 0 {
				y1 /= 2
			}
			side = -1
		} else {
			hi, y1 = x, y
			if side > 0 {
				y0 /= 2
			}
			side = 1
		}
	}
	return lo + (hi-lo)/2
}
