package progress

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// The bound of a sum of a uniform and a normal variable contains 95 % of it, by
// quadrature over the one and gonum's normal distribution for the other.
func TestBound95HoldsItsShare(t *testing.T) {
	for _, share := range []float64{0.05, 0.3, 0.6, 0.9, 0.99} {
		const variance = 0.04
		q := bound95(variance, share*variance)
		even := math.Sqrt(3 * share * variance)
		n := distuv.Normal{Sigma: math.Sqrt((1 - share) * variance)}
		inside := quad.Fixed(func(x float64) float64 { return n.CDF(q-x) - n.CDF(-q-x) }, -even, even, 400, nil, 0) / (2 * even)
		assert.InDelta(t, 0.95, inside, 1e-6, "a share of %g: by Gauss-Legendre, exact to far less", share)
	}
	assert.InDelta(t, 1.959964*0.2, bound95(0.04, 0), 1e-6)
	assert.InDelta(t, 0.95*math.Sqrt(3)*0.2, bound95(0.04, 0.04), 1e-6)
	assert.Zero(t, bound95(0, 0))
}
