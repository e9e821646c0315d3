package sheets

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// flatStrakes gives the shape of every strake of a layer, full size: as a
// strip with straight cuts those that are sprung from stock, those that are cut
// alike gathered as one set, and the developed shape of the others. There must be such a layer.
func flatStrakes(k *loft.Planking, layer int, s Settings) []draw.Sheet {
	l := k.Layers[layer-1]
	pieces := []*piece{note(tongue.T("Before cutting"), tongue.T(knifeCaution), s.Column), note(tongue.T("How to read these sheets"), flatWords(k, l), s.Column)}
	sets := l.CutSets()
	for i := range sets {
		p := taperPiece(k, l, &sets[i], s)
		p.parts = taperParts(k, l, &sets[i], s)
		pieces = append(pieces, p)
	}
	if t := flatTable(l, sets, s); len(t.rows) > 0 {
		pieces = append(pieces, &piece{parts: []*piece{t.piece()}}) // the single shapes have it as their titles
	}
	for _, st := range l.Strakes {
		if f, err := l.Flat(st.ID); err == nil && loft.SetOf(sets, st.ID) == nil {
			p := flatPiece(k, l, st, f, s)
			p.parts = flatParts(k, l, st, f, s)
			pieces = append(pieces, p)
		}
	}
	return flow(kind{
		section: tongue.T("Flat strakes"), cut: true,
		name:  fmt.Sprintf("flat-strakes-layer-%d", layer),
		title: tongue.T("Flat strakes, layer %d", layer),
	}, pieces, s.Room)
}

// flatStrake gives the developed shape of one strake of a layer, whether it can
// be sprung or not. The error is that of Layer.Flat.
func flatStrake(k *loft.Planking, layer int, id string, s Settings) (draw.Sheet, error) {
	if layer < 1 || layer > len(k.Layers) {
		return draw.Sheet{}, tongue.Errorf("there is no layer %d: the plan has %d", layer, len(k.Layers))
	}
	l := k.Layers[layer-1]
	f, err := l.Flat(id)
	if err != nil {
		return draw.Sheet{}, err
	}
	for _, st := range l.Strakes {
		if st.ID == id {
			return flow(kind{
				section: tongue.T("Flat strakes"), cut: true,
				name:  "strake-" + strings.ReplaceAll(id, "/", "-"),
				title: tongue.T("Strake %s, layer %d, flat", short(id), layer),
			}, []*piece{flatPiece(k, l, st, f, s)}, s.Room)[0], nil
		}
	}
	return draw.Sheet{}, err
}

// flatWords tells how the flat sheets are meant.
func flatWords(k *loft.Planking, l *loft.Layer) string {
	side, other := asDrawn(&k.Plan.Hull)
	edges := tongue.T("Bevels, in degrees off square, widen a strake towards its outer face where they are positive and narrow it where they are negative.")
	if l.SquareEdges() {
		edges = answer.EdgesText(&k.Plan.Hull, l)
	}
	return tongue.T("Shapes and widths, in mm, are of the face that lies on the frames; flat widths go straight across the shape as drawn, while tick strips and tables tell widths round the frame, which are a little more on a tight bilge; tapers are of the strip before you bevel its edges. Each drawing shows the outer face on the %s side; turned over it is the %s strake: cut two. %s Dashed: the spare length to hold it by. "+
		"On paper the arrow by a strake's number points to the bow. At each frame stand its name and the strake's flat width, and outside each edge that edge's bevel. A strake too long for the page is drawn in lengths a, b and so on, each turned level: cut one at the dashed line, lay it over the other until the crosses coincide, and glue.", sideName(side), sideName(other), edges)
}

// edgeStrain is the greatest strain of edge-set in a strake where it is laid, a
// ratio.
func edgeStrain(l *loft.Layer, st *loft.Strake) float64 {
	most := 0.0
	first, last := st.LaidBetween()
	for k := l.Surface.FrameStation(first); k <= l.Surface.FrameStation(last); k++ {
		most = max(most, st.EdgeStrain(k))
	}
	return most
}

// shape is a flat strake placed on paper: y downwards, x from the left.
type shape struct {
	upper, lower []draw.Point
	w, h         float64
	straight     bool // its lower edge is straight and level
}

