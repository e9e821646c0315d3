package loft

import (
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
)

// ribbonBeam is a strip laid on a surface of mid-thickness: a C1 cubic v(u) defined by
// its values and slopes at knots, as the finite element of a beam. Its ends are free:
// the end conditions follow from the minimum.
type ribbonBeam struct {
	s     *Surface
	panel int // in which all of it lies
	width float64
	rigid rigidity
	u     []float64 // of the knots
	q     []float64 // the differences of v and dv/du of each in turn from the thin strip's
	held  []bool    // for each knot: v is fixed
	spots []beamSpot
}

// beamSpot is a point of a beam at which its energy is evaluated.
type beamSpot struct {
	u, weight float64
	bay       int
	girth     float64       // mm, about
	thin      [3]float64    // v, v′ and v″ of the thin strip
	lag       float64       // see lagOf
	felt      []ribbonForms // the surface at every half width down, from least on, as far as needed so far
	least     int
	shape     [3][4]float64 // v, v′ and v″ for a unit of the four unknowns of its element
}

// spotsPerElement is the number of Gauss points: the square of the second derivative of
// a cubic is of degree two, and they are exact to the fifth.
const spotsPerElement = 3

var gaussX, gaussW = func() (x, w [spotsPerElement]float64) {
	quad.Legendre{}.FixedLocations(x[:], w[:], -1, 1)
	slices.Reverse(x[:]) // they are given from the last
	slices.Reverse(w[:])
	return x, w
}()

// newRibbonBeam is a strip at rest on the thin strip's course, which thin gives at any
// places: on one panel, with elements between knots, and held at some of these. The
// thin strip's own course is exact to the end of the hull, and the unknown is the
// small, smooth deviation from it.
func (s *Surface) newRibbonBeam(r Ribbon, panel int, knots []float64, held []bool, thin func(places) course) *ribbonBeam {
	b := &ribbonBeam{s: s, panel: panel, width: r.Width, rigid: r.rigidity(), u: knots, held: held, q: make([]float64, 2*len(knots))}
	var at []float64
	for k := 1; k < len(knots); k++ {
		h := knots[k] - knots[k-1]
		for i, x := range gaussX {
			a := beamSpot{u: knots[k-1] + h*(1+x)/2, weight: h / 2 * gaussW[i], shape: hermiteShape(h, (1+x)/2)}
			a.bay = s.bay(a.u)
			share := (a.u - s.u[a.bay]) / (s.u[a.bay+1] - s.u[a.bay])
			a.girth = s.Girth(a.bay)*(1-share) + s.Girth(a.bay+1)*share
			b.spots, at = append(b.spots, a), append(at, a.u)
		}
	}
	c := thin(s.placesAt(at))
	for i := range b.spots {
		a := &b.spots[i]
		a.thin = [3]float64{c.v[i], c.v1[i], c.v2[i]}
		a.lag = b.lagOf(a)
	}
	return b
}

// hermiteShape gives value, slope and second derivative as functions of v and slope at
// the two ends of an element of length h, at a fraction x of it.
func hermiteShape(h, x float64) [3][4]float64 {
	return [3][4]float64{
		{1 - x*x*(3-2*x), h * x * (1 - x) * (1 - x), x * x * (3 - 2*x), -h * x * x * (1 - x)},
		{-6 * x * (1 - x) / h, 1 - x*(4-3*x), 6 * x * (1 - x) / h, x * (3*x - 2)},
		{(12*x - 6) / (h * h), (6*x - 4) / h, (6 - 12*x) / (h * h), (6*x - 2) / h},
	}
}

// at gives v, v′ and v″ at a spot of an element.
func (a *beamSpot) at(q []float64) (d [3]float64) {
	for i := range d {
		d[i] = a.thin[i]
		for k, w := range a.shape[i] {
			d[i] += w * q[k]
		}
	}
	return d
}

// rests is the share of a strip's stiffness that the frames engage at v, with its first
// and second derivatives with respect to v, all continuous: all of it, except within
// half its width of a limit, and none past the limit, where it hangs free and runs
// straight on.
func (b *ribbonBeam) rests(v, girth float64) (y, y1, y2 float64) {
	pace := 2 * girth / b.width
	x := pace * v
	if v > 0.5 {
		x, pace = pace*(1-v), -pace
	}
	switch {
	case x <= 0:
		return 0, 0, 0
	case x >= 1:
		return 1, 0, 0
	}
	return x * x * x * (10 + x*(6*x-15)), pace * 30 * x * x * (1 - x) * (1 - x), pace * pace * 60 * x * (1 - x) * (1 - 2*x)
}

