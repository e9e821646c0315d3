package loft

import (
	"math"
	"slices"
	"sort"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/curve"
)

// NaturalLie is how a strip of finite thickness lies by itself: of all courses through
// the places where it is held, the one of least energy in bending and twist, ½∫(B₁κn² +
// B₂κg² + Cτg²) ds on the surface of mid-thickness, with B₁ = E·w·t³/12, B₂ = E·t·w³/12
// and C = G·J. Where it is not held it slides without friction, and both its ends are
// free. All of it lies on the surface: that a real strip touches only the frames is
// neglected.
//
// Past a limit of the planked region, starting half its width inside, nothing bends the
// strip about its face, and it runs straight on.
type NaturalLie struct {
	Ribbon
	Held   []int       // the frames at which it is held, each at the place given by Middle
	Frames []NaturalAt // at every frame

	Surface    *Surface // of mid-thickness, on which the lines lie; its stations are not those of the surface below
	Thin, Line *Line    // the thin strip's course there, and the strip's own; nil if Untold
	From, To   int      // the stations of Surface between which Line is known
	Ends       [2]LieEnd
	Thinned    []Folds // where the surface at mid-thickness would fold, and lies closer

	Slid           bool    // it finds no rest near the thin strip's course, and slides away
	Bent, ThinBent Bent    // its energy, and that of the thin strip's course at this thickness
	Error          float64 // mm along a frame, the greatest: how far doubling the knots moves Natural. NaN if that strip finds no rest
	Untold         Untold
	UntoldAt       int // for HeldUnreached, the frame concerned

	thin, under course // on the surface below: of the thin strip, and of the strip's inner face
}

// NaturalAt is a natural lie at a frame: the places of three courses, in mm of girth
// below the upper limit. NaN where a course does not reach the frame.
type NaturalAt struct {
	Thin    float64 // of the thin strip on the frames
	Middle  float64 // of the thin strip at mid-thickness
	Natural float64 // of the strip
}

// Off is how far the strip lies below the thin strip on the frames, mm.
func (a NaturalAt) Off() float64 { return a.Natural - a.Thin }

// Bent is an energy of bending, mJ for each GPa of the wood's stiffness: about the
// face, edgewise and in twist.
type Bent struct{ Face, Edge, Twist float64 }

// Sum is the total energy.
func (b Bent) Sum() float64 { return b.Face + b.Edge + b.Twist }

// LieEnd is why a natural lie ends.
type LieEnd int

// The ends of a lie.
const (
	AtHullEnd  LieEnd = iota // it reaches the end of the hull
	OffUpper                 // the thin strip is past the upper limit by half a girth
	OffLower                 // past the lower limit
	AtKnuckle                // the thin strip reaches a knuckle, which a thick one does not bend over
	AlongFrame               // the thin strip turns along the frames
)

// Untold is why no natural lie is given.
type Untold int

// Why none is given.
const (
	Told          Untold = iota
	HeldUnreached        // the thin strip does not reach a frame at which the strip is to be held, or the planking
	OverKnuckle          // it would lie over a knuckle
	Restless             // it finds no rest: held at too few frames, it keeps sliding
)

// lieHold is where a natural lie begins: a place on the surface below, with the thin
// strip's heading and course there, its heading at mid-thickness, and the frames at
// which it is held.
type lieHold struct {
	frame   int
	v       float64
	heading hull.Angle
	thin    course
	middle  hull.Angle
	held    []int
}

// NaturalLie gives the natural lie of a strip held at some frames, at the places where
// the unstressed line through a point, as in Surface.Lie, crosses them at
// mid-thickness. If no frames are named it is held at the point's own frame and the two
// nearest. The error says what is wrong with the point or the frames; fewer than two do
// not hold a strip.
func (s *Surface) NaturalLie(r Ribbon, frame int, down float64, aim *hull.Angle, held []int) (*NaturalLie, error) {
	if err := s.startsLie(frame, down); err != nil {
		return nil, err
	}
	if len(held) == 0 {
		held = s.besides(frame)
	}
	for _, f := range held {
		if f < 0 || f >= s.Frames() || !s.Planks(f) {
			return nil, tongue.Errorf("there is no planked frame of index %d to hold a strip at", f)
		}
	}
	held = slices.Compact(slices.Sorted(slices.Values(held)))
	if len(held) < 2 {
		return nil, tongue.Errorf("a strip held at one frame swings freely: hold it at two or more")
	}
	h := lieHold{frame: frame, v: s.vDown(s.FrameStation(frame), down), held: held}
	heading := func(on *Surface, v float64) hull.Angle {
		if aim != nil {
			return *aim
		}
		return on.defaultHeading(frame, v)
	}
	h.heading = heading(s, h.v)
	h.thin = s.freeCourse(frame, h.v, h.heading)
	m := s.middleOf(r.Thickness)
	h.middle = heading(m.at, h.above(m))
	return s.naturalLie(r, h, true), nil
}