// placed turns a flat shape so that its middle line's chord is level, or of a
// garboard its upper edge's, and moves it to (0, 0).
func placed(f *loft.Flat, garboard bool) shape {
	n := len(f.Upper) - 1
	a, b := f.Upper[0].Add(f.Lower[0]), f.Upper[n].Add(f.Lower[n])
	if garboard {
		a, b = f.Upper[0], f.Upper[n]
	}
	e := b.Sub(a).Normalize()
	turn := func(p mgl64.Vec2) draw.Point {
		return draw.Pt(p.X()*e.X()+p.Y()*e.Y(), p.X()*e.Y()-p.Y()*e.X())
	}
	var out shape
	lo, hi := draw.Pt(math.Inf(1), math.Inf(1)), draw.Pt(math.Inf(-1), math.Inf(-1))
	for i := range f.Upper {
		out.upper, out.lower = append(out.upper, turn(f.Upper[i])), append(out.lower, turn(f.Lower[i]))
		for _, p := range []draw.Point{out.upper[i], out.lower[i]} {
			lo, hi = draw.Pt(min(lo.X, p.X), min(lo.Y, p.Y)), draw.Pt(max(hi.X, p.X), max(hi.Y, p.Y))
		}
	}
	out.w, out.h = hi.X-lo.X, hi.Y-lo.Y
	out.move(draw.Pt(-lo.X, -lo.Y))
	return out
}

func (s *shape) move(by draw.Point) {
	for _, edge := range [][]draw.Point{s.upper, s.lower} {
		for i := range edge {
			edge[i] = draw.Pt(edge[i].X+by.X, edge[i].Y+by.Y)
		}
	}
}

// outline runs along the upper edge, back along the lower and closes.
func (s *shape) outline() []draw.Point {
	out := append([]draw.Point{}, s.upper...)
	for i := len(s.lower) - 1; i >= 0; i-- {
		out = append(out, s.lower[i])
	}
	return append(out, s.upper[0])
}

// overhang gives the open outline of what is left on beyond an end, going on as
// the edges do there; nil where the strake ends in a point.
func (s *shape) overhang(atEnd bool, length float64) []draw.Point {
	i, j := 0, min(4, len(s.upper)-1)
	if atEnd {
		i, j = len(s.upper)-1, max(len(s.upper)-5, 0)
	}
	a, b := s.upper[i], s.lower[i]
	if length <= 0 || math.Hypot(a.X-b.X, a.Y-b.Y) < 0.05 {
		return nil
	}
	c, d := s.upper[j], s.lower[j]
	x, y := a.X+b.X-c.X-d.X, a.Y+b.Y-c.Y-d.Y
	if s.straight {
		y = 0
	}
	l := length / math.Hypot(x, y)
	return []draw.Point{a, draw.Pt(a.X+x*l, a.Y+y*l), draw.Pt(b.X+x*l, b.Y+y*l), b}
}

// shapeLeft is where the strake itself begins, right of the names of its rows, mm.
const shapeLeft = 21.0

// flatPiece draws a developed strake.
func flatPiece(k *loft.Planking, l *loft.Layer, st *loft.Strake, f *loft.Flat, s Settings) *piece {
	p := &piece{}
	y := p.lines(0, 0, s.double(), flatTitle(k, l, st, f))
	sh := placed(f, st.Garboard)
	sh.move(draw.Pt(shapeLeft, y+5.5))
	drawEnds(p, k, shapeLeft, y+2.8)
	p.Line(draw.Cut, thin, sh.outline()...)
	drawOverhang(p, k, &sh, s.Overhang)
	var marks []crossing
	var rungs []int
	for _, m := range f.Frames {
		u, w := sh.upper[m.Rung], sh.lower[m.Rung]
		p.Line(draw.Pencil, hair, u, w)
		marks, rungs = append(marks, crossing{m.Frame, w}), append(rungs, m.Rung)
	}
	numberInside(p, short(st.ID), &sh, rungs)
	p.w = max(p.w, shapeLeft+sh.w+s.Overhang)
	crossingRows(p, marks, y+5.5+sh.h, strakeRows(l, st, func(i int) float64 { return sh.across(rungOf(f, i), st.At[i]) }))
	return p
}