// reading is the contribution of a spot: the gradient of twice the energy per unit of u
// with respect to v, v′ and v″, its Hessian, and the vector whose square is the Hessian
// of the edge-set alone, as far as it is sure to be positive (Gauss-Newton).
type reading struct {
	grad, side [3]float64
	curl       [3][3]float64
}

// read gives that contribution.
func (b *ribbonBeam) read(a *beamSpot, d [3]float64) reading {
	f, fv, fvv := b.felt(a, d[0])
	speed := grownOf(f.speed[:], fv.speed[:], fvv.speed[:], d[1])
	side := grownOf(f.side[:], fv.side[:], fvv.side[:], d[1])
	side.y += f.area*d[2] - a.lag
	side.d[0] += fv.area * d[2]
	side.d[2] = f.area
	side.dd[0][0] += fvv.area * d[2]
	side.dd[0][2], side.dd[2][0] = fv.area, fv.area
	s5, square := speed.oddPower(5), side.times(&side)
	all := square.times(&s5)
	if b.rigid.edge != 1 {
		var edge grown
		edge.plusTimes(b.rigid.edge, &all)
		all = edge
	}
	if on, on1, on2 := b.rests(d[0], a.girth); on > 0 && b.rigid.face > 0 {
		face := grownOf(f.face[:], fv.face[:], fvv.face[:], d[1])
		twist := grownOf(f.twist[:], fv.twist[:], fvv.twist[:], d[1])
		face, twist = face.times(&face), twist.times(&twist)
		var bent grown
		bent.plusTimes(b.rigid.face, &face)
		bent.plusTimes(b.rigid.twist, &twist)
		s3 := speed.oddPower(3)
		bent = bent.times(&s3)
		bent = bent.times(&grown{y: on, d: [3]float64{on1}, dd: [3][3]float64{{on2}}})
		all.plusTimes(1, &bent)
	}
	r := reading{grad: all.d, curl: all.dd}
	root := math.Sqrt(2 * b.rigid.edge * s5.y)
	for i := range r.side {
		r.side[i] = root * side.d[i]
	}
	return r
}

// density is twice the energy per unit of u at a spot.
func (b *ribbonBeam) density(a *beamSpot, d [3]float64) float64 {
	f, _, _ := b.felt(a, d[0])
	f.side[0] -= a.lag
	on, _, _ := b.rests(d[0], a.girth)
	return f.density(rigidity{b.rigid.face * on, b.rigid.edge, b.rigid.twist * on}, d[1], d[2])
}

// lagOf is the error that averaging over the width makes in the edge-set of the thin
// strip at a spot, which is zero.
func (b *ribbonBeam) lagOf(a *beamSpot) float64 {
	f, _, _ := b.felt(a, a.thin[0])
	return f.sideways(a.thin[1], a.thin[2])
}

// felt is the surface at a spot as felt by a strip whose middle lies at v, with its
// derivatives with respect to v: the average over about its width. It is the uniform
// cubic B-spline over v whose control points, half a width apart, are the values of the
// surface itself. It averages as much as the plain mean over a width, having the same
// variance, and it is smooth, while the third derivatives of the surface, a bicubic,
// jump from cell to cell.
func (b *ribbonBeam) felt(a *beamSpot, v float64) (f, fv, fvv ribbonForms) {
	pitch := b.width / 2 / a.girth
	first := math.Floor(v / pitch)
	x := v/pitch - first
	y := 1 - x
	weights := [3][4]float64{
		{y * y * y / 6, (4 - 6*x*x + 3*x*x*x) / 6, (4 - 6*y*y + 3*y*y*y) / 6, x * x * x / 6},
		{-y * y / 2, (3*x - 4) * x / 2, (4 - 3*y) * y / 2, x * x / 2},
		{y, 3*x - 2, 3*y - 2, x},
	}
	for k := range 4 {
		at := a.sample(b, int(first)+k-1, pitch)
		f.addTimes(weights[0][k], at)
		fv.addTimes(weights[1][k]/pitch, at)
		fvv.addTimes(weights[2][k]/(pitch*pitch), at)
	}
	return f, fv, fvv
}

// sample is the surface at a spot, a number of half widths below the upper limit;
// beyond a knuckle it stays as it is there.
func (a *beamSpot) sample(b *ribbonBeam, k int, pitch float64) *ribbonForms {
	far := 2 * farthestPast / pitch // what a step that is not taken may ask for, too
	k = min(max(k, int(-far)), int(1/pitch+far))
	if k < a.least || k >= a.least+len(a.felt) {
		a.widen(k)
	}
	f := &a.felt[k-a.least]
	if f.area == 0 {
		v := float64(k) * pitch
		if b.panel > 0 {
			v = max(v, b.s.breaks[b.panel])
		}
		if b.panel < len(b.s.panels)-1 {
			v = min(v, b.s.breaks[b.panel+1])
		}
		jet := b.s.inBay(b.panel, a.bay, a.u, v)
		*f = jet.ribbonForms()
	}
	return f
}

