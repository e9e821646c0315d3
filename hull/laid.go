package hull

import (
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// Solid is an area of a layer that is not planked but carved from solid wood,
// flush with the layer around it: a block, glued on and faired.
type Solid struct {
	From, To     string  // names of the frames between which it lies
	Upper, Lower float64 // mm of girth below the upper limit, on the layer's surface; Lower 0 is all the way down

	extra *extra
}

// mostSolids is the most blocks that a layer may have.
const mostSolids = 100

// Laid gives the indices of the frames between which a layer (from 0) is laid:
// those of the hull, unless the layer has a narrower range of its own.
func (p *Plan) Laid(layer int) (from, to int) {
	from, to = p.Hull.Planked()
	l := &p.Layers[layer]
	a, b := from, to
	if i := p.Hull.FrameNamed(l.From); l.From != "" && i >= 0 {
		a = max(a, i)
	}
	if i := p.Hull.FrameNamed(l.To); l.To != "" && i >= 0 {
		b = min(b, i)
	}
	if a >= b {
		return from, to
	}
	return a, b
}

// laid reads the frames between which a layer is laid, and its blocks.
func (r *planReader) laid(o *fields, l *Layer, h *Hull) {
	first, last := h.Planked()
	name := func(i int) string { return fault.Name(h.Frames[i].Name) }
	l.From, l.To = r.frameOf(o, "from", h), r.frameOf(o, "to", h)
	a, b := r.span(h, l.From, l.To, first, last)
	switch {
	case len(h.Frames) == 0:
	case a < first || b > last:
		r.fault(o.self, "name frames between these", "%s runs from frame %s to %s, but the hull is planked only from frame %s to %s", o.where, name(a), name(b), name(first), name(last))
	case a >= b:
		r.fault(o.self, "let \"from\" be a frame of lesser x than \"to\"", "%s has no bay from frame %s to %s", o.where, name(a), name(b))
	}
	n, ok := o.take("blocks")
	if !ok {
		return
	}
	items, _ := r.items(n, tongue.T("\"blocks\" of %s", o.where), mostSolids)
	for i, n := range items {
		l.Blocks = append(l.Blocks, r.solid(n, tongue.T("block %d of %s", i+1, o.where), h))
	}
}

// span gives the indices of two frames by name, or the given ones for names
// left empty.
func (r *planReader) span(h *Hull, from, to string, first, last int) (a, b int) {
	a, b = first, last
	if i := h.FrameNamed(from); from != "" && i >= 0 {
		a = i
	}
	if i := h.FrameNamed(to); to != "" && i >= 0 {
		b = i
	}
	return a, b
}

// frameOf reads the name of a frame of the hull; empty where there is none.
func (r *planReader) frameOf(o *fields, key string, h *Hull) string {
	n, ok := o.take(key)
	if !ok {
		return ""
	}
	name, ok := r.string(n, tongue.T("%q of %s", key, o.where))
	if ok && name != "" && len(h.Frames) > 0 && h.FrameNamed(name) < 0 {
		r.fault(n, "name a frame of the hull", "%s has %q frame %s, and there is no such frame", o.where, key, fault.Name(name))
		return ""
	}
	return name
}

func (r *planReader) solid(n node, where string, h *Hull) Solid {
	o := r.object(n, where)
	s := Solid{From: r.frameOf(o, "from", h), To: r.frameOf(o, "to", h)}
	if n, ok := o.take("upper"); ok {
		s.Upper, _ = r.number(n, tongue.T("\"upper\" of %s", where), inwards)
	}
	if n, ok := o.take("lower"); ok {
		s.Lower, _ = r.number(n, tongue.T("\"lower\" of %s", where), inwards)
	}
	a, b := r.span(h, s.From, s.To, 0, len(h.Frames)-1)
	switch {
	case len(h.Frames) == 0:
	case a >= b:
		r.fault(n, "let \"from\" be a frame of lesser x than \"to\"", "%s leaves no bay from frame %s to %s", where, fault.Name(h.Frames[a].Name), fault.Name(h.Frames[b].Name))
	case s.Lower != 0 && s.Lower <= s.Upper:
		r.fault(n, "let \"lower\" be more than \"upper\", or leave it out for all the way down", "%s lies from %s to %s mm down", where, fault.Figure(s.Upper), fault.Figure(s.Lower))
	}
	s.extra = o.rest()
	return s
}

// laidMembers are the frames and blocks of a layer as written: those it has.
func (l *Layer) laidMembers() object {
	o := named(l.From, l.To)
	if len(l.Blocks) == 0 {
		return o
	}
	out := list{}
	for _, s := range l.Blocks {
		b := named(s.From, s.To)
		if s.Upper != 0 {
			b = append(b, member{"upper", s.Upper})
		}
		if s.Lower != 0 {
			b = append(b, member{"lower", s.Lower})
		}
		out = append(out, append(b, s.extra.members()...))
	}
	return append(o, member{"blocks", out})
}

// named are the frames between which something runs, as far as they are given.
func named(from, to string) object {
	var o object
	for _, end := range []member{{"from", from}, {"to", to}} {
		if end.value != "" {
			o = append(o, end)
		}
	}
	return o
}
