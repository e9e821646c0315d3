package loft

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// HoodEnd is how the end of a strake lies to the centre plane of the hull, in which
// the planks of the two sides meet at stem or sternpost.
type HoodEnd struct {
	Strake   string     // its ID
	Frame    int        // the first or the last that the layer is laid at
	Breadth  float64    // mm, the half-breadth of its end: how far off the centre plane it ends
	ToCentre hull.Angle // between its face and the centre plane, 0 to a right angle
	Bevel    hull.Angle // off square, for the end to lie in the centre plane: a right angle less ToCentre; its outer face is the longer
	Rake     hull.Angle // in the face, of that end off square to the strake's run; positive where its upper edge is the longer
}

// HoodEnds gives the ends of the strakes laid at the first and the last frame of the
// layer, from the upper limit down, those of the first frame first. A face that
// stands along the centre plane never comes to it: its ToCentre and Rake are 0 and
// its Bevel is a right angle, which no plank is cut to. Of a hull without a shape
// there are none.
func (l *Layer) HoodEnds() []HoodEnd {
	if l.Surface.shapeless {
		return nil
	}
	first, last := l.Surface.Planked()
	var out []HoodEnd
	for _, end := range []struct {
		frame int
		on    float64 // the way off the hull along x
	}{{first, -1}, {last, 1}} {
		for n := l.nextLaid(0, end.frame); n < len(l.Strakes); n = l.nextLaid(n+1, end.frame) {
			h := hoodEnd(l.faceAt(n, end.frame), end.on)
			h.Strake, h.Frame = l.Strakes[n].ID, end.frame
			h.Breadth = l.Strakes[n].Centre.P[l.Surface.FrameStation(end.frame)].Y()
			out = append(out, h)
		}
	}
	return out
}

// athwart is square to the centre plane, outwards.
var athwart = mgl64.Vec3{0, 1, 0}

// hoodEnd reads the angles of a face at the end of least x (on -1) or greatest (1).
// The face cuts the centre plane along n × y; square to its run runs n × t.
func hoodEnd(f face, on float64) HoodEnd {
	h := HoodEnd{ToCentre: hull.Angle(math.Acos(min(math.Abs(f.normal.Dot(athwart)), 1)))}
	h.Bevel = math.Pi/2 - h.ToCentre
	cut := f.normal.Cross(athwart)
	if cut.Len() < 1e-9 {
		return h
	}
	square := f.tangent.Cross(f.normal).Normalize()
	if square.Z() < 0 {
		square = square.Mul(-1) // towards the upper edge
	}
	if cut.Dot(square) < 0 {
		cut = cut.Mul(-1)
	}
	h.Rake = hull.Angle(math.Atan2(on*cut.Dot(f.tangent), cut.Dot(square)))
	return h
}

// RabbetBevels gives at every frame the bevel of the garboard's lower edge, off
// square: what brings it to lie against the upright side of the keel, or in the
// centre plane against the garboard of the other side. It is the deadrise, seen
// square to the strake's run; positive where the hull is convex there, as other
// bevels are. NaN at frames where no strake is laid; nil of a hull without a shape.
func (l *Layer) RabbetBevels() []hull.Angle {
	return l.edgeBevels(func(frame int) hull.Angle {
		n := -1
		for k := l.nextLaid(0, frame); k < len(l.Strakes); k = l.nextLaid(k+1, frame) {
			n = k
		}
		f := l.faceAt(n, frame)
		edge := f.tangent.Cross(f.normal) // in the face, square to its run
		down := l.Surface.atStation(l.Surface.FrameStation(frame), 1)
		if edge.Dot(down.Pv) < 0 {
			edge = edge.Mul(-1)
		}
		inwards := athwart.Mul(-1)
		inwards = inwards.Sub(f.tangent.Mul(inwards.Dot(f.tangent)))
		return hull.Angle(math.Atan2(-inwards.Dot(f.normal), inwards.Dot(edge)))
	})
}

// WaleBevels gives at every frame the bevel of the top strake's upper edge, off
// square: what closes it against the square edge of the wale above, which stands
// square to the face that it lies on. That face is the frames' own for the width of
// a strip above the limit, where the hull of the innermost layer goes on there, and
// the surface at the limit elsewhere. Positive where the hull is convex. NaN at
// frames where no strake is laid; nil of a hull without a shape. The error names a
// frame that has no outline.
func (l *Layer) WaleBevels(h *hull.Hull) ([]hull.Angle, error) {
	var o *Outlines
	var down []float64
	if l.Number == 1 && !l.Surface.shapeless {
		var err error
		if o, err = OutlinesOf(h); err != nil {
			return nil, err
		}
		down, _ = Insets(h)
	}
	return l.edgeBevels(func(frame int) hull.Angle {
		f := l.faceAt(l.nextLaid(0, frame), frame)
		at := l.Surface.atStation(l.Surface.FrameStation(frame), 0)
		above := face{tangent: f.tangent, normal: at.Normal()}
		if o != nil && down[frame] > leastWale {
			chord := o.At(frame, down[frame]).Sub(o.At(frame, down[frame]-min(l.width, down[frame])))
			if n := f.tangent.Cross(chord); n.Len() > 1e-9 {
				above.normal = n.Normalize()
			}
		}
		return turn(&above, &f)
	}), nil
}

// leastWale is the least girth above the upper limit, mm, that tells how the wale
// stands.
const leastWale = 0.5

// edgeBevels gives the bevel of a frame at every frame where a strake is laid.
func (l *Layer) edgeBevels(of func(frame int) hull.Angle) []hull.Angle {
	if l.Surface.shapeless {
		return nil
	}
	out := make([]hull.Angle, l.Surface.Frames())
	for i := range out {
		out[i] = hull.Angle(math.NaN())
		if l.nextLaid(0, i) < len(l.Strakes) {
			out[i] = of(i)
		}
	}
	return out
}
