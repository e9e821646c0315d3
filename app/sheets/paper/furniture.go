package paper

import (
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
)

// The heights of a page's heading and the space between heading, foot and the
// drawing; mm.
const (
	headHeight = 6.5
	breath     = 2
)

// The sizes of text on a page, mm to the em; none below draw.SmallestText.
const (
	titleSize = 4
	textSize  = 3.2
	smallSize = draw.SmallestText
)

const printLine = "Print at 100 %, without scaling, and measure the bar before you cut."

// hair is the line that parts heading and foot from the drawing.
var hair = draw.Pen{Width: 0.15}

// heading draws a page's title, ship and number.
func heading(d *draw.Drawing, p page, title, ship, number string) {
	left, right, y := p.left(), p.right(), p.top()+4
	room := right - left - draw.TextWidth(number, textSize) - 4
	d.Text(draw.Pt(right, y), number, draw.Ink, textSize, draw.Right)
	title = draw.Fit(title, titleSize, room)
	d.Text(draw.Pt(left, y), title, draw.Ink, titleSize, draw.Left)
	w := draw.TextWidth(title, titleSize) + 5
	if ship = draw.Fit(ship, textSize, room-w); ship != "…" {
		d.Text(draw.Pt(left+w, y), ship, draw.Ink, textSize, draw.Left)
	}
	d.Line(draw.Faint, hair, draw.Pt(left+hair.Width, p.top()+headHeight-0.5), draw.Pt(right-hair.Width, p.top()+headHeight-0.5))
}

// footHeight is the height of a page's foot: on a narrow one the line about printing
// stands over the bars, on others beside them.
func (p page) footHeight() float64 {
	if p.besides() {
		return 10
	}
	return 14
}

// besides tells whether that line has room beside the bars.
func (p page) besides() bool {
	return p.right()-p.left() >= barIn+barText+14+draw.TextWidth(tongue.T(printLine), smallSize)/2+4
}

// foot draws the bars, the line about them and the state of the plan, and a hairline
// over them.
func (p page) foot(d *draw.Drawing, ship string, stamp Stamp) {
	at := draw.Pt(p.left(), p.bottom()-p.footHeight())
	width := p.right() - p.left()
	d.Line(draw.Faint, hair, draw.Pt(at.X+hair.Width, at.Y), draw.Pt(at.X+width-hair.Width, at.Y))
	x, y, room := at.X, at.Y+3.4, width
	if p.besides() {
		x, room = at.X+barIn+barText+14, width-barIn-barText-14
		y = at.Y + 3.0
		d.Text(draw.Pt(x, p.bottom()-0.6), stamp.line(ship, smallSize, room), draw.Ink, smallSize, draw.Left)
	} else {
		lines := stamp.lines()
		for i, line := range lines {
			d.Text(draw.Pt(at.X+width, p.bottom()-0.6-3.2*float64(len(lines)-1-i)), line, draw.Ink, smallSize, draw.Right)
		}
	}
	if w := draw.TextWidth(tongue.T(printLine), smallSize); w > room {
		room = min(room, w/2+6) // in even lines
	}
	for i, line := range draw.Wrap(tongue.T(printLine), smallSize, room) {
		d.Text(draw.Pt(x, y+3.2*float64(i)), line, draw.Ink, smallSize, draw.Left)
	}
	mm, inch := at.Y+p.barMM(), at.Y+p.barInch()
	ruler(d, draw.Pt(at.X+barIn, mm), 10, 10, -barTick)
	ruler(d, draw.Pt(at.X+barIn, inch), 25.4, 4, barTick)
	d.Text(draw.Pt(at.X+barIn+barText, mm), "100 mm", draw.Ink, smallSize, draw.Left)
	d.Text(draw.Pt(at.X+barIn+barText, inch+2.4), "4 in.", draw.Ink, smallSize, draw.Left)
}

// The places of the bars below and right of the foot's corner: the base line
// of the one in mm, whose ticks rise, and of the one in inches, whose ticks
// hang; the ticks' height, the ends' being half as high again; and their names.
const (
	barIn   = 0.5
	barTick = 2
	barText = 104
)

func (p page) barMM() float64   { return p.footHeight() - 5.4 }
func (p page) barInch() float64 { return p.footHeight() - 3.9 }

var barPen = draw.Pen{Width: 0.2}

// ruler draws a bar of n steps to the right, with its ticks to one side.
func ruler(d *draw.Drawing, at draw.Point, step float64, n int, tick float64) {
	d.Line(draw.Ink, barPen, at, draw.Pt(at.X+step*float64(n), at.Y))
	for i := range n + 1 {
		h := tick
		if i == 0 || i == n {
			h *= 1.5
		}
		x := at.X + step*float64(i)
		d.Line(draw.Ink, barPen, draw.Pt(x, at.Y), draw.Pt(x, at.Y+h))
	}
}

// uprightBar draws a bar of 100 mm down from a place, for what a printer does
// along the paper.
func uprightBar(d *draw.Drawing, at draw.Point) {
	d.Line(draw.Ink, barPen, at, draw.Pt(at.X, at.Y+100))
	for i := range 11 {
		h := 2.0
		if i == 0 || i == 10 {
			h = 3
		}
		y := at.Y + 10*float64(i)
		d.Line(draw.Ink, barPen, draw.Pt(at.X, y), draw.Pt(at.X+h, y))
	}
	d.Text(draw.Pt(at.X-2, at.Y-2), "100 mm", draw.Ink, smallSize, draw.Left)
}
