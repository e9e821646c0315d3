package desk

import (
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// wholeFrames are the frames beyond the limits too, made once for as long as the
// hull keeps its frames.
type wholeFrames struct {
	of     []hull.Frame
	lines  *loft.Outlines
	curves views.Curves
}

// wholeLines gives the whole frames of the hull; nil where it has no outlines, as
// one of which only the girths are known.
func (d *AtHand) wholeLines() *loft.Outlines {
	frames := d.Plan().Hull.Frames
	if w := &d.whole; w.lines == nil || len(w.of) != len(frames) || &w.of[0] != &frames[0] {
		o, err := loft.OutlinesOf(&d.Plan().Hull)
		if err != nil {
			return nil
		}
		d.whole = wholeFrames{frames, o, views.WholeCurves(o, len(frames))}
	}
	return d.whole.lines
}

// WholeCurves gives the whole frames to be drawn beyond the limits; nil where
// there is nothing beyond.
func (d *AtHand) WholeCurves() views.Curves {
	if d.Plan().Hull.Limits.Whole() {
		return nil
	}
	if d.wholeLines() == nil {
		return nil
	}
	return d.whole.curves
}

// WholeGirth is the girth of a frame from end to end, mm; where there are no
// outlines, that between the limits.
func (d *AtHand) WholeGirth(f int) float64 {
	if d.Shapeless() {
		return d.Plan().Hull.Girths[f].Girth
	}
	if lines := d.wholeLines(); lines != nil {
		return lines.Girth(f)
	}
	return d.Layer().Girths[f]
}

// setInAt gives how far both limits are set in at a frame, mm.
func (d *AtHand) setInAt(f int) (down, up float64) {
	downs, ups := loft.Insets(&d.Plan().Hull)
	return downs[f], ups[f]
}

// WithinFrame keeps an inset on its frame, clear of the other limit.
func (d *AtHand) WithinFrame(l views.Limit, f int, mm float64) float64 {
	down, up := d.setInAt(f)
	other := up
	if l == views.LowerLimit {
		other = down
	}
	room := loft.RoomFor(d.WholeGirth(f), other)
	if !d.Shapeless() {
		room = min(room, d.Plan().Hull.RoomFor(f, other)) // or the plan could not be read again
	}
	return max(0, min(mm, room))
}

// limitPlace gives where a limit lies on a frame, mm of girth from its first point.
func (d *AtHand) limitPlace(l views.Limit, f int) float64 {
	down, up := d.setInAt(f)
	if l == views.LowerLimit {
		return d.WholeGirth(f) - up
	}
	return down
}

// setIn gives how far a limit is set in that lies so much girth below the first
// point of a frame.
func (d *AtHand) setIn(l views.Limit, f int, at float64) float64 {
	if l == views.LowerLimit {
		return d.WholeGirth(f) - at
	}
	return at
}
