package draw

import (
	"image"
	"math"
)

// box is a bounding box in pixels.
type box struct{ x0, y0, x1, y1 float64 }

func boxOf(pts []Point) box {
	b := box{pts[0].X, pts[0].Y, pts[0].X, pts[0].Y}
	for _, p := range pts[1:] {
		b = b.with(p)
	}
	return b
}

func (b box) with(p Point) box {
	return box{math.Min(b.x0, p.X), math.Min(b.y0, p.Y), math.Max(b.x1, p.X), math.Max(b.y1, p.Y)}
}

func (b box) grown(by float64) box { return box{b.x0 - by, b.y0 - by, b.x1 + by, b.y1 + by} }

// area is the box's area with a margin all round.
func (b box) area(margin float64) float64 {
	return (b.x1 - b.x0 + 2*margin) * (b.y1 - b.y0 + 2*margin)
}

// pixels gives the whole pixels that the box touches; a box far outside any
// image is cut to what an int holds.
func (b box) pixels() image.Rectangle {
	return image.Rect(clampInt(math.Floor(b.x0)), clampInt(math.Floor(b.y0)),
		clampInt(math.Ceil(b.x1)), clampInt(math.Ceil(b.y1)))
}

func clampInt(v float64) int { return int(math.Max(-1e8, math.Min(1e8, v))) }
