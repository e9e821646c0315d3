package progress

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// regression is the Gaussian process of one band conditioned on its readings, once for
// every belief about the spreads.
type regression struct {
	s     *benchBand
	terms []conditioned
}

// conditioned is the process under one belief.
type conditioned struct {
	belief
	readings []reading
	chol     mat.Cholesky
	alpha    mat.VecDense // (K + noise)⁻¹ · strays
	logLike  float64      // of the readings, natural logarithm
}

// regress conditions the process.
func (s *benchBand) regress(readings []reading) *regression {
	g := &regression{s: s}
	j := s.jointOf(readings, s.wild)
	for _, b := range s.habit.all() {
		g.terms = append(g.terms, j.condition(b))
	}
	return g
}

// joint is the joint distribution of readings: their covariance in parts, each
// multiplied by the square of a spread, so that it is quickly assembled for any.
type joint struct {
	readings []reading
	fixed    []float64       // n by n, row by row, of the part that no spread changes
	parts    [hand][]float64 // of along to frame
	y        []float64
	care     []float64 // factor of the square of hand
}

// jointOf is the joint distribution of readings, the frames named in wild being off by
// more than others.
func (s *benchBand) jointOf(readings []reading, wild map[int]float64) *joint {
	n := len(readings)
	j := &joint{readings: readings, fixed: make([]float64, n*n), y: make([]float64, n), care: make([]float64, n)}
	for m := range j.parts {
		j.parts[m] = make([]float64, n*n)
	}
	for a := range readings {
		x := &readings[a]
		for b := a; b < n; b++ {
			c := s.habit.partsOf(&x.stray, &readings[b].stray, wild)
			j.fixed[a*n+b] = c.fixed
			for m := range j.parts {
				j.parts[m][a*n+b] = c.by[m]
			}
		}
		j.fixed[a*n+a] += noise(x.division, 0)
		j.care[a] = x.division / halves
		j.y[a] = x.strays - s.expected(x.count)
	}
	return j
}

// at is the covariance under a set of spreads, the readings' errors included.
func (j *joint) at(t *spreads) *mat.SymDense {
	n := len(j.y)
	data := make([]float64, n*n)
	copy(data, j.fixed)
	for m, p := range j.parts {
		square := t[m] * t[m]
		for i, v := range p {
			data[i] += square * v
		}
	}
	for i, v := range j.care {
		data[i*n+i] += t[hand] * t[hand] * v
	}
	return mat.NewSymDense(n, data)
}

// condition conditions the process under one belief.
func (j *joint) condition(b belief) conditioned {
	c := conditioned{belief: b, readings: j.readings}
	n := len(j.readings)
	if n == 0 {
		return c
	}
	y := mat.NewVecDense(n, j.y)
	if !c.chol.Factorize(j.at(&b.spreads)) || c.chol.SolveVecTo(&c.alpha, y) != nil {
		c.readings = nil // none is believed; the plan stands
		return c
	}
	c.logLike = -mat.Dot(y, &c.alpha)/2 - c.chol.LogDet()/2 - float64(n)*math.Log(2*math.Pi)/2
	return c
}

// noise is the variance of a reading, mm²: that of rounding to the divisions of a rule,
// a twelfth of their square, and the hand's, which is given in mm for a rule divided in
// half millimetres. A finer rule is read with more care, though not in proportion: the
// hand's variance is proportional to the division. From memory, no source.
func noise(division, hand float64) float64 {
	return division*division/12 + hand*hand*division/halves
}

// expected is the expected deviation of a number of strakes, from what the bench shows:
// a strake that creeps takes more, and leaves less.
func (s *benchBand) expected(strakes int) float64 { return -s.habit.Mean * float64(strakes) }

// covarianceParts are the parts of the covariance of two sums, mm²: one that no spread
// changes, and the factors of the square of each from along to frame.
type covarianceParts struct {
	fixed float64
	by    [hand]float64
}

// partsOf divides the covariance of two sums into parts: for the strakes, the creep
// that all share, the part that varies along the hull, the part of each strake that is
// in both and, at one frame, the knife's; for the frames, the error that varies
// smoothly along the hull, and each one's own, which is fixed for a frame named in
// wild.
func (h *Habit) partsOf(a, b *stray, wild map[int]float64) covarianceParts {
	var out covarianceParts
	d := (a.at - b.at) / h.Reach
	near := math.Exp(-d * d / 2)
	if a.count > 0 && b.count > 0 {
		all, both := float64(a.count*b.count), float64(a.over.both(b.over))
		out.fixed = all * h.Creep * h.Creep
		out.by[along], out.by[strake] = all*near, both*near
		if a.frame == b.frame {
			out.by[knife] = both
		}
	}
	if a.frames && b.frames {
		out.by[shape] = near
	}
	if a.frame == b.frame && a.frames && b.frames {
		if w, ok := wild[a.frame]; ok {
			out.fixed += w * w
		} else {
			out.by[frame] = 1
		}
	}
	return out
}

