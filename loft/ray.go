package loft

import "math"

// ray is one of a family of neighbouring geodesics of a surface, square to a curve, and
// their spacing: j mm for each mm of the curve. n mm along it j″ + K·j = 0, with K the
// Gaussian curvature (Jacobi's equation; do Carmo, Differential Geometry of Curves and
// Surfaces, 5-5, and 4-6 for geodesic coordinates of metric dn² + j²·dt²). The curve
// that lies n mm off the first has the geodesic curvature κ = −j′/j, positive where it
// bends in the direction of the geodesics, since parallel curves on that side are
// shorter (Struik, Lectures on Classical Differential Geometry, 4-3). So dκ/dn = K +
// κ², which is dκ/dn = −K − κ² if κ is counted positive the other way.
type ray struct {
	s        *Surface
	samples  []sample
	end      traceEnd
	from     float64 // n where it starts
	n        float64 // to which j and slope are known
	i        int     // the sample at or before it
	j, slope float64 // j and j′ there
	folded   bool    // j has reached zero: neighbours meet
}

// bend is κ at the point to which the ray has been followed, 1/mm.
func (r *ray) bend() float64 { return -r.slope / r.j }

// at follows the ray to n, which must not fall from call to call, and gives its place
// and velocity; ok is false where it does not reach that far.
func (r *ray) at(n float64) (p sample, ok bool) {
	last := len(r.samples) - 1
	if n < r.from-1e-9 || n-r.from > r.samples[last].s+1e-9 || r.folded {
		return p, false
	}
	for {
		for r.i < last && r.samples[r.i+1].s <= r.n-r.from+1e-12 {
			if r.samples[r.i+1].s == r.samples[r.i].s {
				r.overKnuckle(r.samples[r.i])
			}
			r.i++
		}
		if r.i == last || r.n >= n-1e-12 {
			break
		}
		r.stepTo(min(n, r.from+r.samples[r.i+1].s, r.n+jacobiStep))
		if !(r.j > 0) || math.IsNaN(r.slope) {
			r.folded = !(r.j > 0)
			return p, false
		}
	}
	if r.i == last {
		return r.samples[last], true
	}
	return r.place(n), true
}

// place is the place n mm off the line, between the sample reached and the next.
func (r *ray) place(n float64) sample {
	a, b := r.samples[r.i], r.samples[r.i+1]
	return between(a, b, min(max((n-r.from-a.s)/(b.s-a.s), 0), 1))
}

// stepTo advances j by a step of the classical Runge-Kutta method.
func (r *ray) stepTo(n float64) {
	h := n - r.n
	k0, k1, k2 := r.gauss(r.n), r.gauss(r.n+h/2), r.gauss(n)
	j, d := r.j, r.slope
	a0, b0 := d, -k0*j
	a1, b1 := d+h/2*b0, -k1*(j+h/2*a0)
	a2, b2 := d+h/2*b1, -k1*(j+h/2*a1)
	a3, b3 := d+h*b2, -k2*(j+h*a2)
	r.j += h / 6 * (a0 + 2*a1 + 2*a2 + a3)
	r.slope += h / 6 * (b0 + 2*b1 + 2*b2 + b3)
	r.n = n
}

// gauss is the Gaussian curvature n mm off the line, on the panel that the ray is in.
func (r *ray) gauss(n float64) float64 {
	p := r.place(n)
	middle := (r.samples[r.i].v + r.samples[r.i+1].v) / 2
	j := r.s.at(r.s.panelAt(middle), p.u, p.v)
	_, k := j.meanAndGauss()
	return k
}

// overKnuckle carries j′ across a knuckle line. All the curvature of the surface's edge
// is concentrated in the line: κ₁ + κ₂ for each mm of it, its geodesic curvatures
// towards either panel (Gauss-Bonnet theorem for a strip about the edge; do Carmo,
// 4-5). Two neighbours that meet it at an angle α have j/sin α mm of it between them.
func (r *ray) overKnuckle(a sample) {
	lower := r.s.panelAt(a.v)
	if lower == 0 {
		return
	}
	up, down := r.s.at(lower-1, a.u, a.v), r.s.at(lower, a.u, a.v)
	bent := float64(down.strainsAlong(0, 0).edge - up.strainsAlong(0, 0).edge)
	from := &down
	if a.dv > 0 {
		from = &up
	}
	along := from.Pu.Mul(a.du).Add(from.Pv.Mul(a.dv)).Dot(from.Pu.Normalize())
	r.slope -= bent * r.j / math.Sqrt(max(1-along*along, 1e-12))
}
