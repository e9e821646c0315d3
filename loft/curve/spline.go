package curve

import (
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/mat"
)

// fewestSteady is the fewest knots over which the fourth derivative of a hull is steady
// enough to be continued from bay to bay: with NewSteady instead of not-a-knot, the
// error on Wigley's hull of 360 mm was 0.056 against 0.038 mm with 7 frames, 0.038
// against 0.033 with 9, 0.023 against 0.024 with 11 and 0.0136 against 0.0161 with 13.
const fewestSteady = 11

// Cubic is the tridiagonal system for the slopes, at rising knots, of a C2 cubic. The
// time to solve it is proportional to the number of knots, for any number of rows of
// values at once.
type Cubic struct {
	x    []float64
	h    []float64    // from each knot to the next
	rows *mat.Tridiag // nil for fewer than four knots
	ends [2][]float64 // right side of the first and last row: factors of the chords, from the end inwards
}

// NewNotAKnot sets up the system, for two or more knots, of the cubic whose third
// derivative is continuous at the last knots but one (error of order h⁴ up to the
// ends; de Boor, A Practical Guide to Splines, chapter IV).
func NewNotAKnot(x []float64) *Cubic { return newSystem(x, 0) }

// NewSteady sets up the system of the C2 cubic whose third derivative jumps at the last
// knot but one as it does at the last but two, each jump in proportion to half the two
// adjacent intervals, which is the effect of the curve's fourth derivative. The second
// derivative of such a cubic is off by h²/12 times the fourth at the end knot as at the
// others; not-a-knot, which has no jump at the last knot but one, is off by eight times
// as much there (conditions of that order are those of Behforooz and Papamichael, "End
// conditions for cubic spline interpolation", J. Inst. Maths Applics 23, 1979; the
// source is from memory). For fewer than eleven knots it is not-a-knot.
func NewSteady(x []float64) *Cubic { return newSystem(x, 1) }

func newSystem(x []float64, leap float64) *Cubic {
	n := len(x)
	k := &Cubic{x: x, h: make([]float64, n-1)}
	for i := range k.h {
		k.h[i] = x[i+1] - x[i]
	}
	if n < 4 {
		return k
	}
	h := k.h
	lower, middle, upper := make([]float64, n-1), make([]float64, n), make([]float64, n-1)
	for i := 1; i < n-1; i++ {
		lower[i-1], middle[i], upper[i] = h[i], 2*(h[i-1]+h[i]), h[i-1]
	}
	if n < fewestSteady {
		leap = 0
	}
	middle[0], upper[0], k.ends[0] = endRow(h[0], h[1], h[min(2, n-2)], leap)
	middle[n-1], lower[n-2], k.ends[1] = endRow(h[n-2], h[n-3], h[max(n-4, 0)], leap)
	k.rows = mat.NewTridiag(n, lower, middle, upper)
	return k
}

// endRow is the row of the end knot for intervals a, b, c from the end inwards: the
// factors of the slopes at it and at the next knot, and those of the slopes of the
// chords. The jump of the third derivative from a to b is a share (leap) of what the
// one from b to c predicts; with d for chords and m for slopes,
//
//	(m0+m1−2d0)/a² = (1+r)·(m1+m2−2d1)/b² − r·(m2+m3−2d2)/c²,  r = leap·(a+b)/(b+c),
//
// from which the rows of the next two knots eliminate m2 and m3.
func endRow(a, b, c, leap float64) (own, next float64, chords []float64) {
	r := leap * (a + b) / (b + c)
	// Factors of m0, m1, d0, d1, d2.
	m2 := [5]float64{-b / a, -2 * (a + b) / a, 3 * b / a, 3, 0}
	m3 := [5]float64{0, -c / b, 0, 3 * c / b, 3}
	for i := range m3 {
		m3[i] -= 2 * (b + c) / b * m2[i]
	}
	row := [5]float64{1 / (a * a), 1 / (a * a), -2 / (a * a), 0, 0}
	row[1] -= (1 + r) / (b * b)
	row[3] += 2 * (1 + r) / (b * b)
	row[4] -= 2 * r / (c * c)
	for i := range row {
		row[i] += r/(c*c)*(m2[i]+m3[i]) - (1+r)/(b*b)*m2[i]
	}
	scale := a * a * b // any will do
	return row[0] * scale, row[1] * scale, []float64{-row[2] * scale, -row[3] * scale, -row[4] * scale}
}

