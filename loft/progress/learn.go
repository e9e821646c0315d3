package progress

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"
)

// mostLearned is the number of a band's readings, the latest, from which the spreads
// are learned: the work grows with the cube, and by then they are well known.
const mostLearned = 80

// learned is the habit with its spreads learned from the readings of several bands:
// their posterior over a lognormal prior, by the marginal likelihood of the readings
// (Rasmussen and Williams, Gaussian Processes for Machine Learning, 2006, chapter 5),
// its mode and shape found and represented by a few weighted points (Rue, Martino and
// Chopin, Approximate Bayesian inference for latent Gaussian models, 2009, section
// 6.5). Bands are taken to be independent except for the spreads. Nothing is learned
// from frames that are off by more than the others where those are left out; frames
// measured bare never count.
func (h Habit) learned(bands []*benchBand, leaveOut bool) Habit {
	l := &learner{h: h}
	for _, s := range bands {
		l.add(s, leaveOut)
	}
	if len(l.bands) == 0 || !(h.Sure > 0) {
		return h
	}
	h.beliefs = l.beliefs()
	return h
}

// learner finds the posterior of the spreads. Its variables are standardised: the
// logarithm of each spread less that of its prior median, divided by its share of Sure.
type learner struct {
	h     Habit
	bands []*joint
}

func (l *learner) add(s *benchBand, leaveOut bool) {
	readings := s.readings
	if len(readings) > mostLearned {
		readings = readings[len(readings)-mostLearned:]
	}
	if len(readings) > 0 {
		l.bands = append(l.bands, s.jointOf(readings, s.exceptions(leaveOut)))
	}
}

// exceptions are the frames from which nothing is to be learned: those measured bare,
// and those off by more than the others if these are left out, unless they are too many
// to be exceptions.
func (s *benchBand) exceptions(leaveOut bool) map[int]float64 {
	const few = 0.2 // of the frames read
	read, bare := map[int]bool{}, map[int]float64{}
	for i := range s.readings {
		if x := &s.readings[i]; x.frames {
			read[x.frame] = true
		}
	}
	for i, size := range s.wild {
		if size == bareSize {
			bare[i] = size
		}
	}
	if !leaveOut || float64(len(s.wild)-len(bare)) > few*float64(len(read)) {
		return bare
	}
	return s.wild
}

// spreadsAt are the spreads at standardised variables.
func (l *learner) spreadsAt(z []float64) spreads {
	out := l.h.usual()
	for m := range out {
		out[m] *= math.Exp(l.h.Sure * surer[m] * z[m])
	}
	return out
}

// minusLog is the negative logarithm of the posterior at standardised variables, up to
// a constant, with its gradient if that is asked for.
func (l *learner) minusLog(z, gradient []float64) float64 {
	t := l.spreadsAt(z)
	out := 0.0
	for m, x := range z {
		out += x * x / 2
		if gradient != nil {
			gradient[m] = x
		}
	}
	for _, b := range l.bands {
		out += b.minusLog(&t, l.h.Sure, gradient)
	}
	return out
}

// minusLog is the negative logarithm for a band's readings. By Rasmussen and Williams,
// equation 5.9, its derivative by a variable is tr((K⁻¹ − ααᵀ)·∂K)/2.
func (j *joint) minusLog(t *spreads, sure float64, gradient []float64) float64 {
	n := len(j.y)
	y := mat.NewVecDense(n, j.y)
	var chol mat.Cholesky
	var alpha mat.VecDense
	if !chol.Factorize(j.at(t)) || chol.SolveVecTo(&alpha, y) != nil {
		return math.Inf(1)
	}
	out := mat.Dot(y, &alpha)/2 + chol.LogDet()/2
	var inverse mat.SymDense
	if gradient == nil || chol.InverseTo(&inverse) != nil {
		return out
	}
	by := inverse.RawSymmetric()
	al := alpha.RawVector().Data
	var sums spreads
	for a := range n {
		for b := a; b < n; b++ {
			w := by.Data[a*by.Stride+b] - al[a]*al[b]
			if a == b {
				w /= 2
				sums[hand] += w * j.care[a]
			}
			for m, p := range j.parts {
				sums[m] += w * p[a*n+b]
			}
		}
	}
	for m, v := range sums {
		gradient[m] += 2 * sure * surer[m] * t[m] * t[m] * v
	}
	return out
}