// above is the v of mid-thickness over the place.
func (h *lieHold) above(m *middle) float64 {
	k := m.under.FrameStation(h.frame)
	return m.upon(k, h.v, h.thin.v1[k])
}

// besides are a frame and the two planked frames nearest to it by number.
func (s *Surface) besides(frame int) []int {
	first := min(max(frame-1, s.first), max(s.last-2, s.first))
	var out []int
	for i := first; i <= min(first+2, s.last); i++ {
		out = append(out, i)
	}
	return out
}

// naturalLie finds the lie; sure also asks for the thin strip's line, the energies and
// the error, which a line being dragged does not need.
func (s *Surface) naturalLie(r Ribbon, h lieHold, sure bool) *NaturalLie {
	m := s.middleOf(r.Thickness)
	l := newStripLay(m, r, h.frame, h.above(m), h.middle)
	out := &NaturalLie{Ribbon: r, Held: h.held, Surface: m.at, From: l.from, To: l.to, Ends: l.ends, Error: math.NaN(), thin: h.thin}
	if m.under != m.at {
		out.Thinned = m.at.folds
	}
	if out.lay(l, sure); out.Untold == Told {
		out.under = out.onto(s, &h)
	}
	for i := range s.Frames() {
		k := s.FrameStation(i)
		a := NaturalAt{s.down(k, h.thin.v[k]), s.down(k, m.beneath(k, l.thin.v[k], l.thin.v1[k])), math.NaN()}
		if out.Untold == Told {
			a.Natural = s.down(k, out.under.v[k])
		}
		out.Frames = append(out.Frames, a)
	}
	return out
}

// lay fills in the strip at mid-thickness.
func (n *NaturalLie) lay(l *stripLay, sure bool) {
	for _, f := range n.Held {
		if k := l.m.at.FrameStation(f); k < l.from || k > l.to {
			n.Untold, n.UntoldAt = HeldUnreached, f
			return
		}
	}
	if first, last := l.m.at.plankedStations(); l.to < first || l.from > last {
		n.Untold, n.UntoldAt = HeldUnreached, l.m.at.first
		return
	}
	beam := l.beam(n.Held, 1)
	if sure {
		n.ThinBent = beam.bent(n.Ribbon)
	}
	rest := beam.settle()
	if rest == restless {
		n.Untold = Restless
		return
	}
	c := l.course(beam)
	if !l.withinPanel(c) {
		n.Untold = OverKnuckle
		return
	}
	n.Slid = rest == slid
	whole, _, _ := l.m.at.fill(c)
	n.Line = l.m.at.lineAlong(whole)
	if sure {
		thin, _, _ := l.m.at.fill(l.thin)
		n.Thin, n.Bent = l.m.at.lineAlong(thin), beam.bent(n.Ribbon)
		n.Error = l.errorOf(c, n.Held)
	}
}

// stripLay is a strip about to be laid: its thin course on the surface of
// mid-thickness, and how far this can be followed.
type stripLay struct {
	m        *middle
	ribbon   Ribbon
	frame    int
	v        float64
	heading  hull.Angle
	thin     course // at the stations
	from, to int    // stations, even
	ends     [2]LieEnd
}

func newStripLay(m *middle, r Ribbon, frame int, v float64, heading hull.Angle) *stripLay {
	l := &stripLay{m: m, ribbon: r, frame: frame, v: v, heading: heading}
	l.thin = m.at.freeCourse(frame, v, heading)
	at := m.at.FrameStation(frame)
	l.from, l.ends[0] = l.reach(at, -1)
	l.to, l.ends[1] = l.reach(at, 1)
	l.from += l.from % 2
	l.to -= l.to % 2
	return l
}

// reach is the last station, in one direction, to which the strip can be followed, and
// the reason it ends there.
func (l *stripLay) reach(k, way int) (int, LieEnd) {
	s, v := l.m.at, l.thin.v
	for ; k+way >= 0 && k+way < len(v); k += way {
		next := v[k+way]
		switch {
		case math.IsNaN(next) && v[k] < 0:
			return k, OffUpper
		case math.IsNaN(next) && v[k] > 1:
			return k, OffLower
		case math.IsNaN(next):
			return k, AlongFrame
		case s.panelAt(next) != s.panelAt(l.v):
			return k, AtKnuckle
		}
	}
	return k, AtHullEnd
}

// Elements in a bay: where the lines at a bluff end run steeply over u, the outermost
// bays are divided more finely.
const elementsPerBay = 2

func elementsIn(bay, bays int) int {
	switch min(bay, bays-1-bay) {
	case 0:
		return 4 * elementsPerBay
	case 1:
		return 2 * elementsPerBay
	}
	return elementsPerBay
}

