package draw

import "math"

// Point is a place in a drawing, in its own unit; y is downwards.
type Point struct{ X, Y float64 }

// Pt is the point (x, y).
func Pt(x, y float64) Point { return Point{x, y} }

// Drawing is an ordered list of items; later ones lie over earlier ones. The
// zero value is an empty drawing. Reset empties it and keeps its memory, so
// that a view can redraw itself without growing.
type Drawing struct {
	Items  []Item
	points []Point
}

// Item is one thing drawn: a Stroke, Fill, Mark or Label.
type Item interface{ item() }

// Pen is how a stroke is drawn: its width, and the alternating lengths of dash
// and space (nil for a solid line), all in the drawing's unit.
type Pen struct {
	Width float64
	Dash  []float64
}

// Stroke is a line through points.
type Stroke struct {
	Points []Point
	Pen    Pen
	Role   Role
}

// Fill is a filled polygon, closed automatically and filled by the non-zero
// winding rule.
type Fill struct {
	Points []Point
	Role   Role
}

// Align says which part of a label lies at its place.
type Align uint8

// The alignments of a label. Its baseline always runs through its place.
const (
	Left Align = iota
	Centre
	Right
)

// Label is one line of text; Size is the height of an em.
type Label struct {
	At    Point
	Text  string
	Role  Role
	Size  float64
	Align Align
}

// Shape is the form of a mark, which distinguishes marks without colour.
type Shape uint8

// The shapes of marks.
const (
	Disc    Shape = iota // a handle that is held
	Ring                 // a handle that is released
	Square               // the hold handle of a free line
	Diamond              // its aim handle
	Down                 // a triangle pointing down
	Up                   // a triangle pointing up
	Cross                // a place where something ends or leaves the region
	Plus                 // where a strip lies by itself on a frame
)

// Mark is a small sign centred on its place; Size is its full height.
type Mark struct {
	At    Point
	Shape Shape
	Size  float64
	Role  Role
}

func (Stroke) item() {}
func (Fill) item()   {}
func (Label) item()  {}
func (Mark) item()   {}

// Reset empties the drawing and keeps its memory. Items taken from it earlier
// must no longer be used.
func (d *Drawing) Reset() {
	clear(d.Items)
	d.Items = d.Items[:0]
	d.points = d.points[:0]
}

// keep copies points into the drawing's own memory.
func (d *Drawing) keep(pts []Point) []Point {
	n := len(d.points)
	d.points = append(d.points, pts...)
	return d.points[n:len(d.points):len(d.points)]
}

// Line adds a stroke through points, which are copied. Points that are not
// finite break the line. Fewer than two points add nothing.
func (d *Drawing) Line(role Role, pen Pen, pts ...Point) {
	start := 0
	for i := 0; i <= len(pts); i++ {
		if i < len(pts) && finite(pts[i]) {
			continue
		}
		if i-start >= 2 {
			d.Items = append(d.Items, Stroke{Points: d.keep(pts[start:i]), Pen: pen, Role: role})
		}
		start = i + 1
	}
}

// Area adds a filled polygon, whose points are copied. One with a point that
// is not finite, or with fewer than three, is left out.
func (d *Drawing) Area(role Role, pts ...Point) {
	if len(pts) < 3 {
		return
	}
	for _, p := range pts {
		if !finite(p) {
			return
		}
	}
	d.Items = append(d.Items, Fill{Points: d.keep(pts), Role: role})
}

// Rect adds a filled rectangle between two corners.
func (d *Drawing) Rect(role Role, a, b Point) {
	d.Area(role, a, Pt(b.X, a.Y), b, Pt(a.X, b.Y))
}

// Text adds a label, with its invisible characters written out and its accents put on
// their letters.
func (d *Drawing) Text(at Point, text string, role Role, size float64, align Align) {
	if text == "" || !finite(at) {
		return
	}
	d.Items = append(d.Items, Label{At: at, Text: legible(text), Role: role, Size: size, Align: align})
}

// Mark adds a mark.
func (d *Drawing) Mark(at Point, shape Shape, size float64, role Role) {
	if finite(at) {
		d.Items = append(d.Items, Mark{At: at, Shape: shape, Size: size, Role: role})
	}
}

func finite(p Point) bool {
	s := p.X + p.Y
	return !math.IsNaN(s) && !math.IsInf(s, 0)
}
