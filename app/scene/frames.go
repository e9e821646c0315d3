package scene

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/loft"
)

// Frames makes the scene of the bare frames of a layer's hull, as they stand before planking: each a
// flat face, filled from its outline to the middle of the ship, and the limits along them, with the
// line, if any, along which a strip is to lie. The outlines are points from the top of each frame
// downwards, mm, with the frames in order.
func Frames(l *loft.Layer, outlines [][]mgl64.Vec3, chosen int, along *loft.Line) *Scene {
	s := &Scene{}
	for f, outline := range outlines {
		s.flat(outline, int16(f), 1)
		s.flat(outline, int16(f), -1)
		kind, width := BareFrameLine, 1.4
		if f == chosen {
			kind, width = BareChosenLine, 2.2
		}
		s.Draw(outline, kind, width, true)
	}
	for _, k := range []int{0, len(l.Lines) - 1} {
		s.Draw(l.Lines[k].P, BareLimitLine, 1.4, true)
	}
	if along != nil {
		s.Draw(along.P, BareChosenLine, 1, true)
	}
	return s
}

// flat fills half a frame: from its outline straight inwards, in its own plane, to the
// middle of the ship. A frame without breadth, such as a stem, has nothing to fill.
func (s *Scene) flat(outline []mgl64.Vec3, frame int16, side float64) {
	normal, ok := planeOf(outline)
	if !ok {
		return
	}
	base := int32(len(s.Vertices))
	n := across(normal, side)
	for _, p := range outline {
		inner := mgl64.Vec3{p.X() + normal.Y()*p.Y()/normal.X(), 0, p.Z()}
		for _, q := range []mgl64.Vec3{p, inner} {
			s.Vertices = append(s.Vertices, Vertex{At: across(q, side), Normal: n, Of: BareFrame})
		}
	}
	t := Tag{NoStrake, frame}
	for i := range int32(len(outline) - 1) {
		a := base + 2*i
		s.Triangles = append(s.Triangles, Triangle{a, a + 1, a + 2, t, false}, Triangle{a + 1, a + 3, a + 2, t, false})
	}
}

// planeOf gives the unit normal, towards increasing x, of the plane in which an
// outline lies; false where that plane runs along the ship, or nearly so.
func planeOf(outline []mgl64.Vec3) (mgl64.Vec3, bool) {
	const steep = 0.2 // least component along x of a unit normal: a cant of nearly 80°
	first, square := outline[0], true
	sum := mgl64.Vec3{}
	for i := 1; i < len(outline); i++ {
		square = square && math.Abs(outline[i].X()-first.X()) < 1e-6
		sum = sum.Add(outline[i-1].Sub(first).Cross(outline[i].Sub(first)))
	}
	switch {
	case square:
		return mgl64.Vec3{1, 0, 0}, true
	case sum.X() < 0:
		sum = sum.Mul(-1)
	}
	return unit(sum), sum.X() > steep*sum.Len()
}

// with gives a copy of the scene to which more can be added without changing this
// one.
func (s *Scene) with() *Scene {
	out := *s
	out.Vertices, out.Triangles, out.Lines = slices.Clip(s.Vertices), slices.Clip(s.Triangles), slices.Clip(s.Lines)
	return &out
}
