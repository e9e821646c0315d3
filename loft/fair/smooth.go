package fair

import (
	"math"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft/internal/halt"

	"github.com/go-gl/mathgl/mgl64"
)

// smoothed is the smooth surface through the points that are trusted: the
// least Σ|P−S|² + stiff[0]·Σ(differences along)² + stiff[1]·Σ(differences
// down)², a smoothing spline on the points (Whittaker 1923; Green and
// Silverman, Nonparametric Regression and Generalized Linear Models, 1994).
type smoothed struct {
	g       *grid
	stiff   [2]float64
	trusted []bool
	inverse *bandMatrix  // of the normal equations, within the band
	at      []mgl64.Vec2 // the surface at every point
	off     []float64    // the points' distance outwards from the surface, mm
}

// errLoose says that the points do not determine a surface.
var errLoose = tongue.New("the points are too few or too scattered to fair: check them against the drawing")

// smooth fits the surface. The error is errLoose, or wraps the context's.
func (g *grid) smooth(stiff [2]float64, trusted []bool) (*smoothed, error) {
	if err := halt.Asked(g.ctx, fairing); err != nil {
		return nil, err
	}
	l, at, ok := g.solve(stiff, trusted)
	if !ok {
		return nil, errLoose
	}
	if err := halt.Asked(g.ctx, fairing); err != nil {
		return nil, err
	}
	f := &smoothed{g: g, stiff: stiff, trusted: trusted, inverse: l.inverse(&g.room), at: at, off: make([]float64, len(g.at))}
	for i, p := range g.at {
		f.off[i] = p.Sub(at[i]).Dot(g.normal[i])
	}
	return f, nil
}

// hint is the weight of a point that is not trusted: enough to determine its place
// where nothing else does.
const hint = 1e-9

// solve gives the smooth points, and the factor of the normal equations, which is valid
// until the next is made.
func (g *grid) solve(stiff [2]float64, trusted []bool) (l *bandMatrix, at []mgl64.Vec2, ok bool) {
	g.equations = g.roughness(stiff, g.equations)
	l = g.equations
	y, z := make([]float64, len(g.at)), make([]float64, len(g.at))
	for i, p := range g.at {
		w := 1.0
		if !trusted[i] {
			w = hint
		}
		l.add(i, i, w)
		y[i], z[i] = w*p[0], w*p[1]
	}
	if !l.factor() {
		return nil, nil, false
	}
	y, z = l.solve(y), l.solve(z)
	at = make([]mgl64.Vec2, len(y))
	for i := range at {
		at[i] = mgl64.Vec2{y[i], z[i]}
	}
	return l, at, true
}

// turns is how much the hull turns: the mean square of the differences over every four
// frames, and down each frame, mm².
type turns struct{ along, down []float64 }

// turns are taken from surfaces that each leave one frame out, using the least of those
// that can judge, so that a bumped frame does not pass for shape. Next to the ends no
// frame can be left out, since nothing beyond it would distinguish the two: there all
// turning along the length is taken for shape.
func (f *smoothed) turns() turns {
	g := f.g
	t := turns{along: make([]float64, len(g.along)), down: make([]float64, len(g.down))}
	for s := range g.along {
		t.along[s] = meanSquare(g.along[s], f.at)
	}
	for s := range g.down {
		t.down[s] = meanSquare(g.down[s], f.at)
	}
	for i := 1; i < len(g.frames)-1 && g.ctx.Err() == nil; i++ {
		at, ok := f.without(i)
		if !ok {
			continue
		}
		for s := max(i-g.order, 1); s <= min(i, len(g.along)-2) && i > 1 && i < len(g.frames)-2; s++ {
			t.along[s] = min(t.along[s], meanSquare(g.along[s], at))
		}
		t.down[i] = min(t.down[i], meanSquare(g.down[i], at))
	}
	return t
}

// at is how much the hull turns along the length at a frame: the root mean square of
// the third differences over those groups of four frames in which it is one of the
// middle two, mm.
func (t turns) at(frame int) float64 {
	last := len(t.along) - 1
	a, b := min(max(frame-2, 0), last), min(max(frame-1, 0), last)
	return math.Sqrt(max(t.along[a], t.along[b]))
}

// roughness is the matrix of the penalties, reusing another where that is as large; nil
// for a new one.
func (g *grid) roughness(stiff [2]float64, in *bandMatrix) *bandMatrix {
	if in == nil || in.n != g.lengthwise.n || in.width != g.lengthwise.width {
		in = newBandMatrix(g.lengthwise.n, g.lengthwise.width)
	}
	along, down := g.lengthwise.data, g.girthwise.data[:len(g.lengthwise.data)]
	for i := range in.data[:len(along)] {
		in.data[i] = stiff[0]*along[i] + stiff[1]*down[i]
	}
	return in
}

