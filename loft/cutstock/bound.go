package cutstock

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// worth is the fixed-point scale of the values that pieces are given: the
// finest that leaves all pieces together far from overflow.
func (s *supply) worth() int {
	dear := 1
	for _, k := range s.kinds {
		dear = max(dear, k.price)
	}
	_, pieces := s.total()
	return min(max((1<<60)/dear/max(pieces, 1), 1), 1<<20)
}

// knapsack finds the most valuable patterns of every room up to one, exactly, in
// whatever unit sizes are: the list of all sums of pieces than which none is both
// shorter and worth as much (Nemhauser and Ullmann, Management Science 15, 1969). A
// list that grows too long is made rougher, from when on what it tells is not what
// the best pattern is worth but what no pattern is worth more than.
type knapsack struct {
	sums, spare []sum
	steps       []step
	rough       bool
}

// sum is a set of pieces: what they measure and are worth together, and the last
// step of putting them together, or -1.
type sum struct {
	size, value int
	last        int32
}

// step is a piece put to those of another step.
type step struct{ item, before int32 }

// mostSums is how long the list may get.
const mostSums = 20000

// fill makes the list for rooms up to the greatest; values are at least 0, and
// items of no value are left out. It gives the number of sums gone through.
func (n *knapsack) fill(items []cutItem, values []int, room int) int {
	n.sums, n.steps, n.rough = append(n.sums[:0], sum{last: -1}), n.steps[:0], false
	work := 1
	for i, it := range items {
		if values[i] <= 0 || it.size > room {
			continue
		}
		for range min(it.count, room/it.size) {
			work += len(n.sums)
			n.put(i, it.size, values[i], room)
			if len(n.sums) > mostSums {
				n.roughen()
			}
		}
	}
	return work
}

// put merges the list with itself, one more piece to each of its sums.
func (n *knapsack) put(item, size, value, room int) {
	out, worth := n.spare[:0], -1
	take := func(s sum) {
		if s.value > worth {
			out, worth = append(out, s), s.value
		}
	}
	k := 0
	for _, s := range n.sums {
		more := sum{s.size + size, s.value + value, int32(len(n.steps))}
		if more.size > room {
			break
		}
		for ; k < len(n.sums) && (n.sums[k].size < more.size || n.sums[k].size == more.size && n.sums[k].value >= more.value); k++ {
			take(n.sums[k])
		}
		if more.value > worth {
			n.steps = append(n.steps, step{int32(item), s.last})
			take(more)
		}
	}
	for ; k < len(n.sums); k++ {
		take(n.sums[k])
	}
	n.sums, n.spare = out, n.sums
}

// roughen makes one of every two sums, as short as the shorter and worth as much as
// the other.
func (n *knapsack) roughen() {
	half := n.sums[:0]
	for i := 0; i < len(n.sums); i += 2 {
		s := n.sums[i]
		if i+1 < len(n.sums) && i > 0 {
			s.value = n.sums[i+1].value
		} else if i+1 < len(n.sums) { // nothing at all stays so
			half = append(half, s)
			s = n.sums[i+1]
		}
		half = append(half, s)
	}
	n.sums, n.rough = half, true
}

// within is the last sum that goes into a room.
func (n *knapsack) within(room int) sum {
	k, _ := slices.BinarySearchFunc(n.sums, room, func(s sum, room int) int {
		if s.size <= room {
			return -1
		}
		return 1
	})
	return n.sums[k-1]
}

// best gives what no pattern of each kind is worth more than: the greatest value of
// one, unless the list is rough.
func (n *knapsack) best(kinds []cutKind) []int {
	out := make([]int, len(kinds))
	for i, k := range kinds {
		if k.count != 0 {
			out[i] = n.within(k.room).value
		}
	}
	return out
}

// pattern gives the items of the best pattern for a room; none if the list is rough.
func (n *knapsack) pattern(room int) []int {
	if n.rough {
		return nil
	}
	var out []int
	for k := n.within(room).last; k >= 0; k = n.steps[k].before {
		out = append(out, int(n.steps[k].item))
	}
	slices.Sort(out)
	return out
}

