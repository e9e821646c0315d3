package loft

import (
	"math"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

const (
	// hollowShare is the share of the least hollow radius that planking may take up: at the
	// full radius the outer face would come to a point, so a tenth is left to loft through.
	// Our choice.
	hollowShare = 0.9
	// leastMitre is the least cosine of half the turn of a knuckle round which full
	// thickness is carried, which extends it to three times the thickness. Our choice.
	leastMitre = 1. / 3
)

// offset gives the surface that the next layer lies on: this one moved out along its
// normal by planking t mm thick, laid from frame from to frame to, and lofted again
// through its sections at the frames. At a knuckle the two sides are extended until
// they meet. Where the full thickness would fold the surface it is moved out by less,
// blended into the full thickness beside it, and the surface keeps a list of those
// places (folds). Where no thickness at all can be added without a fold the result is
// this surface itself.
func (s *Surface) offset(t float64, from, to int) *Surface {
	k := s.newSkin(t, from, to)
	out := *k.settle()
	out.first, out.last, out.planes = s.first, s.last, s.planes
	out.folds, out.turns = k.places(), nil
	return &out
}

// settle thins the skin until its outer face does not fold, and gives that face.
func (k *skin) settle() *Surface {
	for k.round = range mostRounds {
		k.blend()
		frames, bad := k.sections()
		if len(bad) == 0 {
			out, err := Loft(frames)
			if err == nil {
				return out
			}
			bad = k.blamed(frames, err)
		}
		k.cut(bad)
	}
	k.bare()
	return k.s
}

// planeOf gives the plane in which a frame stands. A stem or stern curve stands in none
// unless it is square to the keel: the planking runs into its rabbet, and ends there
// square to itself.
func planeOf(f hull.Frame) *hull.Plane {
	p, ok := f.Plane()
	if !ok || f.IsEnd() && !strings.EqualFold(f.Name, "transom") && !p.Square() {
		return nil
	}
	return &p
}

// moved is the point at (u, v) moved out by t; on a knuckle line along the
// mitre p + t·(n₁ + n₂)/(1 + n₁·n₂), which keeps t from both panels.
func (s *Surface) moved(u, v, t float64) mgl64.Vec3 {
	j := s.At(u, v)
	n := j.Normal()
	for k := 1; k < len(s.breaks)-1; k++ {
		if v == s.breaks[k] {
			above := s.at(k-1, u, v)
			m := above.Normal()
			return j.P.Add(n.Add(m).Mul(t / max(1+n.Dot(m), 1e-9)))
		}
	}
	return j.P.Add(n.Mul(t))
}

// movedToPlane finds, for one v, where the moved surface meets the plane of frame i, by
// the secant method from there; it fails where the surface has already turned away.
func (s *Surface) movedToPlane(i int, v, t float64, plane *hull.Plane) (mgl64.Vec3, bool) {
	past := func(p mgl64.Vec3) float64 { return p.X() - plane.At(p.Y(), p.Z()) }
	j := s.At(s.u[i], v)
	u0 := s.u[i]
	y0 := past(s.moved(u0, v, t))
	u1 := u0 - y0/(past(j.Pu)+plane.X)
	for range 40 {
		p := s.moved(u1, v, t)
		y1 := past(p)
		if math.Abs(y1) < 1e-9 {
			there := s.At(u1, v)
			n := there.Normal()
			return p, n.Dot(j.Normal()) > 0
		}
		if y1 == y0 {
			break
		}
		u0, y0, u1 = u1, y1, u1-y1*(u1-u0)/(y1-y0)
		if math.IsNaN(u1) || math.Abs(u1-s.u[i]) > s.u[len(s.u)-1]/4 {
			break
		}
	}
	return mgl64.Vec3{}, false
}
