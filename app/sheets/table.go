package sheets

import (
	"github.com/strakewright/strakewright/app/draw"
)

// column is a column of a table: its heading, broken at spaces, and its width
// in mm. Numbers stand to the right.
type column struct {
	head   string
	width  float64
	number bool
}

// table is a table that can be cut between rows.
type table struct {
	title   string
	columns []column
	spans   []column // a line of headings over the columns' own; each as wide as those it spans. May be nil
	rows    [][]string
	foot    string // a line under it; may be empty
}

const cellPad = 1.1

// pieces draws the table, cut into pieces no higher than that.
func (t *table) pieces(height float64) []*piece {
	var out []*piece
	if t.foot != "" {
		height -= lineOf + 1
	}
	for from := 0; from < len(t.rows) || from == 0; {
		p := &piece{}
		y := t.top(p, from > 0)
		n := from
		for ; n < len(t.rows); n++ {
			h := t.rowHeight(t.rows[n])
			if n > from && y+h > height {
				break
			}
			t.row(p, y, t.rows[n])
			y += h
			p.Line(draw.Grid, hair, draw.Pt(0, y), draw.Pt(t.width(), y))
		}
		p.w, p.h = max(p.w, t.width()), y
		t.rule(p)
		if t.foot != "" {
			p.text(0, y+0.6+small, t.foot, small, draw.Left)
			p.h += lineOf + 1
		}
		out = append(out, p)
		if n == from {
			break
		}
		from = n
	}
	return out
}

func (t *table) width() float64 {
	w := 0.0
	for _, c := range t.columns {
		w += c.width
	}
	return w
}

// top draws title and headings and gives the y below them.
func (t *table) top(p *piece, again bool) float64 {
	y := 0.0
	if t.title != "" {
		title := t.title
		if again {
			title += ", continued"
		}
		y = p.lines(0, 0, t.width(), title) + 1
	}
	p.Line(draw.Ink, stout, draw.Pt(0, y), draw.Pt(t.width(), y))
	if t.spans != nil {
		x := 0.0
		for _, s := range t.spans {
			p.Text(draw.Pt(x+s.width/2, y+small), draw.Fit(s.head, small, s.width-cellPad), draw.Ink, small, draw.Centre)
			x += s.width
		}
		y += lineOf
	}
	deepest := 1
	x := 0.0
	for _, c := range t.columns {
		lines := draw.Wrap(c.head, small, c.width-2*cellPad)
		for i, l := range lines {
			t.cell(p, x, y+float64(i)*lineOf, c, l)
		}
		deepest = max(deepest, len(lines))
		x += c.width
	}
	y += float64(deepest)*lineOf + 0.4
	p.Line(draw.Ink, stout, draw.Pt(0, y), draw.Pt(t.width(), y))
	return y
}

func (t *table) cell(p *piece, x, y float64, c column, text string) {
	if c.number {
		p.Text(draw.Pt(x+c.width-cellPad, y+small), text, draw.Ink, small, draw.Right)
		return
	}
	p.Text(draw.Pt(x+cellPad, y+small), text, draw.Ink, small, draw.Left)
}

// wrapped breaks a cell's text to its column.
func (t *table) wrapped(i int, text string) []string {
	return draw.Wrap(text, small, t.columns[i].width-2*cellPad)
}

func (t *table) rowHeight(row []string) float64 {
	n := 1
	for i, c := range row {
		n = max(n, len(t.wrapped(i, c)))
	}
	return float64(n)*lineOf + 0.3
}

func (t *table) row(p *piece, y float64, row []string) {
	x := 0.0
	for i, text := range row {
		for n, l := range t.wrapped(i, text) {
			t.cell(p, x, y+float64(n)*lineOf, t.columns[i], l)
		}
		x += t.columns[i].width
	}
}

// rule closes the table below and at its sides, and parts what is spanned.
func (t *table) rule(p *piece) {
	top := 0.0
	for _, it := range p.Items {
		if s, ok := it.(draw.Stroke); ok {
			top = s.Points[0].Y
			break
		}
	}
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
