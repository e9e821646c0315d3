package nest

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// job is a problem as the search sees it.
type job struct {
	pieces []Piece
	shapes []*shape // for each piece; like pieces share one
	kinds  []kind   // the box, then the shop
	rules  Rules
	byArea bool
	budget effort
	begun  bool // a first laying is found, so that the budget counts
	peak   int  // the cell of a sheet where a profile being lowered was last stopped too high
}

func newJob(pieces []Piece, box, shop []Sheet, rules Rules) *job {
	j := &job{pieces: pieces, rules: rules}
	for i, s := range box {
		j.kinds = append(j.kinds, newKind(s, rules.Margin, true, i))
	}
	for _, s := range shop {
		j.byArea = j.byArea || s.Price == 0
	}
	for i, s := range shop {
		k := newKind(s, rules.Margin, false, i)
		if k.price = s.Price; j.byArea {
			k.price = s.Length * s.Width
		}
		j.kinds = append(j.kinds, k)
	}
	for i, p := range pieces {
		same := slices.IndexFunc(pieces[:i], func(q Piece) bool {
			return p.TurnOver == q.TurnOver && slices.Equal(p.Upper, q.Upper) && slices.Equal(p.Lower, q.Lower)
		})
		if same >= 0 {
			j.shapes = append(j.shapes, j.shapes[same])
			continue
		}
		j.shapes = append(j.shapes, newShape(p, j.kinds, rules))
	}
	return j
}

// spot is a piece laid on a sheet.
type spot struct {
	piece int
	on    *profile
	cell  int
	y     float64
}

// full is a sheet with pieces laid on it.
type full struct {
	kind  int
	spots []spot
	area  float64 // of its pieces
	high  float64 // height to which it is filled
}

// laying is all sheets laid, and what is left.
type laying struct {
	sheets []full
	left   []int
	merit  []float64 // less is better
}

// manner is how sheets are filled.
type manner struct {
	snug  bool // the least waste beneath a piece, rather than the lowest place
	ahead int  // number of pieces of the order considered for the next, at least 1
	whole bool // a sheet that holds all the remaining pieces is taken before one that holds more for its price
	flush bool // pieces lie against an end of the sheet or of another piece, and not anywhere along it
	tilt  bool // pieces may be tilted
}

// search tries the manners and the orders, and then varies the best.
func (j *job) search() *laying {
	order := make([]int, 0, len(j.pieces))
	for i := range j.pieces {
		order = append(order, i)
	}
	bound := j.bound()
	var best *laying
	var bestOrder []int
	var bestManner manner
	try := func(o []int, m manner) {
		if best != nil && j.budget.spent() {
			return
		}
		l := j.pack(o, m)
		j.begun = true
		if best == nil || slices.Compare(l.merit, best.merit) < 0 {
			best, bestOrder, bestManner = l, o, m
		}
	}
	manners := []manner{
		{ahead: 1, flush: true}, {snug: true, ahead: 1, flush: true}, {ahead: 1}, {snug: true, ahead: 1, whole: true},
		{snug: true, ahead: 6, flush: true}, {snug: true, ahead: 6}, {ahead: 6, whole: true},
	}
	orders := j.orders(order)
	for _, m := range manners {
		for _, o := range orders {
			try(o, m)
		}
	}
	if j.rules.Tilt > 0 && !j.enough(best, bound) {
		straight, straightOrder, straightManner := best, bestOrder, bestManner
		for _, m := range []manner{{ahead: 1, flush: true, tilt: true}, {snug: true, ahead: 1, flush: true, tilt: true}, {snug: true, ahead: 1, whole: true, tilt: true}} {
			for _, o := range orders {
				try(o, m)
			}
		}
		if bestManner.tilt && best.merit[0] == straight.merit[0] && best.merit[1] >= straight.merit[1]-1e-9 {
			best, bestOrder, bestManner = straight, straightOrder, straightManner // it saves no sheet, so pieces keep to the grain
		}
	}
	if j.enough(best, bound) {
		return best
	}
	j.vary(&best, bestOrder, bestManner, bound)
	return best
}

// enough reports whether a laying cannot cost less.
func (j *job) enough(l *laying, bound float64) bool {
	return len(l.left) == 0 && l.merit[1] <= bound*(1+1e-12)
}