// Slopes gives, for each column of values at the knots, the column of slopes.
// Two knots give the chord, three the parabola. Knots that do not rise, which
// validation refuses, give difference quotients.
func (k *Cubic) Slopes(y *mat.Dense) *mat.Dense {
	n, m := y.Dims()
	out := mat.NewDense(n, m, nil)
	if k.rows == nil {
		column := make([]float64, n)
		for j := range m {
			out.SetCol(j, fewSlopes(k.x, mat.Col(column, j, y)))
		}
		return out
	}
	k.rightSide(y, out)
	if k.rows.SolveTo(out, false, out) != nil {
		column := make([]float64, n)
		for j := range m {
			out.SetCol(j, slopesOf(mat.Col(column, j, y), k.x))
		}
	}
	return out
}

// OfEnd gives the change of all slopes when that at an end knot, the first or the last,
// is increased by 1: the C2 cubic through zeros that has slope 1 there, and ends at the
// other as usual. It is used to give a cubic a prescribed slope at its end.
func (k *Cubic) OfEnd(last bool) []float64 {
	n := len(k.x)
	end, other := 0, n-1
	if last {
		end, other = n-1, 0
	}
	out := mat.NewDense(n, 1, nil)
	out.Set(end, 0, 1)
	if k.rows == nil {
		return out.RawMatrix().Data
	}
	lower, middle, upper := make([]float64, n-1), make([]float64, n), make([]float64, n-1)
	for i := range n {
		middle[i] = k.rows.At(i, i)
		if i+1 < n {
			lower[i], upper[i] = k.rows.At(i+1, i), k.rows.At(i, i+1)
		}
	}
	middle[end] = 1
	if last {
		lower[n-2] = 0
	} else {
		upper[0] = 0
	}
	if mat.NewTridiag(n, lower, middle, upper).SolveTo(out, false, out) != nil || math.IsNaN(out.At(other, 0)) {
		out.Zero()
		out.Set(end, 0, 1)
	}
	return out.RawMatrix().Data
}

// rightSide sets the right side of the system for every column of values.
func (k *Cubic) rightSide(y, b *mat.Dense) {
	h, n, e := k.h, len(k.x), len(k.h)-1
	_, m := y.Dims()
	last, next := make([]float64, m), make([]float64, m)
	addTo := func(row int, factors []float64, bay int) {
		if bay >= 0 && bay < len(factors) {
			to := b.RawRowView(row)
			for j := range to {
				to[j] += factors[bay] * next[j]
			}
		}
	}
	for i := range h {
		k.chords(y, i, next)
		if i > 0 {
			combine(b.RawRowView(i), 3*h[i], last, 3*h[i-1], next)
		}
		addTo(0, k.ends[0], i)
		addTo(n-1, k.ends[1], e-i)
		last, next = next, last
	}
}

// chords gives the slopes of the chords of interval i, one for each column.
func (k *Cubic) chords(y *mat.Dense, i int, out []float64) {
	a, b := y.RawRowView(i), y.RawRowView(i+1)
	for j := range out {
		out[j] = (b[j] - a[j]) / k.h[i]
	}
}

// combine sets out to p·a + q·b.
func combine(out []float64, p float64, a []float64, q float64, b []float64) {
	for j := range out {
		out[j] = p*a[j] + q*b[j]
	}
}

// Slopes gives the slopes at the knots x of that cubic through (x, y).
func Slopes(x, y []float64) []float64 {
	return NewNotAKnot(x).Slopes(mat.NewDense(len(y), 1, slices.Clone(y))).RawMatrix().Data
}

// fewSlopes gives the slopes at two or three points.
func fewSlopes(x, y []float64) []float64 {
	if len(x) == 3 {
		return parabolaSlopes(x, y)
	}
	m := (y[1] - y[0]) / (x[1] - x[0])
	return []float64{m, m}
}

