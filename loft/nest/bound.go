package nest

import (
	"cmp"
	"math"
	"slices"
)

// bound is a lower bound on the cost of the sheets bought: enough that the area within
// their margins, and that of the box, is at least that of the pieces. Whole sheets are
// counted, by branch and bound over the kinds, cheapest for their area first; beyond a
// limit of steps parts of a sheet may be counted.
func (j *job) bound() float64 {
	need := 0.0
	for _, s := range j.shapes {
		need += s.area
	}
	var shop []kind
	for _, k := range j.kinds {
		switch {
		case k.area <= 0 || k.count == 0:
		case !k.box:
			shop = append(shop, k)
		case k.count < 0:
			return 0
		default:
			need -= float64(k.count) * k.area
		}
	}
	slices.SortStableFunc(shop, func(a, b kind) int { return cmp.Compare(a.price*b.area, b.price*a.area) })
	c := cover{shop: shop, best: math.Inf(1), steps: coverSteps}
	need *= 1 - 1e-9
	least := c.parts(0, need)
	c.branch(0, need, 0)
	if c.steps <= 0 || math.IsInf(c.best, 1) {
		if math.IsInf(least, 1) {
			return 0
		}
		return least
	}
	return c.best
}

// coverSteps is the greatest number of choices that the bound examines.
const coverSteps = 20000

// cover searches for the cheapest sheets of an area.
type cover struct {
	shop  []kind
	best  float64
	steps int
}

// parts is the cost of an area of the kinds from one on if parts of sheets could be
// bought; infinite if there are not enough.
func (c *cover) parts(from int, need float64) float64 {
	cost := 0.0
	for _, k := range c.shop[from:] {
		if need <= 0 {
			break
		}
		if k.count < 0 || float64(k.count)*k.area >= need {
			return cost + need/k.area*k.price
		}
		cost += float64(k.count) * k.price
		need -= float64(k.count) * k.area
	}
	if need > 0 {
		return math.Inf(1)
	}
	return cost
}

func (c *cover) branch(from int, need, cost float64) {
	if need <= 0 {
		c.best = min(c.best, cost)
		return
	}
	if c.steps--; c.steps <= 0 || from == len(c.shop) || cost+c.parts(from, need) >= c.best {
		return
	}
	k := c.shop[from]
	most := int(math.Ceil(need / k.area))
	if k.count >= 0 {
		most = min(most, k.count)
	}
	for n := most; n >= 0 && c.steps > 0; n-- {
		c.branch(from+1, need-float64(n)*k.area, cost+float64(n)*k.price)
	}
}
