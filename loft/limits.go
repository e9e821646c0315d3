package loft

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/curve"
)

// loftHull makes the planking surface of a hull within its limits: as Loft does,
// through the parts of the frames between the limits. Frames outside the planked length
// also shape it, but no strake is laid there (Planked). The error names a frame of
// which the limits leave nothing.
func loftHull(h *hull.Hull) (*Surface, error) {
	curves, err := frameCurves(h.Frames)
	if err != nil {
		return nil, err
	}
	down, up := Insets(h)
	for i, c := range curves {
		if curves[i], err = c.Within(down[i], up[i]); err != nil {
			return nil, tongue.Errorf("frame %s: %w", h.Frames[i].Name, err)
		}
	}
	s, err := loftCurves(h.Frames, curves)
	if err != nil {
		return nil, err
	}
	s.first, s.last = h.Planked()
	s.turns = s.turnings()
	return s, nil
}

// insets gives how far a limit is set in at every frame: a batten sprung over x through
// the frames at which it is given, never below 0; 0 if it is given at none.
func insets(h *hull.Hull, given []hull.Inset) []float64 {
	out := make([]float64, len(h.Frames))
	at := map[int]float64{}
	for _, g := range given {
		if i := h.FrameNamed(g.Frame); i >= 0 {
			at[i] = g.MM
		}
	}
	if len(at) == 0 {
		return out
	}
	var x, y []float64
	for i := range h.Frames {
		if mm, ok := at[i]; ok {
			x, y = append(x, h.Frames[i].X()), append(y, mm)
		}
	}
	b := curve.NewBatten(x, y)
	for i := range out {
		if mm, ok := at[i]; ok {
			out[i] = mm
			continue
		}
		mm, _, _ := b.At(h.Frames[i].X())
		out[i] = max(mm, 0)
	}
	return out
}

// Insets gives how far the upper limit lies below the first point of every frame of a
// hull, and the lower limit above the last, mm of girth: as given, and between those as
// a batten runs.
func Insets(h *hull.Hull) (down, up []float64) {
	return insets(h, h.Limits.Down), insets(h, h.Limits.Up)
}

// Outlines are the frames of a hull from their first point to their last, including
// what lies beyond the limits.
type Outlines struct{ curves []*curve.Outline }

// OutlinesOf gives the outlines of a hull's frames. The error names a frame that
// has none.
func OutlinesOf(h *hull.Hull) (*Outlines, error) {
	curves, err := frameCurves(h.Frames)
	return &Outlines{curves}, err
}

// Girth is the girth of the whole frame, mm.
func (o *Outlines) Girth(frame int) float64 { return o.curves[frame].Total() }

// At gives the point of a frame at the given girth (mm) from its first point, clamped
// to the frame.
func (o *Outlines) At(frame int, mm float64) mgl64.Vec3 { return o.curves[frame].AtGirth(mm) }

// Nearest gives the girth from a frame's first point to the point whose projection by
// project lies nearest to (x, y).
func (o *Outlines) Nearest(frame int, project func(mgl64.Vec3) (x, y float64), x, y float64) float64 {
	return nearestDown(o.Girth(frame), func(mm float64) float64 {
		a, b := project(o.At(frame, mm))
		return math.Hypot(a-x, b-y)
	})
}

// RoomFor is the greatest inset of a limit at a frame of the given girth if the other
// limit is set in by the given amount: a little of the frame is left.
func RoomFor(girth, other float64) float64 { return max(girth-other-curve.LeastLeft, 0) }

// Planked gives the first and last frame between which the hull is planked.
func (s *Surface) Planked() (first, last int) { return s.first, s.last }

// Planks reports whether the hull is planked at a frame.
func (s *Surface) Planks(frame int) bool { return frame >= s.first && frame <= s.last }

// plankedStations gives the first and last station of the planked length.
func (s *Surface) plankedStations() (from, to int) {
	return s.FrameStation(s.first), s.FrameStation(s.last)
}

// endWhere makes a line end with the planking: beyond that its place stays the same and
// it has no bend. Its Down and S continue, as those of the surface do.
func (l *Line) endWhere(from, to int) {
	for k := range l.P {
		at := min(max(k, from), to)
		if at == k {
			continue
		}
		l.P[k] = l.P[at]
		if l.EdgeSet != nil {
			l.EdgeSet[k], l.Face[k], l.Twist[k] = 0, 0, 0
		}
	}
}

// noteEnds notes, for the innermost layer, at which ends of the hull no strake is laid,
// and what stands there instead.
func (l *Layer) noteEnds(h *hull.Hull) {
	first, last := h.Planked()
	end := len(h.Frames) - 1
	if l.Number > 1 || first == 0 && last == end {
		return
	}
	l.tell(PartlyPlanked{First: first, Last: last, End: end})
}
