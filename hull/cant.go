package hull

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull/fault"
)

// Plane is the plane in which a frame stands: x = X + y·tan(Cant) +
// z·tan(Rake). A square frame has neither angle. A canted frame is upright but
// turned about a vertical line; a leaning one is square to the ship's side but
// not to the base line.
type Plane struct {
	X    float64 // mm, where the plane meets the base line amidships
	Cant Angle   // angle off square, seen from above; positive where x increases outwards
	Rake Angle   // angle off upright, seen from the side; positive where x increases upwards
}

// Bounds of a frame's plane.
const (
	flat         = 0.05               // mm: how far a point of a frame may lie off its plane
	steepestCant = 76 * math.Pi / 180 // a degree more than the steepest cant frame measured
)

// At is the x of the plane at a half-breadth and a height, mm.
func (p Plane) At(y, z float64) float64 {
	return p.X + y*math.Tan(float64(p.Cant)) + z*math.Tan(float64(p.Rake))
}

// Square reports whether the plane is neither canted nor leaning.
func (p Plane) Square() bool { return p.Cant == 0 && p.Rake == 0 }

// Plane gives the plane in which the frame's points lie: square to the keel if
// they fit that within 0.01 mm, otherwise the canted or leaning plane that fits
// them best by least squares, within 0.05 mm. ok is false where no such plane
// exists, and for a frame without points.
func (f Frame) Plane() (p Plane, ok bool) {
	if len(f.Points) == 0 {
		return Plane{}, false
	}
	if offPlane(f.Points) == 0 {
		return Plane{X: f.Points[0].X()}, true
	}
	x, cant, off := leaning(f.Points, 1)
	x2, rake, off2 := leaning(f.Points, 2)
	if off <= off2 {
		return Plane{X: x, Cant: cant}, off <= flat
	}
	return Plane{X: x2, Rake: rake}, off2 <= flat
}

// leaning fits x = x0 + q·tan(a) to points, where q is their y (axis 1) or z
// (axis 2). off is the distance of the farthest point from that plane, mm.
func leaning(pts []mgl64.Vec3, axis int) (x0 float64, a Angle, off float64) {
	var mx, mq, sxq, sqq float64
	n := float64(len(pts))
	for _, p := range pts {
		mx, mq = mx+p.X()/n, mq+p[axis]/n
	}
	for _, p := range pts {
		sxq += (p.X() - mx) * (p[axis] - mq)
		sqq += (p[axis] - mq) * (p[axis] - mq)
	}
	if sqq == 0 {
		return 0, 0, math.Inf(1)
	}
	slope := sxq / sqq
	a = Angle(math.Atan(slope))
	if math.Abs(float64(a)) > steepestCant {
		return 0, 0, math.Inf(1)
	}
	x0 = mx - slope*mq
	for _, p := range pts {
		off = max(off, math.Abs(p.X()-x0-slope*p[axis])*math.Cos(float64(a)))
	}
	return x0, a, off
}

// checkCrossing notes the first point at which two neighbouring frames meet,
// unless both are square to the keel; b has the greater x.
func checkCrossing(a, b *Frame, i int, at Places, f *fault.List) {
	pa, okA := a.Plane()
	pb, okB := b.Plane()
	if !okA || !okB {
		return // already reported
	}
	tell := func(fr, other *Frame, i, j int) {
		f.Add(at.Line(i, j), fr.Name, "correct its x, or remove one of the two frames",
			"point %d, at x %s, crosses frame %s", j+1, fault.Figure(fr.Points[j].X()), fault.Name(other.Name))
	}
	for j, p := range b.Points {
		if p.X() <= pa.At(p.Y(), p.Z())+planar {
			tell(b, a, i, j)
			return
		}
	}
	for j, p := range a.Points {
		if p.X() >= pb.At(p.Y(), p.Z())-planar {
			tell(a, b, i-1, j)
			return
		}
	}
}

// Normal is the unit vector square to the plane, towards greater x.
func (p Plane) Normal() mgl64.Vec3 {
	return mgl64.Vec3{1, -math.Tan(float64(p.Cant)), -math.Tan(float64(p.Rake))}.Normalize()
}
