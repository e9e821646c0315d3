package sheets

import (
	"fmt"
	"math"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// A flat strake on paper is drawn in as few lengths as a page takes, each turned so that
// its own chord is level: a curved strake then needs little height, and its neighbour's
// curve goes close above it. What is told of it stands at the frames, inside and along
// its edges, so that it needs no rows of its own.

// joinOver is how far each of two lengths runs on past their joint, mm; joinOut how far
// outside the edges the crosses stand, and joinArm half of one.
const (
	joinOver = 3.0
	joinOut  = 3.2
	joinArm  = 1.8
	// apart is the room between two lengths that stand beside each other, with their labels.
	apart = 7.0
	// endRoom is kept of a page's length for labels that stand out beyond an end, mm.
	endRoom = 2.0
	// shift is how far a joint may move back to stand clear of the frames, mm.
	shift = 14.0
)

// length is a stretch of a flat strake from rung to rung, with its edges run on over a
// joint at either end.
type length struct {
	shape
	from, to     int  // rungs
	joins, joint bool // it begins, and ends, at a joint
}

// rung gives the place of a rung among the points of the edges.
func (s *length) rung(n int) int {
	n -= s.from
	if s.joins {
		n++
	}
	return n
}

// flatParts draws a developed strake for pages.
func flatParts(k *loft.Planking, l *loft.Layer, st *loft.Strake, f *loft.Flat, s Settings) []*piece {
	sh := placed(f, st.Garboard)
	before, behind := 0.0, s.Overhang
	if k.Plan.Hull.Bow == hull.BowLast {
		before, behind = behind, before
	}
	var out []*piece
	const tries = 8 // each with more room for labels that stand out
	for i := range tries {
		cuts := jointsOf(&sh, f, s.Long-endRoom-4*float64(i), before, behind)
		out = nil
		widest := 0.0
		for j := 0; j+1 < len(cuts); j++ {
			name := st.ID
			if len(cuts) > 2 {
				name = fmt.Sprintf("%s %c", st.ID, rune('a'+j%26))
			}
			p := lengthPiece(k, l, st, f, sh.length(cuts[j], cuts[j+1]), name, s.Overhang)
			out, widest = append(out, p), max(widest, p.w)
		}
		if widest <= s.Long {
			break
		}
	}
	return out
}

// jointsOf gives the rungs at which a strake begins, is parted and ends, so that no
// length is longer than that, the spare wood before and behind it included. A joint
// stands as far from the frames as it can. All but the last are as long as they may be
// where two of the last then stand beside each other.
func jointsOf(sh *shape, f *loft.Flat, longest, before, behind float64) []int {
	n := len(sh.upper) - 1
	at := make([]float64, n+1) // along the middle
	mid := func(i int) draw.Point {
		return draw.Pt((sh.upper[i].X+sh.lower[i].X)/2, (sh.upper[i].Y+sh.lower[i].Y)/2)
	}
	for i := 1; i <= n; i++ {
		a, b := mid(i-1), mid(i)
		at[i] = at[i-1] + math.Hypot(b.X-a.X, b.Y-a.Y)
	}
	whole := at[n]
	out := []int{0}
	if before+whole+behind <= longest {
		return append(out, n)
	}
	each := longest - 2*joinOver
	if before+whole+behind <= 2*(longest-joinOver) { // neither of two has more than one joint
		each = longest - joinOver
	}
	pieces := math.Ceil((before + whole + behind) / each)
	half := (longest - apart) / 2
	rest := before + whole + behind - (pieces-1)*each
	uneven := rest <= half && rest > longest/3
	for p := 1.0; p < pieces; p++ {
		last := at[out[len(out)-1]]
		most := last + each
		if p == 1 {
			most -= before
		}
		least := max(whole+behind-(pieces-p)*each, last+1)
		if uneven {
			least = max(least, min(most-shift, whole+behind-(pieces-p-1)*each-half))
		}
		out = append(out, farFromFrames(at, f, min(least, most), most))
	}
	return append(out, n)
}

// farFromFrames gives the rung between two places that lies furthest from any frame.
func farFromFrames(at []float64, f *loft.Flat, least, most float64) int {
	best, far, near := 1, math.Inf(-1), math.Inf(1)
	middle := (least + most) / 2
	for i := 1; i+1 < len(at); i++ {
		off := -math.Abs(at[i] - middle) // if there is none between them, the one next to it
		if at[i] >= least-1 && at[i] <= most+1 {
			off = math.Inf(1)
			for _, m := range f.Frames {
				off = min(off, math.Abs(at[m.Rung]-at[i]))
			}
		}
		off = min(off, 8) // further is no better
		if d := math.Abs(at[i] - middle); off > far+1e-9 || off > far-1e-9 && d < near {
			best, far, near = i, off, d
		}
	}
	return best
}

// length gives a stretch of a shape, turned level.
func (s *shape) length(from, to int) *length {
	out := &length{from: from, to: to, joins: from > 0, joint: to < len(s.upper)-1}
	e := chord(s, from, to)
	turn := func(p draw.Point) draw.Point { return draw.Pt(p.X*e.X+p.Y*e.Y, p.Y*e.X-p.X*e.Y) }
	edge := func(pts []draw.Point) []draw.Point {
		var line []draw.Point
		if out.joins {
			line = append(line, turn(beyond(pts, from, -1)))
		}
		for i := from; i <= to; i++ {
			line = append(line, turn(pts[i]))
		}
		if out.joint {
			line = append(line, turn(beyond(pts, to, 1)))
		}
		return line
	}
	out.upper, out.lower, out.straight = edge(s.upper), edge(s.lower), s.straight
	return out
}

// chord is the direction of a stretch's middle line.
func chord(s *shape, from, to int) draw.Point {
	x := s.upper[to].X + s.lower[to].X - s.upper[from].X - s.lower[from].X
	y := s.upper[to].Y + s.lower[to].Y - s.upper[from].Y - s.lower[from].Y
	l := math.Hypot(x, y)
	if l == 0 {
		return draw.Pt(1, 0)
	}
	return draw.Pt(x/l, y/l)
}

// beyond is the point of an edge joinOver past a rung.
func beyond(pts []draw.Point, rung, step int) draw.Point {
	left := joinOver
	for i := rung; i+step >= 0 && i+step < len(pts); i += step {
		a, b := pts[i], pts[i+step]
		d := math.Hypot(b.X-a.X, b.Y-a.Y)
		if d >= left {
			return draw.Pt(a.X+(b.X-a.X)*left/d, a.Y+(b.Y-a.Y)*left/d)
		}
		left -= d
	}
	if step < 0 {
		return pts[0]
	}
	return pts[len(pts)-1]
}

// lengthPiece draws a stretch of a strake.
func lengthPiece(k *loft.Planking, l *loft.Layer, st *loft.Strake, f *loft.Flat, n *length, name string, overhang float64) *piece {
	p := &piece{nests: true}
	p.edges(n)
	if after := k.Plan.Hull.Bow == hull.BowFirst; after && !n.joint || !after && !n.joins {
		p.Line(draw.Pencil, broken, n.overhang(after, overhang)...)
	}
	t := &lettered{piece: p, shape: &n.shape}
	for _, m := range f.Frames {
		if m.Rung < n.from || m.Rung > n.to {
			continue
		}
		i := n.rung(m.Rung)
		p.Line(draw.Pencil, hair, n.upper[i], n.lower[i])
		at := frameText{upper: n.upper[i], lower: n.lower[i], name: l.Surface.FrameName(m.Frame), width: figure("%.2f", n.across(n.rung(m.Rung), st.At[m.Frame]))}
		if tellsBevel(l, st, true) {
			at.up = degrees(st.At[m.Frame].BevelUpper.Degrees())
		}
		if tellsBevel(l, st, false) {
			at.low = degrees(st.At[m.Frame].BevelLower.Degrees())
		}
		t.frames = append(t.frames, at)
	}
	t.caption = "← " + name
	if k.Plan.Hull.Bow == hull.BowLast {
		t.caption = name + " →"
	}
	t.letter()
	return p.trimmed()
}

// edges draws the outline of a stretch, open at its joints, and the crosses there.
func (p *piece) edges(n *length) {
	if !n.joins && !n.joint {
		p.Line(draw.Cut, thin, n.outline()...)
		return
	}
	m := len(n.upper) - 1
	switch {
	case n.joins && n.joint:
		p.Line(draw.Cut, thin, n.upper...)
		p.Line(draw.Cut, thin, n.lower...)
	case n.joint:
		var line []draw.Point
		for i := m; i >= 0; i-- {
			line = append(line, n.upper[i])
		}
		p.Line(draw.Cut, thin, append(line, n.lower...)...)
	default:
		line := append([]draw.Point{}, n.upper...)
		for i := m; i >= 0; i-- {
			line = append(line, n.lower[i])
		}
		p.Line(draw.Cut, thin, line...)
	}
	if n.joins {
		p.joint(n.upper[1], n.lower[1])
	}
	if n.joint {
		p.joint(n.upper[m-1], n.lower[m-1])
	}
}

// joint draws where two lengths join: a line across, and a cross off either end of it.
func (p *piece) joint(a, b draw.Point) {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	e := draw.Pt(0, 1)
	if l > 0.5 {
		e = draw.Pt((b.X-a.X)/l, (b.Y-a.Y)/l)
	}
	p.Line(draw.Register, draw.Pen{Width: 0.2, Dash: []float64{1, 0.7}}, a, b)
	for _, c := range []draw.Point{draw.Pt(a.X-e.X*joinOut, a.Y-e.Y*joinOut), draw.Pt(b.X+e.X*joinOut, b.Y+e.Y*joinOut)} {
		p.Line(draw.Register, thin, draw.Pt(c.X-e.X*joinArm, c.Y-e.Y*joinArm), draw.Pt(c.X+e.X*joinArm, c.Y+e.Y*joinArm))
		p.Line(draw.Register, thin, draw.Pt(c.X-e.Y*joinArm, c.Y+e.X*joinArm), draw.Pt(c.X+e.Y*joinArm, c.Y-e.X*joinArm))
	}
}

// trimmed moves what is drawn to (0, 0) and fits the rectangle to it.
func (p *piece) trimmed() *piece {
	from, to, ok := p.Bounds()
	if !ok {
		return p
	}
	out := &piece{w: to.X - from.X, h: to.Y - from.Y, nests: p.nests}
	out.Add(&p.Drawing, draw.Pt(-from.X, -from.Y))
	return out
}

// frameText is what is told of a strake at a frame.
type frameText struct {
	upper, lower    draw.Point
	name, width     string
	up, low         string // bevels; may be empty
	nameIn, widthIn bool
}

// lettered writes what is told at the frames of a strake: the frame's name before its
// line and the width behind it, inside the strake where there is room, and the bevels
// outside at their edges; what has no room inside goes before these.
type lettered struct {
	*piece
	shape   *shape
	frames  []frameText
	caption string
}

const beside = 0.6 // from a frame's line, mm

func (t *lettered) letter() {
	half := draw.CapHeight(fine) / 2
	wide := func(s string) float64 { return draw.TextWidth(s, fine) }
	put := func(x, w float64, text string) bool {
		y, ok := t.room(x, x+w)
		if ok {
			t.Text(draw.Pt(x, y+half), text, draw.Ink, fine, draw.Left)
		}
		return ok
	}
	bay := func(i int) (from, to float64) { // between a frame and the next
		return max(t.frames[i].upper.X, t.frames[i].lower.X), min(t.frames[i+1].upper.X, t.frames[i+1].lower.X)
	}
	captioned := false
	lastNumber := math.Inf(-1)
	for i := 0; i+1 < len(t.frames); i++ {
		a, b := &t.frames[i], &t.frames[i+1]
		from, to := bay(i)
		from, to = from+beside, to-beside
		wa, wb := wide(a.width), wide(b.name)
		if from+wa+wb+1 > to { // one of them at the most
			wb = 0
		}
		if from+wa <= to && put(from, wa, a.width) {
			a.widthIn = true
			from += wa + 1
		}
		if wb > 0 && put(to-wb, wb, b.name) {
			b.nameIn = true
			to -= wb + 1
		}
		text := t.caption
		w := wide(text)
		if x := (from + to - w) / 2; from+w <= to && x-lastNumber >= 90 && put(x, w, text) {
			captioned, lastNumber = true, x
		}
	}
	join := func(outside bool, text, bevel string) string {
		if !outside {
			return bevel
		}
		if bevel == "" {
			return text
		}
		return text + " " + bevel
	}
	var above, below []frameLabel
	for i := range t.frames {
		at := &t.frames[i]
		above = append(above, frameLabel{at.upper, join(!at.nameIn, at.name, at.up)})
		below = append(below, frameLabel{at.lower, join(!at.widthIn, at.width, at.low)})
	}
	if !captioned {
		i := len(t.shape.upper) / 2
		above = withLabel(above, frameLabel{t.shape.upper[i], t.caption})
	}
	t.along(above, -1)
	t.along(below, 1)
}

// frameLabel is a text to stand at an edge.
type frameLabel struct {
	at   draw.Point
	text string
}

// withLabel puts a label in its place along an edge.
func withLabel(all []frameLabel, l frameLabel) []frameLabel {
	n := 0
	for n < len(all) && all[n].at.X < l.at.X {
		n++
	}
	return append(all[:n:n], append([]frameLabel{l}, all[n:]...)...)
}

// along writes texts outside an edge, above (-1) or below (1), moved apart where they
// crowd and then led to their places.
func (t *lettered) along(all []frameLabel, way float64) {
	var some []frameLabel
	var at, room []float64
	for _, l := range all {
		if l.text != "" {
			some = append(some, l)
			at, room = append(at, l.at.X), append(room, draw.TextWidth(l.text, fine)+1.2)
		}
	}
	edge := t.shape.upper
	if way > 0 {
		edge = t.shape.lower
	}
	const off = 0.7
	lo, hi := t.shape.ends()
	for i, x := range spread(at, room, lo, hi) {
		w := (room[i] - 1.2) / 2
		y := way * math.Inf(-1)
		for _, q := range []float64{x - w, x - w/2, x, x + w/2, x + w} {
			y = way * max(way*y, way*heightOf(edge, q))
		}
		base := y - off
		if way > 0 {
			base = y + off + draw.CapHeight(fine)
		}
		if math.Abs(x-some[i].at.X) > 0.4 {
			t.Line(draw.Grid, hair, some[i].at, draw.Pt(x, y+way*0.4))
		}
		t.Text(draw.Pt(x, base), some[i].text, draw.Ink, fine, draw.Centre)
	}
}

// ends are the least and the greatest x of a shape.
func (s *shape) ends() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, edge := range [][]draw.Point{s.upper, s.lower} {
		for _, p := range edge {
			lo, hi = min(lo, p.X), max(hi, p.X)
		}
	}
	return lo, hi
}

