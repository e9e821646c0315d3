package fair

import (
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// bandMatrix is a symmetric matrix whose entries lie within width of the
// diagonal. Row i holds columns i-width … i, the diagonal last.
type bandMatrix struct {
	n, width int
	data     []float64
}

func newBandMatrix(n, width int) *bandMatrix {
	return &bandMatrix{n: n, width: width, data: make([]float64, n*(width+1))}
}

// row is the stored part of row i: the entry of column j is at j-i+width.
func (b *bandMatrix) row(i int) []float64 {
	return b.data[i*(b.width+1) : (i+1)*(b.width+1)]
}

// at is the entry of row i and column j, 0 outside the band.
func (b *bandMatrix) at(i, j int) float64 {
	if j > i {
		i, j = j, i
	}
	if i-j > b.width {
		return 0
	}
	return b.data[i*(b.width+1)+j-i+b.width]
}

// add adds to the entries (i, j) and (j, i), which are one.
func (b *bandMatrix) add(i, j int, v float64) {
	if j > i {
		i, j = j, i
	}
	b.data[i*(b.width+1)+j-i+b.width] += v
}

// times is the product with a vector.
func (b *bandMatrix) times(x []float64) []float64 {
	y := make([]float64, b.n)
	for i := range b.n {
		row := b.row(i)
		from := max(0, i-b.width)
		for j := from; j < i; j++ {
			a := row[j-i+b.width]
			y[i] += a * x[j]
			y[j] += a * x[i]
		}
		y[i] += row[b.width] * x[i]
	}
	return y
}

// factor is the lower triangle L of the Cholesky factors L·Lᵀ, in the same
// band: LAPACK's, since inverse reads its entries, which gonum's
// mat.BandCholesky keeps to itself. False where the matrix is not positive
// definite. It is factored as Lᵀ, whose rows are whole in memory: by columns it takes
// three times as long.
func (b *bandMatrix) factor() (*bandMatrix, bool) {
	u := b.turned(true)
	_, ok := lapack64.Pbtrf(blas64.SymmetricBand{Uplo: blas.Upper, N: u.n, K: u.width, Stride: u.width + 1, Data: u.data})
	return u.turned(false), ok
}

// turned is the other half of the matrix: of the entries below the diagonal those
// above it, whose row i holds columns i … i+width, the diagonal first; or, where upper
// is false, of these those below.
func (b *bandMatrix) turned(upper bool) *bandMatrix {
	out := newBandMatrix(b.n, b.width)
	w := b.width
	for i := range b.n {
		for k := 0; k <= min(w, i); k++ { // the entry of row i, column i-k
			below, above := i*(w+1)+w-k, (i-k)*(w+1)+k
			if upper {
				out.data[above] = b.data[below]
			} else {
				out.data[below] = b.data[above]
			}
		}
	}
	return out
}

// solve gives x of L·Lᵀ·x = y, b being the factor L.
func (b *bandMatrix) solve(y []float64) []float64 {
	x := slices.Clone(y)
	lapack64.Pbtrs(
		blas64.TriangularBand{Uplo: blas.Lower, Diag: blas.NonUnit, N: b.n, K: b.width, Stride: b.width + 1, Data: b.data},
		blas64.General{Rows: b.n, Cols: 1, Stride: 1, Data: x})
	return x
}

// inverse gives those entries of (L·Lᵀ)⁻¹ that lie in the band of the factor L
// (Takahashi's recurrence: Erisman and Tinney, Communications of the ACM 18,
// 1975).
func (b *bandMatrix) inverse() *bandMatrix {
	n, w := b.n, b.width
	span := 2*w + 1
	z := make([]float64, n*span) // entry (i, j) at i*span + j-i+w, both halves
	col := make([]float64, w)
	for j := n - 1; j >= 0; j-- {
		last := min(n-1, j+w)
		for k := j + 1; k <= last; k++ {
			col[k-j-1] = b.data[k*(w+1)+j-k+w]
		}
		d := b.data[j*(w+1)+w]
		c := col[:last-j]
		for i := last; i > j; i-- {
			zi := z[i*span+j+1-i+w:]
			s := floats.Dot(c, zi[:len(c)])
			z[i*span+j-i+w] = -s / d
			z[j*span+i-j+w] = -s / d
		}
		zj := z[j*span+w+1:]
		z[j*span+w] = (1/d - floats.Dot(c, zj[:len(c)])) / d
	}
	out := newBandMatrix(n, w)
	for i := range n {
		copy(out.row(i), z[i*span:i*span+w+1])
	}
	return out
}
