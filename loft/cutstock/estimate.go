package cutstock

import (
	"cmp"
	"slices"
)

// Estimator tells quickly what pieces may cost: they go, the longest first, into the
// strip that they fill best.
type Estimator struct {
	job  *cutJob
	lost int
	main int // the kind that strips are begun of

	sizes []int
	left  []int // of each strip begun, those of the box first
	of    []int // the kind of each
}

// NewEstimator is an estimator for strips as Cut takes them.
func NewEstimator(box, shop []Strip, kerf float64) *Estimator {
	e := &Estimator{job: kindsOnly(box, shop, kerf), lost: units(kerf), main: -1}
	for k, kind := range e.job.kinds {
		if k < e.job.boxes || kind.count == 0 {
			continue
		}
		if e.main < 0 || e.better(kind, e.job.kinds[e.main]) {
			e.main = k
		}
	}
	return e
}

// better prefers strips without end, then the cheaper for their length.
func (e *Estimator) better(a, b cutKind) bool {
	if (a.count < 0) != (b.count < 0) {
		return a.count < 0
	}
	order := compareProducts(a.price, b.room, b.price, a.room)
	return order < 0 || order == 0 && a.room > b.room
}

// Estimate is what the pieces (mm) may cost, about, in strips of the kind that most
// are bought of: less what is left over in long ends, which is worth something to
// whoever looks for a better choice of pieces. Only its order tells anything.
func (e *Estimator) Estimate(pieces []float64) float64 {
	if e.main < 0 {
		return 0
	}
	e.begin(pieces)
	main := e.job.kinds[e.main]
	beyond := 0
	for _, size := range e.sizes {
		best := -1
		for n, left := range e.left {
			if left >= size && (best < 0 || left < e.left[best]) {
				best = n
			}
		}
		switch {
		case best >= 0:
			e.left[best] -= size
		case size <= main.room:
			e.left, e.of = append(e.left, main.room-size), append(e.of, e.main)
		default:
			beyond++
		}
	}
	cost, ends := 10*float64(beyond), 0.0
	for n, left := range e.left {
		if e.of[n] < e.job.boxes {
			continue
		}
		price := main.price
		for k := e.job.boxes; k < len(e.job.kinds); k++ {
			if kind := e.job.kinds[k]; kind.count < 0 && kind.room >= main.room-left {
				price = min(price, kind.price)
			}
		}
		cost += float64(price) / float64(main.price)
		share := float64(left) / float64(main.room)
		ends += share * share
	}
	return cost - ends/2
}

// begin sorts the pieces, and lays out the strips of the box.
func (e *Estimator) begin(pieces []float64) {
	e.sizes, e.left, e.of = e.sizes[:0], e.left[:0], e.of[:0]
	for _, p := range pieces {
		e.sizes = append(e.sizes, units(p)+e.lost)
	}
	slices.SortFunc(e.sizes, func(a, b int) int { return cmp.Compare(b, a) })
	for k, kind := range e.job.kinds[:e.job.boxes] {
		n := kind.count
		if n < 0 || n > len(pieces) {
			n = len(pieces)
		}
		for range n {
			e.left, e.of = append(e.left, kind.room), append(e.of, k)
		}
	}
}
