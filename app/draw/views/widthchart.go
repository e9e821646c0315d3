package views

import (
	"strconv"

	"strakewright/app/draw"
	"strakewright/loft"
)

// WidthChart compares strip widths: for each, how wide the strakes must be,
// against the strip.
type WidthChart struct {
	Units   Units
	Drawing draw.Drawing
}

// Draw makes the drawing of some rows in a view of w x h; chosen is the index
// of one of them, or -1.
func (v *WidthChart) Draw(rows []loft.StockRow, chosen int, w, h float64) {
	d := &v.Drawing
	d.Reset()
	if len(rows) == 0 {
		d.Text(draw.Pt(w/2, h/2), "Nothing laid yet.", draw.Faint, labelSize, draw.Centre)
		return
	}
	s := span{0, 0}
	for _, r := range rows {
		s = s.with(r.Stock).with(r.Widest)
	}
	t := track{top: 22, bottom: h - 22, span: span{0, s.hi * 1.05}}
	d.Text(draw.Pt(8, 14), "Range of widths needed (bar) against the strip (line), "+v.Units.Name(), draw.Ink, labelSize, draw.Left)
	d.Line(draw.Faint, hairPen, draw.Pt(8, t.bottom), draw.Pt(w-8, t.bottom))
	pitch := (w - 16) / float64(len(rows))
	for i, r := range rows {
		v.bar(r, t, 8+pitch*(float64(i)+0.5), min(pitch*0.3, 40), i == chosen)
	}
}

// bar draws one width: what lies under the strip tapers, what lies over it
// gapes.
func (v *WidthChart) bar(r loft.StockRow, t track, x, half float64, chosen bool) {
	d := &v.Drawing
	ink := draw.Ink
	if chosen {
		ink = draw.Chosen
		d.Rect(draw.ChosenSoft, draw.Pt(x-half*1.5, t.top), draw.Pt(x+half*1.5, t.bottom))
	}
	low, high := min(r.Narrowest, r.Stock), max(r.Widest, r.Stock)
	d.Rect(draw.TaperInk, draw.Pt(x-half/2, t.at(min(r.Stock, r.Widest))), draw.Pt(x+half/2, t.at(low)))
	d.Rect(draw.GapInk, draw.Pt(x-half/2, t.at(high)), draw.Pt(x+half/2, t.at(r.Stock)))
	d.Line(ink, heavier(limitPen), draw.Pt(x-half, t.at(r.Stock)), draw.Pt(x+half, t.at(r.Stock)))
	d.Text(draw.Pt(x+half+4, t.at(low)+3), v.Units.Number(r.Narrowest), draw.Faint, labelSize-1, draw.Left)
	d.Text(draw.Pt(x+half+4, t.at(high)+5), v.Units.Number(r.Widest), draw.Faint, labelSize-1, draw.Left)
	d.Text(draw.Pt(x, t.bottom+15), v.Units.Number(r.Stock)+", wedges "+strconv.Itoa(r.Wedges)+", drops "+strconv.Itoa(r.Drops), ink, labelSize, draw.Centre)
}
