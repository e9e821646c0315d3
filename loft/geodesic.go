package loft

import "math"

// tracer follows a geodesic by arc length over the surface.
type tracer struct {
	s *Surface
	// tolerance is the permitted error of a step, mm.
	tolerance float64
	// upper and lower are the values of v at which the line ends.
	upper, lower float64
	// first and last are the values of u at which it ends.
	first, last float64
	// enough stops the trace early when it returns true for the last sample.
	enough  func(sample) bool
	longest float64  // mm
	bay     int      // in which it last evaluated the surface
	samples []sample // of the last trace; the next one reuses their space
}

// sample is a point of a traced line: its arc length, place, velocity and
// acceleration in the parameter plane.
type sample struct{ s, u, v, du, dv, ddu, ddv float64 }

// traceEnd says why a trace ended.
type traceEnd int

const (
	endOfHull traceEnd = iota
	overUpper
	underLower
	goneLong
	satisfied
)

const (
	traceTolerance = 1e-7 // mm a step: 1e-5 mm over the hundred steps of a hull
	aimTolerance   = 1e-5 // mm a step while searching for a heading
	firstStep      = 2.0  // mm
	longestStep    = 25.0 // mm
	shortestStep   = 1e-7 // mm
	mostSteps      = 4000 // a line that skips back and forth over a corner makes no progress
)

// tracer returns a tracer that ends at the limits.
func (s *Surface) tracer() tracer {
	length := s.u[len(s.u)-1]
	return tracer{s: s, tolerance: traceTolerance, upper: 0, lower: 1, last: length, longest: 4 * length}
}

// trace follows the geodesic from (u, v) in the unit direction (du, dv) until it leaves
// the hull. The samples lie one step apart, start and end included, and are valid until
// the tracer's next trace. Error control: embedded Runge-Kutta pair of order 5(4)
// (Dormand and Prince, J. Comp. Appl. Math. 6, 1980) on (u, v, u′, v′), with the error
// in mm.
func (t *tracer) trace(u, v, du, dv float64) ([]sample, traceEnd) {
	k := t.panelFrom(v, dv)
	at := t.accelerate(k, sample{u: u, v: v, du: du, dv: dv})
	out := append(t.samples[:0], at)
	defer func() { t.samples = out }()
	h := firstStep
	for at.s < t.longest && len(out) < mostSteps {
		next, err := t.step(k, at, h)
		if !(err <= t.tolerance) {
			if h < shortestStep {
				return out, goneLong // a point where the surface has no tangent plane
			}
			h *= shrink(err, t.tolerance)
			continue
		}
		if ev := t.event(k, at, next); ev.kind != noEvent {
			next, _ = t.step(k, at, ev.at-at.s)
			ev.set(&next)
			out = append(out, t.accelerate(k, next))
			if ev.kind != crossing {
				return out, ev.end
			}
			next, k = t.refract(k, ev.panel, next)
			out = append(out, next)
			at = next
			continue
		}
		out = append(out, next)
		at = next
		if t.enough != nil && t.enough(at) {
			return out, satisfied
		}
		h = min(h*shrink(err, t.tolerance), longestStep)
	}
	return out, goneLong
}

// shrink is the factor for the next step by the usual rule 0.9·(tolerance/error)^(1/5),
// kept within [0.2, 5].
func shrink(err, tolerance float64) float64 {
	if math.IsNaN(err) {
		return 0.2
	}
	return min(max(0.9*math.Pow(tolerance/max(err, 1e-300), 0.2), 0.2), 5)
}

// panelFrom is the panel in which a line starts.
func (t *tracer) panelFrom(v, dv float64) int {
	k := t.s.panelAt(v)
	if k > 0 && v == t.s.breaks[k] && dv < 0 {
		k--
	}
	return k
}

