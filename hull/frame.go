package hull

import (
	"strings"

	"github.com/go-gl/mathgl/mgl64"
)

// Frame is one frame (or end curve) of the hull: points on its moulded edge in
// mm, from the upper limit (wale or sheer) down to the lower limit (rabbet). x
// runs along the keel, y is the half-breadth (≥ 0), z is up from the base line.
// All points of a frame lie in one plane (Plane), usually at one x. The points
// of an end curve, a frame named "stem", "stern" or "transom", may lie at
// different x.
type Frame struct {
	Name     string
	Points   []mgl64.Vec3
	Knuckles []int // indices into Points of the corners kept sharp, in increasing order; never the first or last

	extra *extra
}

// IsEnd reports whether the frame is an end curve, which may vary in x.
func (f Frame) IsEnd() bool {
	n := strings.ToLower(f.Name)
	return n == "stem" || n == "stern" || n == "transom"
}

// X is the mean x of the frame's points, in mm: for a square frame its station.
// It is 0 for a frame without points.
func (f Frame) X() float64 {
	if len(f.Points) == 0 {
		return 0
	}
	sum := 0.0
	for _, p := range f.Points {
		sum += p.X()
	}
	return sum / float64(len(f.Points))
}
