package cutstock

import (
	"cmp"
	"context"
	"math/bits"
	"slices"
)

// supply is what may be cut from, and what is still to be cut.
type supply struct {
	kinds []cutKind
	items []cutItem // by falling size
}

func (s *supply) clone() supply {
	return supply{slices.Clone(s.kinds), slices.Clone(s.items)}
}

// take cuts a strip: one of its kind is gone, and its pieces.
func (s *supply) take(p packed) {
	if s.kinds[p.kind].count > 0 {
		s.kinds[p.kind].count--
	}
	for _, i := range p.of {
		s.items[i].count--
	}
}

// total is the length still to be cut, and how many pieces.
func (s *supply) total() (size, pieces int) {
	for _, it := range s.items {
		size += it.size * it.count
		pieces += it.count
	}
	return size, pieces
}

// filler fills strips as full as can be; it keeps its tables between strips.
type filler struct {
	ctx    context.Context // once it has ended no cutting is found
	rows   [][]uint64
	pieces []int // the item of each piece that may go in, by rising size
}

// fill gives pieces for a strip of that room: the longest that goes in, and
// with it those that leave the least room, long ones before short. It is a
// subset-sum by dynamic programming over bits.
func (f *filler) fill(room int, items []cutItem) []int {
	f.pieces = f.pieces[:0]
	longest := -1
	for i := len(items) - 1; i >= 0; i-- {
		if items[i].count == 0 || items[i].size > room {
			continue
		}
		longest = i
		for range min(items[i].count, room/items[i].size) {
			f.pieces = append(f.pieces, i)
		}
	}
	if longest < 0 {
		return nil
	}
	f.pieces = f.pieces[:len(f.pieces)-1]
	return append([]int{longest}, f.fullest(room-items[longest].size, items)...)
}

// mostCells is into how many cells a strip is divided for filling it.
const mostCells = 20000

// fullest chooses among the filler's pieces those that fill the room best, to a cell:
// pieces are rounded up to cells and the room down, so that what is chosen goes in.
// What only fits more closely is left to the other searches, which have no cells.
func (f *filler) fullest(room int, items []cutItem) []int {
	n := len(f.pieces)
	for n > 0 && items[f.pieces[n-1]].size > room {
		n--
	}
	cell := room/mostCells + 1
	cells := room / cell
	size := func(k int) int { return (items[f.pieces[k]].size + cell - 1) / cell }
	words := cells/64 + 1
	for len(f.rows) <= n {
		f.rows = append(f.rows, nil)
	}
	for k := 0; k <= n; k++ {
		if len(f.rows[k]) < words {
			f.rows[k] = make([]uint64, words)
		}
	}
	clear(f.rows[0][:words])
	f.rows[0][0] = 1
	for k := range n {
		shiftOr(f.rows[k+1][:words], f.rows[k][:words], size(k))
	}
	var out []int
	sum := highest(f.rows[n][:words], cells)
	for k := n; k > 0 && sum > 0; k-- {
		if rest := sum - size(k-1); rest >= 0 && f.rows[k-1][rest/64]>>(rest%64)&1 == 1 {
			out = append(out, f.pieces[k-1])
			sum = rest
		}
	}
	if len(out) == 0 && n > 0 { // it fits more closely than a cell
		out = append(out, f.pieces[n-1])
	}
	return out
}

// shiftOr sets to = from | from<<n.
func shiftOr(to, from []uint64, n int) {
	w, b := n/64, n%64
	copy(to, from)
	for i := len(to) - 1; i >= w; i-- {
		v := from[i-w] << b
		if b > 0 && i > w {
			v |= from[i-w-1] >> (64 - b)
		}
		to[i] |= v
	}
}

// highest is the highest bit set at most at that place.
func highest(row []uint64, at int) int {
	last := row[at/64] & (^uint64(0) >> (63 - at%64))
	for i := at / 64; ; i-- {
		if i < at/64 {
			last = row[i]
		}
		if last != 0 {
			return i*64 + 63 - bits.LeadingZeros64(last)
		}
	}
}

