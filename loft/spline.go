package loft

import (
	"sort"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/mat"
)

// notAKnotSlopes gives the slopes at the knots x (rising) of the C2 cubic
// through (x, y) with a continuous third derivative at the last knots but one
// (error of order h⁴ up to the ends; de Boor, A Practical Guide to Splines).
// Two knots give the chord, three the parabola.
func notAKnotSlopes(x, y []float64) []float64 {
	switch len(x) {
	case 2:
		m := (y[1] - y[0]) / (x[1] - x[0])
		return []float64{m, m}
	case 3:
		return parabolaSlopes(x, y)
	}
	var c interp.NotAKnotCubic
	if err := c.Fit(x, y); err != nil {
		// The system is diagonally dominant for rising x: only non-finite
		// data, which validation refuses, comes here.
		var p interp.PiecewiseLinear
		_ = p.Fit(x, y)
		return slopesOf(p.Predict, x)
	}
	out := make([]float64, len(x))
	for i := range x {
		out[i] = c.PredictDerivative(x[i])
	}
	return out
}

// slopesOf gives one-sided difference quotients of f over x.
func slopesOf(f func(float64) float64, x []float64) []float64 {
	out := make([]float64, len(x))
	for i := range x {
		a, b := max(i-1, 0), min(i+1, len(x)-1)
		out[i] = (f(x[b]) - f(x[a])) / (x[b] - x[a])
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

// slopeOperator gives the matrix D, len(x) square, with notAKnotSlopes(x, y) =
// D·y: the slopes are linear in y, so that one matrix serves every row of a
// grid.
func slopeOperator(x []float64) *mat.Dense {
	n := len(x)
	d := mat.NewDense(n, n, nil)
	y := make([]float64, n)
	for j := range y {
		y[j] = 1
		d.SetCol(j, notAKnotSlopes(x, y))
		y[j] = 0
	}
	return d
}

// batten is the natural cubic through its knots: the course of a batten sprung
// through points, which bends least among all curves through them (Holladay's
// theorem; de Boor). Beyond its end knots it goes on straight.
type batten struct{ x, y, m []float64 }

// newBatten springs a batten through one or more points of rising x.
func newBatten(x, y []float64) batten {
	b := batten{x: x, y: y, m: make([]float64, len(x))}
	switch len(x) {
	case 1:
	case 2:
		b.m[0] = (y[1] - y[0]) / (x[1] - x[0])
		b.m[1] = b.m[0]
	default:
		var c interp.NaturalCubic
		if err := c.Fit(x, y); err != nil {
			b.m = slopesOf(func(t float64) float64 { return y[sort.SearchFloat64s(x, t)] }, x)
			break
		}
		for i := range x {
			b.m[i] = c.PredictDerivative(x[i])
		}
	}
	return b
}

// at gives value and first and second derivative at t.
func (b batten) at(t float64) (f, f1, f2 float64) {
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
	return hermite(b.x[i+1]-b.x[i], b.y[i], b.y[i+1], b.m[i], b.m[i+1], t-b.x[i])
}

// hermite gives value, first and second derivative at t in [0, h] of the cubic
// with values y0, y1 and slopes m0, m1 at 0 and h.
func hermite(h, y0, y1, m0, m1, t float64) (f, f1, f2 float64) {
	c2, c3 := hermitePowers(h, y0, y1, m0, m1)
	return y0 + t*(m0+t*(c2+t*c3)), m0 + t*(2*c2+3*t*c3), 2*c2 + 6*t*c3
}

// hermitePowers gives the coefficients of t² and t³ of that cubic.
func hermitePowers(h, y0, y1, m0, m1 float64) (c2, c3 float64) {
	d := (y1 - y0) / h
	return (3*d - 2*m0 - m1) / h, (m0 + m1 - 2*d) / (h * h)
}