// beliefs represents the posterior by weighted points: its mode, and points around it
// on a sphere in the shape of its peak.
func (l *learner) beliefs() []belief {
	const dim = len(spreads{})
	mode := l.mode()
	axes, ok := l.axes(mode)
	least := l.minusLog(mode, nil)
	points := [][]float64{mode}
	weights := []float64{1}
	if ok {
		for _, d := range design() {
			z := append([]float64(nil), mode...)
			for m := range dim {
				for a := range dim {
					z[m] += axes.At(m, a) * d[a]
				}
			}
			points = append(points, z)
			weights = append(weights, designWeight*math.Exp(min(least-l.minusLog(z, nil), 0)))
		}
	}
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	var out []belief
	for i, z := range points {
		out = append(out, belief{l.spreadsAt(z), weights[i] / sum})
	}
	return out
}

// mode is where the posterior is greatest.
func (l *learner) mode() []float64 {
	start := make([]float64, len(spreads{}))
	problem := optimize.Problem{
		Func: func(z []float64) float64 { return l.minusLog(z, nil) },
		Grad: func(gradient, z []float64) { l.minusLog(z, gradient) },
	}
	settings := &optimize.Settings{GradientThreshold: 1e-3, MajorIterations: 40}
	got, err := optimize.Minimize(problem, start, settings, &optimize.BFGS{})
	if got == nil || err != nil && !(got.F <= l.minusLog(start, nil)) {
		return start
	}
	return got.X
}

// axes are the directions in which the posterior falls by half a unit of its logarithm,
// one in each column: the inverse square root of its second derivatives, which are
// taken by central differences of the gradient.
func (l *learner) axes(mode []float64) (*mat.Dense, bool) {
	const step = 1e-3
	n := len(mode)
	h := mat.NewSymDense(n, nil)
	rows := make([][]float64, n)
	for m := range n {
		up, down := make([]float64, n), make([]float64, n)
		z := append([]float64(nil), mode...)
		z[m] = mode[m] + step
		l.minusLog(z, up)
		z[m] = mode[m] - step
		l.minusLog(z, down)
		rows[m] = make([]float64, n)
		for k := range n {
			rows[m][k] = (up[k] - down[k]) / (2 * step)
		}
	}
	for m := range n {
		for k := m; k < n; k++ {
			h.SetSym(m, k, (rows[m][k]+rows[k][m])/2)
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(h, true) {
		return nil, false
	}
	var v mat.Dense
	eigen.VectorsTo(&v)
	for a, value := range eigen.Values(nil) {
		// The prior alone gives a curvature of 1; where the readings reduce that, the peak is
		// still not much wider than the prior.
		length := 1 / math.Sqrt(max(value, 0.25))
		for m := range n {
			v.Set(m, a, v.At(m, a)*length)
		}
	}
	return &v, true
}

// The design: points on the axes of the peak, all at one distance from its centre.
const (
	designScale = 1.1 // f: of the distance √d
	designCount = 2 * len(spreads{})
)

// designWeight is the weight of each point relative to the centre's 1, before the
// posterior is evaluated: with it the points have the mass and the mean square of a
// normal distribution in d dimensions. Of n points at the distance f·√d each has the
// mass 1/(n·f²), the centre the rest; the density there is exp(-d·f²/2) of the
// centre's.
var designWeight = math.Exp(float64(len(spreads{}))*designScale*designScale/2) / (float64(designCount) * (designScale*designScale - 1))

func design() [][len(spreads{})]float64 {
	var out [][len(spreads{})]float64
	radius := designScale * math.Sqrt(float64(len(spreads{})))
	for m := range len(spreads{}) {
		for _, sign := range []float64{-1, 1} {
			var p [len(spreads{})]float64
			p[m] = sign * radius
			out = append(out, p)
		}
	}
	return out
}
