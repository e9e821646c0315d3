package cutstock

import (
	"cmp"
	"math"
	"slices"
)

// patternColumn is a pattern in the linear program: so many pieces of some
// items from one kind of strip.
type patternColumn struct {
	kind  int
	items []int
	count []float64
	of    []int
}

func newColumn(kind int, of []int) patternColumn {
	c := patternColumn{kind: kind, of: of}
	for _, i := range of {
		if n := len(c.items); n > 0 && c.items[n-1] == i {
			c.count[n-1]++
			continue
		}
		c.items, c.count = append(c.items, i), append(c.count, 1)
	}
	return c
}

// patternProgram is the linear program over patterns: the least price of strips
// so that every item is cut as often as wanted and no kind is used more often
// than there are of it (Gilmore and Gomory 1961). It is solved by the revised
// simplex method, with patterns made by a knapsack when they are wanted.
type patternProgram struct {
	supply
	pool   *[]patternColumn // patterns found so far, shared
	sack   *knapsack
	branch *brancher

	itemRow []int // the row of each item still to be cut; else -1
	rowOf   []int // the row of each kind that has an end; else -1
	goods   int   // rows of items, the first
	rows    int

	basis   []int // columns: from 0 up the pool's, below 0 those of slackOf
	inverse [][]float64
	x       []float64
	price   []float64 // of every column of the basis
	dual    []float64
	bound   int // proven

	tolerance float64
	nudged    int // which set of small amounts is put on the prices; 0: none
	nudge     float64
}

// simplexTolerance is by how much of the dearest strip a column must improve.
const simplexTolerance = 1e-9

// slackOf marks the column of a row that is no pattern: what is not used of a
// kind, or what is cut of an item more than wanted.
func slackOf(row int) int { return -1 - row }

// solve runs the simplex method until nothing improves, or the budget is spent.
// It needs a kind without end that holds every piece.
func (m *patternProgram) solve(budget *effort) {
	m.start()
	const mostPivots = 4000
	for range mostPivots {
		m.priceOut()
		if in, ok := m.entering(); ok {
			budget.use(2*m.rows*m.rows + 4*len(*m.pool))
			if budget.ctx.Err() != nil || !m.pivot(in) {
				return
			}
			continue
		}
		if budget.spent() || !m.newPatterns(budget) {
			return
		}
	}
}

// start sets up the first basis: one piece to a strip.
func (m *patternProgram) start() {
	dearest := 1
	for _, k := range m.kinds {
		dearest = max(dearest, k.price)
	}
	m.tolerance = simplexTolerance * float64(dearest)
	m.nudge = 1e-3 * float64(dearest)
	endless := -1
	longest := 0
	for _, it := range m.items {
		longest = max(longest, it.size)
	}
	m.rowOf = make([]int, len(m.kinds))
	m.itemRow = make([]int, len(m.items))
	m.rows = 0
	for i, it := range m.items {
		m.itemRow[i] = -1
		if it.count > 0 {
			m.itemRow[i] = m.rows
			m.rows++
		}
	}
	m.goods = m.rows
	for k, kind := range m.kinds {
		m.rowOf[k] = -1
		if kind.count >= 0 {
			m.rowOf[k] = m.rows
			m.rows++
		} else if kind.room >= longest && (endless < 0 || kind.price < m.kinds[endless].price) {
			endless = k
		}
	}
	m.basis = make([]int, m.rows)
	m.x, m.price, m.dual = make([]float64, m.rows), make([]float64, m.rows), make([]float64, m.rows)
	m.inverse = make([][]float64, m.rows)
	for r := range m.inverse {
		m.inverse[r] = make([]float64, m.rows)
		m.inverse[r][r] = 1
	}
	for i, row := range m.itemRow {
		if row < 0 {
			continue
		}
		m.basis[row] = m.add(newColumn(endless, []int{i}))
		m.price[row] = m.priceOf(m.basis[row])
		// A little off, each row another, so that ties do not make it go round.
		m.x[row] = float64(m.items[i].count) + 1e-8*float64(row+1)
	}
	for k, row := range m.rowOf {
		if row >= 0 {
			m.basis[row] = slackOf(row)
			m.x[row] = float64(m.kinds[k].count) + 1e-8*float64(row+1)
		}
	}
}

// add puts a pattern into the pool and gives its place; one that is there
// already keeps its own.
func (m *patternProgram) add(c patternColumn) int {
	for n := range *m.pool {
		if old := &(*m.pool)[n]; old.kind == c.kind && slices.Equal(old.of, c.of) {
			return n
		}
	}
	*m.pool = append(*m.pool, c)
	return len(*m.pool) - 1
}

// priceOut computes the duals: the price of the basis times the inverse.
func (m *patternProgram) priceOut() {
	clear(m.dual)
	for r, p := range m.price {
		if p != 0 {
			for c, v := range m.inverse[r] {
				m.dual[c] += p * v
			}
		}
	}
}

// reduced is the reduced cost of a pattern.
func (m *patternProgram) reduced(c *patternColumn) float64 {
	sum := float64(m.kinds[c.kind].price)
	for n, i := range c.items {
		sum -= m.dual[m.itemRow[i]] * c.count[n]
	}
	if row := m.rowOf[c.kind]; row >= 0 {
		sum -= m.dual[row]
	}
	return sum
}

