package loft

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
)

// leastOfAllSides tries every side of the convex hull against every corner.
func leastOfAllSides(points []mgl64.Vec2) float64 {
	h := convexHull(points)
	best := math.Inf(1)
	for i := range h {
		e := h[(i+1)%len(h)].Sub(h[i]).Normalize()
		lo, hi := mgl64.Vec2{math.Inf(1), math.Inf(1)}, mgl64.Vec2{math.Inf(-1), math.Inf(-1)}
		for _, q := range h {
			along, square := q.Dot(e), q.Dot(mgl64.Vec2{-e.Y(), e.X()})
			lo = mgl64.Vec2{min(lo.X(), along), min(lo.Y(), square)}
			hi = mgl64.Vec2{max(hi.X(), along), max(hi.Y(), square)}
		}
		best = min(best, (hi.X()-lo.X())*(hi.Y()-lo.Y()))
	}
	return best
}

// TestLeastRectangleOfAllSides: the result is that of all sides tried one by one, on
// random points and on bent strips; to rounding.
func TestLeastRectangleOfAllSides(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for trial := range 500 {
		n := 3 + r.IntN(60)
		points := make([]mgl64.Vec2, n)
		for i := range points {
			points[i] = mgl64.Vec2{100 * r.Float64(), 5 * r.NormFloat64()}
			if trial%2 == 0 { // a strip with a sweep
				x := float64(i / 2)
				points[i] = mgl64.Vec2{x, 0.02*x*x + float64(i%2)}
			}
		}
		length, width := leastRectangle(points)
		assert.InEpsilon(t, leastOfAllSides(points), length*width, 1e-9, "%v", points)
		assert.GreaterOrEqual(t, length, width)
	}
}

// TestLeastRectangleOfARectangle: turned by any angle, a rectangle is its own least
// rectangle; its square corners make the calipers meet a whole side each time.
func TestLeastRectangleOfARectangle(t *testing.T) {
	for a := 0.0; a < 7; a += 0.1 {
		turn := mgl64.Rotate2D(a)
		var points []mgl64.Vec2
		for _, p := range []mgl64.Vec2{{0, 0}, {30, 0}, {30, 4}, {0, 4}, {10, 0}, {12, 2}} {
			points = append(points, turn.Mul2x1(p))
		}
		length, width := leastRectangle(points)
		assert.InDelta(t, 30, length, 1e-9)
		assert.InDelta(t, 4, width, 1e-9)
	}
}
