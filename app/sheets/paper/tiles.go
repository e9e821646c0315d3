package paper

import (
	"fmt"
	"math"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
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

// inGutter is where in a gutter, from its outer side, crosses stand: in its middle, or
// where it is narrow as far in as their arms need.
func inGutter(g float64) float64 { return math.Max(g/2, crossArm+crossPen.Width) }

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
		for _, y := range append([]float64{-g.gy + inGutter(g.gy), s.Height + g.gy - inGutter(g.gy)}, ys...) {
			out = append(out, draw.Pt(x, y))
		}
	}
	for _, y := range ys {
		out = append(out, draw.Pt(-g.gx+inGutter(g.gx), y), draw.Pt(s.Width+g.gx-inGutter(g.gx), y))
	}
	return out
}

// crossArm is half a cross, and crossPen how it is drawn, mm.
const crossArm = 3

var crossPen = draw.Pen{Width: 0.2}

// piece draws what one piece shows, in the sheet's own mm: strokes and fills
// cut at its window; labels and marks that lie within it, so that one at a seam stands on
// both pieces that hold it; crosses, and the names of its neighbours. A label that no
// piece holds is moved into the one with most of it.
func (g grid) piece(s *draw.Sheet, column, row int) draw.Drawing {
	from := draw.Pt(g.columns[column], g.rows[row])
	to := draw.Pt(from.X+g.w, from.Y+g.h)
	d := s.Drawing.Part(from, to, func(it draw.Item) bool { return contains(it, from, to) })
	for _, it := range s.Drawing.Items {
		if l, ok := it.(draw.Label); ok && !g.holds(l) && g.owns(l, column, row) {
			d.Items = append(d.Items, movedInto(l, from, to))
		}
	}
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

// contains tells whether all of an item lies within a window.
func contains(it draw.Item, from, to draw.Point) bool {
	a, b := draw.Bounds(it)
	return a.X >= from.X-1e-9 && a.Y >= from.Y-1e-9 && b.X <= to.X+1e-9 && b.Y <= to.Y+1e-9
}

// holds tells whether a label lies within any piece.
func (g grid) holds(l draw.Label) bool {
	for _, y := range g.rows {
		for _, x := range g.columns {
			if contains(l, draw.Pt(x, y), draw.Pt(x+g.w, y+g.h)) {
				return true
			}
		}
	}
	return false
}

// owns tells whether a piece is the one in which the middle of a label lies, up to the
// seams.
func (g grid) owns(l draw.Label, column, row int) bool {
	a, b := l.Box()
	at := func(begins []float64, window, v float64) int {
		n := 0
		for _, s := range seams(begins, window) {
			if v > s {
				n++
			}
		}
		return n
	}
	return at(g.columns, g.w, (a.X+b.X)/2) == column && at(g.rows, g.h, (a.Y+b.Y)/2) == row
}

// movedInto moves a label into a window, cut short where it is wider.
func movedInto(l draw.Label, from, to draw.Point) draw.Label {
	l.Text = draw.Fit(l.Text, l.Size, to.X-from.X)
	a, b := l.Box()
	l.At.X += max(from.X-a.X, 0) + min(to.X-b.X, 0)
	l.At.Y += max(from.Y-a.Y, 0) + min(to.Y-b.Y, 0)
	return l
}

// neighbours names the pieces that join, in the gutters, beside the crosses.
func (g grid) neighbours(d *draw.Drawing, column, row int) {
	xs, ys := seams(g.columns, g.w), seams(g.rows, g.h)
	const off = crossArm + 1.5
	say := func(x, y float64, text string, a draw.Align) {
		d.Text(draw.Pt(x, y), text, draw.Register, smallSize, a)
	}
	if row == 0 {
		y := -g.gy + inGutter(g.gy) + 1.2
		if column > 0 {
			say(xs[column-1]+off, y, "← "+g.name(column-1, row), draw.Left)
		}
		if column < len(xs) {
			say(xs[column]-off, y, g.name(column+1, row)+" →", draw.Right)
		}
	}
	if column == 0 {
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
		return tongue.T("piece %s of %d", g.name(column, row), len(g.columns))
	}
	return tongue.T("piece %s: row %s of %d, column %d of %d", g.name(column, row), rowName(row), len(g.rows), column+1, len(g.columns))
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
