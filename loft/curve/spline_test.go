package curve

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/mat"
)

// unevenKnots are n rising knots whose intervals differ by up to five to one.
func unevenKnots(r *rand.Rand, n int) []float64 {
	x := make([]float64, n)
	for i := 1; i < n; i++ {
		x[i] = x[i-1] + 2 + 8*r.Float64()
	}
	return x
}

// TestSlopesAreThoseOfGonum: interp.NotAKnotCubic solves for the second derivatives by
// a dense factor, ours for the slopes by a band. Both are backward stable and the
// system is diagonally dominant, so they agree to rounding.
func TestSlopesAreThoseOfGonum(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, n := range []int{4, 5, 6, 25, 120} {
		x := unevenKnots(r, n)
		y := mat.NewDense(n, 3, nil)
		y.Apply(func(int, int, float64) float64 { return 10 * r.NormFloat64() }, y)
		got := NewNotAKnot(x).Slopes(y)
		for j := range 3 {
			var want interp.NotAKnotCubic
			require.NoError(t, want.Fit(x, mat.Col(nil, j, y)))
			for i := range x {
				assert.InDelta(t, want.PredictDerivative(x[i]), got.At(i, j), 1e-11, "%d knots, knot %d", n, i)
			}
		}
	}
}

// TestSlopesOfACubic: any cubic, and with three knots any parabola, is its own spline.
func TestSlopesOfACubic(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for _, n := range []int{2, 3, 4, 7, 40} {
		x, c := unevenKnots(r, n), [4]float64{3, -0.4, 0.03, 2e-4}
		for k := n; k < 4; k++ {
			c[k] = 0
		}
		y := make([]float64, n)
		for i, t := range x {
			y[i] = c[0] + t*(c[1]+t*(c[2]+t*c[3]))
		}
		for i, m := range Slopes(x, y) {
			want := c[1] + x[i]*(2*c[2]+3*x[i]*c[3])
			assert.InDelta(t, want, m, 1e-11*(1+math.Abs(want)), "%d knots", n)
		}
	}
}

// TestSteadyEnds: the second derivative of the steady cubic is short by h²/12 of the
// fourth at an end knot, as that of a cubic spline is at every knot (de Boor, chapter
// V). Not-a-knot makes three of them collinear, which those of a quartic miss by h²;
// the additional error dies out by a factor √3 - 2 a knot, so that at the end it is
// h²/(3 - √3)². For a quartic these are exact, apart from 1e-14 from the other end.
func TestSteadyEnds(t *testing.T) {
	x := make([]float64, 25)
	y := make([]float64, 25)
	for i := range x {
		x[i] = 2 * float64(i)
		y[i] = math.Pow(x[i]-20, 4) / 24 // with fourth derivative 1
	}
	at := func(m []float64, i int) float64 { // second derivative at the end knot, i or from the other end
		h := x[1] - x[0]
		if i == 0 {
			return 6*(y[1]-y[0])/h/h - (4*m[0]+2*m[1])/h
		}
		return (2*m[i-1]+4*m[i])/h - 6*(y[i]-y[i-1])/h/h
	}
	column := mat.NewDense(len(y), 1, y)
	steady, plain := NewSteady(x).Slopes(column).RawMatrix().Data, Slopes(x, y)
	for _, i := range []int{0, 24} {
		truth := (x[i] - 20) * (x[i] - 20) / 2
		assert.InDelta(t, truth-4./12, at(steady, i), 1e-9)
		assert.InDelta(t, truth-4*(1./12+1/math.Pow(3-math.Sqrt(3), 2)), at(plain, i), 1e-9)
	}
	for i, m := range NewSteady(x[:10]).Slopes(mat.NewDense(10, 1, y[:10])).RawMatrix().Data {
		assert.InDelta(t, Slopes(x[:10], y[:10])[i], m, 1e-12, "of few knots it is not-a-knot")
	}
}

// TestSteadyOfACubic: over uneven knots too, a cubic is its own steady spline.
func TestSteadyOfACubic(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 7))
	for _, n := range []int{11, 12, 40} {
		x := unevenKnots(r, n)
		y := make([]float64, n)
		for i, t := range x {
			y[i] = 3 + t*(-0.4+t*(0.03+t*2e-4))
		}
		for i, m := range NewSteady(x).Slopes(mat.NewDense(n, 1, y)).RawMatrix().Data {
			assert.InEpsilon(t, -0.4+x[i]*(0.06+x[i]*6e-4), m, 1e-10, "%d knots", n)
		}
	}
}