// entering finds the column that improves most.
func (m *patternProgram) entering() (int, bool) {
	best, at := -m.tolerance, 0
	found := false
	take := func(cost float64, column int) {
		if cost < best {
			best, at, found = cost, column, true
		}
	}
	for row, y := range m.dual {
		if row < m.goods {
			take(y, slackOf(row)) // cut more than wanted
		} else {
			take(-y, slackOf(row)) // use fewer than there are
		}
	}
	for n := range *m.pool {
		c := &(*m.pool)[n]
		if m.usable(c) {
			take(m.reduced(c)+m.priceOf(n)-float64(m.kinds[c.kind].price), n)
		}
	}
	return at, found
}

// priceOf is the price of a pattern of the pool, with a small amount of its own
// where the program is nudged: among cuttings that cost the same each set of
// amounts then chooses another.
func (m *patternProgram) priceOf(n int) float64 {
	price := float64(m.kinds[(*m.pool)[n].kind].price)
	if m.nudged == 0 {
		return price
	}
	h := uint64(n+1)*0x9e3779b97f4a7c15 ^ uint64(m.nudged)*0xbf58476d1ce4e5b9
	h = (h ^ h>>29) * 0x94d049bb133111eb
	return price + m.nudge*float64(h>>40)/(1<<24)
}

// usable tells whether a pattern may still be cut once at all.
func (m *patternProgram) usable(c *patternColumn) bool {
	if m.kinds[c.kind].count == 0 {
		return false
	}
	for n, i := range c.items {
		if float64(m.items[i].count) < c.count[n] {
			return false
		}
	}
	return true
}

// pivot brings a column into the basis; false if the numbers no longer allow it.
func (m *patternProgram) pivot(in int) bool {
	d := make([]float64, m.rows)
	price := 0.0
	for r := range d {
		if in < 0 {
			row := -1 - in
			d[r] = m.inverse[r][row]
			if row < m.goods {
				d[r] = -d[r]
			}
			continue
		}
		c := &(*m.pool)[in]
		price = m.priceOf(in)
		for n, i := range c.items {
			d[r] += m.inverse[r][m.itemRow[i]] * c.count[n]
		}
		if row := m.rowOf[c.kind]; row >= 0 {
			d[r] += m.inverse[r][row]
		}
	}
	out, step := -1, math.Inf(1)
	for r := range d {
		if d[r] > 1e-9 {
			if s := max(m.x[r], 0) / d[r]; s < step-1e-13 || s < step+1e-13 && d[r] > d[max(out, 0)] {
				out, step = r, s
			}
		}
	}
	if out < 0 {
		return false
	}
	pivotRow := m.inverse[out]
	for c := range pivotRow {
		pivotRow[c] /= d[out]
	}
	m.x[out] = step
	for r := range d {
		if r == out || d[r] == 0 {
			continue
		}
		m.x[r] -= d[r] * step
		row := m.inverse[r]
		for c, v := range pivotRow {
			row[c] -= d[r] * v
		}
	}
	m.basis[out], m.price[out] = in, price
	return true
}

// newPatterns makes the most valuable pattern of each kind, and notes the bound
// that the duals prove; false if none improves.
func (m *patternProgram) newPatterns(budget *effort) bool {
	values := make([]int, len(m.items))
	scale := m.worth()
	for i, row := range m.itemRow {
		if row >= 0 {
			values[i] = int(math.Round(max(m.dual[row], 0) * float64(scale)))
		}
	}
	patterns, most := m.valuable(values, scale, budget)
	m.bound = max(m.bound, m.proves(values, most))
	found := false
	for k, of := range patterns {
		if len(of) == 0 {
			continue
		}
		c := newColumn(k, of)
		if m.reduced(&c) < -m.tolerance {
			before := len(*m.pool)
			m.add(c)
			found = found || len(*m.pool) > before
		}
	}
	return found
}

// valuable gives a pattern of each kind that is worth more than a strip of it, the
// most valuable where that can be told, and what no pattern of it is worth more than:
// by branching, or where that takes too long from the list of all sums.
func (m *patternProgram) valuable(values []int, scale int, budget *effort) ([][]int, []int) {
	const mostSteps = 50000
	patterns, most := make([][]int, len(m.kinds)), make([]int, len(m.kinds))
	m.branch.start(m.items, values)
	var all []int
	for k, kind := range m.kinds {
		if kind.count == 0 {
			continue
		}
		over := kind.price * scale
		if row := m.rowOf[k]; row >= 0 {
			over += max(int(-m.dual[row]*float64(scale)), 0)
		}
		if all != nil {
			patterns[k], most[k] = m.sack.pattern(kind.room), all[k]
			continue
		}
		of, sure := m.branch.search(kind.room, over, mostSteps)
		budget.use(4 * (mostSteps - m.branch.steps))
		patterns[k], most[k] = of, m.branch.best
		if !sure {
			budget.use(4 * m.sack.fill(m.items, values, m.roomiest()))
			all = m.sack.best(m.kinds)
			most[k] = all[k]
			if exact := m.sack.pattern(kind.room); exact != nil {
				patterns[k] = exact
			}
		}
		slices.Sort(patterns[k])
	}
	return patterns, most
}

// use is a pattern and how often the program uses it.
type use struct {
	column patternColumn
	times  float64
}

// uses gives the patterns used, the most used first.
func (m *patternProgram) uses() []use {
	var out []use
	for r, b := range m.basis {
		if b >= 0 && m.x[r] > 1e-5 {
			out = append(out, use{(*m.pool)[b], m.x[r]})
		}
	}
	slices.SortStableFunc(out, func(a, b use) int { return cmp.Compare(b.times, a.times) })
	return out
}