// brancher looks for the most valuable pattern piece by piece, those of most
// value for their length first, and leaves what can't come to more than the
// best (Horowitz and Sahni, J. ACM 21, 1974).
type brancher struct {
	items  []cutItem
	values []int
	order  []int
	least  []int // the least size from each place in the order on
	steps  int   // that may yet be taken

	best int // a pattern is only looked for that is worth more
	of   []int
	now  []int
}

// start sets the items and their values.
func (b *brancher) start(items []cutItem, values []int) {
	b.items, b.values, b.order = items, values, b.order[:0]
	for i, v := range values {
		if v > 0 && items[i].count > 0 {
			b.order = append(b.order, i)
		}
	}
	slices.SortStableFunc(b.order, func(x, y int) int {
		return cmp.Compare(float64(values[y])/float64(items[y].size), float64(values[x])/float64(items[x].size))
	})
	b.least = slices.Grow(b.least[:0], len(b.order)+1)[:len(b.order)+1]
	b.least[len(b.order)] = math.MaxInt
	for n := len(b.order) - 1; n >= 0; n-- {
		b.least[n] = min(b.least[n+1], items[b.order[n]].size)
	}
}

// search finds the best pattern for a room that is worth more than over; none
// where there is none. False if it took too many steps to tell.
func (b *brancher) search(room, over, steps int) ([]int, bool) {
	b.best, b.of, b.now, b.steps = over, nil, b.now[:0], steps
	b.branch(0, room, 0)
	return b.of, b.steps > 0
}

func (b *brancher) branch(n, room, value int) {
	if value > b.best {
		b.best, b.of = value, slices.Clone(b.now)
	}
	for ; n < len(b.order) && room >= b.least[n]; n++ {
		if b.steps--; b.steps <= 0 {
			return
		}
		i := b.order[n]
		size, worth := b.items[i].size, b.values[i]
		if float64(value)+float64(room)*float64(worth)/float64(size)*(1+1e-12) < float64(b.best+1) {
			return // not even with the whole room at the value of this one
		}
		most := min(b.items[i].count, room/size)
		for range most {
			b.now = append(b.now, i)
		}
		for k := most; k > 0; k-- {
			b.branch(n+1, room-k*size, value+k*worth)
			b.now = b.now[:len(b.now)-1]
		}
	}
}

// roomiest is the greatest room of a kind that may be used.
func (s *supply) roomiest() int {
	most := 0
	for _, k := range s.kinds {
		if k.count != 0 {
			most = max(most, k.room)
		}
	}
	return most
}

// proves gives the bound that follows from values of the pieces, in whole
// numbers and so without rounding: by the duality of linear programming, if no
// pattern of a kind of strip is worth more than its price, all pieces together
// are worth no more than the cheapest cutting. Values over a price are scaled
// down for kinds without end, and charged for each strip of the others. most is
// what no pattern of each kind is worth more than.
func (s *supply) proves(values, most []int) int {
	sum := 0
	for i, it := range s.items {
		sum += it.count * values[i]
	}
	return provenBy(s.kinds, sum, most, s.worth())
}

// provenBy is the bound that follows where all pieces together have that sum of
// values and no pattern of each kind is worth more than most of it; scale is the
// value of a unit of price.
func provenBy(kinds []cutKind, sum int, most []int, scale int) int {
	for n, k := range kinds {
		if k.count < 0 {
			z := most[n]
			switch {
			case z > 0 && k.price == 0:
				return 0
			case z > scale*k.price:
				scale = (z + k.price - 1) / k.price
			}
		}
	}
	for n, k := range kinds {
		if k.count > 0 {
			sum -= k.count * max(most[n]-scale*k.price, 0)
		}
	}
	if sum <= 0 {
		return 0
	}
	return (sum + scale - 1) / scale
}

// lengthBound is what the length alone must cost, from the kinds that are
// cheapest for their room.
func (s *supply) lengthBound() int {
	left, _ := s.total()
	return s.costOfLength(left)
}