// knots gives the knots, a multiple of the usual number.
func (l *stripLay) knots(times int) []float64 {
	s := l.m.at
	from, to := s.stations[l.from], s.stations[l.to]
	var out []float64
	for i := range len(s.u) - 1 {
		n := times * elementsIn(i, len(s.u)-1)
		for k := range n {
			if u := s.u[i] + (s.u[i+1]-s.u[i])*float64(k)/float64(n); u >= from && u < to {
				out = append(out, u)
			}
		}
	}
	return append(out, to)
}

// beam is the strip, held at some frames, with a multiple of the usual knots.
func (l *stripLay) beam(held []int, times int) *ribbonBeam {
	knots := l.knots(times)
	at := make([]bool, len(knots))
	for k, u := range knots {
		at[k] = slices.ContainsFunc(held, func(f int) bool { return l.m.at.u[f] == u })
	}
	return l.m.at.newRibbonBeam(l.ribbon, l.m.at.panelAt(l.v), knots, at, func(to places) course {
		return l.m.at.freeCourseAt(to, -1, l.frame, l.v, l.heading)
	})
}

// course is the course of the strip at the stations, NaN where it does not reach.
func (l *stripLay) course(b *ribbonBeam) course {
	c := l.thin.clone()
	for k, u := range l.m.at.stations {
		if k < l.from || k > l.to {
			c.v[k], c.v1[k], c.v2[k] = math.NaN(), math.NaN(), math.NaN()
			continue
		}
		v, v1, v2 := b.away(u)
		c.v[k], c.v1[k], c.v2[k] = c.v[k]+v, c.v1[k]+v1, c.v2[k]+v2
	}
	return c
}

// withinPanel reports whether a course stays on the panel it began on.
func (l *stripLay) withinPanel(c course) bool {
	s := l.m.at
	return !slices.ContainsFunc(c.v[l.from:l.to+1], func(v float64) bool { return s.panelAt(v) != s.panelAt(l.v) })
}

// errorOf is the greatest distance, at the planked frames, of a strip with twice as
// many knots from a course, mm; NaN if that strip finds no rest.
func (l *stripLay) errorOf(c course, held []int) float64 {
	fine := l.beam(held, 2)
	if fine.settle() == restless {
		return math.NaN()
	}
	d, most, s := l.course(fine), 0.0, l.m.at
	for i := s.first; i <= s.last; i++ {
		if k := s.FrameStation(i); k >= l.from && k <= l.to {
			most = max(most, math.Abs(s.down(k, d.v[k])-s.down(k, c.v[k])))
		}
	}
	return most
}

// onto gives the course of the strip's inner face on the surface below: the feet of the
// strip's middle, interpolated as differences from the thin strip's course there, and
// shifted to pass through the place where the strip is held. NaN where either course
// does not reach, and on a surface below beyond the planking, where no strip lies.
func (n *NaturalLie) onto(s *Surface, h *lieHold) course {
	out := h.thin.clone()
	var feet, v []float64
	from, to := n.From, n.To
	if s != n.Surface {
		first, last := s.plankedStations()
		from, to = max(from, first), min(to, last)
		for k := from; k <= to; k++ {
			u, w := s.foot(s.stations[k], n.Line.V[k], n.Line.P[k])
			if len(feet) == 0 || u > feet[len(feet)-1] {
				feet, v = append(feet, u), append(v, w)
			}
		}
	}
	off := partingFrom(feet, v, s.freeCourseAt(s.placesAt(feet), -1, h.frame, h.v, h.heading).v)
	amiss := 0.0
	if s.Planks(h.frame) {
		amiss = off.at(s.u[h.frame])[0] // some thousandths of a mm: see carried
	}
	for k, u := range s.stations {
		if k < from || k > to || math.IsNaN(out.v[k]) {
			out.v[k], out.v1[k], out.v2[k] = math.NaN(), math.NaN(), math.NaN()
			continue
		}
		a := off.at(u)
		out.v[k], out.v1[k], out.v2[k] = out.v[k]+a[0]-amiss, out.v1[k]+a[1], out.v2[k]+a[2]
	}
	return out
}

// parting is a not-a-knot cubic through differences at some u.
type parting struct{ u, y, slopes []float64 }

// partingFrom is the cubic through the distances of one course from another, where both
// are known.
func partingFrom(u, v, from []float64) parting {
	var a parting
	for i := range u {
		if d := v[i] - from[i]; !math.IsNaN(d) {
			a.u, a.y = append(a.u, u[i]), append(a.y, d)
		}
	}
	if len(a.u) > 1 {
		a.slopes = curve.Slopes(a.u, a.y)
	}
	return a
}

// at gives its value with the first and second derivatives; 0 where it passes through
// fewer than two points.
func (a parting) at(u float64) [3]float64 {
	if len(a.u) < 2 {
		return [3]float64{}
	}
	j := min(max(sort.SearchFloat64s(a.u, u)-1, 0), len(a.u)-2)
	y, y1, y2 := curve.Hermite(a.u[j+1]-a.u[j], a.y[j], a.y[j+1], a.slopes[j], a.slopes[j+1], u-a.u[j])
	return [3]float64{y, y1, y2}
}