// free is the share of a trusted point's own error that remains in its distance: one
// less its leverage.
func (f *smoothed) free(i int) float64 { return max(1-f.inverse.at(i, i), 1e-9) }

// misfit is the distance of point i from the surface through all the others that are
// trusted, outwards, mm: for a trusted one by the usual leave-one-out identity.
func (f *smoothed) misfit(i int) float64 {
	if !f.trusted[i] {
		return f.off[i]
	}
	return f.off[i] / f.free(i)
}

// noise is the standard deviation of the points' errors, mm, from the median of the
// residuals, which a few wrong points do not move. It is taken from that half of the
// points which the fit follows least, excluding end curves.
func (f *smoothed) noise() float64 {
	var free []float64
	for i := range f.off {
		if f.trusted[i] && !f.g.onEnd[i] {
			free = append(free, f.free(i))
		}
	}
	least := median(free)
	var r []float64
	for i := range f.off {
		if f.trusted[i] && !f.g.onEnd[i] && f.free(i) >= least {
			r = append(r, math.Abs(f.off[i])/math.Sqrt(f.free(i)))
		}
	}
	return normalMedian * median(r)
}

// spread is the standard deviation of the points' errors, mm, from all that are
// trusted: sharper than noise where the wrong points are taken out.
func (f *smoothed) spread() float64 {
	sum, left := 0.0, 0.0
	for i, d := range f.off {
		if f.trusted[i] && !f.g.onEnd[i] {
			sum += d * d
			left += f.left(i)
		}
	}
	return math.Sqrt(sum / max(left, 1))
}

// left is the variance of a trusted point's distance relative to that of the points'
// errors: the sum of squares of row i of 1−A.
func (f *smoothed) left(i int) float64 {
	v := 0.0
	w := f.inverse.width
	for j := max(0, i-w); j <= min(i+w, f.inverse.n-1); j++ {
		if !f.trusted[j] {
			continue
		}
		a := f.inverse.at(i, j) * f.g.normal[i].Dot(f.g.normal[j])
		if i == j {
			a = 1 - a
		}
		v += a * a
	}
	return v
}

// normalMedian is the standard deviation of a normal distribution over the
// median of its absolute value.
const normalMedian = 1.4826

// median is the median of a list, which it sorts; 0 for none.
func median(x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	slices.Sort(x)
	return x[len(x)/2]
}

// surprise measures how badly the surface predicts points that it was not shown: the
// mean square misfit, with the worst tenth left out so that wrong points do not loosen
// the surface. Below fineness a smaller value is no better, and of two surfaces that
// predict equally well the stiffer is the better. Where the points' errors are known,
// it is their risk.
func (f *smoothed) surprise() float64 {
	if f.g.rounding > 0 {
		return f.risk()
	}
	var r []float64
	for i := range f.off {
		if f.trusted[i] {
			r = append(r, f.misfit(i)*f.misfit(i))
		}
	}
	slices.Sort(r)
	r = r[:len(r)-len(r)/10]
	sum := 0.0
	for _, v := range r {
		sum += v
	}
	mean := sum/float64(len(r)) + fineness*fineness
	return mean / math.Pow(f.stiff[0]*f.stiff[1], 0.01)
}

// risk is the mean square distance of the surface from the true hull, mm², up to a
// constant that is the same for all surfaces, where the standard deviation of the
// points' errors is known: Mallows' Cp (Technometrics 15, 1973), with wary for 1.
func (f *smoothed) risk() float64 {
	v := f.g.rounding * f.g.rounding
	sum, n := 0.0, 0.0
	for i, d := range f.off {
		if f.trusted[i] {
			sum += d*d + 2*wary*v*f.inverse.at(i, i)
			n++
		}
	}
	return sum / n
}

// wary is how many times a degree of freedom is counted: more than once, since
// otherwise chance, and errors that neighbours share, lead to a surface that follows
// them (Kim and Gu, Journal of the Royal Statistical Society B 66, 2004, advise 1.2 to
// 1.4 for independent errors; rounded ones are not independent).
const wary = 2