// accelerate fills in the geodesic acceleration.
func (t *tracer) accelerate(k int, a sample) sample {
	j := t.jetAt(k, a.u, a.v)
	a.ddu, a.ddv = j.geodesicAcceleration(a.du, a.dv)
	return a
}

// jetAt is the surface at (u, v): usually in the same bay as the last time.
func (t *tracer) jetAt(k int, u, v float64) Jet {
	if us := t.s.u; !(u >= us[t.bay] && u < us[t.bay+1]) {
		t.bay = t.s.bay(u)
	}
	return t.s.inBay(k, t.bay, u, v)
}

// step makes one Dormand-Prince step of h mm within panel k and returns its error in
// mm.
func (t *tracer) step(k int, a sample, h float64) (sample, float64) {
	type slope struct{ du, dv, ddu, ddv float64 }
	var ks [7]slope
	ks[0] = slope{a.du, a.dv, a.ddu, a.ddv}
	var b sample
	var j Jet
	for i := 1; i < 7; i++ {
		b = a
		for n := range i {
			w := h * dormand[i][n]
			b.u += w * ks[n].du
			b.v += w * ks[n].dv
			b.du += w * ks[n].ddu
			b.dv += w * ks[n].ddv
		}
		b.s = a.s + h
		j = t.jetAt(k, b.u, b.v)
		b.ddu, b.ddv = j.geodesicAcceleration(b.du, b.dv)
		ks[i] = slope{b.du, b.dv, b.ddu, b.ddv}
	}
	var eu, ev, edu, edv float64
	for i, w := range dormandError {
		eu += h * w * ks[i].du
		ev += h * w * ks[i].dv
		edu += h * w * ks[i].ddu
		edv += h * w * ks[i].ddv
	}
	place := j.Pu.Mul(eu).Add(j.Pv.Mul(ev)).Len()
	turn := j.Pu.Mul(edu).Add(j.Pv.Mul(edv)).Len() * math.Abs(h)
	return b, max(place, turn)
}

// dormand are the nodes' weights; the last row is the fifth-order result.
var dormand = [7][6]float64{
	{},
	{1. / 5},
	{3. / 40, 9. / 40},
	{44. / 45, -56. / 15, 32. / 9},
	{19372. / 6561, -25360. / 2187, 64448. / 6561, -212. / 729},
	{9017. / 3168, -355. / 33, 46732. / 5247, 49. / 176, -5103. / 18656},
	{35. / 384, 0, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84},
}

// dormandError is the fifth- less the fourth-order result.
var dormandError = [7]float64{71. / 57600, 0, -71. / 16695, 71. / 1920, -17253. / 339200, 22. / 525, -1. / 40}

type eventKind int

const (
	noEvent eventKind = iota
	leaves
	crossing
)

// event is the first thing that happens to a line within a step.
type event struct {
	kind  eventKind
	at    float64 // arc length
	end   traceEnd
	panel int // entered by a crossing
	isV   bool
	value float64 // of u or v there
}

// set puts the sample exactly on the line that it reached.
func (e *event) set(a *sample) {
	if e.isV {
		a.v = e.value
	} else {
		a.u = e.value
	}
}

// event finds the first end of the hull, limit or knuckle line between two
// samples.
func (t *tracer) event(k int, a, b sample) event {
	first := event{at: math.Inf(1)}
	meet := func(e event) {
		if e.at = a.s + (b.s-a.s)*reach(a, b, e.isV, e.value); e.at < first.at {
			first = e
		}
	}
	if b.u > t.last {
		meet(event{kind: leaves, end: endOfHull, value: t.last})
	}
	if b.u < t.first {
		meet(event{kind: leaves, end: endOfHull, value: t.first})
	}
	if b.v < t.upper {
		meet(event{kind: leaves, end: overUpper, isV: true, value: t.upper})
	}
	if b.v > t.lower {
		meet(event{kind: leaves, end: underLower, isV: true, value: t.lower})
	}
	if lo := t.s.breaks[k]; k > 0 && b.v < lo {
		meet(event{kind: crossing, panel: k - 1, isV: true, value: lo})
	}
	if hi := t.s.breaks[k+1]; k < len(t.s.panels)-1 && b.v > hi {
		meet(event{kind: crossing, panel: k + 1, isV: true, value: hi})
	}
	return first
}

