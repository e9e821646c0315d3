package draw

import "math"

// Sheet is a drawing at full size, in mm, y downwards, that fills the rectangle
// from (0, 0) to (Width, Height). It is drawn once; renderers turn it into
// paper, screens and cutting files.
type Sheet struct {
	Section string // the part of the booklet it belongs to, such as "Tick strips"
	Name    string // its file name without an extension, such as "tick-strips-layer-1"
	Title   string // its heading, such as "Tick strips, layer 1"
	Kind    string // the heading that it has in common with others of its kind; "" for Title
	Drawing Drawing
	Width   float64
	Height  float64
	Cut     bool   // it has cut lines, and is of use as DXF
	Parts   []Part // what pages are laid out of in place of the drawing; nil for the drawing as it is
}

// Part is what stays together on a page. It fills the rectangle from (0, 0) to
// (Width, Height).
type Part struct {
	Drawing Drawing
	Width   float64
	Height  float64
	Nests   bool // what is drawn on others may come into its rectangle, as far as nothing is drawn there
	Follows bool // it stands on no page before the part ahead of it
	Leads   bool // nothing that comes after it in its section stands on a page before it
	// Split parts it into one no higher than that and the rest; ok is false where
	// it is too low for any. Nil for what cannot be parted.
	Split func(height float64) (head, rest Part, ok bool)
}

// Bounds gives the corners of the least rectangle that holds all ink of a drawing: lines
// with their width, and letters with their own. ok is false for an empty drawing.
func (d *Drawing) Bounds() (from, to Point, ok bool) {
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, it := range d.Items {
		lo, hi := Bounds(it)
		b = b.with(lo).with(hi)
	}
	return Pt(b.x0, b.y0), Pt(b.x1, b.y1), len(d.Items) > 0
}

// Bounds gives the corners of the least rectangle that holds the ink of an item.
func Bounds(it Item) (from, to Point) {
	empty := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	switch it := it.(type) {
	case Stroke:
		b := empty.around(it.Points).grown(it.Pen.Width / 2)
		return Pt(b.x0, b.y0), Pt(b.x1, b.y1)
	case Fill:
		b := empty.around(it.Points)
		return Pt(b.x0, b.y0), Pt(b.x1, b.y1)
	case Mark:
		h := it.Size / 2
		return Pt(it.At.X-h, it.At.Y-h), Pt(it.At.X+h, it.At.Y+h)
	case Label:
		return it.Box()
	}
	return Point{}, Point{}
}

// CommonTitle is the heading that a sheet has in common with others of its kind.
func (s *Sheet) CommonTitle() string {
	if s.Kind != "" {
		return s.Kind
	}
	return s.Title
}
