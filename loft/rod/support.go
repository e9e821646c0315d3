package rod

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// Hold is how the strip is held at a support.
type Hold int

// The holds, from none to the most.
const (
	Free    Hold = iota // not at all: it may lift off, and slips along the outline
	Pressed             // pressed onto the outline, free to slip along it
	Pinned              // fixed to its place on the outline, free to roll about its own length
	Clamped             // fixed to its place with its face flat on the outline
)

// Place is a point on an outline. Tangent and Normal are unit vectors square to each
// other that span the support's plane.
type Place struct {
	P               mgl64.Vec3 // mm
	Tangent, Normal mgl64.Vec3 // the normal outwards, to the side the strip lies on
	Bend            float64    // 1/mm; positive where the outline is convex outwards
}

// Outline gives the place at a distance along it, mm; beyond its ends it continues
// straight. It is the curve on which the strip's middle line lies where the strip
// touches: half a thickness outside the support itself.
type Outline func(along float64) Place

// Support is a place where the strip is or may be supported.
type Support struct {
	Outline Outline
	At      float64 // mm along the outline: where the strip is first laid, and is pinned
	Hold    Hold
	Play    float64 // mm along the outline to either side of its place that a pinned or clamped strip may slip
}

// slips reports whether the strip may slip along the outline at all.
func (s *Support) slips() bool { return s.Hold < Pinned || s.Play > 0 }

// bounds are how far along the outline it may slip.
func (s *Support) bounds() (low, high float64) {
	if s.Hold < Pinned {
		return math.Inf(-1), math.Inf(1)
	}
	return s.At - s.Play, s.At + s.Play
}

// nearest gives the place of the outline nearest to a point of its plane, its distance
// along the outline, and the point's height over it; along is where the search starts.
// In a hollow it is one of the nearest.
func (o Outline) nearest(p mgl64.Vec3, along float64) (at Place, s, height float64) {
	for range 40 {
		at = o(along)
		off := p.Sub(at.P)
		height = off.Dot(at.Normal)
		step := off.Dot(at.Tangent) / max(1+at.Bend*height, 0.3)
		along += step
		if math.Abs(step) < 1e-12*(1+math.Abs(along)) {
			break
		}
	}
	at = o(along)
	return at, along, p.Sub(at.P).Dot(at.Normal)
}

// finite reports whether all numbers of a place are finite.
func (p Place) finite() bool {
	sum := p.Bend
	for i := range 3 {
		sum += p.P[i] + p.Tangent[i] + p.Normal[i]
	}
	return !math.IsNaN(sum) && !math.IsInf(sum, 0)
}
