package cutstock

import "math"

// valued cuts, strip by strip, the pattern of most value for its money, by values of
// the pieces that it corrects from pass to pass: a piece gains value if it lay in a
// strip with much left over, so that the next pass seeks it better company while there
// is a choice (sequential value correction; Belov and Scheithauer, INFORMS J. Computing
// 19, 2007). It returns the cheapest of all passes, nil if none costs less than beat;
// it ends when one costs no more than enough, or after a number of steps of the search.
func (b *brancher) valued(s supply, beat, enough, steps int, budget *effort) []packed {
	const patternSteps = 3000
	values := make([]float64, len(s.items))
	for i, it := range s.items {
		values[i] = math.Pow(float64(it.size), overvalue)
	}
	var best []packed
	last := budget.left - steps
	for pass := 0; budget.left > last && !budget.spent(); pass++ {
		left := s.clone()
		var strips []packed
		_, pieces := left.total()
		for pieces > 0 {
			p := b.mostValue(&left, values, patternSteps, budget)
			if p.of == nil {
				break
			}
			left.take(p)
			pieces -= len(p.of)
			strips = append(strips, p)
			s.correct(values, p, pass)
		}
		if pieces > 0 {
			continue
		}
		strips = exchange(s.kinds, left, strips)
		if cost := cutCost(s.kinds, strips); cost < beat {
			best, beat = strips, cost
		}
		if beat <= enough {
			break
		}
	}
	return best
}

// overvalue is the power of its size that is a piece's first value: slightly above 1,
// so that long pieces, which are harder to place, go first.
const overvalue = 1.02

// mostValue is the pattern, among all kinds left, of most value for its money.
func (b *brancher) mostValue(s *supply, values []float64, steps int, budget *effort) packed {
	whole := make([]int, len(values))
	for i, v := range values {
		whole[i] = int(v * 64)
	}
	b.start(s.items, whole)
	budget.use(16 * len(b.order))
	var best packed
	bestRatio := 0.0
	for k, kind := range s.kinds {
		if kind.count == 0 {
			continue
		}
		of, _ := b.search(kind.room, 0, steps)
		budget.use(4 * (steps - b.steps))
		if of == nil {
			continue
		}
		ratio := float64(b.best) / (float64(kind.price) + 1e-3)
		if ratio > bestRatio {
			best, bestRatio = packed{k, of}, ratio
		}
	}
	return best
}

// correct moves the values of the pieces of a strip towards their size over the used
// share of the strip, the more slowly the more passes there have been.
func (s *supply) correct(values []float64, p packed, pass int) {
	used := 0
	for _, i := range p.of {
		used += s.items[i].size
	}
	share := float64(used) / float64(s.kinds[p.kind].room)
	weight := 1 / (1.5 + 0.25*float64(pass))
	for _, i := range p.of {
		values[i] += weight * (math.Pow(float64(s.items[i].size), overvalue)/share - values[i])
	}
}
