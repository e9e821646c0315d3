package loft

import (
	"math"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
)

// The weights of the terms that faired seams keep to, relative to their edge-set
// squared, 1/mm²: closeness of every strake to its share, mm²; and, far above all, that
// the strakes at a nib are one whole strip together and that none is narrower or wider
// than allowed.
const (
	nearShare = 1e-6
	keepsTo   = 1e-1
)

// mostFaired bounds the work: unknowns times the square of the bandwidth. Above it the
// strakes are shared by weight alone.
const mostFaired = 3e7

// fairing finds the places of a band's seams at all frames at once, where strakes drop
// out: those with the least edge-set in addition to that of lines of even shares,
// measured by the sum of the squared second differences of the places along every seam
// over the spacing of the frames (the discrete form of a cubic spline's bending energy,
// as Whittaker graduates a series, Proc. Edinburgh Math. Soc. 41, 1923). Past a nib a
// seam continues as the one on the far side of the strake that ended there. The measure
// is quadratic, so its minimum is the solution of banded linear equations; bounds are
// kept by adding those that are violated, round by round.
type fairing struct {
	b      *Band
	full   [][]float64 // mm, girth a whole strip covers, [frame][strake]
	owner  [][]int     // [frame][strake]: the laid strake in whose place it is
	at     [][]int     // [frame][seam below strake k]: the unknown, or -1
	count  int
	width  int // bandwidth of the equations
	normal *mat.SymBandDense
	rhs    *mat.VecDense
	root   []float64 // space for the factor of normal
	tied   int       // number of bounds in the equations
	row    [2]term   // space for across
}

// faired gives the widths of the strakes at every frame, mm along it, that lead the
// seams past the nibs with the least extra bend; nil where there is nothing to fair, or
// too much.
func (b *Band) faired(full [][]float64) [][]float64 {
	f := &fairing{b: b, full: full}
	if len(b.endings) == 0 || !f.number() || float64(f.count)*float64(f.width)*float64(f.width) > mostFaired {
		return nil
	}
	f.build()
	var tied []bound
	var out [][]float64
	const rounds = 6
	for range rounds {
		x, ok := f.solve(tied)
		if !ok {
			return nil
		}
		out = f.widths(x)
		broken := f.broken(out, tied)
		if len(broken) == 0 {
			break
		}
		tied = append(tied, broken...)
	}
	return f.sound(out)
}

// sound gives the widths if every laid strake has one, else nil.
func (f *fairing) sound(widths [][]float64) [][]float64 {
	for i := f.b.first; i <= f.b.last; i++ {
		if math.Abs(floats.Sum(widths[i])-f.b.Girths[i]) > 1e-6 {
			return nil // strakes that end and start again
		}
		for _, k := range f.b.laidOf(f.b.Laid[i]) {
			if !(widths[i][k] > 0.1*f.b.leastAt(i, k, widths[i], f.b.rules.LeastWidth)) {
				return nil
			}
		}
	}
	return widths
}

// number numbers the unknowns, frame by frame.
func (f *fairing) number() bool {
	b := f.b
	n := len(b.Weights)
	f.owner, f.at = make([][]int, len(b.Girths)), make([][]int, len(b.Girths))
	for _, way := range []int{-1, 1} {
		own := make([]int, n)
		for k := range own {
			own[k] = k
		}
		f.settle(own, b.laidOf(b.Laid[b.most]))
		for i := b.most; i >= b.first && i <= b.last; i += way {
			if i != b.most {
				f.settle(own, b.laidOf(b.Laid[i]))
			}
			f.owner[i] = append([]int{}, own...)
		}
	}
	before := 0
	for i := b.first; i <= b.last; i++ {
		if !(b.Girths[i] > 0) {
			return false
		}
		f.at[i] = make([]int, n)
		from := f.count
		for k := range n {
			if f.at[i][k] = -1; k < n-1 && f.owner[i][k] != f.owner[i][k+1] {
				f.at[i][k] = f.count
				f.count++
			}
		}
		f.width = max(f.width, 2*max(before, f.count-from)+2)
		before = f.count - from
	}
	f.width = min(f.width, f.count-1)
	return f.count > 1
}

// settle assigns the place of every strake that is not laid to the nearest laid one;
// strakes beyond it that had another's place follow. A strake laid again takes back its
// own place.
func (f *fairing) settle(own, laid []int) {
	is := map[int]bool{}
	for _, k := range laid {
		is[k], own[k] = true, k
	}
	for k := range own {
		for !is[own[k]] {
			own[k] = heir(own[k], laid)
		}
	}
}

// term is a multiple of the place of a seam; a row is a sum of terms that should come
// close to a figure.
type term struct {
	unknown int
	by      float64
}

// add adds a row, squared and weighted, to the equations.
func (f *fairing) add(row []term, to, weight float64) {
	band, rhs := f.normal.RawSymBand(), f.rhs.RawVector().Data
	for _, p := range row {
		rhs[p.unknown] += weight * p.by * to
		for _, q := range row {
			if q.unknown >= p.unknown { // the upper triangle, row by row
				band.Data[p.unknown*band.Stride+q.unknown-p.unknown] += weight * p.by * q.by
			}
		}
	}
}

