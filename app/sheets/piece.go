package sheets

import (
	"fmt"
	"math"
	"strings"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
)

// Sizes of lettering, em in mm, and the height of a line of it: small is read at arm's
// length, fine in the hand.
const (
	small     = draw.BenchText
	lineOf    = 4.4 // small
	fine      = draw.SmallestText
	fineLine  = 3.2
	prose     = 2.9 // running text
	proseLine = 3.7
	gap       = 5.0 // between pieces
)

// The pens of paper, mm.
var (
	hair   = draw.Pen{Width: 0.13}
	thin   = draw.Pen{Width: 0.2}
	stout  = draw.Pen{Width: 0.35}
	heavy  = draw.Pen{Width: 0.7}
	broken = draw.Pen{Width: 0.25, Dash: []float64{2.5, 1.5}}
	chain  = draw.Pen{Width: 0.2, Dash: []float64{6, 1.2, 1, 1.2}}
)

// piece is a part of a sheet that stays together; it fills the rectangle from
// (0, 0) to (w, h).
type piece struct {
	draw.Drawing
	w, h    float64
	parts   []*piece // what pages bear in its place; nil for itself
	nests   bool     // neighbours may come into its rectangle where nothing is drawn
	follows bool     // it stands on no page before the one ahead of it
	leads   bool     // nothing that comes after it in its section stands on a page before it
	split   func(height float64) (head, rest *piece, ok bool)
}

// part is the piece for pages.
func (p *piece) part() draw.Part {
	out := draw.Part{Drawing: p.Drawing, Width: p.w, Height: p.h, Nests: p.nests, Follows: p.follows, Leads: p.leads}
	if p.split != nil {
		out.Split = func(height float64) (head, rest draw.Part, ok bool) {
			a, b, ok := p.split(height)
			if !ok {
				return head, rest, false
			}
			return a.part(), b.part(), true
		}
	}
	return out
}

// text adds a label and makes room for its width.
func (p *piece) text(x, y float64, text string, size float64, align draw.Align) {
	p.Text(draw.Pt(x, y), text, draw.Ink, size, align)
	if align == draw.Left {
		p.w = max(p.w, x+draw.TextWidth(text, size))
	}
}

// lines adds fine text, broken to a width, from y downwards, and gives the y
// after it.
func (p *piece) lines(x, y, width float64, text string) float64 {
	for _, l := range draw.Wrap(text, fine, width) {
		p.text(x, y+fine, l, fine, draw.Left)
		y += fineLine
	}
	return y
}

// arrow draws a line with a head at its end.
func (p *piece) arrow(from, to draw.Point) {
	const head = 1.8
	l := math.Hypot(to.X-from.X, to.Y-from.Y)
	e := draw.Pt((to.X-from.X)/l, (to.Y-from.Y)/l)
	neck := draw.Pt(to.X-e.X*head, to.Y-e.Y*head)
	p.Line(draw.Ink, thin, from, neck)
	p.Area(draw.Ink, to, draw.Pt(neck.X-e.Y*head/3, neck.Y+e.X*head/3), draw.Pt(neck.X+e.Y*head/3, neck.Y-e.X*head/3))
}

// kind is what the sheets of one sort have in common.
type kind struct {
	section, name, title string
	cut                  bool
}

// flow lays pieces on sheets, in rows from the left, as many as the room holds;
// a piece larger than the room has its own row or sheet. No pieces give none.
func flow(k kind, pieces []*piece, room Size) []draw.Sheet {
	var out []draw.Sheet
	var sheet *draw.Sheet
	x, y, row := 0.0, 0.0, 0.0
	for _, p := range pieces {
		if sheet != nil && x > 0 && x+p.w > room.Width {
			x, y, row = 0, y+row+gap, 0
		}
		if sheet == nil || y > 0 && y+p.h > room.Height {
			out = append(out, draw.Sheet{Section: k.section, Name: k.name, Title: k.title, Kind: k.title, Cut: k.cut})
			sheet = &out[len(out)-1]
			x, y, row = 0, 0, 0
		}
		sheet.Drawing.Add(&p.Drawing, draw.Pt(x, y))
		sheet.Width, sheet.Height = max(sheet.Width, x+p.w), max(sheet.Height, y+p.h)
		x, row = x+p.w+gap, max(row, p.h)
		if p.parts == nil {
			sheet.Parts = append(sheet.Parts, p.part())
		}
		for _, part := range p.parts {
			sheet.Parts = append(sheet.Parts, part.part())
		}
	}
	if len(out) > 1 {
		for i := range out {
			out[i].Name = fmt.Sprintf("%s-%02d", k.name, i+1)
			out[i].Title = tongue.T("%s (%d of %d)", k.title, i+1, len(out))
		}
	}
	return out
}

// note is a framed piece of text, to be read before what comes after it.
func note(title, text string, width float64) *piece {
	const margin = 2.0
	p := &piece{w: width, leads: true}
	y := margin
	if title != "" {
		p.text(margin, y+small, title, small, draw.Left)
		y += lineOf + 0.6
	}
	for _, l := range draw.Wrap(text, prose, width-2*margin) {
		p.text(margin, y+prose*0.85, l, prose, draw.Left)
		y += proseLine
	}
	p.w, p.h = width, y+margin-0.4
	p.Line(draw.Ink, thin, draw.Pt(0, 0), draw.Pt(p.w, 0), draw.Pt(p.w, p.h), draw.Pt(0, p.h), draw.Pt(0, 0))
	return p
}

// spread moves places on a line apart, as little as it takes in the sum of
// squares, so that each has its room and all lie within lo and hi; they keep
// their order. Without enough room they run on past hi. (Pool adjacent
// violators: Barlow and others, Statistical Inference under Order Restrictions,
// 1972.)
func spread(at, room []float64, lo, hi float64) []float64 {
	n := len(at)
	if n == 0 {
		return nil
	}
	offset := make([]float64, n)
	for i := 1; i < n; i++ {
		offset[i] = offset[i-1] + (room[i-1]+room[i])/2
	}
	type pool struct {
		mean  float64
		count int
	}
	var pools []pool
	for i, a := range at {
		p := pool{a - offset[i], 1}
		for len(pools) > 0 && pools[len(pools)-1].mean > p.mean {
			q := pools[len(pools)-1]
			pools = pools[:len(pools)-1]
			p = pool{(p.mean*float64(p.count) + q.mean*float64(q.count)) / float64(p.count+q.count), p.count + q.count}
		}
		pools = append(pools, p)
	}
	out := make([]float64, 0, n)
	least, most := lo+room[0]/2, hi-room[n-1]/2-offset[n-1]
	for _, p := range pools {
		for range p.count {
			out = append(out, max(min(p.mean, most), least)+offset[len(out)])
		}
	}
	return out
}

// even gives the same room to each of n.
func even(n int, room float64) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = room
	}
	return out
}

// short is a strake's ID without its layer, which the sheet itself bears.
func short(id string) string {
	_, after, found := strings.Cut(id, "/")
	if found {
		return after
	}
	return id
}