// covariance is the covariance of two sums under a set of spreads, mm².
func (h *Habit) covariance(t *spreads, a, b *stray, wild map[int]float64) float64 {
	c := h.partsOf(a, b, wild)
	out := c.fixed
	for m, v := range c.by {
		out += t[m] * t[m] * v
	}
	return out
}

// mean is the mean deviation of a sum at a place, mm, as given by expect.
func (g *regression) mean(a stray) float64 {
	out := g.s.expected(a.count)
	if len(g.terms[0].readings) == 0 {
		return out
	}
	for i := range g.terms[0].readings {
		c := g.s.habit.partsOf(&a, &g.terms[0].readings[i].stray, g.s.wild)
		for t := range g.terms {
			if x := &g.terms[t]; len(x.readings) > 0 {
				v := c.fixed
				for m, p := range c.by {
					v += x.spreads[m] * x.spreads[m] * p
				}
				out += x.weight * v * x.alpha.AtVec(i)
			}
		}
	}
	return out
}

// expect is the deviation of a sum expected at a place, mm, and the bound within which
// it lies in 95 % of cases: by the mixture of all beliefs.
func (g *regression) expect(a stray) (mean, bound float64) {
	first, second, rounded := 0.0, 0.0, 0.0
	for i := range g.terms {
		c := &g.terms[i]
		m, v, r := c.given(&g.s.habit, g.s.wild, &a)
		first += c.weight * m
		second += c.weight * (m*m + v)
		rounded += c.weight * r
	}
	variance := max(second-first*first, 0)
	return g.s.expected(a.count) + first, bound95(variance, rounded)
}

// given is the mean, beyond the prior expectation, and the variance, mm², of a sum
// under the belief; and the part of the variance due to the rounding of the one reading
// with most weight.
func (c *conditioned) given(h *Habit, wild map[int]float64, a *stray) (mean, variance, rounded float64) {
	variance = h.covariance(&c.spreads, a, a, wild)
	n := len(c.readings)
	if n == 0 {
		return 0, variance, 0
	}
	k := mat.NewVecDense(n, nil)
	for i := range c.readings {
		k.SetVec(i, h.covariance(&c.spreads, a, &c.readings[i].stray, wild))
	}
	var w mat.VecDense
	if c.chol.SolveVecTo(&w, k) != nil {
		return 0, variance, 0
	}
	for i := range c.readings {
		share := w.AtVec(i) * c.readings[i].division
		rounded = max(rounded, share*share/12)
	}
	return mat.Dot(k, &c.alpha), max(variance-mat.Dot(k, &w), 0), rounded
}

// creep is the builder's own, for each strip, averaged along the planked frames, mm,
// its standard deviation, and the standard deviation before anything was read.
func (g *regression) creep() (mean, deviation, before float64) {
	s := g.s
	places := s.planked()
	near := func(at float64) float64 { // correlation of creep there with its mean along the hull
		sum := 0.0
		for _, o := range places {
			d := (at - o) / s.habit.Reach
			sum += math.Exp(-d * d / 2)
		}
		return sum / float64(max(len(places), 1))
	}
	own := 0.0
	for _, at := range places {
		own += near(at) / float64(len(places))
	}
	first, second, prior := 0.0, 0.0, 0.0
	for i := range g.terms {
		c := &g.terms[i]
		all, varies := s.habit.Creep*s.habit.Creep, c.spreads[along]*c.spreads[along]
		m, v := 0.0, all+varies*own
		if n := len(c.readings); n > 0 {
			k := mat.NewVecDense(n, nil)
			for i := range c.readings {
				x := &c.readings[i]
				k.SetVec(i, float64(x.count)*(all+varies*near(x.at)))
			}
			var w mat.VecDense
			if c.chol.SolveVecTo(&w, k) == nil {
				m, v = -mat.Dot(k, &c.alpha), max(v-mat.Dot(k, &w), 0) // it reduces what is left
			}
		}
		first += c.weight * m
		second += c.weight * (m*m + v)
		prior += c.weight * (all + varies*own)
	}
	return s.habit.Mean + first, math.Sqrt(max(second-first*first, 0)), math.Sqrt(prior)
}

// planked are the places along the band of the frames that are planked, mm.
func (s *benchBand) planked() []float64 {
	var out []float64
	for i, at := range s.along {
		if s.l.Surface.Planks(i) {
			out = append(out, at)
		}
	}
	return out
}

// leftOut gives for every reading its distance from what the others lead one to expect,
// mm, and the standard deviation of that, its own error included: by the inverse of the
// covariance (Rasmussen and Williams, Gaussian Processes for Machine Learning, 2006,
// equation 5.12).
func (c *conditioned) leftOut() (off, deviation []float64) {
	n := len(c.readings)
	off, deviation = make([]float64, n), make([]float64, n)
	var inverse mat.SymDense
	if n == 0 || c.chol.InverseTo(&inverse) != nil {
		return off, deviation
	}
	for i := range n {
		off[i] = c.alpha.AtVec(i) / inverse.At(i, i)
		deviation[i] = 1 / math.Sqrt(inverse.At(i, i))
	}
	return off, deviation
}
