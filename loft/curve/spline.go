package curve

import (
	"slices"
	"sort"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/mat"
)

// NotAKnot is the tridiagonal system of the slopes, at rising knots, of the C2
// cubic whose third derivative is continuous at the last knots but one (error of
// order h⁴ up to the ends; de Boor, A Practical Guide to Splines, chapter IV).
// It is solved in a time that grows as the knots, for as many rows of values at
// once as are wanted.
type NotAKnot struct {
	x    []float64
	h    []float64    // from each knot to the next
	rows *mat.Tridiag // nil for fewer than four knots
}

// NewNotAKnot sets up the system for two or more knots.
func NewNotAKnot(x []float64) *NotAKnot {
	n := len(x)
	k := &NotAKnot{x: x, h: make([]float64, n-1)}
	for i := range k.h {
		k.h[i] = x[i+1] - x[i]
	}
	if n < 4 {
		return k
	}
	h, e := k.h, n-2 // e is the last interval
	lower, middle, upper := make([]float64, n-1), make([]float64, n), make([]float64, n-1)
	middle[0], upper[0] = h[1], h[0]+h[1]
	for i := 1; i < n-1; i++ {
		lower[i-1], middle[i], upper[i] = h[i], 2*(h[i-1]+h[i]), h[i-1]
	}
	lower[e], middle[n-1] = h[e]+h[e-1], h[e-1]
	k.rows = mat.NewTridiag(n, lower, middle, upper)
	return k
}

// Slopes gives, for each column of values at the knots, the column of slopes.
// Two knots give the chord, three the parabola. Knots that do not rise, which
// validation refuses, give difference quotients.
func (k *NotAKnot) Slopes(y *mat.Dense) *mat.Dense {
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

// rightSide sets the right side of the system for every column of values.
func (k *NotAKnot) rightSide(y, b *mat.Dense) {
	h, n, e := k.h, len(k.x), len(k.h)-1
	_, m := y.Dims()
	last, next := make([]float64, m), make([]float64, m)
	k.chords(y, 0, last)
	k.chords(y, 1, next)
	combine(b.RawRowView(0), (3*h[0]+2*h[1])*h[1]/(h[0]+h[1]), last, h[0]*h[0]/(h[0]+h[1]), next)
	for i := 1; i < n-1; i++ {
		k.chords(y, i, next)
		combine(b.RawRowView(i), 3*h[i], last, 3*h[i-1], next)
		if i < e {
			last, next = next, last
		}
	}
	combine(b.RawRowView(n-1), h[e]*h[e]/(h[e]+h[e-1]), last, (3*h[e]+2*h[e-1])*h[e-1]/(h[e]+h[e-1]), next)
}

// chords gives the slopes of the chords of interval i, one a column.
func (k *NotAKnot) chords(y *mat.Dense, i int, out []float64) {
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

// Batten is the natural cubic through its knots: the course of a batten sprung
// through points, which bends least among all curves through them (Holladay's
// theorem; de Boor). Beyond its end knots it goes on straight.
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

// Rising gives slopes at the knots x of a cubic through (x, y), both rising, that
// rises all along: at a knot the harmonic mean of the chords beside it, each
// weighted the more the longer the other is (Fritsch and Butland, SIAM J. Sci. Stat.
// Comput. 5, 1984), at an end what makes the end span part of a parabola. Smooth in
// y, so that cubics beside each other differ as little as their points do.
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
