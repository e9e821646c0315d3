package loft

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// ease moves a course to the least edge-set, ∫κg² ds, among all battens that
// pass through the held (u, v) and take any place at the other frames. Gauss
// and Newton's rule on the edge-set at the stations, linear in the frames'
// places through the batten; each round is kept only if it eases the line.
func (s *Surface) ease(c course, heldU, heldV []float64) course {
	open := s.openFrames(heldU)
	if len(open) == 0 || len(heldU) == 0 {
		return c
	}
	v := s.atFrames(c)
	for k, u := range heldU {
		v[s.bayAt(u)] = heldV[k]
	}
	influence := s.influences(open)
	c = s.sprung(s.u, v)
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
			moved = s.sprung(s.u, trial)
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

// bayAt is the index of the frame whose u that is.
func (s *Surface) bayAt(u float64) int {
	best := 0
	for i := range s.u {
		if math.Abs(s.u[i]-u) < math.Abs(s.u[best]-u) {
			best = i
		}
	}
	return best
}

// openFrames lists the frames that are not held.
func (s *Surface) openFrames(held []float64) []int {
	taken := make([]bool, len(s.u))
	for _, u := range held {
		taken[s.bayAt(u)] = true
	}
	var out []int
	for i, t := range taken {
		if !t {
			out = append(out, i)
		}
	}
	return out
}

// atFrames reads a course at the frames.
func (s *Surface) atFrames(c course) []float64 {
	out := make([]float64, s.Frames())
	for i := range out {
		out[i] = c.v[s.FrameStation(i)]
	}
	return out
}

// influences gives the course that the batten takes for a unit at each of the
// frames: the batten is linear in its places.
func (s *Surface) influences(frames []int) []course {
	out := make([]course, len(frames))
	unit := make([]float64, s.Frames())
	for k, i := range frames {
		unit[i] = 1
		out[k] = s.sprung(s.u, unit)
		unit[i] = 0
	}
	return out
}

// weight is the root of the arc length that a station stands for.
func (s *Surface) weight(i int, speed float64) float64 {
	a, b := max(i-1, 0), min(i+1, len(s.stations)-1)
	return math.Sqrt(speed * (s.stations[b] - s.stations[a]) / 2)
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
