package fair

import (
	"math"
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

// add adds to the entries (i, j) and (j, i), which are stored as one.
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

// abreast is the number of rows worked out side by side, so that what they are
// multiplied by is fetched from memory only once.
const abreast = 4

// factor turns the matrix into the lower triangle L of its Cholesky factors L·Lᵀ, which
// lies in the same band, row by row: each entry is a product of two rows stored
// consecutively in memory. False, with the matrix destroyed, where it is not positive
// definite.
//
// LAPACK's routine, as implemented in gonum, takes twice as long for bands of less than
// 64, of which a fairing factors a hundred: it works through those by columns, or by
// updates of rank one. For bands of hundreds, a few of which a dense hull needs, it is
// the quicker. The test checks this against gonum's for dense matrices.
func (b *bandMatrix) factor() bool {
	for i := 0; i < b.n; i += abreast {
		end := min(i+abreast, b.n)
		for j := max(0, i-b.width); j < i; j++ {
			for k := i; k < min(end, j+b.width+1); k++ {
				b.eliminate(k, j)
			}
		}
		for k := i; k < end; k++ {
			for j := max(i, k-b.width); j < k; j++ {
				b.eliminate(k, j)
			}
			row := b.row(k)
			left := row[max(0, b.width-k):b.width]
			d := row[b.width] - floats.Dot(left, left)
			if !(d > 0) {
				return false
			}
			row[b.width] = math.Sqrt(d)
		}
	}
	return true
}

// eliminate gives the factor's entry of row i and column j < i, from those before it in
// both rows.
func (b *bandMatrix) eliminate(i, j int) {
	from := max(0, i-b.width)
	row := b.data[i*b.width+b.width+from : i*b.width+b.width+j+1]
	other := b.data[j*b.width+b.width+from : j*b.width+b.width+j+1]
	n := j - from
	row[n] = (row[n] - floats.Dot(row[:n], other[:n])) / other[n]
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
// (Takahashi's recurrence: Erisman and Tinney, Communications of the ACM 18, 1975). It
// works in the space given, enlarging it where necessary.
func (b *bandMatrix) inverse(room *[]float64) *bandMatrix {
	n, w := b.n, b.width
	span := 2*w + 1
	if len(*room) < n*span+2*w {
		*room = make([]float64, n*span+2*w)
	}
	z := (*room)[:n*span] // entry (i, j) at i*span + j-i+w, both halves
	for j := n - 1; j >= 0; j-- {
		m := min(n-1-j, w)
		c, s := (*room)[n*span:][:m], (*room)[n*span+w:][:m]
		for k := range c {
			c[k] = b.data[(j+1+k)*(w+1)+w-1-k]
		}
		d := -1 / b.data[j*(w+1)+w]
		if m > 0 { // the rows and columns j+1 … j+m are staggered: each begins one less than span after the last
			blas64.Gemv(blas.NoTrans, d,
				blas64.General{Rows: m, Cols: m, Stride: span - 1, Data: z[(j+1)*span+w:]},
				blas64.Vector{N: m, Inc: 1, Data: c}, 0, blas64.Vector{N: m, Inc: 1, Data: s})
		}
		for k, v := range s {
			z[(j+1+k)*span+w-1-k] = v
		}
		copy(z[j*span+w+1:], s)
		z[j*span+w] = d*d + d*floats.Dot(c, s)
	}
	out := newBandMatrix(n, w)
	for i := range n {
		from := max(0, w-i)
		copy(out.row(i)[from:], z[i*span+from:i*span+w+1])
	}
	return out
}
