package sheets

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/nest"
)

// sheetWood gives, of a layer as cut, a picture of every sheet that spiled strakes are
// cut from, scaled down to the room, and where each piece lies on it. None where there
// is no such strake.
func sheetWood(c *loft.CuttingPlan, layer int, s Settings) []draw.Sheet {
	if c.Sheets == nil || len(c.Sheets.Nest.Sheets) == 0 {
		return nil
	}
	pieces := []*piece{note(tongue.T("Where each strake lies on its sheet"), sheetWords(c.Sheets), s.Column)}
	for n := range c.Sheets.Nest.Sheets {
		key := sheetKey(c, n)
		key.fit(0)
		pieces = append(pieces, sheetPicture(c, n, s.double()), key.piece())
	}
	return flow(kind{
		section: tongue.T("Sheet wood"),
		name:    fmt.Sprintf("sheet-wood-layer-%d", layer),
		title:   tongue.T("Sheet wood, layer %d", layer),
	}, pieces, s.Room)
}

// sheetWords tells how the pictures are meant.
func sheetWords(s *loft.SheetPlan) string {
	return tongue.T("These pictures are to scale, not full size: cut by the shapes on the flat strakes' sheets. The arrow shows the grain, along the sheet's length. "+
		"Numbers are those of the cutting list; one without room in the picture is in the list below it. Lay each flat shape as picture and list show, with the lower left corner of its box so far along the sheet and so far up from its lower edge, in mm; "+
		"a piece marked to turn over lies with its other face up. Keep pieces at least %s mm apart and %s mm inside the edge. Cut on a support, in several light scores, away from the hand.", plain("%.2g", s.Clear, 0), plain("%.2g", s.Margin, 0))
}

// sheetPicture draws a sheet scaled to that width at the most.
func sheetPicture(c *loft.CuttingPlan, n int, width float64) *piece {
	sheet := c.Sheets.Nest.Sheets[n]
	scale := min(width/sheet.Length, 1)
	p := &piece{}
	from := tongue.T("to buy")
	if sheet.Box {
		from = tongue.T("of your own")
	}
	y := p.lines(0, 0, width, tongue.T("Sheet %d, %s: %g × %g mm, %g mm thick%s. Drawn 1 : %.1f. %.0f %% is left over.", n+1, from,
		sheet.Width, sheet.Length, c.Sheets.Thickness, ofWood(c.Sheets.Species), 1/scale, 100*sheet.Waste/(sheet.Length*sheet.Width)))
	p.text(0, y+2.5+draw.CapHeight(small)/2, tongue.T("grain"), small, draw.Left)
	x := draw.TextWidth(tongue.T("grain"), small) + 1.5
	p.arrow(draw.Pt(x+10, y+2.5), draw.Pt(x, y+2.5))
	p.arrow(draw.Pt(x+10, y+2.5), draw.Pt(x+20, y+2.5))
	y += 6
	w, h := sheet.Length*scale, sheet.Width*scale
	at := func(x, up float64) draw.Point { return draw.Pt(x*scale, y+h-up*scale) }
	p.Line(draw.Ink, stout, draw.Pt(0, y), draw.Pt(w, y), draw.Pt(w, y+h), draw.Pt(0, y+h), draw.Pt(0, y))
	for _, placed := range sheet.Pieces {
		var outline []draw.Point
		for _, q := range c.Sheets.Outline(placed) {
			outline = append(outline, at(q.X(), q.Y()))
		}
		p.Area(draw.TaperSoft, outline...)
		p.Line(draw.Ink, hair, append(outline, outline[0])...)
	}
	numbers := &numbering{piece: p, from: draw.Pt(0, y), to: draw.Pt(w, y+h)}
	for _, placed := range sheet.Pieces {
		numbers.number(c, placed, at)
	}
	p.w, p.h = max(p.w, w), y+h
	return p
}

// ofWood names the wood after a size; nothing where it has no name.
func ofWood(species string) string {
	if species == "" {
		return ""
	}
	return ", " + species
}

// numbering writes the numbers of pieces onto a sheet as drawn, where none covers
// another or stands out of the sheet.
type numbering struct {
	piece    *piece
	from, to draw.Point // the corners of the sheet
	taken    []draw.Label
}

