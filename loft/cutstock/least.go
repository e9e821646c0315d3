package cutstock

import (
	"context"
	"math"
	"slices"
)

// Whole is a length that is cut in one piece or parted into several, at some of its
// marks.
type Whole struct {
	Length  float64   // mm to cut
	Marks   []float64 // mm from its beginning, rising, where it may be parted
	Longest float64   // mm, of a piece
	Most    int       // pieces that it may be parted into
	Times   int       // how often it is wanted, each time parted alike
}

// mostParts is how many pieces of wholes Least values at the most, each once for
// every way to value it, and mostLeasts how many lengths it tries as the least that
// counts.
const (
	mostParts  = 1e8
	mostLeasts = 40
)

// Least is what no cutting costs less than, however the wholes are parted: Bound of
// any cutting of any such parts. found is a cutting of some: where nothing can cost
// less than that, Least is its Cost to the last digit; else it is below. It is 0
// where found leaves pieces, and where a whole can't be parted so. The error wraps
// the context's.
//
// Whatever the parts, a dual feasible function of their lengths bounds the cost from
// below, and the least that it can be for a whole is that of the shortest way from
// mark to mark (dual feasible functions: Fekete and Schepers, Math. Programming 91,
// 2001; that superadditive ones hold for shorter strips too: Clautiaux, Alves and
// Valério de Carvalho, Annals of Operations Research 179, 2010).
func Least(ctx context.Context, wholes []Whole, box, shop []Strip, kerf float64, found *Cutting) (float64, error) {
	if len(found.Left) > 0 {
		return 0, nil
	}
	j := kindsOnly(box, shop, kerf)
	cost := 0
	for n, k := range found.Bought {
		cost += k * j.kinds[j.boxes+n].price
	}
	l := leastSearch{supply: supply{kinds: j.kinds}, budget: effort{ctx, mostParts}}
	for _, w := range wholes {
		l.ways = append(l.ways, w.ways(kerf))
	}
	bound := l.bound(j.roundUp, cost)
	if err := stopped(ctx, "the proof of a cutting"); err != nil {
		return 0, err
	}
	if bound >= cost {
		return found.Cost, nil
	}
	return min(float64(bound)/j.scale, found.Cost), nil
}

// wayParts is the parts of a whole between its marks.
type wayParts struct {
	marks int // its two ends among them
	most  int
	times int
	parts []part // by rising end
}

// part is one piece that a whole may have: from mark to mark, kerf included.
type part struct{ from, to, size int }

func (w Whole) ways(kerf float64) wayParts {
	at := append(append([]float64{0}, w.Marks...), w.Length)
	out := wayParts{marks: len(at), most: max(w.Most, 1), times: w.Times}
	for to := 1; to < len(at); to++ {
		for from := range to {
			if at[to]-at[from] <= w.Longest+1e-9 && at[to] > at[from] {
				out.parts = append(out.parts, part{from, to, units(at[to]-at[from]) + units(kerf)})
			}
		}
	}
	return out
}

// leastSearch looks for the function that proves most.
type leastSearch struct {
	supply
	ways   []wayParts
	budget effort
	reach  []int // the least value to each mark, for one number of pieces after the other
}

// impossible is more than the values of all parts together can be.
const impossible = math.MaxInt / 4

// sum is the least that the wholes can be worth together; false if one can't be parted.
func (l *leastSearch) sum(f func(size int) int) (int, bool) {
	sum := 0
	for n := range l.ways {
		w := &l.ways[n]
		v := l.least(w, f)
		if v >= impossible {
			return 0, false
		}
		sum += v * w.times
	}
	return sum, true
}

