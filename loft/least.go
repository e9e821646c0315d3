package loft

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// ease moves a course to the least edge-set, ∫κg² ds, among all C2 cubics that
// pass through its places at the held u, with knots at and halfway between the frames. Gauss
// and Newton's rule on the edge-set at the stations, linear in the knots'
// places through the cubic; each round is kept only if it eases the line. The
// cubics are not-a-knot: a batten is straight at its ends, which a line of
// least edge-set need not be.
func (s *Surface) ease(c course, held []float64) course {
	knots, v := s.halfBays(c)
	open := openKnots(knots, held)
	if len(open) == 0 {
		return c
	}
	influence := s.influences(knots, open)
	c = s.supple(knots, v)
	best := s.stress(c)
	for range 12 {
		step, ok := s.easing(c, influence)
		if !ok {
			break
		}
		trial, moved, stress := v, c, math.Inf(1)
		for scale := 1.0; scale > 0.1 && !(stress < best); scale /= 2 {
			trial = append([]float64{}, v...)
			for k, i := range open {
				trial[i] = min(max(v[i]+scale*step[k], -beyond), 1+beyond)
			}
			moved = s.supple(knots, trial)
			stress = s.stress(moved)
		}
		if !(stress < best) {
			break
		}
		gain := (best - stress) / best
		v, c, best = trial, moved, stress
		if gain < 1e-6 {
			break
		}
	}
	return c
}

// halfBays gives u of every second station, which are the frames and the
// places halfway between, and the course there.
func (s *Surface) halfBays(c course) (knots, v []float64) {
	for i := 0; i < len(s.stations); i += stationsPerBay / 2 {
		knots = append(knots, s.stations[i])
		v = append(v, c.v[i])
	}
	return knots, v
}

// openKnots lists the knots that are not held.
func openKnots(knots, held []float64) []int {
	var out []int
	for i, u := range knots {
		if !slices.Contains(held, u) {
			out = append(out, i)
		}
	}
	return out
}

// supple is the course of the not-a-knot cubic through places at the knots.
func (s *Surface) supple(knots, v []float64) course {
	var slopes mat.VecDense
	slopes.MulVec(s.halfBaySlopes(), mat.NewVecDense(len(v), v))
	m := slopes.RawVector().Data
	c := newCourse(len(s.stations))
	for k, u := range s.stations {
		i := min(k/(stationsPerBay/2), len(knots)-2)
		c.v[k], c.v1[k], c.v2[k] = hermite(knots[i+1]-knots[i], v[i], v[i+1], m[i], m[i+1], u-knots[i])
	}
	return c
}

// influences gives the course for a unit at each of the open knots: it is
// linear in their places.
func (s *Surface) influences(knots []float64, open []int) []course {
	out := make([]course, len(open))
	unit := make([]float64, len(knots))
	for k, i := range open {
		unit[i] = 1
		out[k] = s.supple(knots, unit)
		unit[i] = 0
	}
	return out
}

// unplanked is how little the edge-set counts where the hull is not planked.
const unplanked = 1e-3

// weight is the root of the arc length that a station stands for.
func (s *Surface) weight(i int, speed float64) float64 {
	a, b := max(i-1, 0), min(i+1, len(s.stations)-1)
	w := math.Sqrt(speed * (s.stations[b] - s.stations[a]) / 2)
	if from, to := s.plankedStations(); i < from || i > to {
		w *= unplanked
	}
	return w
}

// stress is ∫κg² ds by the trapezium rule over the stations, 1/mm.
func (s *Surface) stress(c course) float64 {
	sum := 0.0
	for i := range c.v {
		j := s.atStation(i, c.v[i])
		st := j.strainsOf(1, c.v1[i], 0, c.v2[i])
		w := s.weight(i, st.speed)
		sum += float64(st.edge*st.edge) * w * w
	}
	return sum
}

// easing is the Gauss-Newton step of the open frames' places.
func (s *Surface) easing(c course, influence []course) ([]float64, bool) {
	n, m := len(c.v), len(influence)
	a := mat.NewDense(n, m, nil)
	b := mat.NewVecDense(n, nil)
	for i := range c.v {
		r, d0, d1, d2 := s.edgeSetSlopes(i, c)
		b.SetVec(i, -r)
		for k := range influence {
			f := &influence[k]
			a.Set(i, k, d0*f.v[i]+d1*f.v1[i]+d2*f.v2[i])
		}
	}
	var normal mat.SymDense
	normal.SymOuterK(1, a.T())
	for k := range m {
		normal.SetSym(k, k, normal.At(k, k)*(1+1e-12))
	}
	var chol mat.Cholesky
	var rhs, x mat.VecDense
	rhs.MulVec(a.T(), b)
	if !chol.Factorize(&normal) || chol.SolveVecTo(&x, &rhs) != nil {
		return nil, false
	}
	return x.RawVector().Data, true
}

// edgeSetSlopes gives the weighted edge-set at a station and its derivatives
// by v, v′ and v″, by differences.
func (s *Surface) edgeSetSlopes(i int, c course) (r, d0, d1, d2 float64) {
	v, v1, v2 := c.v[i], c.v1[i], c.v2[i]
	j := s.atStation(i, v)
	st := j.strainsOf(1, v1, 0, v2)
	w := s.weight(i, st.speed)
	at := func(j *Jet, v1, v2 float64) float64 { return w * float64(j.strainsOf(1, v1, 0, v2).edge) }
	r = w * float64(st.edge)
	const e = 1e-6
	scale := 1 / s.stations[len(s.stations)-1]
	moved := s.atStation(i, v+e)
	d0 = (at(&moved, v1, v2) - r) / e
	d1 = (at(&j, v1+e*scale, v2) - r) / (e * scale)
	d2 = (at(&j, v1, v2+e*scale*scale) - r) / (e * scale * scale)
	return r, d0, d1, d2
}
