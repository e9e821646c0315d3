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

// TestSlopesAreThoseOfGonum: interp.NotAKnotCubic solves for the second
// derivatives by a dense factor, we for the slopes by a band. Both are backward
// stable and the system is diagonally dominant, so that they agree to rounding.
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

// TestSlopesOfACubic: any cubic, and of three knots any parabola, is its own spline.
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