// orders are the orders to begin with.
func (j *job) orders(given []int) [][]int {
	by := func(key func(s *shape) float64) []int {
		o := slices.Clone(given)
		slices.SortStableFunc(o, func(a, b int) int { return cmp.Compare(key(j.shapes[b]), key(j.shapes[a])) })
		return o
	}
	return [][]int{
		by(func(s *shape) float64 { return s.area }),
		by(func(s *shape) float64 { return s.length }),
		by(func(s *shape) float64 { return s.high }),
		by(func(s *shape) float64 { return s.length*1e-3 + math.Round(s.high) }),
		given,
	}
}

// rounds is the number of orders without gain after which the search ends; with few
// pieces all their orders are tried in fewer.
const rounds = 400

// vary swaps and moves pieces in the best order as long as something is gained. With few
// pieces, all orders are tried.
func (j *job) vary(best **laying, order []int, m manner, bound float64) {
	if len(order) <= 5 {
		permutations(slices.Clone(order), 0, func(o []int) bool {
			for n := range 4 {
				if l := j.pack(o, manner{n%2 == 1, 1, n%2 == 1, n < 2, m.tilt}); slices.Compare(l.merit, (*best).merit) < 0 {
					*best = l
				}
			}
			return !j.budget.spent() && !j.enough(*best, bound)
		})
		return
	}
	r := rand.New(rand.NewPCG(7, uint64(len(order))))
	now := slices.Clone(order)
	m.ahead = 1
	merit := j.pack(now, m).merit
	for idle := 0; idle < rounds && !j.budget.spent() && !j.enough(*best, bound); idle++ {
		next := slices.Clone(now)
		for range 1 + r.IntN(2) {
			a, b := r.IntN(len(next)), r.IntN(len(next))
			if r.IntN(2) == 0 {
				next[a], next[b] = next[b], next[a]
				continue
			}
			p := next[a]
			next = slices.Insert(slices.Delete(next, a, a+1), b, p)
		}
		m.snug, m.whole, m.flush = r.IntN(2) == 0, r.IntN(2) == 0, r.IntN(4) > 0
		l := j.pack(next, m)
		if slices.Compare(l.merit, merit) <= 0 {
			now, merit = next, l.merit
		}
		if slices.Compare(l.merit, (*best).merit) < 0 {
			*best, idle = l, 0
		}
	}
}

// permutations calls f with every order of o, until it returns false.
func permutations(o []int, from int, f func([]int) bool) bool {
	if from == len(o) {
		return f(slices.Clone(o))
	}
	for i := from; i < len(o); i++ {
		o[from], o[i] = o[i], o[from]
		if !permutations(o, from+1, f) {
			return false
		}
		o[from], o[i] = o[i], o[from]
	}
	return true
}

// pack lays the pieces in that order, sheet after sheet: on those of the box as long as
// any is of use, then on those bought. Of several kinds it takes the one that holds
// most for its price, or the cheapest that holds all the rest.
func (j *job) pack(order []int, m manner) *laying {
	l := &laying{}
	counts := make([]int, len(j.kinds))
	for i, k := range j.kinds {
		counts[i] = k.count
	}
	rest := slices.Clone(order)
	for len(rest) > 0 {
		f := j.next(rest, counts, true, m)
		if f == nil {
			f = j.next(rest, counts, false, m)
		}
		if f == nil {
			break
		}
		if counts[f.kind] > 0 {
			counts[f.kind]--
		}
		rest = slices.DeleteFunc(rest, func(p int) bool {
			return slices.ContainsFunc(f.spots, func(s spot) bool { return s.piece == p })
		})
		l.sheets = append(l.sheets, *f)
	}
	l.left = rest
	j.rightSize(l, counts, m)
	l.merit = j.merit(l)
	return l
}

// next fills the best sheet for the remaining pieces, from the box or bought: the one
// that holds most for its price or, in the box, for its area; or the cheapest that
// holds all, if the manner says so. Nil if none holds any piece.
func (j *job) next(rest, counts []int, box bool, m manner) *full {
	var best *full
	most, all := 0.0, false
	for i, k := range j.kinds {
		if k.box != box || counts[i] == 0 || k.cells == 0 {
			continue
		}
		f := j.fill(i, rest, m)
		if len(f.spots) == 0 {
			continue
		}
		price := k.price
		if box {
			price = k.area
		}
		share := f.area / max(price, 1e-9)
		whole := m.whole && len(f.spots) == len(rest)
		if best == nil || whole && !all || whole == all && share > most*(1+1e-12) {
			best, most, all = f, share, whole
		}
	}
	return best
}