// costOfLength is what strips of that length together must cost, kerfs counted.
func (s *supply) costOfLength(left int) int {
	order := make([]int, len(s.kinds))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return compareProducts(s.kinds[a].price, s.kinds[b].room, s.kinds[b].price, s.kinds[a].room)
	})
	cost := 0
	for _, k := range order {
		kind := s.kinds[k]
		if kind.room == 0 {
			continue
		}
		n := (left + kind.room - 1) / kind.room
		if kind.count < 0 || n <= kind.count {
			part := left % kind.room
			return cost + left/kind.room*kind.price + kind.price - shareOf(kind.price, kind.room-part, kind.room)
		}
		cost += kind.count * kind.price
		left -= kind.count * kind.room
	}
	return cost
}

// shareOf is part of whole of an amount, rounded down: amount·part/whole without
// overflow, for none below 0 and a part of at most the whole.
func shareOf(amount, part, whole int) int {
	hi, lo := bits.Mul64(uint64(amount), uint64(part))
	if hi >= uint64(whole) { // only if all are so large that it can't be told
		return amount
	}
	q, _ := bits.Div64(hi, lo, uint64(whole))
	return int(q)
}

// compareProducts compares a·b with c·d, none below 0, without overflow.
func compareProducts(a, b, c, d int) int {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	high, low := bits.Mul64(uint64(c), uint64(d))
	return cmp.Or(cmp.Compare(hi, high), cmp.Compare(lo, low))
}

// dualValues gives values of the pieces by dual feasible functions of their
// size in a strip of that room and price, those first that promise the highest
// bound: the functions u(k), U(ε) and φ(ε) of Fekete and Schepers (Math.
// Programming 91, 2001, section 3) and u(k) after U(ε), with ε from the pieces
// themselves.
func (s *supply) dualValues(room, price, most int) [][]int {
	type candidate struct {
		values []int
		sum    int
	}
	var found []candidate
	full := price * s.worth()
	try := func(f func(size int) int) {
		sum := 0
		for _, it := range s.items {
			sum += it.count * f(min(it.size, room))
		}
		if len(found) == most && sum <= found[most-1].sum {
			return
		}
		v := make([]int, len(s.items))
		for i, it := range s.items {
			v[i] = f(min(it.size, room))
		}
		found = append(found, candidate{v, sum})
		slices.SortStableFunc(found, func(a, b candidate) int { return b.sum - a.sum })
		found = found[:min(len(found), most)]
	}
	for k := 1; k <= mostStairs; k++ {
		try(func(size int) int { return stairs(k, size, room, full) })
	}
	for _, it := range s.items {
		least := it.size
		if 2*least > room {
			continue
		}
		try(func(size int) int { return shareOf(full, clipped(least, size, room), room) })
		try(func(size int) int { return halved(least, size, room, full) })
		for k := 1; k <= mostStairs; k++ {
			try(func(size int) int { return stairs(k, clipped(least, size, room), room, full) })
		}
	}
	out := make([][]int, len(found))
	for n, c := range found {
		out[n] = c.values
	}
	return out
}

// mostStairs is the greatest k of u(k) that is tried.
const mostStairs = 6

// stairs is u(k) of size over room, full for 1: size over room itself where k+1
// times that is whole, else that many times, rounded down, over k.
func stairs(k, size, room, full int) int {
	if (k+1)*size%room == 0 {
		return shareOf(full, size, room)
	}
	return (k + 1) * size / room * (full / k)
}

// clipped is U(ε), room for 1: all of the room for a piece beside which the
// least does not go in, nothing for one under the least, else its size.
func clipped(least, size, room int) int {
	switch {
	case size > room-least:
		return room
	case size < least:
		return 0
	}
	return size
}

// halved is φ(ε), full for 1: pieces from the least to half the room count as
// one of those of which so many go in, longer ones as what they leave of these.
func halved(least, size, room, full int) int {
	n := room / least
	switch {
	case 2*size > room:
		return full - (room-size)/least*(full/n)
	case size < least:
		return 0
	}
	return full / n
}
