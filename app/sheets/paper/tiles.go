package paper

import (
	"fmt"
	"math"

	"github.com/strakewright/strakewright/app/draw"
)

// gutter is the room around a sheet in pieces for the crosses at its edge, mm.
const gutter = 8

// grid is how a sheet is cut into pieces: where each column's window begins,
// and each row's, in the sheet's own mm; and the window's size.
type grid struct {
	columns, rows []float64
	w, h          float64
	gx, gy        float64 // the gutters
}

func (g grid) pieces() int { return len(g.columns) * len(g.rows) }

// gridOf cuts a sheet for a window of that size; columns are cut where they
// split the fewest labels.
func gridOf(s *draw.Sheet, w, h, overlap float64) grid {
	if s.Width <= w && s.Height <= h {
		return grid{columns: []float64{0}, rows: []float64{0}, w: w, h: h}
	}
	gx, gy := gutterOf(s.Width, w, s.Height > h), gutterOf(s.Height, h, s.Width > w)
	across, down := labelSpans(s)
	return grid{
		columns: cuts(-gx, s.Width+gx, w, overlap, across),
		rows:    cuts(-gy, s.Height+gy, h, overlap, down),
		w:       w, h: h, gx: gx, gy: gy,
	}
}

// gutterOf is the gutter before and after a length: none unless seams end in
// it, as they do where the other direction is cut; narrower where the length
// just fits its window.
func gutterOf(length, window float64, seams bool) float64 {
	switch {
	case !seams:
		return 0
	case length > window:
		return gutter
	}
	return math.Min(gutter, (window-length)/2)
}

type span struct{ from, to float64 }

func labelSpans(s *draw.Sheet) (across, down []span) {
	for _, it := range s.Drawing.Items {
		if l, ok := it.(draw.Label); ok {
			from, to := l.Box()
			across = append(across, span{from.X, to.X})
			down = append(down, span{from.Y, to.Y})
		}
	}
	return across, down
}

// cuts gives where each of the fewest windows begins that cover a length with
// at least that overlap. Where the fewest leave room to spare, a window begins
// earlier if that splits fewer spans; a span narrower than the overlap is
// never split.
func cuts(from, to, window, overlap float64, spans []span) []float64 {
	const tiny = 1e-9
	step := window - overlap
	n := 1
	if to-from > window {
		n = int(math.Ceil((to-from-overlap)/step - tiny))
	}
	out := []float64{from}
	for i := 1; i < n; i++ {
		latest := out[i-1] + step
		earliest := math.Max(out[i-1]+step/2, to-window-step*float64(n-1-i))
		out = append(out, bestCut(latest, earliest, out[i-1]+window, spans))
	}
	return out
}

// bestCut tries whole millimetres back from the latest beginning; end is where
// the window before ends.
func bestCut(latest, earliest, end float64, spans []span) float64 {
	best, fewest := latest, math.MaxInt
	for at := latest; at >= earliest-1e-9; at-- {
		split := 0
		for _, s := range spans {
			if s.from < at && s.to > end {
				split++
			}
		}
		if split < fewest {
			best, fewest = at, split
		}
		if fewest == 0 {
			break
		}
	}
	return best
}

// seams are the middles of the overlaps between windows that begin at these
// places.
func seams(begins []float64, window float64) []float64 {
	var out []float64
	for i := 1; i < len(begins); i++ {
		out = append(out, (begins[i]+begins[i-1]+window)/2)
	}
	return out
}

// crosses are where neighbouring pieces join, in the sheet's own mm: on each
// seam at its ends and where it meets the seams across it. Each lies on every
// piece that meets there.
func (g grid) crosses(s *draw.Sheet) []draw.Point {
	xs, ys := seams(g.columns, g.w), seams(g.rows, g.h)
	var out []draw.Point
	for _, x := range xs {
		for _, y := range append([]float64{-g.gy / 2, s.Height + g.gy/2}, ys...) {
			out = append(out, draw.Pt(x, y))
		}
	}
	for _, y := range ys {
		out = append(out, draw.Pt(-g.gx/2, y), draw.Pt(s.Width+g.gx/2, y))
	}
	return out
}

