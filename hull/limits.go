package hull

import (
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// limitWords are usual names of limits; a plan may have any.
var limitWords = map[string]string{
	"sheer": tongue.Mark("sheer"), "wale": tongue.Mark("wale"), "rabbet": tongue.Mark("rabbet"), "keel": tongue.Mark("keel"),
}

// LimitWord says the name of a limit in the reader's language, if it is a usual one.
func LimitWord(name string) string {
	if word, ok := limitWords[name]; ok {
		return tongue.T(word)
	}
	return name
}

// Limits names the two edges of the planked region, and says where they lie: on
// the first and the last point of every frame, unless they are set in from
// there, and all along the hull, unless it is planked only between two frames.
type Limits struct {
	Upper string // such as "sheer" or "wale"
	Lower string // such as "rabbet"

	From, To string  // names of the frames between which the hull is planked; empty for the first and the last
	Down     []Inset // how far the upper limit lies below the first point of a frame
	Up       []Inset // how far the lower limit lies above the last point of a frame

	extra *extra
}

// Inset is how far a limit is set in at a frame, mm of the frame's girth.
// Between frames with an inset the limit follows a batten sprung through them,
// without leaving the frame; beyond the last of them the batten continues
// straight.
type Inset struct {
	Frame string
	MM    float64

	extra *extra
}

// clone is a copy that shares nothing that can change.
func (l Limits) clone() Limits {
	l.Down, l.Up = slices.Clone(l.Down), slices.Clone(l.Up)
	return l
}

// Whole reports whether every frame is planked from end to end.
func (l Limits) Whole() bool {
	return l.From == "" && l.To == "" && len(l.Down) == 0 && len(l.Up) == 0
}

// Planked gives the indices of the frames between which the hull is planked:
// the first and the last, unless the limits name others.
func (h *Hull) Planked() (from, to int) {
	to = len(h.Frames) - 1
	a, b := 0, to
	if h.Limits.From != "" {
		a = h.FrameNamed(h.Limits.From)
	}
	if h.Limits.To != "" {
		b = h.FrameNamed(h.Limits.To)
	}
	if a < 0 || b > to || a >= b {
		return 0, to
	}
	return a, b
}

// limits reads the limits, before the frames that they name are known.
func (r *planReader) limits(n node) Limits {
	o := r.object(n, tongue.T("the limits"))
	l := Limits{Upper: o.string("upper"), Lower: o.string("lower"), From: o.string("from"), To: o.string("to")}
	l.Down, l.Up = r.insets(o, "down"), r.insets(o, "up")
	l.extra = o.rest()
	return l
}

func (r *planReader) insets(o *fields, key string) []Inset {
	n, ok := o.take(key)
	if !ok {
		return nil
	}
	items, _ := r.items(n, tongue.T("%q of the limits", key), MostFrames)
	var out []Inset
	for i, n := range items {
		in := r.object(n, tongue.T("inset %d of %q of the limits", i+1, key))
		out = append(out, Inset{Frame: in.string("frame"), MM: in.number("mm", inwards)})
		out[i].extra = in.rest()
	}
	return out
}

// RoomFor is the most, mm, that a limit can be set in at a frame where the other is set
// in by so much, if a plan's file is to hold it: checkLimits goes by the chords between
// the points, which a curve through them is a little longer than.
func (h *Hull) RoomFor(frame int, other float64) float64 {
	const rounding = 1e-6 // mm, more than the sums are off by
	return max(outlineLength(h.Frames[frame].Points)-other-PoleGirth-rounding, 0)
}

// checkLimits notes limits that name no frame of the hull, or leave nothing of
// one.
func (r *planReader) checkLimits(n node, h *Hull) {
	if len(h.Frames) == 0 {
		return // nothing was read for them to name
	}
	l := &h.Limits
	for _, end := range []struct{ key, name string }{{"from", l.From}, {"to", l.To}} {
		if end.name != "" && h.FrameNamed(end.name) < 0 {
			r.fault(n, "name a frame of the hull", "the limits have %q frame %s, and there is no such frame", end.key, fault.Name(end.name))
			return
		}
	}
	a, b := 0, len(h.Frames)-1
	if l.From != "" {
		a = h.FrameNamed(l.From)
	}
	if l.To != "" {
		b = h.FrameNamed(l.To)
	}
	if a >= b {
		r.fault(n, "let \"from\" be a frame of lesser x than \"to\"", "the limits leave no bay to plank from frame %s to %s", fault.Name(h.Frames[a].Name), fault.Name(h.Frames[b].Name))
	}
	left := make([]float64, len(h.Frames))
	for i := range left {
		left[i] = outlineLength(h.Frames[i].Points)
	}
	girths := slices.Clone(left)
	for _, list := range []struct {
		key string
		of  []Inset
	}{{"down", l.Down}, {"up", l.Up}} {
		seen := map[int]bool{}
		for _, in := range list.of {
			i := h.FrameNamed(in.Frame)
			switch {
			case i < 0:
				r.fault(n, "name a frame of the hull", "%q of the limits names frame %s, and there is no such frame", list.key, fault.Name(in.Frame))
			case seen[i]:
				r.fault(n, "remove one of them", "%q of the limits has two insets on frame %s", list.key, fault.Name(in.Frame))
			default:
				if left[i] -= in.MM; left[i] < PoleGirth {
					r.fault(n, "set them in by less", "the limits leave nothing of frame %s, which has a girth of %s mm", fault.Name(in.Frame), fault.Figure(girths[i]))
				}
			}
			if i >= 0 {
				seen[i] = true
			}
		}
	}
}

// object is the limits as written.
func (l Limits) object() object {
	o := object{{"upper", l.Upper}, {"lower", l.Lower}}
	o = append(o, named(l.From, l.To)...)
	for _, insets := range []struct {
		key string
		of  []Inset
	}{{"down", l.Down}, {"up", l.Up}} {
		if len(insets.of) == 0 {
			continue
		}
		out := list{}
		for _, in := range insets.of {
			out = append(out, append(object{{"frame", in.Frame}, {"mm", in.MM}}, in.extra.members()...))
		}
		o = append(o, member{insets.key, out})
	}
	return append(o, l.extra.members()...)
}
