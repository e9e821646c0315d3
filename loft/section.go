package loft

import (
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft/curve"

	"github.com/go-gl/mathgl/mgl64"
)

// Section gives the section square to the keel at x, mm, of the surface moved in along
// its normal by inset mm (out, where negative): points from the upper to the lower
// limit, y never below 0, each to 1e-9 mm of that x. At a knuckle the two sides are
// extended until they meet. Near a raked end the section contains only the part of the
// surface that reaches x. The error says that x lies off the hull, or that the inset
// leaves nothing there.
func (s *Surface) Section(x, inset float64) ([]mgl64.Vec3, error) {
	if s.shapeless {
		return nil, tongue.Errorf("there is no section: %w", ErrShapeless)
	}
	if lo, hi := s.reachOfX(); !(x >= lo && x <= hi) {
		return nil, tongue.Errorf("x = %.2f mm is off the hull, which runs from %.2f to %.2f mm: choose a section between", x, lo, hi)
	}
	if math.IsNaN(inset) || math.IsInf(inset, 0) {
		return nil, tongue.Errorf("an inset of %g mm is not a length: give it in mm", inset)
	}
	var best []mgl64.Vec3
	for _, r := range s.sectionRuns(x, inset) {
		if q := outside(r.unlooped().onwards()); len(q) > len(best) {
			best = q
		}
	}
	if len(best) < 2 || polylineLength(best) < curve.LeastChord {
		return nil, tongue.Errorf("moved in by %.2f mm, nothing of the hull is left at x = %.2f mm: take a smaller inset or another section", inset, x)
	}
	return best, nil
}

// sectionRun is an unbroken part of a section: its points, and the points of the
// unmoved surface that they come from.
type sectionRun struct{ p, base []mgl64.Vec3 }

// sectionRuns gives the parts of the moved surface that reach x.
func (s *Surface) sectionRuns(x, inset float64) []*sectionRun {
	var runs []*sectionRun
	fresh := true
	for n := range s.panels {
		for k, v := range s.panels[n].v {
			if n > 0 && k == 0 {
				continue // the panel above made it
			}
			p, base, ok := s.sectionPoint(x, v, inset)
			if !ok {
				fresh = true
				continue
			}
			if fresh {
				runs = append(runs, &sectionRun{})
			}
			fresh = false
			r := runs[len(runs)-1]
			r.p, r.base = append(r.p, p), append(r.base, base)
		}
	}
	return runs
}

// unlooped cuts out the loops that form where a bend or a corner is tighter
// than the inset: from the first crossing of two sides to its return.
func (r *sectionRun) unlooped() *sectionRun {
	out := &sectionRun{}
	for i := 0; i < len(r.p); i++ {
		out.p, out.base = append(out.p, r.p[i]), append(out.base, r.base[i])
		for j := len(r.p) - 2; j > i+1; j-- {
			if c, ok := sidesCross(r.p[i], r.p[i+1], r.p[j], r.p[j+1]); ok {
				out.p, out.base = append(out.p, c), append(out.base, r.base[j])
				i = j
				break
			}
		}
	}
	return out
}

// onwards leaves out what runs backwards against the unmoved section: points past the
// centre of a bend tighter than the inset.
func (r *sectionRun) onwards() []mgl64.Vec3 {
	var out []mgl64.Vec3
	last := 0
	for i, p := range r.p {
		if n := len(out); n > 0 && p.Sub(out[n-1]).Dot(r.base[i].Sub(r.base[last])) <= 0 {
			continue
		}
		out, last = append(out, p), i
	}
	return out
}

// sidesCross is where the sides ab and cd cross in the plane of y and z.
func sidesCross(a, b, c, d mgl64.Vec3) (mgl64.Vec3, bool) {
	side := func(p, q, r mgl64.Vec3) float64 {
		return (q.Y()-p.Y())*(r.Z()-p.Z()) - (q.Z()-p.Z())*(r.Y()-p.Y())
	}
	ca, cb := side(c, d, a), side(c, d, b)
	ac, ad := side(a, b, c), side(a, b, d)
	if ca*cb > 0 || ac*ad > 0 || ca == cb || ac == ad {
		return mgl64.Vec3{}, false
	}
	return a.Add(b.Sub(a).Mul(ca / (ca - cb))), true
}

// reachOfX gives the least and the greatest x of the surface.
func (s *Surface) reachOfX() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for n := range s.panels {
		for _, v := range s.panels[n].v {
			lo = min(lo, s.at(n, s.u[0], v).P.X())
			hi = max(hi, s.at(n, s.u[len(s.u)-1], v).P.X())
		}
	}
	return lo, hi
}

// sectionPoint finds, for one v, where the moved surface reaches x, and the point of
// the unmoved one that it comes from: first the bay in which it passes x, then by false
// position within.
func (s *Surface) sectionPoint(x, v, inset float64) (p, base mgl64.Vec3, ok bool) {
	miss := func(u float64) float64 { return s.moved(u, v, -inset).X() - x }
	from := s.u[0] - s.pastEnd(0, inset)
	last := miss(from)
	for i := 1; i <= len(s.u); i++ {
		to := s.u[min(i, len(s.u)-1)]
		if i == len(s.u) {
			to += s.pastEnd(i-1, inset)
		}
		next := miss(to)
		if last <= 0 && next >= 0 {
			u := passes(miss, from, to, last, next)
			p = s.moved(u, v, -inset)
			p[0] = x
			return p, s.At(u, v).P, true
		}
		from, last = to, next
	}
	return p, base, false
}

// pastEnd is how far past an end frame, in u, the surface is followed: since the
// normals lean, the moved surface reaches a flat frame's x from outside it. An end
// curve is the end.
func (s *Surface) pastEnd(frame int, inset float64) float64 {
	if s.planes[frame] != nil {
		return 2*math.Abs(inset) + curve.LeastChord
	}
	return curve.LeastChord
}

// passes finds the zero of f between a and b, with fa ≤ 0 and fb ≥ 0 there, by the
// Illinois method (Dowell and Jarratt, BIT 11, 1971), to 1e-10 mm.
func passes(f func(float64) float64, a, b, fa, fb float64) float64 {
	const enough = 1e-10
	side := 0
	for range 80 {
		if fa >= -enough {
			return a
		}
		if fb <= enough {
			return b
		}
		m := a - fa*(b-a)/(fb-fa)
		fm := f(m)
		switch {
		case fm < 0:
			a, fa = m, fm
			if side < 0 {
				fb /= 2
			}
			side = -1
		default:
			b, fb = m, fm
			if side > 0 {
				fa /= 2
			}
			side = 1
		}
		if math.Abs(fm) <= enough {
			return m
		}
	}
	return a + (b-a)/2
}

// outside keeps the longest run of points with y ≥ 0, ending on the centre line where
// the section crosses it.
func outside(p []mgl64.Vec3) []mgl64.Vec3 {
	var best, run []mgl64.Vec3
	for i, q := range p {
		in := q.Y() >= 0
		if i > 0 && in != (p[i-1].Y() >= 0) {
			a := p[i-1]
			run = append(run, a.Add(q.Sub(a).Mul(a.Y()/(a.Y()-q.Y()))))
			run[len(run)-1][1] = 0
		}
		if in {
			run = append(run, q)
		}
		if len(run) > len(best) {
			best = run
		}
		if !in {
			run = nil
		}
	}
	return best
}