// number writes a piece's number on it, at the first of some places along it that is
// free; nowhere if none is, since neighbours are closer than letters are high.
func (n *numbering) number(c *loft.CuttingPlan, placed nest.Placed, at func(x, up float64) draw.Point) {
	const places, golden = 40, 0.6180339887
	of := c.Sheets.Pieces[placed.Piece]
	text := fmt.Sprint(of.Laid + 1)
	for i := range places {
		_, share := math.Modf(float64(len(n.taken)+i) * golden)
		k := int((0.04 + 0.92*share) * float64(len(of.Upper)-1))
		q := of.Upper[k].Add(of.Lower[k]).Mul(0.5)
		m := placed.Point(nest.Point{X: q.X(), Y: q.Y()})
		o := at(m.X, m.Y)
		label := draw.Label{At: draw.Pt(o.X, o.Y+draw.CapHeight(small)/2), Text: text, Role: draw.Ink, Size: small, Align: draw.Centre}
		if !n.free(label) {
			continue
		}
		w, up := draw.TextWidth(text, small)/2+0.3, draw.CapHeight(small)/2+0.2
		n.piece.Area(draw.Paper, draw.Pt(o.X-w, o.Y-up), draw.Pt(o.X+w, o.Y-up), draw.Pt(o.X+w, o.Y+up), draw.Pt(o.X-w, o.Y+up))
		n.piece.Text(label.At, text, draw.Ink, small, draw.Centre)
		n.taken = append(n.taken, label)
		return
	}
}

// free tells whether a label stands within the sheet and apart from all others.
func (n *numbering) free(l draw.Label) bool {
	a, b := l.Box()
	if a.X < n.from.X || a.Y < n.from.Y || b.X > n.to.X || b.Y > n.to.Y {
		return false
	}
	for _, other := range n.taken {
		if c, d := other.Box(); a.X < d.X && c.X < b.X && a.Y < d.Y && c.Y < b.Y {
			return false
		}
	}
	return true
}

// sheetKey lists the pieces of a sheet, from the lower edge up.
func sheetKey(c *loft.CuttingPlan, n int) *table {
	t := &table{
		title: tongue.T("On sheet %d", n+1),
		columns: []column{
			{head: tongue.T("number"), number: true}, {head: tongue.T("strake")}, {head: tongue.T("piece")}, {head: tongue.T("side")},
			{head: tongue.T("along mm"), number: true}, {head: tongue.T("up mm"), number: true}, {head: tongue.T("turned")},
		},
	}
	sheet := c.Sheets.Nest.Sheets[n]
	corner := func(p nest.Placed) (x, y float64) {
		x, y = math.Inf(1), math.Inf(1)
		for _, q := range c.Sheets.Outline(p) {
			x, y = min(x, q.X()), min(y, q.Y())
		}
		return x, y
	}
	order := slices.Clone(sheet.Pieces)
	slices.SortStableFunc(order, func(a, b nest.Placed) int {
		_, ya := corner(a)
		_, yb := corner(b)
		switch {
		case ya < yb:
			return -1
		case ya > yb:
			return 1
		}
		return 0
	})
	for _, placed := range order {
		laid := c.Pieces[c.Sheets.Pieces[placed.Piece].Laid]
		part := ""
		if laid.Of > 1 {
			part = tongue.T("%d of %d", laid.Number, laid.Of)
		}
		x, y := corner(placed)
		t.rows = append(t.rows, []string{fmt.Sprint(c.Sheets.Pieces[placed.Piece].Laid + 1), short(laid.ID), part, sideName(laid.Side),
			figure("%.1f", x), figure("%.1f", y), turnWords(placed)})
	}
	return t
}

// turnWords tells how a piece is turned from as its flat shape is drawn.
func turnWords(p nest.Placed) string {
	var words []string
	if p.Mirrored {
		words = append(words, tongue.T("over"))
	}
	if p.Turned {
		words = append(words, tongue.T("end for end"))
	}
	if p.Tilt != 0 {
		words = append(words, tongue.T("%.1f° off the grain", hull.Angle(p.Tilt).Degrees()))
	}
	return strings.Join(words, ", ")
}