// slopesOf gives difference quotients of y over x, one-sided at the ends.
func slopesOf(y, x []float64) []float64 {
	out := make([]float64, len(x))
	for i := range x {
		a, b := max(i-1, 0), min(i+1, len(x)-1)
		out[i] = (y[b] - y[a]) / (x[b] - x[a])
	}
	return out
}

// parabolaSlopes gives the slopes at three points of the parabola through them.
func parabolaSlopes(x, y []float64) []float64 {
	d0 := (y[1] - y[0]) / (x[1] - x[0])
	d1 := (y[2] - y[1]) / (x[2] - x[1])
	c := (d1 - d0) / (x[2] - x[0])
	return []float64{d0 - c*(x[1]-x[0]), d0 + c*(x[1]-x[0]), d1 + c*(x[2]-x[1])}
}

// Batten is the natural cubic through its knots: the course of a batten sprung through
// points, which bends least among all curves through them (Holladay's theorem; de
// Boor). Beyond its end knots it continues straight.
type Batten struct{ x, y, m []float64 }

// NewBatten springs a batten through one or more points of rising x.
func NewBatten(x, y []float64) Batten {
	b := Batten{x: x, y: y, m: make([]float64, len(x))}
	switch len(x) {
	case 1:
	case 2:
		b.m[0] = (y[1] - y[0]) / (x[1] - x[0])
		b.m[1] = b.m[0]
	default:
		var c interp.NaturalCubic
		if err := c.Fit(x, y); err != nil {
			b.m = slopesOf(y, x)
			break
		}
		for i := range x {
			b.m[i] = c.PredictDerivative(x[i])
		}
	}
	return b
}

// At gives value and first and second derivative at t.
func (b Batten) At(t float64) (f, f1, f2 float64) {
	n := len(b.x)
	switch {
	case t <= b.x[0]:
		return b.y[0] + b.m[0]*(t-b.x[0]), b.m[0], 0
	case t >= b.x[n-1]:
		return b.y[n-1] + b.m[n-1]*(t-b.x[n-1]), b.m[n-1], 0
	}
	i := sort.SearchFloat64s(b.x, t)
	if i > 0 && b.x[i] > t {
		i--
	}
	i = min(i, n-2)
	return Hermite(b.x[i+1]-b.x[i], b.y[i], b.y[i+1], b.m[i], b.m[i+1], t-b.x[i])
}

// Hermite gives value, first and second derivative at t in [0, h] of the cubic
// with values y0, y1 and slopes m0, m1 at 0 and h.
func Hermite(h, y0, y1, m0, m1, t float64) (f, f1, f2 float64) {
	c2, c3 := HermitePowers(h, y0, y1, m0, m1)
	return y0 + t*(m0+t*(c2+t*c3)), m0 + t*(2*c2+3*t*c3), 2*c2 + 6*t*c3
}

// HermitePowers gives the coefficients of t² and t³ of that cubic.
func HermitePowers(h, y0, y1, m0, m1 float64) (c2, c3 float64) {
	d := (y1 - y0) / h
	return (3*d - 2*m0 - m1) / h, (m0 + m1 - 2*d) / (h * h)
}

// Rising gives slopes at the knots x of a cubic through (x, y), both rising, that rises
// throughout: at a knot the harmonic mean of the adjacent chords, each weighted the
// more the longer the other is (Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5,
// 1984); at an end the slope that makes the end span part of a parabola. They depend
// smoothly on y, so that neighbouring cubics differ as little as their points do.
func Rising(x, y []float64) []float64 {
	n := len(x)
	chord := func(i int) float64 { return (y[i+1] - y[i]) / (x[i+1] - x[i]) }
	m := make([]float64, n)
	for i := 1; i < n-1; i++ {
		before, after := x[i]-x[i-1], x[i+1]-x[i]
		a, b := 2*after+before, after+2*before
		m[i] = (a + b) / (a/chord(i-1) + b/chord(i))
	}
	if n == 2 {
		return []float64{chord(0), chord(0)}
	}
	m[0], m[n-1] = (3*chord(0)-m[1])/2, (3*chord(n-2)-m[n-2])/2
	return m
}