// greedy cuts all that is to be cut from the kinds in that order, as many of
// each as there are and as hold anything, and then changes every strip for the
// cheapest kind that holds the same. False if the kinds do not suffice.
func (f *filler) greedy(s supply, order []int) ([]packed, bool) {
	all := s.kinds
	s = s.clone()
	var out []packed
	_, left := s.total()
	for _, k := range order {
		for left > 0 && s.kinds[k].count != 0 && f.ctx.Err() == nil {
			of := f.fill(s.kinds[k].room, s.items)
			if of == nil {
				break
			}
			p := packed{k, of}
			s.take(p)
			left -= len(of)
			out = append(out, p)
		}
	}
	if left > 0 {
		return nil, false
	}
	return exchange(all, s, out), true
}

// byValue cuts from that kind, of all that are left, that gives most length for
// its money, strip by strip, the box first.
func (f *filler) byValue(s supply) ([]packed, bool) {
	all := s.kinds
	s = s.clone()
	var out []packed
	for _, left := s.total(); left > 0; {
		if f.ctx.Err() != nil {
			return nil, false
		}
		var best packed
		var bestSize int
		for k, kind := range s.kinds {
			if kind.count == 0 {
				continue
			}
			of := f.fill(kind.room, s.items)
			size := 0
			for _, i := range of {
				size += s.items[i].size
			}
			if size == 0 {
				continue
			}
			if better := compareProducts(size, all[best.kind].price, bestSize, kind.price); best.of == nil || better > 0 || better == 0 && size > bestSize {
				best, bestSize = packed{k, of}, size
			}
		}
		if best.of == nil {
			return nil, false
		}
		s.take(best)
		left -= len(best.of)
		out = append(out, best)
	}
	return exchange(all, s, out), true
}

// exchange changes strips for cheaper ones that hold the same: the dearest
// first, each for the cheapest left that is long enough.
func exchange(kinds []cutKind, left supply, strips []packed) []packed {
	slices.SortStableFunc(strips, func(a, b packed) int { return cmp.Compare(kinds[b.kind].price, kinds[a.kind].price) })
	for n := range strips {
		p := &strips[n]
		size := 0
		for _, i := range p.of {
			size += left.items[i].size
		}
		best := p.kind
		for k, kind := range kinds {
			if left.kinds[k].count != 0 && kind.room >= size && kind.price < kinds[best].price {
				best = k
			}
		}
		if best == p.kind {
			continue
		}
		if kinds[p.kind].count >= 0 {
			left.kinds[p.kind].count++
		}
		if kinds[best].count >= 0 {
			left.kinds[best].count--
		}
		p.kind = best
	}
	return strips
}

// quick gives the best of a few ways to cut all there is, one of which always
// suffices if there is a kind without end that holds any piece; nil once the
// context has ended.
func (f *filler) quick(s supply) []packed {
	var best []packed
	try := func(strips []packed, ok bool) {
		if ok && (best == nil || cutCost(s.kinds, strips) < cutCost(s.kinds, best)) {
			best = strips
		}
	}
	byRoom := make([]int, len(s.kinds))
	for k := range byRoom {
		byRoom[k] = k
	}
	free := func(k int) bool { return s.kinds[k].price == 0 }
	for _, sign := range []int{-1, 1} { // long ones first, then short ones
		slices.SortStableFunc(byRoom, func(a, b int) int {
			if free(a) != free(b) {
				return cmp.Compare(s.kinds[a].price, s.kinds[b].price)
			}
			return sign * cmp.Compare(s.kinds[a].room, s.kinds[b].room)
		})
		for _, main := range byRoom {
			if free(main) {
				continue
			}
			order := slices.Clone(byRoom)
			i := slices.Index(order, main)
			first := slices.IndexFunc(order, func(k int) bool { return !free(k) })
			order = slices.Insert(slices.Delete(order, i, i+1), first, main)
			// Those dearest for their length last.
			slices.SortStableFunc(order[first+1:], func(a, b int) int {
				return compareProducts(s.kinds[a].price, s.kinds[b].room, s.kinds[b].price, s.kinds[a].room)
			})
			try(f.greedy(s, order))
		}
	}
	try(f.byValue(s))
	return best
}
