package loft

import (
	"math"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/curve"
)

// limitLine is the upper (v = 0) or lower (v = 1) limit.
func (s *Surface) limitLine(v float64) *BandLine {
	return &BandLine{Line: s.lineAlong(level(len(s.stations), v))}
}

// berth is the room a band line must leave: room mm of girth for every band, or an
// equal part each where the girth is too small for that.
type berth struct {
	above []float64 // girth of the line above at every station, mm
	room  float64
	below int // bands beneath it
	bands int // in all
	line  int // index of the line above; 0 for the upper limit
}

// origin is the data a band line was found from, and the courses found, so that a line
// which has not moved need not be found again.
type origin struct {
	hold, aim   int
	vHold, vAim float64
	follows     hull.Follows
	ribbon      Ribbon     // that it follows; none for a thin batten
	heading     hull.Angle // of the thin batten through those, at the hold handle, once found
	free        course     // by those alone

	manner hull.LineType
	u, v   []float64 // of the held handles
	wanted course    // by these, before it was kept within its berth
}

// bandLine finds the course of a band line of its line type, within its berth. old is
// the same line as found before on the same surface, nil if there was none; whatever in
// it still holds is reused. r is the layer's strip.
func (s *Surface) bandLine(b *hull.BandLine, r Ribbon, berth berth, old *BandLine) (*BandLine, error) {
	if len(b.Handles) != s.Frames() {
		return nil, tongue.Errorf("it has %d handles for %d frames: give it one a frame", len(b.Handles), s.Frames())
	}
	if b.Hold < 0 || b.Hold >= s.Frames() || b.Aim >= s.Frames() || b.Aim == b.Hold {
		return nil, tongue.Errorf("its hold and aim handles must lie on two different frames of the hull")
	}
	if s.shapeless {
		return s.drawnLine(b, berth)
	}
	out := &BandLine{origin: s.originOf(b, r)}
	o := &out.origin
	if old != nil && old.sameFree(o) {
		o.heading, o.free, out.natural = old.heading, old.free, old.natural
	} else {
		o.free, out.natural = s.followed(o)
	}
	switch b.LineType {
	case hull.Free:
		o.wanted = o.free
		out.Runouts = s.runouts(o.free)
	case hull.Drawn, hull.Least:
		if len(o.u) == 0 {
			return nil, tongue.Errorf("it has no held handle: hold at least one")
		}
		if old != nil && old.sameHeld(o) {
			o.wanted = old.wanted
			break
		}
		o.wanted = s.sprung(o.u, o.v)
		if b.LineType == hull.Least {
			o.wanted = s.ease(o.wanted, o.u)
		}
	default:
		return nil, tongue.Errorf("there is no line type %q: it is drawn, free or least", b.LineType)
	}
	if kept := s.keepWithin(o.wanted, berth); old != nil && kept.equals(old.Line.course) {
		out.Line = old.Line
	} else {
		out.Line = s.lineAlong(kept)
	}
	out.Moved = s.movedFrom(o.wanted, out.Line, berth)
	out.LieOff = s.lieOff(o.free, out.Line)
	return out, nil
}

// originOf reads where a line is held.
func (s *Surface) originOf(b *hull.BandLine, r Ribbon) origin {
	o := origin{follows: b.Follows, hold: b.Hold, aim: b.Aim, vHold: s.handleV(b, b.Hold), manner: b.LineType}
	if b.Aim >= 0 {
		o.vAim = s.handleV(b, b.Aim)
	}
	if b.Follows == hull.StripItself {
		o.ribbon = r
	}
	if b.LineType != hull.Free {
		o.u, o.v = s.heldPoints(b)
	}
	return o
}

// sameFree reports whether the free courses of two origins are the same.
func (o *origin) sameFree(p *origin) bool {
	return o.hold == p.hold && o.aim == p.aim && o.vHold == p.vHold && o.vAim == p.vAim && o.follows == p.follows && o.ribbon == p.ribbon
}

