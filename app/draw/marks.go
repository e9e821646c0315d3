package draw

import "math"

// discCorners is how many corners stand for a circle: enough for marks.
const discCorners = 20

// Outline gives the corners of a mark's shape around its place; a Ring's is
// the outer circle, a Cross's has the form of an x and a Plus's that of a +.
func (m Mark) Outline() []Point {
	h := m.Size / 2
	at := func(x, y float64) Point { return Pt(m.At.X+x*h, m.At.Y+y*h) }
	switch m.Shape {
	case Square:
		return []Point{at(-1, -1), at(1, -1), at(1, 1), at(-1, 1)}
	case Diamond:
		return []Point{at(0, -1.3), at(1.3, 0), at(0, 1.3), at(-1.3, 0)}
	case Down:
		return []Point{at(-1, -0.7), at(1, -0.7), at(0, 1)}
	case Up:
		return []Point{at(-1, 0.7), at(0, -1), at(1, 0.7)}
	case Cross:
		const a = 0.32
		return []Point{at(-1, -1+a), at(-1+a, -1), at(0, -a), at(1-a, -1), at(1, -1+a), at(a, 0),
			at(1, 1-a), at(1-a, 1), at(0, a), at(-1+a, 1), at(-1, 1-a), at(-a, 0)}
	case Plus:
		const a = 0.22
		return []Point{at(-a, -1), at(a, -1), at(a, -a), at(1, -a), at(1, a), at(a, a),
			at(a, 1), at(-a, 1), at(-a, a), at(-1, a), at(-1, -a), at(-a, -a)}
	}
	out := make([]Point, discCorners)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / discCorners)
		out[i] = at(c, s)
	}
	return out
}

// mark draws a mark with a halo around it; a ring is open in the middle.
func (r *Pixels) mark(m Mark, pal *Palette, v View) {
	around := m
	around.Size += 3
	if m.Shape != Cross && m.Shape != Plus {
		r.fill(r.placed(around.Outline(), v), pal.Colour(Halo))
	}
	r.fill(r.placed(m.Outline(), v), pal.Colour(m.Role))
	if m.Shape == Ring {
		m.Size *= 0.55
		r.fill(r.placed(m.Outline(), v), pal.Colour(Halo))
	}
}
