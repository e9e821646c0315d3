package sheets

import (
	"fmt"

	"github.com/strakewright/strakewright/app/draw"
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
		note("Before cutting", knifeCaution, s.Room.Width),
		note("", "Wedges fill what strips of the stock leave open where they are laid whole. Where the strakes are cut to their full shapes from sheet, they close the gap themselves.", s.Room.Width),
	}
	for _, w := range l.Wedges {
		pieces = append(pieces, wedgePiece(l, w, s))
	}
	return flow(kind{
		section: "Wedges", cut: true,
		name:  fmt.Sprintf("wedges-layer-%d", layer),
		title: fmt.Sprintf("Wedges and stealers, layer %d", layer),
	}, pieces, s.Room)
}

// wedgePiece draws one: its lower edge straight along the grain, its wide end
// square to it.
func wedgePiece(l *loft.Layer, w loft.Wedge, s Settings) *piece {
	p := &piece{}
	name := l.Surface.FrameName
	what := "Wedge"
	if w.Stealer {
		what = "Stealer"
	}
	y := p.lines(0, 0, s.Room.Width, fmt.Sprintf("%s under %s, layer %d: cut 2, one a side. %.2f mm wide at frame %s, its point %.1f mm from there towards frame %s. Drawn %.0f %% over-long: fit it, then trim it.",
		what, short(w.Below), l.Number, w.Width, name(w.To), w.Length, name(w.From), 100*l.Rules.WedgeOver)) + 1
	over := 1 + l.Rules.WedgeOver
	top, base := y, y+w.Width*over
	tip, end := 1.0, 1+w.Length*over
	p.Line(draw.Cut, thin, draw.Pt(tip, base), draw.Pt(end, top), draw.Pt(end, base), draw.Pt(tip, base))
	at := tip + w.Length
	p.Line(draw.Pencil, hair, draw.Pt(at, base-w.Width), draw.Pt(at, base))
	p.Line(draw.Grid, hair, draw.Pt(at, base), draw.Pt(at, base+2))
	p.Text(draw.Pt(at, base+2+small*0.8), name(w.To), draw.Ink, small, draw.Centre)
	if w.Length > 40 {
		p.text(tip, base+2+small*0.8, "grain", small, draw.Left)
		g := tip + draw.TextWidth("grain", small) + 1.5
		p.arrow(draw.Pt(g+8, base+4), draw.Pt(g+16, base+4))
		p.arrow(draw.Pt(g+8, base+4), draw.Pt(g, base+4))
	}
	p.w, p.h = max(p.w, end, at+draw.TextWidth(name(w.To), small)/2), base+7
	return p
}