// flatTitle says what a developed strake is.
func flatTitle(k *loft.Planking, l *loft.Layer, st *loft.Strake, f *loft.Flat) string {
	what := tongue.T("Strake")
	if st.Garboard {
		what = tongue.T("Garboard")
	}
	pattern := ""
	if st.Making.Mode == hull.Block {
		pattern = tongue.T(" A pattern to bend round its block.")
	}
	if nibs := answer.NibsText(l, st, answer.MM{}); nibs != "" {
		pattern += " " + nibs
	}
	side, other := asDrawn(&k.Plan.Hull)
	return tongue.T("%s %s, layer %d: %s; %s as drawn, %s turned over. Least rectangle %.1f x %.1f mm, sweep %.1f mm, misfit %s mm.%s",
		what, short(st.ID), l.Number, answer.MakingText(st.Making, l.Surface.FrameName), sideName(side), sideName(other), f.Length, f.Width, f.Sweep, plain("%.2f", f.Misfit, 0.005), pattern)
}

// drawEnds draws the way of the grain and of the bow over a strake.
func drawEnds(p *piece, k *loft.Planking, x, y float64) {
	p.text(x, y+draw.CapHeight(small)/2, tongue.T("grain"), small, draw.Left)
	x += draw.TextWidth(tongue.T("grain"), small) + 1.5
	p.arrow(draw.Pt(x+14, y), draw.Pt(x, y))
	p.arrow(draw.Pt(x+14, y), draw.Pt(x+28, y))
	x += 36
	w := draw.TextWidth(tongue.T("bow"), small)
	if k.Plan.Hull.Bow == hull.BowFirst {
		p.arrow(draw.Pt(x+8, y), draw.Pt(x, y))
		p.text(x+9.5, y+draw.CapHeight(small)/2, tongue.T("bow"), small, draw.Left)
	} else {
		p.text(x, y+draw.CapHeight(small)/2, tongue.T("bow"), small, draw.Left)
		p.arrow(draw.Pt(x+w+1.5, y), draw.Pt(x+w+9.5, y))
	}
	p.text(x+w+16, y+draw.CapHeight(small)/2, tongue.T("upper edge above"), small, draw.Left)
}

// drawOverhang leaves wood on at the after end, where a strake laid from the bow
// is let go last, or at the other where that one ends in a point.
func drawOverhang(p *piece, k *loft.Planking, sh *shape, length float64) {
	after := k.Plan.Hull.Bow == hull.BowFirst
	over := sh.overhang(after, length)
	if over == nil {
		over = sh.overhang(!after, length)
	}
	p.Line(draw.Pencil, broken, over...)
}

// numberInside writes the strake's number onto the wood wherever a bay between
// two frames (their rungs) holds it, at most every 100 mm, and over its end of
// rising x where none stands near: each piece of paper is to bear it.
func numberInside(p *piece, text string, sh *shape, frames []int) {
	numberEnd(p, text, sh, numberBays(p, text, sh, frames))
}

// numberBays writes the number into the bays, and gives the x of the last.
func numberBays(p *piece, text string, sh *shape, frames []int) float64 {
	w, up := draw.TextWidth(text, small)/2, draw.CapHeight(small)/2
	last := math.Inf(-1)
	for i := 0; i+1 < len(frames); i++ {
		from, to := frames[i], frames[i+1]
		m := sh.middle(from, to)
		if m.X-last >= 100 && holds(sh, from, to, draw.Pt(m.X-w-0.5, m.Y-up-0.3), draw.Pt(m.X+w+0.5, m.Y+up+0.3)) {
			p.Text(draw.Pt(m.X, m.Y+up), text, draw.Ink, small, draw.Centre)
			last = m.X
		}
	}
	return last
}

// numberEnd writes the number over the end of rising x, unless one stands near.
func numberEnd(p *piece, text string, sh *shape, last float64) {
	w := draw.TextWidth(text, small) / 2
	n := len(sh.upper) - 1
	end := draw.Pt(sh.upper[n].X-w-1, math.Inf(1))
	if end.X-last < 100 || end.X-w < shapeLeft+endsWidth {
		return
	}
	for i := n; i >= 0 && (i >= n-1 || sh.upper[i+1].X > end.X-w); i-- {
		end.Y = min(end.Y, sh.upper[i].Y)
	}
	p.Text(draw.Pt(end.X, end.Y-1), text, draw.Ink, small, draw.Centre)
}

// endsWidth is how far drawEnds reaches over a strake, mm.
const endsWidth = 115.0

// middle is the middle of the bay between two rungs.
func (s *shape) middle(from, to int) draw.Point {
	if to == from+1 {
		a, b := s.upper[from], s.lower[to]
		return draw.Pt((a.X+b.X)/2, (a.Y+b.Y+s.upper[to].Y+s.lower[from].Y)/4)
	}
	m := (from + to) / 2
	return draw.Pt((s.upper[m].X+s.lower[m].X)/2, (s.upper[m].Y+s.lower[m].Y)/2)
}

