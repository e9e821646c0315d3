package sheets

import (
	"math"
	"strings"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
)

// column is a column of a table: its heading, broken at spaces, and its width
// in mm, 0 for what its cells need. Numbers stand to the right. A loose one takes what
// others leave, and its cells are broken at spaces.
type column struct {
	head   string
	width  float64
	number bool
	loose  bool
}

// table is a table that can be cut between rows.
type table struct {
	title   string
	columns []column
	spans   []column // a line of headings over the columns' own; each as wide as those it spans. May be nil
	rows    [][]string
	foot    string // a line under it; may be empty
}

const cellPad = 0.8

// fit gives the columns their widths: what they need, and to a loose one what is left of
// the whole.
func (t *table) fit(width float64) {
	loose := -1
	for i := range t.columns {
		c := &t.columns[i]
		if c.loose {
			loose = i
			continue
		}
		if c.width > 0 {
			continue
		}
		for w := range strings.FieldsSeq(c.head) {
			c.width = math.Max(c.width, draw.TextWidth(w, fine))
		}
		for _, r := range t.rows {
			c.width = math.Max(c.width, draw.TextWidth(r[i], fine))
		}
		c.width += 2*cellPad + 0.1
	}
	if loose >= 0 {
		t.columns[loose].width = 0
		t.columns[loose].width = math.Max(width-t.width(), 20)
	}
}

// piece draws the table whole; pages may part it between rows.
func (t *table) piece() *piece { return t.from(0, len(t.rows)) }

// The rows that the part of a table before a break and the part after it have at the
// least.
const fewestBefore, fewestAfter = 8, 4

// from draws the rows from..to-1, under the headings.
func (t *table) from(from, to int) *piece {
	p := &piece{}
	top, y := t.top(p, from > 0)
	for n := from; n < to; n++ {
		t.row(p, y, t.rows[n])
		y += t.rowHeight(t.rows[n])
		p.Line(draw.Grid, hair, draw.Pt(0, y), draw.Pt(t.width(), y))
	}
	p.w, p.h = max(p.w, t.width()), y
	t.rule(p, top)
	if t.foot != "" {
		p.text(0, y+0.4+fine, t.foot, fine, draw.Left)
		p.h += fineLine + 0.6
	}
	p.split = func(height float64) (head, rest *piece, ok bool) {
		h, n := p.h, to
		for n > from && h > height {
			n--
			h -= t.rowHeight(t.rows[n])
		}
		if n = min(n, to-fewestAfter); n < from+fewestBefore {
			return nil, nil, false
		}
		head, rest = t.from(from, n), t.from(n, to)
		rest.follows = true
		return head, rest, true
	}
	return p
}

func (t *table) width() float64 {
	w := 0.0
	for _, c := range t.columns {
		w += c.width
	}
	return w
}

// top draws title and headings and gives the y over and below these.
func (t *table) top(p *piece, again bool) (top, y float64) {
	if t.title != "" {
		title := t.title
		if again {
			title += tongue.T(", continued")
		}
		y = p.lines(0, 0, max(t.width(), 30), title) + 0.6
	}
	top = y
	p.Line(draw.Ink, stout, draw.Pt(0, y), draw.Pt(t.width(), y))
	if t.spans != nil {
		x := 0.0
		for _, s := range t.spans {
			p.Text(draw.Pt(x+s.width/2, y+fine), draw.Fit(s.head, fine, s.width-cellPad), draw.Ink, fine, draw.Centre)
			x += s.width
		}
		y += fineLine
	}
	deepest := 1
	x := 0.0
	for _, c := range t.columns {
		lines := draw.Wrap(c.head, fine, c.width-2*cellPad)
		for i, l := range lines {
			t.cell(p, x, y+float64(i)*fineLine, c, l)
		}
		deepest = max(deepest, len(lines))
		x += c.width
	}
	y += float64(deepest)*fineLine + 0.4
	p.Line(draw.Ink, stout, draw.Pt(0, y), draw.Pt(t.width(), y))
	return top, y
}

func (t *table) cell(p *piece, x, y float64, c column, text string) {
	if c.number {
		p.Text(draw.Pt(x+c.width-cellPad, y+fine), text, draw.Ink, fine, draw.Right)
		return
	}
	p.Text(draw.Pt(x+cellPad, y+fine), text, draw.Ink, fine, draw.Left)
}

// wrapped breaks a cell's text to its column.
func (t *table) wrapped(i int, text string) []string {
	return draw.Wrap(text, fine, t.columns[i].width-2*cellPad)
}

func (t *table) rowHeight(row []string) float64 {
	n := 1
	for i, c := range row {
		n = max(n, len(t.wrapped(i, c)))
	}
	return float64(n)*fineLine + 0.2
}

func (t *table) row(p *piece, y float64, row []string) {
	x := 0.0
	for i, text := range row {
		for n, l := range t.wrapped(i, text) {
			t.cell(p, x, y+float64(n)*fineLine, t.columns[i], l)
		}
		x += t.columns[i].width
	}
}

// rule closes the table below and at its sides, and parts what is spanned.
func (t *table) rule(p *piece, top float64) {
	p.Line(draw.Ink, stout, draw.Pt(0, p.h), draw.Pt(t.width(), p.h))
	over := t.spans
	if over == nil {
		over = t.columns
	}
	x := 0.0
	p.Line(draw.Ink, thin, draw.Pt(0, top), draw.Pt(0, p.h))
	for _, c := range over {
		x += c.width
		p.Line(draw.Ink, thin, draw.Pt(x, top), draw.Pt(x, p.h))
	}
}