// crossArm is half a cross, and crossPen how it is drawn, mm.
const crossArm = 3

var crossPen = draw.Pen{Width: 0.2}

// piece draws what one piece shows, in the sheet's own mm: strokes and fills
// cut at its window; labels and marks that meet the window whole, so that one
// at a seam stands on both pieces; crosses, and the names of its neighbours.
func (g grid) piece(s *draw.Sheet, column, row int) draw.Drawing {
	from := draw.Pt(g.columns[column], g.rows[row])
	to := draw.Pt(from.X+g.w, from.Y+g.h)
	d := s.Drawing.Part(from, to, func(it draw.Item) bool { return meets(it, from, to) })
	var extra draw.Drawing
	for _, c := range g.crosses(s) {
		extra.Line(draw.Register, crossPen, draw.Pt(c.X-crossArm, c.Y), draw.Pt(c.X+crossArm, c.Y))
		extra.Line(draw.Register, crossPen, draw.Pt(c.X, c.Y-crossArm), draw.Pt(c.X, c.Y+crossArm))
	}
	extra = extra.Part(from, to, func(draw.Item) bool { return false })
	d.Items = append(d.Items, extra.Items...)
	g.neighbours(&d, column, row)
	return d
}

func meets(it draw.Item, from, to draw.Point) bool {
	var a, b draw.Point
	switch it := it.(type) {
	case draw.Label:
		a, b = it.Box()
	case draw.Mark:
		h := it.Size / 2
		a, b = draw.Pt(it.At.X-h, it.At.Y-h), draw.Pt(it.At.X+h, it.At.Y+h)
	}
	return a.X < to.X && b.X > from.X && a.Y < to.Y && b.Y > from.Y
}

// neighbours names the pieces that join, in the gutters, beside the crosses.
func (g grid) neighbours(d *draw.Drawing, column, row int) {
	xs, ys := seams(g.columns, g.w), seams(g.rows, g.h)
	const off = crossArm + 1.5
	say := func(x, y float64, text string, a draw.Align) {
		d.Text(draw.Pt(x, y), text, draw.Register, smallSize, a)
	}
	if g.gy >= 6 && row == 0 {
		y := -g.gy/2 + 1.2
		if column > 0 {
			say(xs[column-1]+off, y, "← "+g.name(column-1, row), draw.Left)
		}
		if column < len(xs) {
			say(xs[column]-off, y, g.name(column+1, row)+" →", draw.Right)
		}
	}
	if g.gx >= 6 && column == 0 {
		if row > 0 {
			say(-g.gx, ys[row-1]+off+3, g.name(column, row-1), draw.Left)
		}
		if row < len(ys) {
			say(-g.gx, ys[row]-off, g.name(column, row+1), draw.Left)
		}
	}
}

// placeName tells where in the grid a piece lies.
func (g grid) placeName(column, row int) string {
	if g.pieces() == 1 {
		return ""
	}
	if len(g.rows) == 1 {
		return fmt.Sprintf("piece %s of %d", g.name(column, row), len(g.columns))
	}
	return fmt.Sprintf("piece %s: row %s of %d, column %d of %d", g.name(column, row), rowName(row), len(g.rows), column+1, len(g.columns))
}

// name names a piece by its row's letter and its column, as "B3"; in a grid of
// one row, by its column alone.
func (g grid) name(column, row int) string {
	if len(g.rows) == 1 {
		return fmt.Sprint(column + 1)
	}
	return fmt.Sprintf("%s%d", rowName(row), column+1)
}

// rowName gives A to Z, then AA, AB, and so on.
func rowName(row int) string {
	name := ""
	for n := row + 1; n > 0; n = (n - 1) / 26 {
		name = string(rune('A'+(n-1)%26)) + name
	}
	return name
}