// holds tells whether a box lies between two rungs and both edges.
func holds(sh *shape, from, to int, a, b draw.Point) bool {
	if max(sh.upper[from].X, sh.lower[from].X) > a.X || min(sh.upper[to].X, sh.lower[to].X) < b.X {
		return false
	}
	for i := from; i <= to; i++ {
		if (to == from+1 || sh.upper[i].X >= a.X-2 && sh.upper[i].X <= b.X+2) && (sh.upper[i].Y > a.Y || sh.lower[i].Y < b.Y) {
			return false
		}
	}
	return true
}

// crossing is where a frame's line ends at the lower edge of a piece.
type crossing struct {
	frame int
	at    draw.Point
}

// valueRow is a row of numbers at the frames.
type valueRow struct {
	name  string
	value func(frame int) string
}

// across is how wide the flat shape is where a frame crosses it at a rung, mm: the
// rung, straight as it is drawn, square to the middle line as on the hull.
func (s *shape) across(rung int, c loft.Crossing) float64 {
	x, y := s.lower[rung].X-s.upper[rung].X, s.lower[rung].Y-s.upper[rung].Y
	if c.WidthFrame <= 0 {
		return 0
	}
	return math.Hypot(x, y) * (c.WidthCut + c.Creep) / c.WidthFrame
}

// rungOf is the rung at which a frame crosses a flat shape, 0 where it does not.
func rungOf(f *loft.Flat, frame int) int {
	for _, m := range f.Frames {
		if m.Frame == frame {
			return m.Rung
		}
	}
	return 0
}

// strakeRows are the rows under a developed strake, whose flat width at a frame is wide.
func strakeRows(l *loft.Layer, st *loft.Strake, wide func(frame int) float64) []valueRow {
	return append([]valueRow{
		{tongue.T("frame"), l.Surface.FrameName},
		{tongue.T("flat width"), func(i int) string { return figure("%.2f", wide(i)) }},
	}, bevelRows(l, st, tongue.T("bevel up"), tongue.T("bevel low"))...)
}

// bevelRows are the bevels of the edges that have any to tell, by those names.
func bevelRows(l *loft.Layer, st *loft.Strake, upper, lower string) []valueRow {
	var out []valueRow
	if tellsBevel(l, st, true) {
		out = append(out, valueRow{upper, func(i int) string { return degrees(st.At[i].BevelUpper.Degrees()) }})
	}
	if tellsBevel(l, st, false) {
		out = append(out, valueRow{lower, func(i int) string { return degrees(st.At[i].BevelLower.Degrees()) }})
	}
	return out
}

// degrees writes an angle to a tenth, without a minus before zero.
func degrees(d float64) string {
	if math.Abs(d) < 0.05 {
		d = 0
	}
	return figure("%.1f°", d)
}

// crossingRows writes rows of numbers under a piece whose lowest point is at y,
// each led to its frame, and sets the piece's height.
func crossingRows(p *piece, marks []crossing, y float64, rows []valueRow) {
	const drop = 3.6
	rows = slices.DeleteFunc(rows, func(r valueRow) bool { // nothing to tell here
		return !slices.ContainsFunc(marks, func(m crossing) bool { return r.value(m.frame) != "" })
	})
	at, room := make([]float64, len(marks)), make([]float64, len(marks))
	for i, m := range marks {
		at[i] = m.at.X
		for _, r := range rows {
			room[i] = max(room[i], draw.TextWidth(r.value(m.frame), fine)+1.5)
		}
	}
	names := 0.0
	for _, r := range rows {
		names = max(names, draw.TextWidth(r.name, fine)+2)
	}
	at = spread(at, room, names, math.Inf(1))
	top := y + 0.8
	for i, m := range marks {
		p.Line(draw.Grid, hair, m.at, draw.Pt(m.at.X, top), draw.Pt(at[i], top+drop-1))
	}
	top += drop
	for _, r := range rows {
		p.text(0, top+fine, r.name, fine, draw.Left)
		for i, m := range marks {
			p.Text(draw.Pt(at[i], top+fine), r.value(m.frame), draw.Ink, fine, draw.Centre)
		}
		top += fineLine
	}
	if n := len(at); n > 0 {
		p.w = max(p.w, at[n-1]+room[n-1]/2)
	}
	p.h = top + 0.8
	p.Line(draw.Grid, hair, draw.Pt(0, p.h), draw.Pt(p.w, p.h))
}
