package loft

import (
	"math"

	"github.com/strakewright/strakewright/hull"
)

// turn is the angle between the faces of two neighbouring strakes, square to
// their run: positive where the hull is convex there. Each of the two edges
// takes half of it as its bevel.
func turn(upper, lower *face) hull.Angle {
	run := upper.tangent.Add(lower.tangent)
	sin := -upper.normal.Cross(lower.normal).Dot(run)
	return hull.Angle(math.Atan2(sin, upper.normal.Dot(lower.normal)*run.Len()))
}

// edge is one edge of a strake at a frame: how the face turns there, and whether it is
// planed until it closes. In a layer whose edges stay square only those at the wale and
// the rabbet are planed, since they are fitted to keel and wale in any case.
type edge struct {
	turn   hull.Angle
	planed bool
}

// seamEdge is one that meets another strake's.
func seamEdge(l *hull.Layer, turn hull.Angle) edge { return edge{turn, l.Edges == hull.Bevelled} }

// limitEdge is one that meets the wale or the keel.
func limitEdge(turn hull.Angle) edge { return edge{turn, true} }

// bevel is half the turn, the angle planed off square; 0 for an edge left square.
func (e edge) bevel() hull.Angle {
	if !e.planed {
		return 0
	}
	return e.turn / 2
}

// pitch is the girth a whole strip covers on the frame, mm: its width and creep,
// changed at either edge by half of t·θ for a turn of θ. On a convex turn square edges
// meet at their inner corners and lose nothing; bevelled until they close, they lose
// that much. In a hollow square edges meet at their outer corners and stand apart on
// the frame by that much; bevelled, they close. It is never less than that share of the
// strip's width.
func pitch(l *hull.Layer, strip, least float64, upper, lower edge) float64 {
	p := strip + l.Creep
	for _, e := range []edge{upper, lower} {
		half := l.Stock.Thickness * float64(e.turn) / 2
		if e.planed {
			p -= max(half, 0)
		} else {
			p += max(-half, 0)
		}
	}
	return max(p, least*strip) // bevels never take more: edges that would are left square
}

// SquareEdges reports whether the edges of the layer's strakes are left square where
// they meet each other. Where they meet the wale or the keel they are fitted.
func (l *Layer) SquareEdges() bool { return l.edges == hull.Square }

// Planes reports whether an edge of a strake, the upper or the lower, has a bevel at
// any frame that is large enough to plane.
func (st *Strake) Planes(upper bool) bool {
	for _, c := range st.At {
		bevel := c.BevelLower
		if upper {
			bevel = c.BevelUpper
		}
		if math.Abs(bevel.Degrees()) >= LeastBevel {
			return true
		}
	}
	return false
}