// bound is a width that is fixed: that of some strakes together at a frame, mm.
type bound struct {
	frame, from, to int // first and last strake
	mm              float64
}

// build makes the equations without the bounds.
func (f *fairing) build() {
	b := f.b
	f.normal, f.rhs = mat.NewSymBandDense(f.count, f.width, nil), mat.NewVecDense(f.count, nil)
	for i := b.first; i <= b.last; i++ {
		long := (b.along[min(i+1, b.last)] - b.along[max(i-1, b.first)]) / 2
		f.bends(i, long)
		share := b.widths(i)
		for _, k := range b.laidOf(b.Laid[i]) {
			row, known := f.across(i, k, k)
			f.add(row, (share[k]-known)*b.Girths[i], nearShare*long)
		}
		for _, d := range b.dropsAt(i) {
			row, known := f.across(i, min(d.strake, d.into), max(d.strake, d.into))
			f.add(row, f.full[i][d.into]-known*b.Girths[i], keepsTo)
		}
	}
}

// solve finds the places, as shares of the girth; the bounds added last remain.
func (f *fairing) solve(tied []bound) (*mat.VecDense, bool) {
	for _, t := range tied[f.tied:] {
		row, known := f.across(t.frame, t.from, t.to)
		f.add(row, t.mm-known*f.b.Girths[t.frame], keepsTo)
	}
	f.tied = len(tied)
	raw := f.normal.RawSymBand()
	raw.Data = append(f.root[:0], raw.Data...)
	f.root = raw.Data
	root, ok := lapack64.Pbtrf(raw)
	if !ok {
		return nil, false
	}
	x := mat.VecDenseCopyOf(f.rhs)
	lapack64.Pbtrs(root, blas64.General{Rows: f.count, Cols: 1, Stride: 1, Data: x.RawVector().Data})
	return x, true
}

// bends adds the second differences of all seams at a frame.
func (f *fairing) bends(i int, long float64) {
	b := f.b
	if i == b.first || i == b.last {
		return
	}
	h, k := b.along[i]-b.along[i-1], b.along[i+1]-b.along[i]
	c := 2 * b.Girths[i] / (h + k)
	for n := range f.at[i] {
		p, q, r := f.at[i-1][n], f.at[i][n], f.at[i+1][n]
		if p >= 0 && q >= 0 && r >= 0 {
			f.add([]term{{p, c / h}, {q, -c/h - c/k}, {r, c / k}}, 0, long)
		}
	}
}

// across is the width from the upper edge of one strake to the lower edge of another,
// mm, as a row, and the known part of it as a share of the girth: the lower edge of the
// band.
func (f *fairing) across(i, from, to int) (row []term, known float64) {
	row = f.row[:0] // valid until the next call
	g := f.b.Girths[i]
	own := f.owner[i]
	for k := to; ; k++ { // the seam beneath all the places it has taken
		if k == len(own)-1 {
			known = 1
			break
		}
		if own[k+1] != own[to] {
			row = append(row, term{f.at[i][k], g})
			break
		}
	}
	for k := from; k > 0; k-- {
		if own[k-1] != own[from] {
			row = append(row, term{f.at[i][k-1], -g})
			break
		}
	}
	return row, known
}

// widths reads the widths of the laid strakes, mm.
func (f *fairing) widths(x *mat.VecDense) [][]float64 {
	b := f.b
	out := make([][]float64, len(b.Girths))
	for i := b.first; i <= b.last; i++ {
		out[i] = make([]float64, len(b.Weights))
		for _, k := range b.laidOf(b.Laid[i]) {
			row, known := f.across(i, k, k)
			w := known * b.Girths[i]
			for _, t := range row {
				w += t.by * x.AtVec(t.unknown)
			}
			out[i][k] = w
		}
	}
	return out
}

// broken lists the widths that are narrower or wider than allowed and not yet fixed.
func (f *fairing) broken(widths [][]float64, tied []bound) []bound {
	b := f.b
	was := map[[2]int]bool{}
	for _, t := range tied {
		if t.from == t.to {
			was[[2]int{t.frame, t.from}] = true
		}
	}
	var out []bound
	for i := b.first; i <= b.last; i++ {
		sum := 0.0
		for k, w := range widths[i] {
			if w != 0 {
				sum += f.full[i][k]
			}
		}
		for k, w := range widths[i] {
			if w == 0 || was[[2]int{i, k}] {
				continue
			}
			least, most := b.leastAt(i, k, widths[i], b.rules.LeastWidth), f.full[i][k]
			switch {
			case w < least-0.01:
				out = append(out, bound{i, k, k, least})
			case w > most+0.01 && sum > b.Girths[i] && !b.wider[k]:
				out = append(out, bound{i, k, k, most})
			}
		}
	}
	return out
}
