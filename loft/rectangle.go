package loft

import (
	"math"
	"sort"

	"github.com/go-gl/mathgl/mgl64"
)

// leastRectangle gives the longer and the shorter side of the rectangle of least area
// that encloses the points: one of its sides lies on a side of their convex hull
// (Freeman and Shapira, Comm. ACM 18, 1975). As that side goes round the hull, so do
// the corners that the others touch, once in all (Toussaint, Solving Geometric Problems
// with the Rotating Calipers, 1983).
func leastRectangle(points []mgl64.Vec2) (length, width float64) {
	h := convexHull(points)
	n := len(h)
	best := math.Inf(1)
	ahead, across, behind := 0, 0, 0 // the corners touched, counted from the first
	for i := range h {
		side := h[(i+1)%n].Sub(h[i])
		if side.Len() == 0 {
			continue
		}
		e := side.Normalize()
		square := mgl64.Vec2{-e.Y(), e.X()}
		ahead = farthest(h, max(ahead, i+1), e)
		across = farthest(h, max(across, ahead), square)
		behind = farthest(h, max(behind, across), e.Mul(-1))
		a := h[ahead%n].Sub(h[behind%n]).Dot(e)
		b := h[across%n].Sub(h[i]).Dot(square)
		if a*b < best {
			best, length, width = a*b, max(a, b), min(a, b)
		}
	}
	return length, width
}

// farthest goes round a convex hull from a corner as long as the next corner lies
// farther along e.
func farthest(h []mgl64.Vec2, from int, e mgl64.Vec2) int {
	n := len(h)
	for k := from; k < from+n; k++ {
		if h[(k+1)%n].Sub(h[k%n]).Dot(e) <= 0 {
			return k
		}
	}
	return from
}

// convexHull gives the corners of the convex hull in order (Andrew, Inf. Proc.
// Letters 9, 1979).
func convexHull(points []mgl64.Vec2) []mgl64.Vec2 {
	p := append([]mgl64.Vec2{}, points...)
	sort.Slice(p, func(i, j int) bool {
		return p[i].X() < p[j].X() || p[i].X() == p[j].X() && p[i].Y() < p[j].Y()
	})
	half := func(next func(int) mgl64.Vec2) []mgl64.Vec2 {
		var h []mgl64.Vec2
		for i := range p {
			q := next(i)
			for len(h) > 1 && left(h[len(h)-2], h[len(h)-1], q) <= 0 {
				h = h[:len(h)-1]
			}
			h = append(h, q)
		}
		return h[:len(h)-1]
	}
	lower := half(func(i int) mgl64.Vec2 { return p[i] })
	upper := half(func(i int) mgl64.Vec2 { return p[len(p)-1-i] })
	return append(lower, upper...)
}

// left is positive where c lies to the left of the direction from a to b.
func left(a, b, c mgl64.Vec2) float64 {
	return (b.X()-a.X())*(c.Y()-a.Y()) - (b.Y()-a.Y())*(c.X()-a.X())
}
