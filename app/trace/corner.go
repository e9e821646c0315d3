package trace

import "math"

// Settings for finding a corner near a click. Lengths in pixels.
const (
	leastCorner   = 8.0  // the radius examined, from
	mostCorner    = 20.0 // to
	cornerSteps   = 30
	cornerSettled = 0.02
	leastBothWays = 0.12 // how much the slopes must differ in direction: 0 not at all, 1 completely
	leastSlope    = 4.0  // mean square of the slopes, below which there is nothing
)

// SnapCorner gives the corner or crossing nearest to a click, and whether there
// is a clear one within reach pixels (taken within 3 and 40). For thin lines it
// is where their middles cross. Where there is none it is the click itself, and
// false.
//
// It is the point to which the tangents of all the slopes around it come
// nearest: the least of Σ w (g·(q−p))² over the slopes g at the points q
// (Förstner and Gülch, 1987, from memory).
func (p *Picture) SnapCorner(at Point, reach float64) (Point, bool) {
	reach = min(max(reach, leastReach), mostReach)
	if !at.finite() || !p.Holds(at) {
		return at, false
	}
	wide := min(max(reach, leastCorner), mostCorner)
	// by looking more and more closely, one of two corners a few pixels apart is
	// found exactly; if that leads to none, as where thick lines meet, the first
	// result stands
	for _, closer := range []float64{0.8, 1} {
		if found, ok := p.settled(at, wide, closer); ok && found.distance(at) <= reach {
			return found, true
		}
	}
	return at, false
}

// settled looks for a corner within a radius and then again around what it
// finds, scaling the radius by closer each time, until the result no longer
// moves.
func (p *Picture) settled(at Point, radius, closer float64) (Point, bool) {
	for range cornerSteps {
		next, ok := p.cornerAbout(at, radius)
		if !ok {
			return at, false
		}
		moved := next.distance(at)
		at = next
		if smaller := max(leastCorner, radius*closer); smaller < radius {
			radius = smaller
		} else if moved < cornerSettled {
			return at, true
		}
	}
	return at, false
}

// cornerAbout is the point that best fits the slopes within a radius.
func (p *Picture) cornerAbout(at Point, radius float64) (Point, bool) {
	n := int(math.Ceil(radius))
	sigma := radius / 2
	var xx, xy, yy, bx, by, whole float64
	for j := -n; j <= n; j++ {
		for i := -n; i <= n; i++ {
			d := Point{float64(i), float64(j)}
			q := at.plus(d)
			w := math.Exp(-d.dot(d) / (2 * sigma * sigma))
			gx := (p.grey(q.plus(Point{1, 0})) - p.grey(q.plus(Point{-1, 0}))) / 2
			gy := (p.grey(q.plus(Point{0, 1})) - p.grey(q.plus(Point{0, -1}))) / 2
			xx, xy, yy, whole = xx+w*gx*gx, xy+w*gx*gy, yy+w*gy*gy, whole+w
			along := w * (gx*d.X + gy*d.Y)
			bx, by = bx+along*gx, by+along*gy
		}
	}
	if xx+yy < leastSlope*whole {
		return at, false
	}
	// 4·det/trace² is 1 where the slopes run in all directions and 0 where they run
	// in one
	det := xx*yy - xy*xy
	if 4*det < leastBothWays*(xx+yy)*(xx+yy) {
		return at, false
	}
	return at.plus(Point{(yy*bx - xy*by) / det, (xx*by - xy*bx) / det}), true
}
