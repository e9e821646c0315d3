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

// pitch is what a whole strip takes up on the frame, mm: its width and creep,
// changed at either edge by half of t·θ for a turn of θ. Square edges meet at
// their inner corners on a convex turn and lose nothing; bevelled until they
// close they lose it. On a hollow the square edges meet at their outer corners
// and stand apart on the frame by as much; bevelled they close. It is never less than
// that share of the strip's width.
func pitch(l *hull.Layer, strip, least float64, upper, lower hull.Angle) float64 {
	p := strip + l.Creep
	for _, turn := range []hull.Angle{upper, lower} {
		half := l.Stock.Thickness * float64(turn) / 2
		if l.Edges == hull.Bevelled {
			p -= max(half, 0)
		} else {
			p += max(-half, 0)
		}
	}
	return max(p, least*strip) // bevels never take more: such edges are left square
}