// rightSize moves what lies on a bought sheet onto a cheaper kind that holds it.
func (j *job) rightSize(l *laying, counts []int, m manner) {
	for n, f := range l.sheets {
		if j.kinds[f.kind].box {
			continue
		}
		var pieces []int
		for _, s := range f.spots {
			pieces = append(pieces, s.piece)
		}
		for i, k := range j.kinds {
			if k.box || counts[i] == 0 || k.price >= j.kinds[l.sheets[n].kind].price || k.area < f.area {
				continue
			}
			g := j.fill(i, pieces, m)
			if len(g.spots) < len(pieces) {
				continue
			}
			if counts[i] > 0 {
				counts[i]--
			}
			if was := l.sheets[n].kind; counts[was] >= 0 {
				counts[was]++
			}
			l.sheets[n] = *g
		}
	}
}

// merit is the number of pieces left, the cost, the area of the box that is used, and
// two measures of how close the next sheet is to being saved: how unevenly the sheets
// are filled, and how high the last.
func (j *job) merit(l *laying) []float64 {
	cost, boxed, even, high := 0.0, 0.0, 0.0, 0.0
	for _, f := range l.sheets {
		k := j.kinds[f.kind]
		if k.box {
			boxed += k.area
		} else {
			cost += k.price
		}
		even -= (f.area / k.area) * (f.area / k.area)
		high = f.high
	}
	return []float64{float64(len(l.left)), cost, boxed, math.Round(even*1e6) / 1e6, high}
}

// fill lays on a sheet of that kind whichever of the pieces fit, in their order.
func (j *job) fill(of int, pieces []int, m manner) *full {
	k := j.kinds[of]
	f := &full{kind: of}
	on := newGround(k.cells)
	free := k.area
	rest := slices.Clone(pieces)
	gone := map[*shape]bool{} // those that no longer fit anywhere
	for len(rest) > 0 {
		var best *seat
		at := -1
		var seen []*shape
		for n := 0; n < len(rest) && len(seen) < m.ahead; n++ {
			s := j.shapes[rest[n]]
			if gone[s] || s.area > free+1e-6 || slices.Contains(seen, s) {
				continue
			}
			got := j.sit(s, f, on, m)
			if got == nil {
				gone[s] = true
				continue
			}
			seen = append(seen, s)
			if m.ahead > 1 {
				got.loss /= float64(len(got.on.low)) // per cell, so that long pieces are not put off
			}
			if best == nil || got.loss < best.loss {
				best, at = got, n
			}
		}
		if best == nil {
			break
		}
		on.cover(best)
		s := j.shapes[rest[at]]
		f.spots = append(f.spots, spot{rest[at], best.on, best.cell, best.y})
		f.area += s.area
		free -= s.area
		f.high = max(f.high, best.y+best.on.high)
		if m.ahead == 1 { // what did not fit before will not fit now
			rest = rest[at+1:]
		} else {
			rest = slices.Delete(rest, at, at+1)
		}
		if j.halted() {
			break
		}
	}
	return f
}

// halted reports whether even a laying in progress must be abandoned.
func (j *job) halted() bool {
	return j.budget.spent() && (j.begun || j.budget.ctx.Err() != nil)
}

// seat is where a piece may be laid.
type seat struct {
	on   *profile
	cell int
	y    float64
	loss float64
}

// sit finds the best place for a piece on what is laid, nil if there is none.
func (j *job) sit(s *shape, f *full, on *ground, m manner) *seat {
	k := j.kinds[f.kind]
	var best *seat
	for _, p := range s.plain[f.kind] {
		best = j.slide(p, k, f, on, m, best)
	}
	if m.tilt || len(s.plain[f.kind]) == 0 {
		for _, p := range s.tilted[f.kind] {
			best = j.slide(p, k, f, on, m, best)
		}
	}
	return best
}

// stride is the spacing, in cells, at which a piece is tried out.
const stride = 8

