package loft

import (
	"math"
	"math/rand/v2"
	"strakewright/loft/internal/bodies"
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
		got := newNotAKnot(x).slopes(y)
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
		for i, m := range notAKnotSlopes(x, y) {
			want := c[1] + x[i]*(2*c[2]+3*x[i]*c[3])
			assert.InDelta(t, want, m, 1e-11*(1+math.Abs(want)), "%d knots", n)
		}
	}
}

// TestInfluencesAddUp: the course of a cubic is the sum of what its knots do,
// though each is cut off where it is faint.
func TestInfluencesAddUp(t *testing.T) {
	s, err := Loft(bodies.Wigley(1600, 120, 9))
	require.NoError(t, err)
	knots, _ := s.halfBays(newCourse(len(s.stations)))
	r := rand.New(rand.NewPCG(7, 8))
	v := make([]float64, len(knots))
	for i := range v {
		v[i] = r.Float64()
	}
	whole, sum := s.supple(knots, v), newCourse(len(s.stations))
	reached := 0
	for k, f := range s.easeInfluences() {
		reached = max(reached, len(f.v))
		for i := range f.v {
			sum.v[f.first+i] += v[k] * f.v[i]
			sum.v1[f.first+i] += v[k] * f.v1[i]
			sum.v2[f.first+i] += v[k] * f.v2[i]
		}
	}
	assert.InDeltaSlice(t, whole.v, sum.v, 1e-11)
	assert.InDeltaSlice(t, whole.v1, sum.v1, 1e-11)
	assert.InDeltaSlice(t, whole.v2, sum.v2, 1e-11)
	assert.Less(t, reached, 130, "a knot is felt by a bounded number of stations: of 477 here")
}