// widen makes room for a sample.
func (a *beamSpot) widen(k int) {
	const more = 4
	lo, hi := k, k+more
	if len(a.felt) > 0 {
		lo, hi = min(k-more, a.least), max(k+more, a.least+len(a.felt))
	}
	felt := make([]ribbonForms, hi-lo)
	if len(a.felt) > 0 {
		copy(felt[a.least-lo:], a.felt)
	}
	a.felt, a.least = felt, lo
}

// bent is the energy of the strip as it lies.
func (b *ribbonBeam) bent(r Ribbon) Bent {
	whole := b.rigid
	defer func() { b.rigid = whole }()
	of := func(part rigidity) float64 {
		b.rigid = part
		return b.energy(b.q) / 2 * r.edgeRigidity()
	}
	return Bent{Face: of(rigidity{face: whole.face}), Edge: of(rigidity{edge: whole.edge}), Twist: of(rigidity{twist: whole.twist})}
}

// away is the distance of the strip from the thin one's course at u, with its first and
// second derivatives; at a knot the second is the mean of its two sides.
func (b *ribbonBeam) away(u float64) (v, v1, v2 float64) {
	k := min(max(sort.SearchFloat64s(b.u, u)-1, 0), len(b.u)-2)
	of := func(k int) (d [3]float64) {
		h := b.u[k+1] - b.u[k]
		for i, row := range hermiteShape(h, (u-b.u[k])/h) {
			d[i] = floats.Dot(row[:], b.q[2*k:2*k+4])
		}
		return d
	}
	d := of(k)
	if k+2 < len(b.u) && u == b.u[k+1] {
		d[2] = (d[2] + of(k + 1)[2]) / 2
	}
	return d[0], d[1], d[2]
}

// energy is twice that of the whole strip over the rigidity in edge-set, 1/mm; infinite
// where it cannot be computed.
func (b *ribbonBeam) energy(q []float64) float64 {
	sum := 0.0
	for i := range b.spots {
		a := &b.spots[i]
		d := a.at(q[2*(i/spotsPerElement):])
		if d[0] < -farthestPast || d[0] > 1+farthestPast {
			return math.Inf(1)
		}
		sum += a.weight * b.density(a, d)
	}
	if math.IsNaN(sum) {
		return math.Inf(1)
	}
	return sum
}

// system gives the gradient of the energy, its Hessian, which has a bandwidth of four,
// and the part of that due to edge-set alone, as far as it is sure to be positive
// (Gauss-Newton). A fixed unknown has a row of its own.
func (b *ribbonBeam) system() (grad []float64, m, edge *mat.SymBandDense) {
	n := len(b.q)
	grad, m, edge = make([]float64, n), mat.NewSymBandDense(n, 3, nil), mat.NewSymBandDense(n, 3, nil)
	mm, ee := m.RawSymBand(), edge.RawSymBand()
	for i := range b.spots {
		a, first := &b.spots[i], 2*(i/spotsPerElement)
		r := b.read(a, a.at(b.q[first:]))
		var half [3][4]float64
		var side [4]float64
		for k := range 4 {
			for p := range 3 {
				for q := range 3 {
					half[p][k] += r.curl[p][q] * a.shape[q][k]
				}
				side[k] += r.side[p] * a.shape[p][k]
				grad[first+k] += a.weight * r.grad[p] * a.shape[p][k]
			}
		}
		for k := range 4 {
			at := (first + k) * mm.Stride
			for l := k; l < 4; l++ {
				mm.Data[at+l-k] += a.weight * (a.shape[0][k]*half[0][l] + a.shape[1][k]*half[1][l] + a.shape[2][k]*half[2][l])
				ee.Data[at+l-k] += a.weight * side[k] * side[l]
			}
		}
	}
	for k, held := range b.held {
		if held {
			grad[2*k] = 0
			fix(2*k, m)
			fix(2*k, edge)
		}
	}
	return grad, m, edge
}

// fix takes an unknown out of a matrix.
func fix(i int, m *mat.SymBandDense) {
	n, _ := m.SymBand()
	for k := max(i-3, 0); k <= min(i+3, n-1); k++ {
		if k != i {
			m.SetSymBand(min(i, k), max(i, k), 0)
		}
	}
	m.SetSymBand(i, i, max(math.Abs(m.At(i, i)), 1e-300))
}

