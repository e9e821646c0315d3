package loft

import (
	"math"
	"slices"

	"github.com/strakewright/strakewright/hull"
)

// stretch gives the first and last frame between which a layer (from 0) supports the
// next: its own, or all where it has none. Beyond the hull's own limits filler blocks
// stand as high as the planking would.
func stretch(p *hull.Plan, layer int) (from, to int) {
	to = len(p.Hull.Frames) - 1
	a, b := p.Laid(layer)
	if p.Layers[layer].From != "" {
		from = a
	}
	if p.Layers[layer].To != "" {
		to = b
	}
	return from, to
}

// sameStretch reports whether two plans of the same frames lay a layer between the same
// ones.
func sameStretch(p, q *hull.Plan, layer int) bool {
	a, b := stretch(p, layer)
	c, d := stretch(q, layer)
	return a == c && b == d
}

// laidFrom is the surface with a layer laid between two frames; the surface itself if
// it already has that extent.
func (s *Surface) laidFrom(first, last int) *Surface {
	if s.first == first && s.last == last {
		return s
	}
	made := *s
	made.first, made.last = first, last
	return &made
}

// noteExtent notes where a layer is laid, if it has frames of its own, its blocks, and
// where the layer over it cannot lie on its full thickness.
func (l *Layer) noteExtent(p *hull.Plan, surfaces []*Surface) {
	h := &p.Layers[l.Number-1]
	if h.From != "" || h.To != "" {
		from, to := p.Laid(l.Number - 1)
		l.tell(LaidBetween{From: from, To: to})
	}
	var folds []Folds
	if l.Number < len(surfaces) {
		over := surfaces[l.Number]
		for _, f := range over.folds {
			if f.To >= over.first && f.From <= over.last {
				folds = append(folds, f)
			}
		}
	}
	settled := make([]bool, len(folds))
	for _, b := range h.Blocks {
		l.tell(madeBlock(&p.Hull, b, h.Stock.Thickness, folds, settled))
	}
	for n, f := range folds {
		if !settled[n] {
			l.tell(f)
		}
	}
}

// madeBlock is the report on a block; the folds within it are settled.
func madeBlock(h *hull.Hull, b hull.Solid, thickness float64, folds []Folds, settled []bool) MadeBlock {
	n := MadeBlock{From: max(h.FrameNamed(b.From), 0), To: len(h.Frames) - 1, Upper: b.Upper, Lower: b.Lower, Left: thickness}
	if i := h.FrameNamed(b.To); b.To != "" && i >= 0 {
		n.To = i
	}
	if n.Lower == 0 {
		n.Lower = math.Inf(1)
	}
	for k, f := range folds {
		if n.holds(f) {
			settled[k], n.Thinned = true, true
			n.Left = min(n.Left, f.Left)
		}
	}
	return n
}

// blockSlack is how far a place may lie past the edge of a block that settles it, mm:
// the rounding of a girth as entered.
const blockSlack = 0.06

// holds reports whether a place lies within the block.
func (n MadeBlock) holds(f Folds) bool {
	return f.From >= n.From && f.To <= n.To && f.Upper >= n.Upper-blockSlack && f.Lower <= n.Lower+blockSlack
}

// Take applies a remedy to a plan's layer (from 0). The error says that there is no
// such layer.
func Take(p *hull.Plan, layer int, r Remedy) error {
	if layer < 0 || layer >= len(p.Layers) {
		return noLayer(p, layer)
	}
	l := &p.Layers[layer]
	name := func(i int) string { return p.Hull.Frames[i].Name }
	switch r := r.(type) {
	case Thinner:
		l.Stock.Thickness = r.Thickness
	case EndLayer:
		l.From, l.To = name(r.From), name(r.To)
		first, last := p.Hull.Planked()
		if r.From == first {
			l.From = ""
		}
		if r.To == last {
			l.To = ""
		}
	case SolidWood:
		tenth := func(mm float64) float64 { return math.Round(10*mm) / 10 }
		l.Blocks = append(slices.Clone(l.Blocks), hull.Solid{From: name(r.From), To: name(r.To), Upper: tenth(r.Upper), Lower: tenth(r.Lower)})
	}
	return nil
}