// slide tries a profile along a sheet: at every few cells or only at the ends, beside
// what is laid there, and then at every cell about the best. It returns the best of
// these and the best before.
func (j *job) slide(p *profile, k kind, f *full, on *ground, m manner, best *seat) *seat {
	last := k.cells - len(p.low)
	own := best
	try := func(at int) {
		if at >= 0 && at <= last {
			own = j.drop(p, k, at, on, m.snug, own)
		}
	}
	for at := 0; at < last; at += stride {
		if try(at); m.flush {
			break
		}
	}
	try(last)
	for _, s := range f.spots {
		try(s.cell + len(s.on.low) + p.reach)
		try(s.cell - len(p.low) - p.reach)
	}
	if own != nil && own.on == p {
		for from, at := own.cell, own.cell-stride+1; at < from+stride; at++ {
			try(at)
		}
	}
	return own
}

// drop lowers a profile at a cell, and returns that place or the best before. It stops
// as soon as the place proves no better, usually at the cell where the profile beside
// it was stopped.
func (j *job) drop(p *profile, k kind, at int, on *ground, snug bool, best *seat) *seat {
	first := max(p.reach-at, 0)
	last := min(len(p.near), k.cells-at+p.reach)
	j.budget.use(last - first + 2)
	if snug {
		j.budget.use(len(p.low))
	}
	rise, slope := p.high, 1.0 // the waste is rise + slope·y
	if snug {
		n := float64(len(p.low))
		rise = n*heightShare*p.high + p.under - on.underneath(at, at+len(p.low))
		slope = n * (heightShare + 1)
	}
	most := k.high + tolerance - p.high
	if best != nil {
		most = min(most, (best.loss-1e-9-rise)/slope)
	}
	from := at - p.reach
	if c := j.peak - from; most < 0 || c >= first && c < last && on.top[j.peak]-p.near[c] > most {
		return best
	}
	y := 0.0
	near, over := p.near[first:last], on.top[from+first:from+last]
	over = over[:len(near)]
	for c, low := range near {
		if d := over[c] - low; d > y {
			if y = d; y > most {
				j.peak = from + first + c
				return best
			}
		}
	}
	return &seat{p, at, y, rise + slope*y}
}

// ground is what is laid on a sheet, as the next piece finds it.
type ground struct {
	top  []float64 // mm: the greatest y occupied in each cell; none is -Inf
	sums []float64 // mm: of what is occupied, over the cells before each and over all
}

func newGround(cells int) *ground {
	g := &ground{make([]float64, cells), make([]float64, cells+1)}
	for c := range g.top {
		g.top[c] = math.Inf(-1)
	}
	return g
}

// cover lays a piece in its place.
func (g *ground) cover(s *seat) {
	for c, up := range s.on.up {
		g.top[s.cell+c] = max(g.top[s.cell+c], s.y+up)
	}
	for c := s.cell; c < len(g.top); c++ {
		g.sums[c+1] = g.sums[c] + max(g.top[c], 0)
	}
}

// underneath is the sum of what is occupied in the cells of a range, mm.
func (g *ground) underneath(first, end int) float64 { return g.sums[end] - g.sums[first] }

// heightShare is the weight of the height of a snug place against the waste beneath it.
const heightShare = 0.05

// report gives a laying in the terms of the request.
func (j *job) report(l *laying, box, shop []Sheet) *Nest {
	out := &Nest{Used: make([]int, len(box)), Bought: make([]int, len(shop)), ByArea: j.byArea, Left: slices.Clone(l.left)}
	slices.Sort(out.Left)
	for _, f := range l.sheets {
		k := j.kinds[f.kind]
		list, counts := shop, out.Bought
		if k.box {
			list, counts = box, out.Used
		} else {
			out.Cost += k.price
		}
		counts[k.of]++
		s := Laid{Box: k.box, Of: k.of, Length: list[k.of].Length, Width: list[k.of].Width}
		s.Waste = s.Length*s.Width - f.area
		for _, p := range f.spots {
			s.Pieces = append(s.Pieces, Placed{p.piece, p.on.mirrored, p.on.half, p.on.tilt, Point{
				j.rules.Margin + float64(p.cell)*k.cell - p.on.from.X, j.rules.Margin + p.y - p.on.from.Y,
			}})
		}
		out.Area += s.Length * s.Width
		out.Waste += s.Waste
		out.Sheets = append(out.Sheets, s)
	}
	if len(out.Left) == 0 {
		out.Bound = j.bound()
		if math.Abs(out.Bound-out.Cost) < 1e-9*out.Cost {
			out.Bound = out.Cost // apart from rounding
		}
	}
	return out
}