const (
	settled      = 1e-4     // mm, move of the strip in the last round: the next would be its square
	mostNears    = 10       // rounds of Newton's method from near by
	mostSlides   = 80       // rounds from afar
	farthestPast = 1        // girths that a strip is followed past a limit: twice as far as the thin one, on which nothing bears it by then
	hardlyDamped = 0.05     // Levenberg's method when close to Newton's
	leastRise    = 1. / 128 // of the stiffness, the least step by which it is raised
)

// rest is how a strip comes to rest.
type rest int

const (
	restless rest = iota // it does not
	near                 // near the thin strip's course, as its stiffness rises
	slid                 // it slides away from there to where its energy is less
)

// settle lets the strip come to rest from the thin strip's course, by Newton's method,
// while its stiffness about the face and in twist is raised from zero in the largest
// steps that converge. If the energy loses its minimum before the full stiffness is
// reached, the strip slides down to the next.
func (b *ribbonBeam) settle() rest {
	whole := b.rigid
	if whole.face == 0 {
		return near // it is thin
	}
	defer func() { b.rigid = whole }()
	share, step, shareBefore := 0.0, 1.0, 0.0
	now, before := slices.Clone(b.q), slices.Clone(b.q)
	for share < 1 {
		next := min(share+step, 1)
		b.rigid.face, b.rigid.twist = whole.face*next, whole.twist*next
		for i := range b.q {
			b.q[i] = now[i]
			if share > 0 {
				b.q[i] += (now[i] - before[i]) * (next - share) / (share - shareBefore)
			}
		}
		if b.come() {
			copy(before, now)
			copy(now, b.q)
			shareBefore, share, step = share, next, 2*step
			continue
		}
		if step /= 2; step < leastRise {
			copy(b.q, now)
			b.rigid = whole
			return b.slide()
		}
	}
	return near
}

// come brings the strip to rest from near by, in rounds that move it less and less.
func (b *ribbonBeam) come() bool {
	last := b.width
	for range mostNears {
		grad, m, _ := b.system()
		step, ok := solved(m, grad)
		if !ok {
			return false
		}
		away := b.moves(step)
		if away > last {
			return false
		}
		last = away
		for k := range step {
			b.q[k] += step[k]
		}
		if away < settled {
			return true
		}
	}
	return false
}

// slide lowers the energy until the strip is near rest, and then brings it to rest: by
// Levenberg's method, damped in the metric of edgewise bending.
func (b *ribbonBeam) slide() rest {
	best, damp := b.energy(b.q), 1.0
	trial := make([]float64, len(b.q))
	for range mostSlides {
		grad, m, edge := b.system()
		fell := false
		for ; damp < 1e9 && !fell; damp *= 4 {
			step, ok := solved(plus(m, damp, edge), grad)
			if !ok {
				continue
			}
			for k := range trial {
				trial[k] = b.q[k] + step[k]
			}
			if y := b.energy(trial); y < best {
				best, fell = y, true
				damp /= 4 * 4
			}
		}
		if !fell {
			return restless
		}
		copy(b.q, trial)
		if damp < hardlyDamped && b.come() {
			return slid
		}
		copy(b.q, trial)
	}
	return restless
}

// plus is m plus a multiple of another.
func plus(m *mat.SymBandDense, x float64, o *mat.SymBandDense) *mat.SymBandDense {
	n, k := m.SymBand()
	data := slices.Clone(m.RawSymBand().Data)
	floats.AddScaled(data, x, o.RawSymBand().Data)
	return mat.NewSymBandDense(n, k, data)
}

// solved is the step from a gradient by a matrix, which it overwrites; none where the
// matrix is not positive definite. Not by mat.BandCholesky, which spends most of its time
// on the condition number: whether a step serves shows when it is taken.
func solved(m *mat.SymBandDense, grad []float64) ([]float64, bool) {
	factor, ok := lapack64.Pbtrf(m.RawSymBand())
	if !ok {
		return nil, false
	}
	step := slices.Clone(grad)
	floats.Scale(-1, step)
	lapack64.Pbtrs(factor, blas64.General{Rows: len(step), Cols: 1, Stride: 1, Data: step})
	return step, true
}

// moves is the greatest distance, at the knots, by which a step moves the strip, mm.
func (b *ribbonBeam) moves(step []float64) float64 {
	most := 0.0
	for k := range b.u {
		i := min(k*spotsPerElement, len(b.spots)-1)
		most = max(most, math.Abs(step[2*k])*b.spots[i].girth)
	}
	return most
}
