package trace

import (
	"math"
	"slices"
)

// stroke is what is known about a line that is being followed.
type stroke struct {
	half  float64 // px, half its width; 0 for an edge
	ink   float64 // its brightness, 0 to 255; for an edge that of the darker side
	paper float64 // the brightness beside it; for an edge that of the lighter side
}

// faintest is the least contrast of a line that is followed.
const faintest = 12.0

// contrast is how much the line differs from the paper, greater than 0.
func (s stroke) contrast() float64 { return max(math.Abs(s.paper-s.ink), faintest) }

// isEdge reports whether it is the edge of something wide.
func (s stroke) isEdge() bool { return s.half == 0 }

// beside is the distance from its middle at which the paper shows.
func (s stroke) beside() float64 { return s.half + 2 }

// inked is how close a brightness is to the line's: 0 for paper, 1 for ink.
func (s stroke) inked(grey float64) float64 {
	v := (s.paper - grey) / s.contrast()
	if s.ink > s.paper {
		v = -v
	}
	return min(max(v, 0), 1.2)
}

// strokeAt measures the line on which a point lies, square to its normal.
func (p *Picture) strokeAt(at, normal Point, half float64) stroke {
	mean := func(off float64) float64 {
		sum := 0.0
		for i := -along; i <= along; i++ {
			sum += p.grey(at.plus(normal.times(off)).plus(normal.turned().times(float64(i))))
		}
		return sum / (2*along + 1)
	}
	if half == 0 {
		a, b := mean(-3), mean(3)
		return stroke{ink: min(a, b), paper: max(a, b)}
	}
	s := stroke{half: half, ink: mean(0)}
	s.paper = (mean(-s.beside()-0.5) + mean(s.beside()+0.5)) / 2
	return s
}

// lineAt is a point on the middle of a line.
type lineAt struct {
	at     Point
	normal Point
	stroke
}

// clearLine gives the line nearest to a point, where Snap finds a clear one.
func (p *Picture) clearLine(at Point, reach float64) (lineAt, bool) {
	found, heading, ok := p.SnapLine(at, reach)
	if !ok {
		return lineAt{}, false
	}
	sin, cos := math.Sincos(float64(heading))
	n := Point{sin, -cos}
	o, ok := p.nearestOutline(found, n, leastReach)
	if !ok {
		return lineAt{}, false
	}
	return lineAt{found, n, p.strokeAt(found, n, o.half)}, true
}

// Points on each ring around a place, from which lines that end at the place
// are sought.
const ringPlaces = 12

// linesAbout gives the clear lines at a point and on rings around it, each
// once. At the end of a line, and where several meet, Snap finds none at the
// point itself.
func (p *Picture) linesAbout(at Point, reach float64) []lineAt {
	var all []lineAt
	add := func(q Point, r float64) {
		l, ok := p.clearLine(q, r)
		if ok && !slices.ContainsFunc(all, func(m lineAt) bool { return m.at.distance(l.at) < 1 }) {
			all = append(all, l)
		}
	}
	add(at, reach)
	for _, r := range []float64{0.6 * reach, reach} {
		for k := range ringPlaces {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / ringPlaces)
			add(at.plus(Point{cos, sin}.times(r+leastReach)), max(leastReach, reach/3))
		}
	}
	return all
}