// least is the least that the parts of a whole can be worth together.
func (l *leastSearch) least(w *wayParts, f func(size int) int) int {
	l.reach = slices.Grow(l.reach[:0], w.marks*(w.most+1))[:w.marks*(w.most+1)]
	for i := range l.reach {
		l.reach[i] = impossible
	}
	l.reach[0] = 0
	for _, p := range w.parts {
		value := f(p.size)
		for n := range w.most {
			if r := l.reach[n*w.marks+p.from]; r < impossible {
				to := &l.reach[(n+1)*w.marks+p.to]
				*to = min(*to, r+value)
			}
		}
	}
	l.budget.use(len(w.parts) * (w.most + 1))
	best := impossible
	for n := range w.most + 1 {
		best = min(best, l.reach[(n+1)*w.marks-1])
	}
	return best
}

// bound is the highest that is found, and no higher than cost need be.
func (l *leastSearch) bound(round func(int) int, cost int) int {
	length, ok := l.sum(func(size int) int { return size })
	if !ok {
		return 0
	}
	bound := round(l.costOfLength(length))
	for base, kind := range l.kinds {
		if kind.price == 0 || kind.count == 0 {
			continue
		}
		full := kind.price * l.scale()
		for _, f := range l.functions(kind.room, full) {
			if bound >= cost || l.budget.spent() {
				return bound
			}
			sum, _ := l.sum(func(size int) int { return f.value(min(size, kind.room)) })
			bound = max(bound, round(provenBy(l.kinds, sum, l.most(base, full, f), l.scale())))
		}
	}
	return bound
}

// scale is the value of a unit of price: fine, and far from overflow.
func (l *leastSearch) scale() int {
	dear, pieces := 1, 1
	for _, k := range l.kinds {
		dear = max(dear, k.price)
	}
	for _, w := range l.ways {
		pieces += w.most * w.times
	}
	return min(max((1<<60)/dear/pieces, 1), 1<<20)
}

// valuing is a dual feasible function of sizes up to that of a strip, and what parts
// of a shorter strip can't be worth more than.
type valuing struct {
	value   func(size int) int
	shorter func(room int) int
}

// most is what no pattern of each kind is worth more than, by a function made for
// strips of the kind base.
func (l *leastSearch) most(base, full int, f valuing) []int {
	out := make([]int, len(l.kinds))
	for n, k := range l.kinds {
		room := l.kinds[base].room
		switch {
		case k.count == 0:
		case k.room == room:
			out[n] = full
		case k.room < room:
			out[n] = min(f.shorter(k.room), full)
		default:
			// Parts put end to end into strips of the base: of two strips one after
			// the other what is in both is longer than one.
			out[n] = 2 * ((k.room + room - 1) / room) * full
		}
	}
	return out
}

// functions are those of dualValues for a strip of that room and value.
func (l *leastSearch) functions(room, full int) []valuing {
	var out []valuing
	add := func(f func(size int) int, finest int) {
		out = append(out, valuing{f, func(r int) int { return f(r) + finest }})
	}
	for k := 1; k <= mostStairs; k++ {
		add(func(size int) int { return stairs(k, size, room, full) }, k+1)
	}
	for _, least := range l.leasts(room) {
		add(func(size int) int { return shareOf(full, clipped(least, size, room), room) }, 1)
		for k := 1; k <= mostStairs; k++ {
			add(func(size int) int { return stairs(k, clipped(least, size, room), room, full) }, k+1)
		}
		each := full / (room / least)
		out = append(out, valuing{
			func(size int) int { return halved(least, size, room, full) },
			// So many short ones, or one long one and short ones beside it.
			func(r int) int { return max(r/least*each, full-(room-r)/least*each) },
		})
	}
	return out
}

// leasts are sizes of parts up to half the room, evenly among all if they are many.
func (l *leastSearch) leasts(room int) []int {
	var all []int
	for _, w := range l.ways {
		for _, p := range w.parts {
			if 2*p.size <= room {
				all = append(all, p.size)
			}
		}
	}
	slices.Sort(all)
	all = slices.Compact(all)
	if len(all) <= mostLeasts {
		return all
	}
	out := make([]int, mostLeasts)
	for n := range out {
		out[n] = all[n*(len(all)-1)/(mostLeasts-1)]
	}
	return out
}
