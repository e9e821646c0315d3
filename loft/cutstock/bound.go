package cutstock

import (
	"cmp"
	"math"
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

// knapsack finds the most valuable patterns: f[r] is the greatest value of
// pieces that go into a strip of room r.
type knapsack struct {
	f      []int
	took   []bool // [piece][room]
	pieces []int  // the item of each
	width  int
}

// fill computes f for all rooms up to the greatest; values are at least 0, and
// items of no value are left out. It gives the number of cells filled.
func (n *knapsack) fill(items []cutItem, values []int, room int) int {
	n.pieces = n.pieces[:0]
	for i, it := range items {
		if values[i] > 0 && it.size <= room {
			for range min(it.count, room/it.size) {
				n.pieces = append(n.pieces, i)
			}
		}
	}
	n.width = room + 1
	if len(n.f) < n.width {
		n.f = make([]int, n.width)
	}
	if cells := n.width * len(n.pieces); len(n.took) < cells {
		n.took = make([]bool, cells)
	}
	n.f = n.f[:n.width]
	clear(n.f)
	for p, i := range n.pieces {
		size, value := items[i].size, values[i]
		took := n.took[p*n.width : (p+1)*n.width]
		clear(took[:size])
		for r := room; r >= size; r-- {
			v := n.f[r-size] + value
			better := v > n.f[r]
			took[r] = better
			if better {
				n.f[r] = v
			}
		}
	}
	return n.width * max(len(n.pieces), 1)
}

// best gives the greatest value of a pattern of each kind.
func (n *knapsack) best(kinds []cutKind) []int {
	out := make([]int, len(kinds))
	for i, k := range kinds {
		if k.count != 0 {
			out[i] = n.f[k.room]
		}
	}
	return out
}

// pattern gives the items of the best pattern for a room.
func (n *knapsack) pattern(items []cutItem, room int) []int {
	var out []int
	for p := len(n.pieces) - 1; p >= 0; p-- {
		if n.took[p*n.width+room] {
			out = append(out, n.pieces[p])
			room -= items[n.pieces[p]].size
		}
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
	scale := s.worth()
	for n, k := range s.kinds {
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
	sum := 0
	for i, it := range s.items {
		sum += it.count * values[i]
	}
	for n, k := range s.kinds {
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
	order := make([]int, len(s.kinds))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return s.kinds[a].price*s.kinds[b].room - s.kinds[b].price*s.kinds[a].room
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
			return cost + left/kind.room*kind.price + (part*kind.price+kind.room-1)/kind.room
		}
		cost += kind.count * kind.price
		left -= kind.count * kind.room
	}
	return cost
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
		try(func(size int) int { return clipped(least, size, room) * (full / room) })
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
		return full / room * size
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
