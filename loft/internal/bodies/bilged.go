package bodies

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// Bilged is a smooth hull of 360 mm: a side whose flare increases from end to end, a
// round bilge of the given radius, and a bottom with the given rise. Each of its frames
// has the given number of points, evenly by girth. Arc is the least length of the
// bilge, mm.
func Bilged(xs []float64, radius float64, rise hull.Angle, points int) (frames []hull.Frame, arc float64) {
	arc = math.Inf(1)
	for i, x := range xs {
		s := x / 180
		side := 22 + 4*s*s
		down := -math.Pi/2 - float64(hull.Degrees(3+4*s))
		in := -math.Pi + float64(rise)
		bilge := radius * (down - in)
		arc = min(arc, bilge)
		heading := func(a float64) mgl64.Vec2 { return mgl64.Vec2{math.Cos(a), math.Sin(a)} }
		turn := mgl64.Vec2{40 * (1 - 0.5*s*s), 48}.Add(heading(down).Mul(side)) // where the bilge begins
		centre := turn.Add(heading(down - math.Pi/2).Mul(radius))
		foot := centre.Add(heading(in + math.Pi/2).Mul(radius)) // and ends
		bottom := (foot[0] - 2) / -math.Cos(in)
		f := hull.Frame{Name: fmt.Sprintf("F%d", i)}
		for _, g := range Spaced(0, side+bilge+bottom, points) {
			var p mgl64.Vec2
			switch {
			case g < side:
				p = turn.Sub(heading(down).Mul(side - g))
			case g < side+bilge:
				p = centre.Add(heading(down - (g-side)/radius + math.Pi/2).Mul(radius))
			default:
				p = foot.Add(heading(in).Mul(g - side - bilge))
			}
			f.Points = append(f.Points, mgl64.Vec3{x, p[0], p[1]})
		}
		frames = append(frames, f)
	}
	return frames, arc
}