// frameSurprise is the same for whole frames, each predicted by the others alone: the
// geometric mean of their mean square misfits, in which a bumped frame, which throws
// out its neighbours, or one at a bluff end weighs little more than any other. A
// frame's own points predict each other however loose the surface is along the length,
// so they say nothing about that.
func (f *smoothed) frameSurprise() float64 {
	g := f.g
	sum, n := 0.0, 0.0
	for i := 1; i < len(g.frames)-1; i++ {
		if sq, ok := f.foreseen(i); ok && !g.frames[i].IsEnd() {
			sum += math.Log(sq + fineness*fineness)
			n++
		}
	}
	if n == 0 {
		return f.surprise()
	}
	return math.Exp(sum/n) / math.Pow(f.stiff[0]*f.stiff[1], 0.01)
}

// foreseen is the mean square distance of a frame's trusted points from the surface
// through the other frames, mm².
func (f *smoothed) foreseen(frame int) (float64, bool) {
	off, ok := f.leftOut(f.trustedOf(frame))
	sum := 0.0
	for _, v := range off {
		sum += v * v / float64(len(off))
	}
	return sum, ok
}

// without gives the surface through the other frames at the points of a frame and of
// those on either side that differences join with it; elsewhere it is unchanged. With A
// the inverse, and b the frame's trusted points, it is S - A·(1-A_bb)⁻¹·(P-S)_b.
func (f *smoothed) without(frame int) ([]mgl64.Vec2, bool) {
	g := f.g
	b := f.trustedOf(frame)
	l, ok := f.unled(b, func(int, int) float64 { return 1 })
	if !ok {
		return nil, false
	}
	var push [2][]float64
	for axis := range push {
		off := make([]float64, len(b))
		for a, i := range b {
			off[a] = g.at[i][axis] - f.at[i][axis]
		}
		push[axis] = l.solve(off)
	}
	at := slices.Clone(f.at)
	for j := g.first[max(frame-g.order, 0)]; j < g.first[min(frame+g.order+1, len(g.frames))]; j++ {
		for a, i := range b {
			v := f.inverse.at(j, i)
			at[j][0] -= v * push[0][a]
			at[j][1] -= v * push[1][a]
		}
	}
	return at, true
}

// trustedOf gives the indices of a frame's trusted points.
func (f *smoothed) trustedOf(frame int) []int {
	return f.trustedIn(f.g.first[frame], f.g.first[frame+1]-1)
}

// unled is the Cholesky factor of 1-A on some points, A being the inverse times a
// weight for each pair; false for no points, or where they alone determine the surface.
func (f *smoothed) unled(at []int, weight func(i, j int) float64) (*bandMatrix, bool) {
	if len(at) == 0 {
		return nil, false
	}
	m := newBandMatrix(len(at), len(at)-1)
	for a, i := range at {
		m.add(a, a, 1)
		for b, j := range at[:a+1] {
			m.add(a, b, -f.inverse.at(i, j)*weight(i, j))
		}
	}
	whole := m.factor()
	return m, whole
}

const (
	// fineness is the best accuracy to which a table of offsets is written, mm.
	fineness = 0.01
	// readTo is the best accuracy to which a hull is read by hand, mm.
	readTo = 0.05
)

// settle finds the stiffness that predicts the points best, along the length by a
// criterion of the caller's, in factors of four in either direction from start.
func (g *grid) settle(start [2]float64, trusted []bool, lengthwise func(*smoothed) float64) (*smoothed, error) {
	const step, low, high = 4, 1e-4, 1e7
	best, err := g.smooth(start, trusted)
	if err != nil {
		return nil, err
	}
	told := map[[2]float64][2]float64{} // by both criteria, for every stiffness tried
	tell := func(f *smoothed) [2]float64 {
		told[f.stiff] = [2]float64{lengthwise(f), f.surprise()}
		if g.tried != nil {
			g.tried(f, told[f.stiff][1])
		}
		return told[f.stiff]
	}
	least := tell(best)
	better := func(axis int, next [2]float64) bool {
		if next[axis] < low || next[axis] > high {
			return false
		}
		if is, ok := told[next]; ok && !(is[axis] < least[axis]*(1-1e-4)) {
			return false
		}
		trial, err := g.smooth(next, trusted)
		if err != nil {
			return false
		}
		is := tell(trial)
		if !(is[axis] < least[axis]*(1-1e-4)) {
			return false
		}
		best, least = trial, is
		return true
	}
	for range 12 {
		was := best.stiff
		for axis := range 2 {
			for _, by := range []float64{step, 1.0 / step} {
				for next := best.stiff; ; {
					next[axis] *= by
					if !better(axis, next) {
						break
					}
				}
			}
		}
		if best.stiff == was {
			break
		}
	}
	return best, halt.Asked(g.ctx, fairing)
}