// room gives the height at which a text stands inside from one x to another; ok is false
// where the strake is too narrow for it.
func (t *lettered) room(from, to float64) (y float64, ok bool) {
	top, foot := math.Inf(-1), math.Inf(1)
	for i := range 5 {
		x := from + (to-from)*float64(i)/4
		top, foot = max(top, heightOf(t.shape.upper, x)), min(foot, heightOf(t.shape.lower, x))
	}
	return (top + foot) / 2, foot-top >= draw.CapHeight(fine)+0.7
}

// heightOf is the y of an edge at an x, and beyond its ends that of the end.
func heightOf(edge []draw.Point, x float64) float64 {
	for i := 1; i < len(edge); i++ {
		a, b := edge[i-1], edge[i]
		if x <= b.X || i == len(edge)-1 {
			if b.X-a.X < 1e-9 {
				return b.Y
			}
			return a.Y + (b.Y-a.Y)*min(max((x-a.X)/(b.X-a.X), 0), 1)
		}
	}
	return edge[0].Y
}

// flatTable lists the strakes of a layer that have a flat shape: why, and how large.
func flatTable(l *loft.Layer, sets []loft.CutSet, s Settings) *table {
	t := &table{
		title: tongue.T("Flat shapes, layer %d", l.Number),
		columns: []column{{head: tongue.T("strake")}, {head: tongue.T("least rectangle mm"), number: true}, {head: tongue.T("sweep mm"), number: true}, {head: tongue.T("misfit mm"), number: true},
			{head: tongue.T("how it is made"), loose: true}},
	}
	for _, st := range l.Strakes {
		f, err := l.Flat(st.ID)
		if err != nil || loft.SetOf(sets, st.ID) != nil {
			continue
		}
		how := answer.MakingText(st.Making, l.Surface.FrameName)
		if st.Garboard {
			how = tongue.T("garboard: %s", how)
		}
		if st.Making.Mode == hull.Block {
			how += tongue.T("; a pattern to bend round its block")
		}
		if nibs := answer.NibsText(l, st, answer.MM{}); nibs != "" {
			how += "; " + nibs
		}
		t.rows = append(t.rows, []string{st.ID, figure("%.1f", f.Length) + " × " + figure("%.1f", f.Width), figure("%.1f", f.Sweep), plain("%.2f", f.Misfit, 0.005), how})
	}
	t.fit(s.double())
	return t
}
