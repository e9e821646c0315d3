package cutstock

import (
	"context"
	"math"
	"slices"
	"sort"
)

// StripsFor is the number of strips of that length, mm, that pieces take, the longest
// cut first, each from the first strip that still holds it: never over 11/9 of the
// least number and 6/9 of a strip (Dósa, LNCS 4614, 2007). A piece longer than a strip
// takes one by itself. The work is n·log n in the pieces. It stops when the context
// ends, with an error that wraps the context's.
func StripsFor(ctx context.Context, pieces []float64, strip float64) (int, error) {
	if err := stopped(ctx, countingStrips); err != nil {
		return 0, err
	}
	pieces = slices.Clone(pieces)
	sort.Sort(sort.Reverse(sort.Float64Slice(pieces)))
	var r rack
	for i, p := range pieces {
		if i%lookEvery == lookEvery-1 {
			if err := stopped(ctx, countingStrips); err != nil {
				return 0, err
			}
		}
		if n := r.first(p - 1e-9); n >= 0 {
			r.set(n, r.at(n)-p)
		} else {
			r.add(strip - p)
		}
	}
	return r.n, nil
}

// countingStrips is what StripsFor does.
const countingStrips = "the counting of strips"

// lookEvery is the number of steps, of well under a microsecond, between looks at the
// context.
const lookEvery = 1024

// rack is a row of begun strips with what is left of each, mm, that finds the
// first with enough left in log n steps. It is a complete binary tree in an
// array: the children of node i are 2i and 2i+1, each node holds the greatest
// of its leaves, and the leaves are the strips in their order.
type rack struct {
	most []float64 // nodes; most[0] is not used
	n    int       // strips
}

// leaves is the number of strips for which the tree has room.
func (r *rack) leaves() int { return len(r.most) / 2 }

// at is what is left of strip i.
func (r *rack) at(i int) float64 { return r.most[r.leaves()+i] }

// add puts a strip at the end.
func (r *rack) add(left float64) {
	if r.n == r.leaves() {
		r.grow()
	}
	r.n++
	r.set(r.n-1, left)
}

// grow doubles the room, which costs no more than all the additions before.
func (r *rack) grow() {
	old := r.most[r.leaves():]
	r.most = make([]float64, max(4*r.leaves(), 2))
	for i := range r.most {
		r.most[i] = math.Inf(-1)
	}
	for i, left := range old {
		r.set(i, left)
	}
}

// set records what is left of strip i. NaN holds nothing.
func (r *rack) set(i int, left float64) {
	if math.IsNaN(left) {
		left = math.Inf(-1)
	}
	k := r.leaves() + i
	r.most[k] = left
	for k /= 2; k > 0; k /= 2 {
		r.most[k] = max(r.most[2*k], r.most[2*k+1])
	}
}

// first is the first strip with that much left, or −1.
func (r *rack) first(need float64) int {
	if r.n == 0 || !(r.most[1] >= need) {
		return -1
	}
	k := 1
	for k < r.leaves() {
		k *= 2
		if !(r.most[k] >= need) {
			k++
		}
	}
	return k - r.leaves()
}
