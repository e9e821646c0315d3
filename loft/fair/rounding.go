package fair

import (
	"math"
	"slices"
)

// fairest is the surface to which the hull is faired. Where the points scatter by no
// more than their rounding accounts for, it is the one that is told by that to be nearest
// to the true hull (see risk): with few points to a curve, or errors that neighbours share,
// as rounded ones do where a hull is flat, how the points foresee one another is a poor
// guide. Else it is the surface by which they were judged.
func (g *grid) fairest(v *verdict) (*smoothed, error) {
	if g.stepped == 0 || v.noise > mostOfRounding*g.stepped {
		return v.f, nil
	}
	g.rounding = g.stepped
	if g.thin != nil {
		g.thin.rounding = g.stepped
	}
	if _, err := g.choose(v.f.trusted, 1); err != nil {
		return nil, err
	}
	if err := g.chooseOrder(v.f.trusted); err != nil {
		return nil, err
	}
	f, _, err := g.suit([2]float64{1, 1}, v.f.trusted, (*smoothed).surprise)
	return f, err
}

const (
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
