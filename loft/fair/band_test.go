package fair

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// TestBandMatrix checks product, factor, solution and inverse against gonum's dense
// ones; 1e-9 covers rounding on a matrix of condition below 1e4.
func TestBandMatrix(t *testing.T) {
	const n, width = 30, 4
	r := rand.New(rand.NewPCG(1, 1))
	b := newBandMatrix(n, width)
	dense := mat.NewSymDense(n, nil)
	x := make([]float64, n)
	for i := range n {
		x[i] = r.NormFloat64()
		for j := max(0, i-width); j <= i; j++ {
			v := r.NormFloat64()
			if i == j {
				v = 12
			}
			b.add(j, i, v)
			dense.SetSym(i, j, v)
		}
	}
	var y mat.VecDense
	y.MulVec(dense, mat.NewVecDense(n, x))
	assert.InDeltaSlice(t, y.RawVector().Data, b.times(x), 1e-9)
	l := newBandMatrix(n, width)
	copy(l.data, b.data)
	require.True(t, l.factor())
	var cholesky mat.Cholesky
	var lower mat.TriDense
	require.True(t, cholesky.Factorize(dense))
	cholesky.LTo(&lower)
	assert.InDeltaSlice(t, x, l.solve(y.RawVector().Data), 1e-9)
	var inverse mat.Dense
	require.NoError(t, inverse.Inverse(dense))
	room := []float64{1}
	z := l.inverse(&room)
	for i := range n {
		for j := max(0, i-width); j <= i; j++ {
			assert.InDelta(t, inverse.At(i, j), z.at(j, i), 1e-9)
			assert.InDelta(t, lower.At(i, j), l.at(i, j), 1e-9)
		}
	}
	b.add(3, 3, -100)
	assert.False(t, b.factor())
}
