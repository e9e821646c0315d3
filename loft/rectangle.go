package loft

import (
	"math"
	"sort"

	"github.com/go-gl/mathgl/mgl64"
)

// leastRectangle gives the longer and the shorter side of the rectangle of
// least area that holds the points: one of its sides lies on a side of their
// convex hull (Freeman and Shapira, Comm. ACM 18, 1975).
func leastRectangle(points []mgl64.Vec2) (length, width float64) {
	h := convexHull(points)
	best := math.Inf(1)
	for i := range h {
		side := h[(i+1)%len(h)].Sub(h[i])
		if side.Len() == 0 {
			continue
		}
		e := side.Normalize()
		a, b := extent(h, e), extent(h, mgl64.Vec2{-e.Y(), e.X()})
		if a*b < best {
			best, length, width = a*b, max(a, b), min(a, b)
		}
	}
	return length, width
}

// extent is how far points reach along a unit direction.
func extent(p []mgl64.Vec2, e mgl64.Vec2) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range p {
		lo, hi = min(lo, q.Dot(e)), max(hi, q.Dot(e))
	}
	return hi - lo
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

// left is positive where c lies to the left of the way from a to b.
func left(a, b, c mgl64.Vec2) float64 {
	return (b.X()-a.X())*(c.Y()-a.Y()) - (b.Y()-a.Y())*(c.X()-a.X())
}
