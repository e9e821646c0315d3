package fair

import (
	"math"
	"slices"
)

// fairest gives how far every point lies outwards, mm, of the surface to which the hull is
// faired. Where the points scatter by no more than their rounding accounts for, it is a
// mean of many surfaces, each weighed by how near to the true hull it is told by that to
// be (see risk): with few points to a curve, or errors that neighbours share, as rounded ones do where a
// hull is flat, how the points foresee one another is a poor guide. Else it is the surface
// by which they were judged.
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

// fairest is that of a dense grid: the one surface that is told to be nearest.
func (t *thinGrid) fairest(g *grid, v *verdict) (*smoothed, error) {
	g.rounding, t.rounding = g.stepped, g.stepped
	if _, err := t.choose(t.shown(v.f.trusted), 1); err != nil {
		return nil, err
	}
	f, _, err := g.suit([2]float64{1, 1}, v.f.trusted, (*smoothed).surprise)
	return f, err
}

// tryAll settles the surface with points joined in every way, by differences of every order.
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

// mixture is surfaces that were tried: how far the points lie off each, mm, and its risk, mm².
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
// Information Theory 52, 2006): what chance makes of the one that seems best is taken out.
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
	// fuzz is how many variances of one point's error the risk of all points together may
	// differ by, and two surfaces weigh much the same: the greater, the more of them are mixed.
	fuzz = 40
	// mostOfRounding is how many times the rounding the scatter may come to, as it is
	// estimated, and pass for no more.
	mostOfRounding = 1.5
	// printed is how far a rounded value may be from a whole number of steps, mm, by the
	// decimals that it is written with.
	printed = 0.006
)

// rounded is the standard deviation, mm, across the section, of the errors that the
// points have from being rounded as they are: its square is a twelfth of that of the step,
// in each direction that is rounded; 0 for no rounding that shows.
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

// stepOf is the step of which nine in ten of the values, 0 or more, are whole numbers; 0
// for none, and where so few values differ that they were chosen, as waterlines are. Every
// step shows as the distance of two values next to each other.
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

// refinedStep is the step nearest to one that is roughly known, by least
// squares over rising values; 0 where more than one in ten do not fit.
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