// sameHeld reports whether the courses of two lines that are not free are the same.
func (o *origin) sameHeld(p *origin) bool {
	return o.manner == p.manner && slices.Equal(o.u, p.u) && slices.Equal(o.v, p.v)
}

// drawnLine is the course of a line on a hull of unknown shape. No line on it can be
// free or of least edge-set, and it is not known where a strip would lie.
func (s *Surface) drawnLine(b *hull.BandLine, berth berth) (*BandLine, error) {
	if b.LineType != hull.Drawn {
		return nil, tongue.Errorf("it is %s, but can only be drawn: %w", b.LineType, ErrShapeless)
	}
	u, v := s.heldPoints(b)
	if len(u) == 0 {
		return nil, tongue.Errorf("it has no held handle: hold at least one")
	}
	c := s.sprung(u, v)
	line := s.lineAlong(s.keepWithin(c, berth))
	return &BandLine{Line: line, Moved: s.movedFrom(c, line, berth)}, nil
}

// followed is the free course that a line follows, set by its hold and aim handles, and
// the natural lie of the strip if the line follows that; there is none for a line that
// follows the thin batten. Where the natural lie cannot be found, the line follows the
// batten instead.
func (s *Surface) followed(o *origin) (course, *NaturalLie) {
	thin := s.heldFree(o)
	if o.follows != hull.StripItself {
		return thin, nil
	}
	n := s.naturalOf(o, o.ribbon, thin, false)
	if n.Untold != Told {
		return thin, n
	}
	return n.under, n
}

// heldFree is the free course of a thin batten through the line's hold and aim handles.
// If no batten passes through both, it takes the default heading.
func (s *Surface) heldFree(o *origin) course {
	o.heading, _ = s.headingBy(o.hold, o.vHold, o.aim, o.vAim)
	return s.freeCourse(o.hold, o.vHold, o.heading)
}

// headingBy is the heading at a hold handle, and whether the aim handle sets it; aim is
// −1 where there is none.
func (s *Surface) headingBy(hold int, v float64, aim int, vAim float64) (heading hull.Angle, aimed bool) {
	if aim >= 0 {
		if heading, aimed = s.headingThrough(hold, v, aim, vAim); aimed {
			return heading, true
		}
	}
	return s.defaultHeading(hold, v), false
}

// naturalOf is the natural lie of a strip through a line's handles: pinned at the hold
// and the aim handle, or without an aim at the hold handle's frame and the nearest
// frames. thin is the thin batten's course through the same handles, as heldFree found
// it for o.
func (s *Surface) naturalOf(o *origin, r Ribbon, thin course, sure bool) *NaturalLie {
	m := s.middleOf(r.Thickness)
	h := lieHold{frame: o.hold, v: o.vHold, heading: o.heading, thin: thin, held: s.besides(o.hold)}
	vAim := 0.0
	if o.aim >= 0 {
		k := s.FrameStation(o.aim)
		vAim = m.upon(k, o.vAim, thin.v1[k])
	}
	middle, aimed := m.at.headingBy(o.hold, h.above(m), o.aim, vAim)
	if h.middle = middle; aimed {
		h.held = []int{min(o.hold, o.aim), max(o.hold, o.aim)}
	}
	return s.naturalLie(r, h, sure)
}

// Natural is the natural lie of a strip of the layer's stock through the handles of a
// band line (1 is the first below the upper limit), with its error. It is nil for the
// limits and on a hull of unknown shape.
func (l *Layer) Natural(line int) *NaturalLie {
	if line < 1 || line >= len(l.Lines)-1 || l.Surface.shapeless {
		return nil
	}
	o := l.Lines[line].origin // a copy, since others may be reading it
	return l.Surface.naturalOf(&o, l.ribbon, l.Surface.heldFree(&o), true)
}

// handleV is the v of a handle, kept on its frame.
func (s *Surface) handleV(b *hull.BandLine, frame int) float64 {
	g := s.Girth(frame)
	return s.vDown(s.FrameStation(frame), min(max(b.Handles[frame].Down, 0), g))
}

