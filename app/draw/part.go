package draw

import "math"

// Part gives the part of a drawing in the rectangle between two corners,
// without moving it: strokes and fills are cut at its sides, dashes before they
// are cut, so that the pattern runs on from one part to the next; marks and
// labels are kept whole where keep says so. The result shares points with the
// drawing.
func (d *Drawing) Part(from, to Point, keep func(Item) bool) Drawing {
	b := boxOf([]Point{from, to})
	var out Drawing
	for _, it := range d.Items {
		switch it := it.(type) {
		case Stroke:
			out.strokePart(it, b)
		case Fill:
			if pts := clipArea(it.Points, b); len(pts) >= 3 {
				out.Items = append(out.Items, Fill{Points: pts, Role: it.Role})
			}
		default:
			if keep(it) {
				out.Items = append(out.Items, it)
			}
		}
	}
	return out
}

func (d *Drawing) strokePart(s Stroke, b box) {
	if inside(s.Points, b) {
		d.Items = append(d.Items, s)
		return
	}
	if !boxOf(s.Points).meets(b) {
		return
	}
	pen := s.Pen
	pen.Dash = nil
	for _, run := range dashed(s.Points, s.Pen.Dash) {
		for _, pts := range clipLine(run, b) {
			d.Items = append(d.Items, Stroke{Points: pts, Pen: pen, Role: s.Role})
		}
	}
}

func (b box) meets(c box) bool {
	return b.x0 <= c.x1 && c.x0 <= b.x1 && b.y0 <= c.y1 && c.y0 <= b.y1
}

// Add puts the items of another drawing over this one's, shifted by a vector.
func (d *Drawing) Add(other *Drawing, by Point) {
	for _, it := range other.Items {
		switch it := it.(type) {
		case Stroke:
			it.Points = d.moved(it.Points, by)
			d.Items = append(d.Items, it)
		case Fill:
			it.Points = d.moved(it.Points, by)
			d.Items = append(d.Items, it)
		case Mark:
			it.At = Pt(it.At.X+by.X, it.At.Y+by.Y)
			d.Items = append(d.Items, it)
		case Label:
			it.At = Pt(it.At.X+by.X, it.At.Y+by.Y)
			d.Items = append(d.Items, it)
		}
	}
}

func (d *Drawing) moved(pts []Point, by Point) []Point {
	kept := d.keep(pts)
	for i, p := range kept {
		kept[i] = Pt(p.X+by.X, p.Y+by.Y)
	}
	return kept
}

// Extent gives the corners of the smallest rectangle that holds the points of
// all strokes, fills and marks; labels, whose width depends on the font, count
// only with their place. ok is false for an empty drawing.
func (d *Drawing) Extent() (from, to Point, ok bool) {
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, it := range d.Items {
		switch it := it.(type) {
		case Stroke:
			b = b.around(it.Points)
		case Fill:
			b = b.around(it.Points)
		case Mark:
			b = b.around(it.Outline())
		case Label:
			b = b.with(it.At)
		}
	}
	return Pt(b.x0, b.y0), Pt(b.x1, b.y1), len(d.Items) > 0
}

func (b box) around(pts []Point) box {
	for _, p := range pts {
		b = b.with(p)
	}
	return b
}

// Scaled is the drawing enlarged by a factor about (0, 0), together with its pens,
// marks and lettering.
func (d *Drawing) Scaled(by float64) Drawing {
	var out Drawing
	scaled := func(pts []Point) []Point {
		n := len(out.points)
		for _, p := range pts {
			out.points = append(out.points, Pt(p.X*by, p.Y*by))
		}
		return out.points[n:len(out.points):len(out.points)]
	}
	for _, it := range d.Items {
		switch it := it.(type) {
		case Stroke:
			pen := Pen{Width: it.Pen.Width * by}
			for _, l := range it.Pen.Dash {
				pen.Dash = append(pen.Dash, l*by)
			}
			out.Items = append(out.Items, Stroke{Points: scaled(it.Points), Pen: pen, Role: it.Role})
		case Fill:
			out.Items = append(out.Items, Fill{Points: scaled(it.Points), Role: it.Role})
		case Mark:
			it.At, it.Size = Pt(it.At.X*by, it.At.Y*by), it.Size*by
			out.Items = append(out.Items, it)
		case Label:
			it.At, it.Size = Pt(it.At.X*by, it.At.Y*by), it.Size*by
			out.Items = append(out.Items, it)
		}
	}
	return out
}
