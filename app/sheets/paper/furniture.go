package paper

import "github.com/strakewright/strakewright/app/draw"

// The heights of a page's heading and foot, and the space between them and
// the drawing, into which a label at its edge may stand out; mm.
const (
	headHeight = 12
	footHeight = 16
	breath     = 4
)

// The sizes of text on a page, mm to the em; none below draw.SmallestText.
const (
	titleSize = 5
	textSize  = 4
	smallSize = draw.SmallestText
)

const printLine = "Print at 100 %, without scaling, and measure the bar before you cut."

// hair is the line that parts heading and foot from the drawing.
var hair = draw.Pen{Width: 0.15}

// heading draws a page's title, ship, piece and number.
func heading(d *draw.Drawing, p page, title, ship, piece, number string) {
	left, right, top := p.left(), p.right(), p.top()
	room := right - left - draw.TextWidth(number, textSize) - 6
	d.Text(draw.Pt(left, top+4.4), draw.Fit(title, titleSize, room), draw.Ink, titleSize, draw.Left)
	d.Text(draw.Pt(right, top+4.4), number, draw.Ink, textSize, draw.Right)
	room = right - left - draw.TextWidth(piece, smallSize) - 6
	d.Text(draw.Pt(left, top+9.6), draw.Fit(ship, smallSize, room), draw.Ink, smallSize, draw.Left)
	d.Text(draw.Pt(right, top+9.6), piece, draw.Ink, smallSize, draw.Right)
	d.Line(draw.Faint, hair, draw.Pt(left, top+headHeight), draw.Pt(right, top+headHeight))
}

// foot draws the bars and the line about them with its upper left corner at a
// place, and a hairline of that width over it.
func foot(d *draw.Drawing, at draw.Point, width float64) {
	d.Line(draw.Faint, hair, at, draw.Pt(at.X+width, at.Y))
	d.Text(draw.Pt(at.X, at.Y+4.4), printLine, draw.Ink, smallSize, draw.Left)
	mm, inch := at.Y+barMM, at.Y+barInch
	ruler(d, draw.Pt(at.X+barIn, mm), 10, 10, -barTick)
	ruler(d, draw.Pt(at.X+barIn, inch), 25.4, 4, barTick)
	d.Text(draw.Pt(at.X+barIn+104, mm), "100 mm", draw.Ink, smallSize, draw.Left)
	d.Text(draw.Pt(at.X+barIn+104, inch+2.7), "4 in.", draw.Ink, smallSize, draw.Left)
}

// The places of the bars below and right of the foot's corner: the base line
// of the one in mm, whose ticks rise, and of the one in inches, whose ticks
// hang; the ticks' height, the ends' being half as high again.
const (
	barIn   = 0.5
	barMM   = 10
	barInch = 11.5
	barTick = 2
)

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

// keyMap draws a grid of pieces in the page's foot, this one filled.
func keyMap(d *draw.Drawing, p page, g grid, column, row int) {
	room := p.right() - p.left() - barIn - 122
	w := min(6, room/float64(len(g.columns)))
	h := min(5, (footHeight-2)/float64(len(g.rows)))
	x0, y0 := p.right()-w*float64(len(g.columns)), p.bottom()-h*float64(len(g.rows))
	x1, y1 := p.right(), p.bottom()
	x, y := x0+w*float64(column), y0+h*float64(row)
	d.Rect(draw.Ink, draw.Pt(x, y), draw.Pt(x+w, y+h))
	for i := range len(g.columns) + 1 {
		x := x0 + w*float64(i)
		d.Line(draw.Ink, hair, draw.Pt(x, y0), draw.Pt(x, y1))
	}
	for i := range len(g.rows) + 1 {
		y := y0 + h*float64(i)
		d.Line(draw.Ink, hair, draw.Pt(x0, y), draw.Pt(x1, y))
	}
}
