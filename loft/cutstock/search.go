package cutstock

import (
	"cmp"
	"slices"
)

// mostExactItems is the number of different lengths up to which the search goes
// on until the best is proven, if it can be; with more one strip over the bound
// will do.
const mostExactItems = 130

// cutSearch looks for cuttings of a job.
type cutSearch struct {
	job    *cutJob
	filler filler
	sack   knapsack
	branch brancher
	pool   []patternColumn
}

// solve gives the best cutting found, and a bound that none comes under; nothing
// of use once the context has ended.
func (j *cutJob) solve() ([]packed, int) {
	if len(j.items) == 0 {
		return nil, 0
	}
	c := &cutSearch{job: j, filler: filler{ctx: j.budget.ctx}}
	s := supply{j.kinds, j.items}
	best := c.filler.quick(s)
	if best == nil {
		return nil, 0 // stopped
	}
	bound := j.roundUp(s.lengthBound())
	better := func(b int) bool {
		bound = max(bound, j.roundUp(b))
		return bound < cutCost(j.kinds, best)
	}
	if !better(0) {
		return best, bound
	}
	large := len(j.items) > mostExactItems
	steps := j.budget.left / 800
	if large {
		c.dualBound(s, better)
		steps = j.budget.left / 6
	}
	if found := c.branch.valued(s, cutCost(j.kinds, best), bound, steps, &j.budget); found != nil {
		best = found
	}
	if !better(0) || large && cutCost(j.kinds, best) <= bound+j.dearest() {
		return best, bound
	}
	c.remember(best)
	m := c.solved(s, 0)
	if !better(m.bound) || large {
		return best, bound
	}
	if found := c.branch.valued(s, cutCost(j.kinds, best), bound, j.budget.left/80, &j.budget); found != nil {
		best = found
	}
	if !better(0) {
		return best, bound
	}
	for nudged := range 4 {
		if found := c.dive(s, m, cutCost(j.kinds, best), bound, nudged); found != nil {
			best = found
		}
		if !better(0) {
			return best, bound
		}
	}
	if j.usesShort(best) {
		return best, bound
	}
	return c.byCounts(s, best, bound)
}

// dearest is the price of the dearest strip on sale.
func (j *cutJob) dearest() int {
	most := 0
	for _, k := range j.kinds[j.boxes : j.boxes+j.shops] {
		most = max(most, k.price)
	}
	return most
}

// remember puts the patterns of a cutting into the pool, for the linear program
// to begin with.
func (c *cutSearch) remember(strips []packed) {
	for _, p := range strips {
		of := slices.Clone(p.of)
		slices.Sort(of)
		c.program(supply{}).add(newColumn(p.kind, of))
	}
}

// usesShort tells whether a cutting wants strips that are not there.
func (j *cutJob) usesShort(strips []packed) bool {
	return j.short() >= 0 && slices.ContainsFunc(strips, func(p packed) bool { return p.kind == j.short() })
}

// roundUp raises a bound to the next multiple of the greatest common divisor of
// the prices, as every cost is one.
func (j *cutJob) roundUp(bound int) int {
	g := 0
	for _, k := range j.kinds {
		g = gcd(g, k.price)
	}
	if g == 0 {
		return bound
	}
	return (bound + g - 1) / g * g
}

func (c *cutSearch) program(s supply) *patternProgram {
	return &patternProgram{supply: s, pool: &c.pool, sack: &c.sack, branch: &c.branch}
}

// dualBound raises the bound by dual feasible functions until none is left or
// it meets the best.
func (c *cutSearch) dualBound(s supply, better func(int) bool) {
	for n, k := range s.kinds {
		if k.price == 0 || n == c.job.short() {
			continue
		}
		for _, values := range s.dualValues(k.room, k.price, 5) {
			if c.job.budget.spent() {
				return
			}
			c.job.budget.use(c.sack.fill(s.items, values, s.roomiest()))
			if !better(s.proves(values, c.sack.best(s.kinds))) {
				return
			}
		}
	}
}

// dive looks for a cutting that costs less than beat by taking what the linear
// program m of the supply uses most, and cutting the rest greedily each time. So
// often as turnings it takes the second choice or, at two turnings, the third,
// as well (Harvey and Ginsberg's limited discrepancy search, IJCAI 1995). It
// ends at a cutting that costs no more than enough; nil if it finds none.
//
// Each number of nudged goes another way down, the first the quickest.
func (c *cutSearch) dive(s supply, m *patternProgram, beat, enough, nudged int) []packed {
	if nudged > 0 {
		m = c.solved(s, nudged)
	}
	return c.descend(s, m, beat, enough, nudged%3, nudged)
}