// reach is the fraction of the way from a to b at which the line between them first
// reaches that u (or v): a root of its quintic, by bisection and Newton's method. a
// lies before it, b beyond.
func reach(a, b sample, isV bool, value float64) float64 {
	q := newQuintic(a, b, isV)
	lo, hi := 0.0, 1.0
	rising := q.at(1) > value
	x := min(max((value-q.at(0))/(q.at(1)-q.at(0)), 0), 1)
	for range 60 {
		y := q.at(x) - value
		if math.Abs(y) < 1e-14*(1+math.Abs(value)) {
			break
		}
		if (y > 0) == rising {
			hi = x
		} else {
			lo = x
		}
		x -= y / q.slope(x)
		if !(x > lo && x < hi) {
			x = (lo + hi) / 2
		}
		if hi-lo < 1e-15 {
			break
		}
	}
	return x
}

// quintic is the Hermite quintic of u or v over a step, from the values and
// first and second derivatives at either end: as exact as the step itself.
type quintic [6]float64

// newQuintic gives the quintic over the fraction of the step.
func newQuintic(a, b sample, isV bool) quintic {
	h := b.s - a.s
	p0, m0, c0, p1, m1, c1 := a.u, a.du, a.ddu, b.u, b.du, b.ddu
	if isV {
		p0, m0, c0, p1, m1, c1 = a.v, a.dv, a.ddv, b.v, b.dv, b.ddv
	}
	m0, m1, c0, c1 = m0*h, m1*h, c0*h*h, c1*h*h
	d := p1 - p0
	return quintic{p0, m0, c0 / 2,
		10*d - 6*m0 - 4*m1 - 1.5*c0 + 0.5*c1,
		-15*d + 8*m0 + 7*m1 + 1.5*c0 - c1,
		6*d - 3*(m0+m1) - 0.5*(c0-c1)}
}

func (q *quintic) at(x float64) float64 {
	return q[0] + x*(q[1]+x*(q[2]+x*(q[3]+x*(q[4]+x*q[5]))))
}

func (q *quintic) slope(x float64) float64 {
	return q[1] + x*(2*q[2]+x*(3*q[3]+x*(4*q[4]+x*5*q[5])))
}

func (q *quintic) bend(x float64) float64 {
	return 2*q[2] + x*(6*q[3]+x*(12*q[4]+x*20*q[5]))
}

// between gives the sample at a fraction x of the way from a to b.
func between(a, b sample, x float64) sample {
	h := b.s - a.s
	u, v := newQuintic(a, b, false), newQuintic(a, b, true)
	return sample{
		s: a.s + x*h, u: u.at(x), v: v.at(x),
		du: u.slope(x) / h, dv: v.slope(x) / h,
		ddu: u.bend(x) / (h * h), ddv: v.bend(x) / (h * h),
	}
}

// refract takes a line across a knuckle: with the two panels unfolded flat it runs
// straight on, so that it keeps its angle to the knuckle line.
func (t *tracer) refract(from, to int, a sample) (sample, int) {
	j := t.s.at(from, a.u, a.v)
	edge := j.Pu.Normalize()
	velocity := j.Pu.Mul(a.du).Add(j.Pv.Mul(a.dv))
	along := velocity.Dot(edge)
	across := math.Sqrt(max(velocity.Dot(velocity)-along*along, 0))
	if to < from {
		across = -across
	}
	j = t.s.at(to, a.u, a.v)
	n := j.Normal()
	w := edge.Mul(along).Add(n.Cross(edge).Mul(across))
	a.du, a.dv = j.components(w)
	return t.accelerate(to, a), to
}