// heldPoints gives u and v of the held handles.
func (s *Surface) heldPoints(b *hull.BandLine) (u, v []float64) {
	for i, h := range b.Handles {
		if h.Held {
			u = append(u, s.u[i])
			v = append(v, s.handleV(b, i))
		}
	}
	return u, v
}

// runouts lists the frames at which a free course lies past a limit or which it does
// not reach; at these the run-out is given as half the frame's girth, the farthest that
// frames are extended.
func (s *Surface) runouts(c course) []Runout {
	var out []Runout
	upper := true
	note := func(i int) {
		k := s.FrameStation(i)
		g := s.Girth(i)
		v := c.v[k]
		switch {
		case math.IsNaN(v):
			out = append(out, Runout{Frame: i, Upper: upper, By: g * beyond})
		case v < -1e-9:
			out = append(out, Runout{Frame: i, Upper: true, By: -s.down(k, v)})
		case v > 1+1e-9:
			out = append(out, Runout{Frame: i, Upper: false, By: s.down(k, v) - g})
		}
	}
	_, from, to := s.fill(c)
	for i := s.first; i <= s.last; i++ {
		if k := s.FrameStation(i); k < from {
			upper = c.v[from] < 0.5
		} else if k > to {
			upper = c.v[to] < 0.5
		}
		note(i)
	}
	return out
}

// fill gives the first and last station that a course reaches, and the course continued
// before and after them on the far side of the nearest limit.
func (s *Surface) fill(c course) (whole course, from, to int) {
	from, to = 0, len(c.v)-1
	for from < to && math.IsNaN(c.v[from]) {
		from++
	}
	for to > from && math.IsNaN(c.v[to]) {
		to--
	}
	whole = newCourse(len(c.v))
	copy(whole.v, c.v)
	copy(whole.v1, c.v1)
	copy(whole.v2, c.v2)
	for i := range whole.v {
		end := -1
		if i < from {
			end = from
		} else if i > to {
			end = to
		}
		if end >= 0 {
			whole.v[i] = math.Round(min(max(c.v[end], 0), 1))
		} else if math.IsNaN(whole.v[i]) { // the course skipped back and forth over a corner there
			whole.v[i] = whole.v[i-1]
		}
	}
	return whole, from, to
}

// keepWithin keeps a course within its berth; where the course has to move, its
// derivatives are those of a batten through the planked stations. Beyond the planking, where no
// strip lies, a course that is not known or has to move runs along the berth's edge: its
// derivatives there, which may be without bound, are dropped.
func (s *Surface) keepWithin(c course, in berth) course {
	whole, _, _ := s.fill(c)
	from, to := s.plankedStations()
	moved := slices.ContainsFunc(c.v[from:to+1], math.IsNaN)
	for i, v := range whole.v {
		g := s.girthAt(i)
		room := min(in.room, g/float64(in.bands))
		lo, hi := in.above[i]+room, g-room*float64(in.below)
		kept := min(max(v, s.vDown(i, lo)), s.vDown(i, hi))
		switch planked := i >= from && i <= to; {
		case planked && kept != v:
			moved = true
		case !planked && (kept != v || math.IsNaN(c.v[i])):
			whole.v1[i], whole.v2[i] = 0, 0
		}
		whole.v[i] = kept
	}
	if !moved {
		return whole
	}
	b := curve.NewBatten(s.stations[from:to+1], whole.v[from:to+1])
	for i := range whole.v {
		if i < from || i > to {
			whole.v1[i], whole.v2[i] = 0, 0
			continue
		}
		whole.v[i], whole.v1[i], whole.v2[i] = b.At(s.stations[i])
	}
	return whole
}

// lieOff gives the distance, along each planked frame, from the line to the free
// course.
func (s *Surface) lieOff(free course, l *Line) []float64 {
	out := make([]float64, s.Frames())
	for i := range out {
		if out[i] = math.NaN(); s.Planks(i) {
			k := s.FrameStation(i)
			out[i] = s.down(k, free.v[k]) - l.Down[k]
		}
	}
	return out
}
