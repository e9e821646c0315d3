package loft

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/curve"
)

// Line is a curve on a surface that crosses each of its stations once. All slices have
// one entry a station (see Surface.Stations). Outside the planked length P stays at its
// last place, and the bends are 0.
type Line struct {
	V       []float64        // surface parameter
	Down    []float64        // mm of girth below the upper limit
	P       []mgl64.Vec3     // mm
	S       []float64        // mm of arc length from the first station
	EdgeSet []hull.Curvature // geodesic curvature; positive bends downwards
	Face    []hull.Curvature // normal curvature; negative where convex
	Twist   []hull.Curvature // geodesic torsion, rad/mm

	course course
	speed  []float64 // mm per unit of u
	runs   []run     // at every frame
	untold [2]bool   // at its first and last frame: the frames do not tell the bend there
}

// run is the direction of a line over a frame.
type run struct {
	tangent mgl64.Vec3 // unit, towards rising x
	slant   float64    // cosine of its angle from square to the frame
}

// course is the graph v(u) of a line at the stations, with dv/du and d²v/du².
type course struct{ v, v1, v2 []float64 }

// newCourse gives a course of n stations, all zero.
func newCourse(n int) course {
	buf := make([]float64, 3*n)
	return course{buf[:n:n], buf[n : 2*n : 2*n], buf[2*n:]}
}

// clone is an independent copy.
func (c course) clone() course {
	d := newCourse(len(c.v))
	copy(d.v, c.v)
	copy(d.v1, c.v1)
	copy(d.v2, c.v2)
	return d
}

// addOpen adds another course where that is above 0.
func (c course) addOpen(d course) {
	for i, v := range d.v {
		if v > 0 {
			c.v[i], c.v1[i], c.v2[i] = c.v[i]+v, c.v1[i]+d.v1[i], c.v2[i]+d.v2[i]
		}
	}
}

// equals reports whether two courses are identical to the last digit.
func (c course) equals(d course) bool {
	return slices.Equal(c.v, d.v) && slices.Equal(c.v1, d.v1) && slices.Equal(c.v2, d.v2)
}

// level is the course of constant v.
func level(n int, v float64) course {
	c := newCourse(n)
	for i := range c.v {
		c.v[i] = v
	}
	return c
}

// lineAlong evaluates the surface along a course. On a hull of unknown shape the bends
// of the line are not known and are left at zero.
func (s *Surface) lineAlong(c course) *Line {
	return s.lineIn(s.roomFor(1, 0, 0), c)
}

// room is the memory that lines are written into: one block of each kind for many
// lines, since each move of a drag makes some forty.
type room struct {
	reals  []float64
	bends  []hull.Curvature
	points []mgl64.Vec3
	runs   []run
}

// roomFor is room for the given numbers of lines, of lines with positions only, and of
// courses.
func (s *Surface) roomFor(lines, places, courses int) *room {
	n := len(s.stations)
	return &room{
		reals: make([]float64, (3*lines+places+3*courses)*n), bends: make([]hull.Curvature, 3*lines*n),
		points: make([]mgl64.Vec3, (lines+places)*n), runs: make([]run, lines*s.Frames()),
	}
}

// take cuts the first n off a slice.
func take[T any](from *[]T, n int) []T {
	out := (*from)[:n:n]
	*from = (*from)[n:]
	return out
}

// course takes the room for a course of n stations.
func (r *room) course(n int) course {
	return course{take(&r.reals, n), take(&r.reals, n), take(&r.reals, n)}
}

// lineIn is lineAlong in existing room.
func (s *Surface) lineIn(r *room, c course) *Line {
	n := len(c.v)
	l := &Line{course: c, V: c.v, P: take(&r.points, n)}
	l.Down, l.S, l.speed = take(&r.reals, n), take(&r.reals, n), take(&r.reals, n)
	l.EdgeSet, l.Face, l.Twist = take(&r.bends, n), take(&r.bends, n), take(&r.bends, n)
	l.runs = take(&r.runs, s.Frames())
	var j Jet
	for i := range c.v {
		k := s.panelAt(c.v[i])
		cell, t, past := s.span(k, c.v[i])
		s.columns[i].rows[k][cell].read(&j, t, past)
		st := j.strainsAlong(c.v1[i], c.v2[i])
		l.P[i], l.Down[i], l.speed[i] = j.P, s.downIn(i, k, cell, t, past), st.speed
		if !s.shapeless {
			l.EdgeSet[i], l.Face[i], l.Twist[i] = st.edge, st.face, st.twist
		}
		if i%stationsPerBay == 0 {
			sin := st.tangent.Dot(j.Pv) / j.Pv.Len()
			l.runs[i/stationsPerBay] = run{st.tangent, math.Sqrt(max(1-sin*sin, 0))}
		}
	}
	l.measure(s.stations)
	l.steepen(s)
	l.endWhere(s.plankedStations())
	return l
}

// placesIn evaluates only the positions along a course: V, Down and P.
func (s *Surface) placesIn(r *room, c course) *Line {
	n := len(c.v)
	l := &Line{course: c, V: c.v, P: take(&r.points, n), Down: take(&r.reals, n)}
	for i, v := range c.v {
		k := s.panelAt(v)
		cell, t, past := s.span(k, v)
		l.P[i], l.Down[i] = s.columns[i].rows[k][cell].place(t, past), s.downIn(i, k, cell, t, past)
	}
	l.endWhere(s.plankedStations())
	return l
}

