package fair

import (
	"math"
	"slices"
)

// fairest gives how far every point lies outwards, mm, from the surface to which the
// hull is faired. Where the scatter of the points is no more than their rounding
// accounts for, that is a mean of many surfaces, each weighted by how close to the true
// hull the rounding shows it to be (see risk): with few points to a curve, or errors
// that neighbours share, as rounded ones do where a hull is flat, how well the points
// predict one another is a poor guide. Otherwise it is the surface by which they were
// judged.
func (g *grid) fairest(v *verdict) ([]float64, error) {
	if g.stepped == 0 || v.noise > mostOfRounding*g.stepped {
		return v.f.off, nil
	}
	if g.thin != nil {
		f, err := g.thin.fairest(g, v)
		if err != nil {
			return nil, err
		}
		return f.off, nil
	}
	g.rounding = g.stepped
	m := mixture{least: math.Inf(1)}
	g.tried = m.add
	defer func() { g.tried = nil }()
	if err := g.tryAll(v); err != nil {
		return nil, err
	}
	return m.mean(fuzz * g.rounding * g.rounding / float64(len(g.at))), nil
}

// fairest is that of a dense grid: the one surface that is estimated to be closest.
func (t *thinGrid) fairest(g *grid, v *verdict) (*smoothed, error) {
	g.rounding, t.rounding = g.stepped, g.stepped
	if _, err := t.choose(t.shown(v.f.trusted), 1); err != nil {
		return nil, err
	}
	f, _, err := g.suit([2]float64{1, 1}, v.f.trusted, (*smoothed).surprise)
	return f, err
}

// tryAll settles the surface with points joined in every way, by differences of every
// order.
func (g *grid) tryAll(v *verdict) error {
	ways := joinings
	if !g.inRows() || g.work() > mostChoiceWork {
		ways = byRow
	}
	work := g.work()
	for g.order = 3; g.order <= min(mostOrder, len(g.frames)-1); g.order++ {
		if g.order > 3 && work*float64(g.order*g.order)/9 > mostChoiceWork {
			break
		}
		start := [2]float64{1, 1}
		for how := range ways {
			if err := g.join(how); err != nil {
				return err
			}
			f, _, err := g.suit(start, v.f.trusted, (*smoothed).surprise)
			if err != nil {
				return err
			}
			start = f.stiff
		}
	}
	return nil
}

// mixture holds the surfaces that were tried: how far the points lie off each, mm, and
// its risk, mm².
type mixture struct {
	off   [][]float64
	risk  []float64
	least float64
}

func (m *mixture) add(f *smoothed, risk float64) {
	m.off, m.risk, m.least = append(m.off, f.off), append(m.risk, risk), min(m.least, risk)
}

// mean weighs each surface by e to the power of minus its risk over a unit (Leung and
// Barron, Information theory and mixing least-squares regressions, IEEE Transactions on
// Information Theory 52, 2006): this removes the effect of chance on the one that seems
// best.
func (m *mixture) mean(unit float64) []float64 {
	out, all := make([]float64, len(m.off[0])), 0.0
	for n, off := range m.off {
		w := math.Exp((m.least - m.risk[n]) / unit)
		all += w
		for k, d := range off {
			out[k] += w * d
		}
	}
	for k := range out {
		out[k] /= all
	}
	return out
}

const (
	// fuzz is the difference, in variances of one point's error, in the risk of all points
	// together up to which two surfaces have much the same weight: the greater it is, the
	// more surfaces are mixed.
	fuzz = 40
	// mostOfRounding is the multiple of the rounding that the estimated scatter may reach
	// and still pass for rounding alone.
	mostOfRounding = 1.5
	// printed is how far a rounded value may be from a whole number of steps, mm, because
	// of the decimals with which it is written.
	printed = 0.006
)

// rounded is the standard deviation, mm, across the section, of the points' errors from
// being rounded as they are: its square is a twelfth of the square of the step, in each
// direction that is rounded; 0 where no rounding shows.
func (g *grid) rounded() float64 {
	var variance [2]float64
	for axis := range variance {
		var all []float64
		for _, p := range g.at {
			all = append(all, math.Abs(p[axis]))
		}
		s := stepOf(all, 2*g.usual())
		variance[axis] = s * s / 12
	}
	sum := 0.0
	for _, n := range g.normal {
		sum += n[0]*n[0]*variance[0] + n[1]*n[1]*variance[1]
	}
	return math.Sqrt(sum / float64(len(g.normal)))
}

// stepOf is the step of which nine in ten of the values, 0 or more, are whole
// multiples; 0 if there is none, or where so few values differ that they were chosen,
// as waterlines are. Every step shows as the difference between two neighbouring
// values.
func stepOf(values []float64, few float64) float64 {
	slices.Sort(values)
	values = slices.CompactFunc(values, func(a, b float64) bool { return math.Abs(b-a) < 1e-6 })
	if float64(len(values)) <= few {
		return 0
	}
	var gaps []float64
	for i := 1; i < len(values); i++ {
		gaps = append(gaps, values[i]-values[i-1])
	}
	slices.Sort(gaps)
	gaps = slices.CompactFunc(gaps, func(a, b float64) bool { return math.Abs(b-a) < 1e-3*b })
	for _, gap := range slices.Backward(gaps) {
		if s := refinedStep(gap, values); s > 0 {
			return s
		}
	}
	return 0
}

// refinedStep is the step closest to an approximate one, by least squares over rising
// values; 0 where more than one in ten do not fit.
func refinedStep(step float64, values []float64) float64 {
	kk, kv := 0.0, 0.0
	fits := func(v float64) (float64, bool) {
		k := math.Round(v / step)
		return k, math.Abs(v-k*step) < min(0.1*step, printed)
	}
	for _, v := range values {
		if k, ok := fits(v); ok && k > 0 {
			kk, kv = kk+k*k, kv+k*v
			step = kv / kk
		}
	}
	n := 0
	for _, v := range values {
		if _, ok := fits(v); ok {
			n++
		}
	}
	if 10*n < 9*len(values) {
		return 0
	}
	return step
}
