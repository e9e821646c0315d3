package sheets

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// wedgePatterns gives every wedge and stealer of a layer as a triangle, full size and
// over-long: it has the angle of its gap and goes on past its wide end. None
// where the layer has no wedges. There must be such a layer.
func wedgePatterns(k *loft.Planking, layer int, s Settings) []draw.Sheet {
	l := k.Layers[layer-1]
	if len(l.Wedges) == 0 {
		return nil
	}
	pieces := []*piece{
		note(tongue.T("Before cutting"), tongue.T(knifeCaution), s.Column),
		note("", tongue.T("Wedges belong to the plan as laid: they fill what whole strips leave open, beneath the strakes named. Tick strips, widths and flat shapes of the strakes on either side leave room for them, and so do strakes cut from sheet."), s.Column),
	}
	for _, w := range l.Wedges {
		pieces = append(pieces, wedgePiece(l, w, s))
	}
	return flow(kind{
		section: tongue.T("Wedges"), cut: true,
		name:  fmt.Sprintf("wedges-layer-%d", layer),
		title: tongue.T("Wedges and stealers, layer %d", layer),
	}, pieces, s.Room)
}

// wedgePiece draws one as it is laid, its lower edge straight along the grain; where
// it ends at the end of the planking it is drawn on past that.
func wedgePiece(l *loft.Layer, w loft.Wedge, s Settings) *piece {
	p := &piece{}
	name := l.Surface.FrameName
	what := tongue.T("Wedge")
	if w.Stealer {
		what = tongue.T("Stealer")
	}
	outline, frames := wedgeOutline(l, w)
	ends := tongue.T("Drawn %.0f %% too long: fit it, then trim it.", 100*l.Rules.WedgeOver)
	if outline[len(outline)-1].Y == 0 {
		ends = tongue.T("It runs to a point again %.1f mm on.", w.Laid.Length-w.Length)
	}
	y := p.lines(0, 0, max(s.Column, w.Length*(1+l.Rules.WedgeOver)), tongue.T("%s under %s, layer %d: cut 2, one a side. %.2f mm wide at frame %s, its point %.1f mm from there towards frame %s. %s",
		what, short(w.Below), l.Number, w.Width, name(w.To), w.Length, name(w.From), ends)) + 1
	const tip = 1.0
	base := y + w.Width*(1+l.Rules.WedgeOver)
	var edge []draw.Point
	for _, q := range outline {
		edge = append(edge, draw.Pt(tip+q.X, base-q.Y))
	}
	end := edge[len(edge)-1].X
	p.Line(draw.Cut, thin, append(edge, draw.Pt(end, base), draw.Pt(tip, base))...)
	for _, i := range frames {
		at := tip + w.Laid.At[i]
		p.Line(draw.Pencil, hair, draw.Pt(at, base-w.Laid.Widths[i]), draw.Pt(at, base))
		p.Line(draw.Grid, hair, draw.Pt(at, base), draw.Pt(at, base+2))
		p.Text(draw.Pt(at, base+2+fine*0.8), name(i), draw.Ink, fine, draw.Centre)
		p.w = max(p.w, at+draw.TextWidth(name(i), fine)/2)
	}
	p.h = base + 7
	if w.Length > 40 {
		p.text(tip, base+6+fine*0.8, tongue.T("grain"), fine, draw.Left)
		g := tip + draw.TextWidth(tongue.T("grain"), fine) + 1.5
		p.arrow(draw.Pt(g+8, base+8), draw.Pt(g+16, base+8))
		p.arrow(draw.Pt(g+8, base+8), draw.Pt(g, base+8))
		p.h = base + 11
	}
	p.w = max(p.w, end)
	return p
}

// wedgeOutline is the upper edge of a wedge over its straight lower one, from its
// point on, y upwards; and the frames at which it is open.
func wedgeOutline(l *loft.Layer, w loft.Wedge) (edge []draw.Point, frames []int) {
	for i, width := range w.Laid.Widths {
		if width > 0 {
			frames = append(frames, i)
		}
	}
	slices.SortFunc(frames, func(a, b int) int { return cmp.Compare(w.Laid.At[a], w.Laid.At[b]) })
	edge = []draw.Point{{}}
	for _, i := range frames {
		if q := draw.Pt(w.Laid.At[i], w.Laid.Widths[i]); q.X > 0 {
			edge = append(edge, q)
		} else {
			edge[0] = q // it begins at the end of the planking
		}
	}
	a, b := edge[max(len(edge)-2, 0)], edge[len(edge)-1]
	if b.X < w.Laid.Length-1e-6 {
		return append(edge, draw.Pt(w.Laid.Length, 0)), frames
	}
	over := w.Laid.Length * l.Rules.WedgeOver
	return append(edge, draw.Pt(b.X+over, b.Y+(b.Y-a.Y)/max(b.X-a.X, 1e-9)*over)), frames
}
