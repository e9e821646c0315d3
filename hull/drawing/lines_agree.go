package drawing

import (
	"math"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Two plans of one hull agree where a waterline and a buttock cross: the buttock at
// its half-breadth in one plan and the waterline at its height in the other lie at
// the same x.
const (
	agreeShare  = 0.01 // of the length, by which the two may differ
	surest      = 0.05 // slope of a curve to the level it crosses, below which the crossing is uncertain
	fewestMeets = 3    // crossings needed to shift one plan along the other
)

// meet is a crossing of a waterline and a buttock, in both plans.
type meet struct {
	water, butt     *planLine
	breadth, height float64 // x in the half-breadth plan, and in the sheer plan
}

// agree checks the two plans against each other, and shifts the buttocks along where
// they merely start elsewhere.
func (l *lined) agree() {
	if len(l.waters) == 0 || len(l.butts) == 0 {
		return
	}
	meets := l.meets()
	box := boxOfLines(l.waters)
	within := agreeShare * (box.x1 - box.x0)
	if len(meets) == 0 {
		l.note("No buttock crosses a waterline in both plans, so the two plans may differ in x.")
		return
	}
	off := make([]float64, len(meets))
	for i, m := range meets {
		off[i] = m.breadth - m.height
	}
	sorted := slices.Sorted(slices.Values(off))
	middle := sorted[len(sorted)/2]
	shift := 0.0
	if math.Abs(middle) > within && len(meets) >= fewestMeets && !l.has(OriginMark, HeightView) && !l.has(OriginMark, "") {
		shift = middle
	}
	worst := 0
	for i := range meets {
		if math.Abs(off[i]-shift) > math.Abs(off[worst]-shift) {
			worst = i
		}
	}
	if m := meets[worst]; math.Abs(off[worst]-shift) > within {
		l.Add(m.butt.line, "", "bring both plans to one scale with the bow to the same side and one x, by a mark named origin in each, and check the heights and half-breadths",
			"the two plans do not agree: %s and %s cross at x %s mm in the half-breadth plan and at x %s mm in the sheer plan", m.water.name, m.butt.name, hundredth(m.breadth), hundredth(m.height+shift))
		return
	}
	if shift == 0 {
		return
	}
	lines := slices.Clone(l.butts)
	for _, p := range []*planLine{l.upper[inHeight], l.rabbet[inHeight]} {
		if p != nil {
			lines = append(lines, p)
		}
	}
	for _, p := range lines {
		for i := range p.chains {
			for k := range p.chains[i].pts {
				p.chains[i].pts[k][0] += shift
			}
		}
	}
	l.zero[inHeight][0] -= shift
	l.note("The sheer plan is moved along by %s mm to agree with the half-breadth plan, by %s at which a waterline and a buttock cross.", hundredth(shift), tongue.Count(len(meets), "%d place", "%d places", len(meets)))
}

// meets finds the waterlines and buttocks that cross equally often, and with
// certainty, in both plans.
func (l *lined) meets() []meet {
	var out []meet
	for _, w := range l.waters {
		for _, b := range l.butts {
			in, ok := w.crosses(b.at, true)
			at, also := b.crosses(w.at, false)
			if !ok || !also || len(in) != len(at) {
				continue
			}
			for i := range in {
				out = append(out, meet{w, b, in[i], at[i]})
			}
		}
	}
	return out
}

// crosses gives the x, in increasing order, at which the line passes a value, or that
// value on either side; ok is false where it does so at too flat a slope to be
// certain.
func (p *planLine) crosses(value float64, mirrored bool) (xs []float64, ok bool) {
	for i := range p.chains {
		pts := p.chains[i].pts
		for k := 1; k < len(pts); k++ {
			a, b := pts[k-1], pts[k]
			va, vb := a[1], b[1]
			if mirrored {
				if (va < 0) != (vb < 0) && math.Min(math.Abs(va), math.Abs(vb)) < value {
					continue // across the centre line
				}
				va, vb = math.Abs(va), math.Abs(vb)
			}
			if (va < value) == (vb < value) {
				continue
			}
			if math.Abs(vb-va) < surest*math.Abs(b[0]-a[0]) {
				return nil, false
			}
			xs = append(xs, a[0]+(b[0]-a[0])*(value-va)/(vb-va))
		}
	}
	slices.Sort(xs)
	return slices.CompactFunc(xs, func(a, b float64) bool { return math.Abs(b-a) <= 2*meeting }), len(xs) > 0
}
