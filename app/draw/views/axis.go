package views

import (
	"math"

	"github.com/strakewright/strakewright/app/draw"
)

// Axis is a scale along one direction of the hull: view = (mm − From)·Scale.
type Axis struct {
	From  float64 // mm at the view's left edge
	Scale float64 // view pixels per mm
}

// At gives the position in the view of a length.
func (a Axis) At(mm float64) float64 { return (mm - a.From) * a.Scale }

// MM gives the length at a position in the view.
func (a Axis) MM(at float64) float64 { return a.From + at/math.Max(a.Scale, 1e-12) }

// Moved shifts the axis by view pixels, as a hand shifts the paper.
func (a Axis) Moved(by float64) Axis {
	a.From -= by / math.Max(a.Scale, 1e-12)
	return a
}

// Zoomed scales the axis about a position in the view.
func (a Axis) Zoomed(by, about float64) Axis {
	keep := a.MM(about)
	a.Scale = math.Max(1e-3, math.Min(a.Scale*by, 1e4))
	a.From = keep - about/a.Scale
	return a
}

// span is a range of mm.
type span struct{ lo, hi float64 }

// empty is a span that holds nothing.
func empty() span { return span{math.Inf(1), math.Inf(-1)} }

func (s span) with(v float64) span { return span{math.Min(s.lo, v), math.Max(s.hi, v)} }

func (s span) length() float64 { return math.Max(s.hi-s.lo, 1e-9) }

// axis centres a span in room pixels of the view, starting at from.
func (s span) axis(from, room, scale float64) Axis {
	left := from + (room-s.length()*scale)/2
	return Axis{From: s.lo - left/scale, Scale: scale}
}

// distance is the distance from p to the segment from a to b.
func distance(p, a, b draw.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = math.Max(0, math.Min(1, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/l))
	}
	return math.Hypot(p.X-a.X-t*dx, p.Y-a.Y-t*dy)
}

// toLine is the distance from p to a line through points.
func toLine(p draw.Point, pts []draw.Point) float64 {
	best := math.Inf(1)
	for i := 1; i < len(pts); i++ {
		best = math.Min(best, distance(p, pts[i-1], pts[i]))
	}
	return best
}

// inQuad reports whether p lies in the quadrangle with the given corners in
// order.
func inQuad(p, a, b, c, d draw.Point) bool {
	in := false
	q := [4]draw.Point{a, b, c, d}
	for i, j := 0, 3; i < 4; j, i = i, i+1 {
		if (q[i].Y > p.Y) != (q[j].Y > p.Y) &&
			p.X < (q[j].X-q[i].X)*(p.Y-q[i].Y)/(q[j].Y-q[i].Y)+q[i].X {
			in = !in
		}
	}
	return in
}
