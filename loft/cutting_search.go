package loft

import (
	"cmp"
	"slices"
)

// mostExactItems is the number of different lengths up to which the linear
// program over patterns is worth its time.
const mostExactItems = 120

// cutSearch looks for cuttings of a job.
type cutSearch struct {
	job    *cutJob
	filler filler
	sack   knapsack
	pool   []patternColumn
}

// solve gives the best cutting found, and a bound that none comes under.
func (j *cutJob) solve() ([]packed, int) {
	if len(j.items) == 0 {
		return nil, 0
	}
	c := &cutSearch{job: j}
	s := supply{j.kinds, j.items}
	best := c.filler.quick(s)
	bound := j.roundUp(s.lengthBound())
	better := func(b int) bool {
		bound = max(bound, j.roundUp(b))
		return bound < cutCost(j.kinds, best)
	}
	if !better(0) {
		return best, bound
	}
	if len(j.items) > mostExactItems {
		c.dualBound(s, better)
		best = c.thin(s, best, bound)
		return best, bound
	}
	m := c.program(s)
	m.solve(&j.budget)
	if !better(m.bound) {
		return best, bound
	}
	if found := c.dive(s, m, cutCost(j.kinds, best), bound, 1); found != nil {
		best = found
	}
	if !better(0) || j.usesShort(best) {
		return best, bound
	}
	return c.byCounts(s, best, bound)
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
	return &patternProgram{supply: s, pool: &c.pool, sack: &c.sack}
}

// dualBound raises the bound by dual feasible functions until none is left or
// it meets the best.
func (c *cutSearch) dualBound(s supply, better func(int) bool) {
	for n, k := range s.kinds {
		if k.price == 0 || n == c.job.short() {
			continue
		}
		for _, values := range s.dualValues(k.room, k.price, 5) {
			if c.job.budget <= 0 {
				return
			}
			c.job.budget -= c.sack.fill(s.items, values, s.roomiest())
			if !better(s.proves(values, &c.sack)) {
				return
			}
		}
	}
}

// dive looks for a cutting that costs less than beat by taking what the linear
// program uses most, strip by strip, and cutting the rest greedily each time.
// At so many turnings it tries the second choice too. Nil if it finds none.
func (c *cutSearch) dive(s supply, m *patternProgram, beat, enough, turnings int) []packed {
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
		if _, left := s.total(); left == 0 || beat <= enough || spent+m.bound >= beat || c.job.budget <= 0 {
			return best
		}
		uses := m.uses()
		if len(uses) == 0 {
			return best
		}
		if turnings > 0 && len(uses) > 1 && uses[0].times < 1-1e-5 {
			other := s.clone()
			p := trimmed(&other, uses[1].column)
			other.take(p)
			price := s.kinds[p.kind].price
			n := c.program(other)
			n.solve(&c.job.budget)
			if found := c.dive(other, n, beat-spent-price, enough-spent-price, turnings-1); found != nil {
				best = append(append(slices.Clone(taken), p), found...)
				beat = cutCost(s.kinds, best)
				if beat <= enough {
					return best
				}
			}
		}
		before := len(taken)
		for n, u := range uses {
			times := int(u.times + 1e-5)
			if n == 0 {
				times = max(times, 1)
			}
			for range times {
				if s.kinds[u.column.kind].count == 0 {
					break
				}
				p := trimmed(&s, u.column)
				if len(p.of) == 0 {
					break
				}
				s.take(p)
				taken = append(taken, p)
				spent += s.kinds[p.kind].price
			}
		}
		if len(taken) == before {
			return best
		}
		m = c.program(s)
		m.solve(&c.job.budget)
	}
}

// trimmed is the pattern without what is no longer wanted.
func trimmed(s *supply, c patternColumn) packed {
	p := packed{kind: c.kind}
	for n, i := range c.items {
		for range min(int(c.count[n]), s.items[i].count) {
			p.of = append(p.of, i)
		}
	}
	return p
}

// purchase is how many to buy of each kind, and what that costs.
type purchase struct {
	counts []int
	cost   int
}

// byCounts tries every purchase between the bound and the best, the cheapest
// first: the linear program proves that it does not suffice, or a search finds
// out how it does, or it remains open, and the bound with it.
func (c *cutSearch) byCounts(s supply, best []packed, bound int) ([]packed, int) {
	const mostPurchases = 300
	open := c.job.purchases(bound, cutCost(s.kinds, best), mostPurchases)
	if open == nil {
		return best, bound
	}
	proven := true
	for _, b := range open {
		if proven {
			bound = max(bound, b.cost)
		}
		if c.job.budget <= 0 {
			return best, bound
		}
		q, size := c.job.bought(b)
		if total, _ := s.total(); size < total {
			continue
		}
		m := c.program(q)
		m.solve(&c.job.budget)
		if m.bound > 0 {
			continue
		}
		if found := c.dive(q, m, 1, 0, 2); found != nil {
			return found, bound
		}
		proven = false
	}
	if proven {
		bound = cutCost(s.kinds, best)
	}
	return best, bound
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

// thin betters a large cutting part by part: a few of the strips that are least
// full are cut anew, as a small job of their own.
func (c *cutSearch) thin(s supply, strips []packed, bound int) []packed {
	const group = 20
	spare := func(p packed) int {
		left := s.kinds[p.kind].room
		for _, i := range p.of {
			left -= s.items[i].size
		}
		return left
	}
	slices.SortStableFunc(strips, func(a, b packed) int { return cmp.Compare(spare(b), spare(a)) })
	for stride := 1; stride <= 4 && c.job.budget > 0 && cutCost(s.kinds, strips) > bound; stride++ {
		var part, rest []packed
		for n, p := range strips {
			if n%stride == 0 && len(part) < group {
				part = append(part, p)
			} else {
				rest = append(rest, p)
			}
		}
		if found := c.anew(s, part); found != nil {
			strips = append(found, rest...)
		}
	}
	return strips
}

// anew cuts the pieces of some strips again; nil if it comes no cheaper.
func (c *cutSearch) anew(s supply, part []packed) []packed {
	sub := supply{kinds: slices.Clone(s.kinds)}
	count := make([]int, len(s.items))
	used := make([]int, len(s.kinds))
	for _, p := range part {
		used[p.kind]++
		for _, i := range p.of {
			count[i]++
		}
	}
	var own []int
	for i, n := range count {
		if n > 0 {
			sub.items, own = append(sub.items, cutItem{s.items[i].size, n}), append(own, i)
		}
	}
	for k := range sub.kinds {
		if sub.kinds[k].count >= 0 {
			sub.kinds[k].count = used[k]
		}
	}
	inner := &cutSearch{job: c.job}
	m := inner.program(sub)
	m.solve(&c.job.budget)
	found := inner.dive(sub, m, cutCost(s.kinds, part), c.job.roundUp(m.bound), 0)
	for n := range found {
		for k, i := range found[n].of {
			found[n].of[k] = own[i]
		}
	}
	return found
}