func (c *cutSearch) descend(s supply, m *patternProgram, beat, enough, turnings, nudged int) []packed {
	var best []packed
	var spent int
	var taken []packed
	s = s.clone()
	for {
		if rest := c.filler.quick(s); rest != nil {
			if cost := spent + cutCost(s.kinds, rest); cost < beat {
				beat, best = cost, append(slices.Clone(taken), rest...)
			}
		}
		if _, left := s.total(); left == 0 || beat <= enough || spent+m.bound >= beat || c.job.budget.spent() {
			return best
		}
		uses := m.uses()
		if len(uses) == 0 {
			return best
		}
		for n := 1; n <= min(turnings, 2) && n < len(uses) && uses[0].times < 1-1e-5; n++ {
			other := s.clone()
			p := packed{uses[n].column.kind, uses[n].column.of}
			other.take(p)
			price := s.kinds[p.kind].price
			found := c.descend(other, c.solved(other, nudged), beat-spent-price, enough-spent-price, turnings-n, nudged)
			if found == nil {
				continue
			}
			best = append(append(slices.Clone(taken), p), found...)
			if beat = spent + price + cutCost(s.kinds, found); beat <= enough {
				return best
			}
		}
		if nudged%2 == 1 {
			uses = uses[:1]
		}
		for _, p := range s.settle(uses) {
			taken = append(taken, p)
			spent += s.kinds[p.kind].price
		}
		m = c.solved(s, nudged)
	}
}

// solved is the linear program of a supply, nudged so, solved.
func (c *cutSearch) solved(s supply, nudged int) *patternProgram {
	m := c.program(s)
	m.nudged = nudged
	m.solve(&c.job.budget)
	return m
}

// settle cuts the patterns that are used whole times, and at least the first.
func (s *supply) settle(uses []use) []packed {
	var out []packed
	for n, u := range uses {
		times := int(u.times + 1e-5)
		if n == 0 {
			times = max(times, 1)
		}
		for range times {
			if !s.holds(u.column) {
				break
			}
			p := packed{u.column.kind, u.column.of}
			s.take(p)
			out = append(out, p)
		}
	}
	return out
}

// holds tells whether a pattern can still be cut whole.
func (s *supply) holds(c patternColumn) bool {
	if s.kinds[c.kind].count == 0 {
		return false
	}
	for n, i := range c.items {
		if s.items[i].count < int(c.count[n]) {
			return false
		}
	}
	return true
}

// purchase is how many to buy of each kind, and what that costs.
type purchase struct {
	counts []int
	cost   int
}

// byCounts goes through the purchases between the bound and the best, the
// cheapest first: the linear program proves that one does not suffice, or a
// search finds out how it does, or it remains open, and the bound with it. It
// searches the harder the longer nothing is found, while the budget lasts.
func (c *cutSearch) byCounts(s supply, best []packed, bound int) ([]packed, int) {
	const mostPurchases, mostTries = 300, 60
	open := c.job.purchases(bound, cutCost(s.kinds, best), mostPurchases)
	total, _ := s.total()
	open = slices.DeleteFunc(open, func(b purchase) bool {
		_, room := c.job.bought(b)
		return room < total
	})
	if open == nil {
		return best, bound
	}
	for try := 0; try < mostTries && len(open) > 0 && !c.job.budget.spent(); try++ {
		for n := 0; n < len(open) && !c.job.budget.spent(); n++ {
			q, _ := c.job.bought(open[n])
			m := c.solved(q, 0)
			if m.bound > 0 {
				open = slices.Delete(open, n, n+1)
				n--
				continue
			}
			all := c.job.budget.left
			c.job.budget.left = all / (len(open) - n + 1)
			given := c.job.budget.left
			found := c.dive(q, m, 1, 0, try)
			c.job.budget.left += all - given
			if found != nil {
				best, open = found, open[:n] // the dearer ones no longer matter
			}
		}
	}
	if len(open) > 0 {
		return best, max(bound, open[0].cost)
	}
	return best, cutCost(s.kinds, best)
}

// bought is the supply with so many of each kind at no price, and strips without
// end at a price of 1, so that a cutting which costs nothing is one that the
// purchase suffices for. It gives the room of all that is bought and at hand.
func (j *cutJob) bought(b purchase) (supply, int) {
	q := supply{items: j.items}
	size, longest := 0, 0
	for k, kind := range j.kinds[:j.boxes+j.shops] {
		n := kind.count
		if k >= j.boxes {
			n = b.counts[k-j.boxes]
		}
		q.kinds = append(q.kinds, cutKind{room: kind.room, count: n})
		if n < 0 {
			n = 1 << 20
		}
		size += n * kind.room
	}
	for _, it := range j.items {
		longest = max(longest, it.size)
	}
	q.kinds = append(q.kinds, cutKind{room: longest, price: 1, count: -1})
	return q, size
}

// purchases lists what may be bought for from to below to, the cheapest first;
// nil if that is more than most.
func (j *cutJob) purchases(from, to, most int) []purchase {
	out := []purchase{}
	shop := j.kinds[j.boxes : j.boxes+j.shops]
	counts := make([]int, len(shop))
	steps := 0
	var try func(k, cost int) bool
	try = func(k, cost int) bool {
		if steps++; steps > 100000 {
			return false
		}
		if k == len(shop) {
			if cost >= from {
				out = append(out, purchase{slices.Clone(counts), cost})
			}
			return len(out) <= most
		}
		for n := 0; (shop[k].count < 0 || n <= shop[k].count) && cost+n*shop[k].price < to; n++ {
			counts[k] = n
			if !try(k+1, cost+n*shop[k].price) {
				return false
			}
		}
		counts[k] = 0
		return true
	}
	if !try(0, 0) {
		return nil
	}
	slices.SortStableFunc(out, func(a, b purchase) int { return cmp.Compare(a.cost, b.cost) })
	return out
}