// measure fills in the arc length: the cubic through speeds at the stations, by the
// corrected trapezium rule over three neighbours (Simpson's rule on pairs of equal
// intervals, which those of a bay are).
func (l *Line) measure(u []float64) {
	for i := 0; i+2 < len(u); i += 2 {
		h := u[i+1] - u[i]
		a, b, c := l.speed[i], l.speed[i+1], l.speed[i+2]
		l.S[i+1] = l.S[i] + h*(5*a+8*b-c)/12
		l.S[i+2] = l.S[i] + h*(a+4*b+c)/3
	}
}

// twistBetween integrates the torsion between two stations by the trapezium rule.
func (l *Line) twistBetween(from, to int) hull.Angle {
	sum := 0.0
	for i := from; i < to; i++ {
		sum += (l.S[i+1] - l.S[i]) * float64(l.Twist[i]+l.Twist[i+1]) / 2
	}
	return hull.Angle(sum)
}

// sprung gives the course of a batten sprung through v at the given u.
func (s *Surface) sprung(u, v []float64) course {
	b := curve.NewBatten(u, v)
	c := newCourse(len(s.stations))
	for i, x := range s.stations {
		c.v[i], c.v1[i], c.v2[i] = b.At(x)
	}
	return c
}

// respring replaces the derivatives of a course by those of the batten through
// its own stations.
func (s *Surface) respring(c course) course { return s.sprung(s.stations, c.v) }

// blend blends two courses: the share a of the girth from one to the other, with the
// derivatives of a at every station. On a surface without knuckles v is in proportion
// to the girth and the blend is exact; with them the girths are blended and a batten
// gives the derivatives.
func (s *Surface) blend(r *room, top, bottom, a course) course {
	c := r.course(len(s.stations))
	if len(s.panels) > 1 {
		for i := range c.v {
			d0, d1 := s.down(i, top.v[i]), s.down(i, bottom.v[i])
			c.v[i] = s.vDown(i, d0+a.v[i]*(d1-d0))
		}
		return s.respring(c)
	}
	for i, v := range top.v {
		a0, a1, a2 := a.v[i], a.v1[i], a.v2[i]
		v1, v2 := top.v1[i], top.v2[i]
		w, w1, w2 := bottom.v[i]-v, bottom.v1[i]-v1, bottom.v2[i]-v2
		c.v[i] = v + a0*w
		c.v1[i] = v1 + a1*w + a0*w1
		c.v2[i] = v2 + a2*w + 2*a1*w1 + a0*w2
	}
	return c
}

// freeCourse is the unstressed course through (frame, v) with a heading, continued past
// the limits. Stations it does not reach are NaN.
func (s *Surface) freeCourse(frame int, v float64, heading hull.Angle) course {
	return s.freeCourseAt(places{s.stations, s.atStation}, s.FrameStation(frame), frame, v, heading)
}

// places are values of u, rising, with the surface at each.
type places struct {
	u  []float64
	at func(place int, v float64) Jet
}

// placesAt gives the surface at any values of u.
func (s *Surface) placesAt(u []float64) places {
	return places{u, func(k int, v float64) Jet { return s.At(u[k], v) }}
}

// freeCourseAt is freeCourse at places other than the stations. from is the index of
// the frame among them, or −1 if it is not one.
func (s *Surface) freeCourseAt(to places, from, frame int, v float64, heading hull.Angle) course {
	c := newCourse(len(to.u))
	for i := range c.v {
		c.v[i] = math.NaN()
	}
	if from >= 0 {
		c.v[from] = v // in any case
	}
	t := s.tracer()
	t.tolerance, t.upper, t.lower = aimTolerance/10, -beyond, 1+beyond
	for _, sign := range []float64{-1, 1} {
		t.enough = func(a sample) bool { return a.du*sign <= 0 }
		trace := s.setOut(&t, s.u[frame], v, heading, sign)
		to.read(trace, sign, c)
	}
	return c
}

// read fills in the places that a trace crosses in one direction.
func (p places) read(trace []sample, sign float64, c course) {
	const eps = 1e-9
	k := 0
	if sign < 0 {
		k = len(p.u) - 1
	}
	for i := 1; i < len(trace); i++ {
		a, b := trace[i-1], trace[i]
		if b.s == a.s && i > 1 {
			continue
		}
		for k >= 0 && k < len(p.u) && (p.u[k]-a.u)*sign < -eps {
			k += int(sign)
		}
		for k >= 0 && k < len(p.u) && (p.u[k]-b.u)*sign <= eps {
			m := a
			if b.s > a.s {
				m = between(a, b, reachStation(a, b, p.u[k]))
			}
			j := p.at(k, m.v)
			m.ddu, m.ddv = j.geodesicAcceleration(m.du, m.dv)
			c.v[k], c.v1[k] = m.v, m.dv/m.du
			c.v2[k] = (m.ddv*m.du - m.dv*m.ddu) / (m.du * m.du * m.du)
			k += int(sign)
		}
	}
}

// reachStation is reach, with stations on the samples themselves kept exact.
func reachStation(a, b sample, u float64) float64 {
	switch {
	case math.Abs(u-a.u) < 1e-9:
		return 0
	case math.Abs(u-b.u) < 1e-9:
		return 1
	}
	return reach(a, b, false, u)
}
