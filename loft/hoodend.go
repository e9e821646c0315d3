package loft

import (
	"math"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// HoodEnd is how the end of a strake lies to the centre plane of the hull, where the
// planks of the two sides meet at stem or sternpost.
type HoodEnd struct {
	Strake   string     // its ID
	Frame    int        // the first or the last at which the layer is laid
	Breadth  float64    // mm, the half-breadth at its end
	ToCentre hull.Angle // between its face and the centre plane, 0 to a right angle
	Bevel    hull.Angle // off square, so that the end lies in the centre plane: a right angle less ToCentre; its outer face is the longer
	Rake     hull.Angle // angle of that end, in the face, off square to the strake's run; positive where its upper edge is the longer
	Lies     HoodLie
}

// HoodLie is how the end of a strake lies to the centre plane.
type HoodLie string

// The ways.
const (
	HoodMeets  HoodLie = "meets"  // it meets the centre plane, and is cut by Bevel and Rake
	HoodAlong  HoodLie = "along"  // it lies along the plane rather than against it: its end is cut to the rabbet line, square through the thickness, and the rabbet is cut to take it
	HoodUnsure HoodLie = "unsure" // it meets the plane, but the hull turns so much beside it that no frame defines its face: its angles are 0, and must be taken off the hull
	HoodOff    HoodLie = "off"    // it ends clear of the plane, as on a transom or a counter, and is cut to fit what stands there
)

// mostHood is the steepest bevel to which an end is planed, 75 degrees: beyond that it
// would be a feather edge four times as long as the plank is thick. Common practice, no
// source.
const mostHood = 5 * math.Pi / 12

// HoodEnds gives the ends of the strakes laid at the first and the last frame of the
// layer, from the upper limit down, those of the first frame first. A face parallel to
// the centre plane never meets it: its ToCentre and Rake are 0 and its Bevel is a right
// angle, to which no plank is cut. A hull of unknown shape has none.
func (l *Layer) HoodEnds() []HoodEnd {
	if l.Surface.shapeless {
		return nil
	}
	first, last := l.Surface.Planked()
	var out []HoodEnd
	for _, end := range []struct {
		frame, bay int
		on         float64 // the direction off the hull along x
	}{{first, first, -1}, {last, last - 1, 1}} {
		from, least := len(out), math.Inf(1)
		for n := l.nextLaid(0, end.frame); n < len(l.Strakes); n = l.nextLaid(n+1, end.frame) {
			h := hoodEnd(l.faceAt(n, end.frame), end.on)
			if at := l.Strakes[n].Centre.V[l.Surface.FrameStation(end.frame)]; l.Surface.onTrust(end.bay, at) {
				h = HoodEnd{Lies: HoodUnsure}
			}
			h.Strake, h.Frame = l.Strakes[n].ID, end.frame
			h.Breadth = l.Strakes[n].Centre.P[l.Surface.FrameStation(end.frame)].Y()
			out, least = append(out, h), min(least, h.Breadth)
		}
		post := 0.0
		if isPost(l.Surface.FrameName(end.frame)) {
			post = least // its siding
		}
		for i := from; i < len(out); i++ {
			out[i].Lies = out[i].lie(post + l.width)
		}
	}
	return out
}

// isPost reports whether a frame of that name is the curve of a stem or a sternpost.
func isPost(name string) bool {
	return hull.Frame{Name: name}.IsEnd() && !strings.EqualFold(name, "transom")
}

// HoodEndsOf gives the hood ends of one strake: at most two.
func (l *Layer) HoodEndsOf(id string) []HoodEnd {
	var out []HoodEnd
	for _, h := range l.HoodEnds() {
		if h.Strake == id {
			out = append(out, h)
		}
	}
	return out
}

// lie gives how an end lies that reaches the centre plane if it is no farther from it
// than the given distance, mm: the width of a strip, beyond the siding of a post.
func (h *HoodEnd) lie(within float64) HoodLie {
	switch {
	case h.Breadth > within:
		return HoodOff
	case h.Lies == HoodUnsure:
		return HoodUnsure
	case h.Bevel > mostHood:
		return HoodAlong
	}
	return HoodMeets
}

// AtLimit reports whether an edge of strake n, the upper or the lower, is the layer's
// outermost at a frame, which meets the limit there.
func (l *Layer) AtLimit(n, frame int, upper bool) bool {
	if upper {
		return l.nextLaid(0, frame) == n
	}
	return l.Strakes[n].At[frame].Laid && l.nextLaid(n+1, frame) == len(l.Strakes)
}

// athwart is square to the centre plane, outwards.
var athwart = mgl64.Vec3{0, 1, 0}

// hoodEnd reads the angles of a face at the end of least x (on −1) or greatest (1). The
// face cuts the centre plane along n × y; n × t is square to its run.
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

// mostRabbet is the steepest bevel of an edge at a limit, 45 degrees. Past that the plank
// lies along the keel or the wale rather than against it: its edge is left square, and the
// rabbet cut to take it. Common practice, no source.
const mostRabbet = math.Pi / 4

// atLimit gives the turn of an edge at a limit for its bevel.
func atLimit(bevel float64) hull.Angle {
	if math.Abs(bevel) > mostRabbet {
		return 0
	}
	return hull.Angle(2 * bevel)
}

// rabbetTurn is twice the bevel of the lowest strake's lower edge at a frame, f being
// its face: the turn that brings the edge against the upright side of the keel or, in
// the centre plane, against the garboard of the other side. It is the deadrise, seen
// square to the strake's run; like other bevels it is positive where the hull is convex
// there.
func (s *Surface) rabbetTurn(frame int, f *face) hull.Angle {
	if s.shapeless {
		return 0
	}
	edge := f.tangent.Cross(f.normal) // in the face, square to its run
	_, down := s.tangentsAt(s.FrameStation(frame), 1)
	if edge.Dot(down) < 0 {
		edge = edge.Mul(-1)
	}
	inwards := athwart.Mul(-1)
	inwards = inwards.Sub(f.tangent.Mul(inwards.Dot(f.tangent)))
	return atLimit(math.Atan2(-inwards.Dot(f.normal), inwards.Dot(edge)))
}

// waleTurn is twice the bevel of the top strake's upper edge at a frame, f being its
// face: the turn that closes it against the square edge of the wale above, which stands
// square to the face it lies on. That face is the frames' own, over the width of a
// strip above the limit, where the hull goes on there, and the surface at the limit
// elsewhere.
func (l *Layer) waleTurn(frame int, f *face) hull.Angle {
	s := l.Surface
	if s.shapeless {
		return 0
	}
	above := face{tangent: f.tangent}
	if l.above != nil && l.above[frame] != (mgl64.Vec3{}) {
		above.normal = f.tangent.Cross(l.above[frame])
	}
	if above.normal.Len() < 1e-9 {
		j := s.atStation(s.FrameStation(frame), 0)
		above.normal = j.Normal()
	}
	above.normal = above.normal.Normalize()
	return atLimit(float64(turn(&above, f)))
}

// leastWale is the least girth above the upper limit, mm, that shows how the wale
// stands.
const leastWale = 0.5

// chordsAbove gives, at every frame of the innermost layer, the direction down the
// frame over the width of a strip above the upper limit; a zero vector where the frame
// does not reach that far. Nil where none does.
func (l *Layer) chordsAbove(h *hull.Hull) []mgl64.Vec3 {
	if l.Number > 1 || l.Surface.shapeless || len(h.Limits.Down) == 0 {
		return nil
	}
	o, err := OutlinesOf(h)
	if err != nil {
		return nil // cannot happen: a lofted hull has outlines
	}
	down, _ := Insets(h)
	out := make([]mgl64.Vec3, len(down))
	for i, mm := range down {
		if mm > leastWale {
			out[i] = o.At(i, mm).Sub(o.At(i, mm-min(l.width, mm)))
		}
	}
	return out
}
