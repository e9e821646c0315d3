package loft

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/cutstock"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

// rebuttSteps is the number of changes of butts that rebutt tries, rebuttRuns the
// number of fresh starts, and rebuttFinds the greatest number of choices it returns.
const (
	rebuttSteps = 6000
	rebuttRuns  = 3
	rebuttFinds = 6
)

// rebutt moves butts to other frames so that the pieces fit in fewer or cheaper strips,
// with no more butts in each strake than there are, no more breaches of the rule, no
// piece longer than a strip and no new stub. It returns the most promising choices, the
// best first. It is simulated annealing (Kirkpatrick, Gelatt and Vecchi, Science 220,
// 1983) with a fixed sequence of random numbers, since a plan must always be cut alike.
func (s *buttSearch) rebutt(ctx context.Context, chosen [][]buttAt, lots []Lot, p *hull.Plan, stock hull.Stock) ([][][]buttAt, error) {
	r := rebutting{buttSearch: s, now: slices.Clone(chosen), breaching: len(s.breaches(chosen)), lot: make([]int, len(chosen))}
	for n, st := range s.layer.Strakes {
		r.lot[n] = -1
		for i := range lots {
			if st.Making.Mode == hull.Sprung && st.Strip == lots[i].Width {
				r.lot[n] = i
			}
		}
		if r.lot[n] >= 0 && len(chosen[n]) > 0 && !slices.ContainsFunc(chosen[n], func(b buttAt) bool { return b.frame < 0 }) {
			r.movable = append(r.movable, n)
		}
	}
	if len(r.movable) == 0 {
		return nil, nil
	}
	for i := range lots {
		var free Lot
		free.Width = lots[i].Width
		box, shop := free.strips(p, stock)
		r.of = append(r.of, cutstock.NewEstimator(box, shop, s.rules.Kerf))
		r.cost = append(r.cost, r.estimate(i))
	}
	var finds finds
	for run := range rebuttRuns {
		if r.now = slices.Clone(chosen); run > 0 && len(finds) > 0 {
			r.now = slices.Clone(finds[0].butts)
		}
		for i := range r.cost {
			r.cost[i] = r.estimate(i)
		}
		chance := rand.New(rand.NewPCG(uint64(run), 1))
		for step := range rebuttSteps {
			if step%64 == 0 {
				if err := halt.Asked(ctx, "the butting"); err != nil {
					return nil, err
				}
			}
			heat := 0.3 * math.Pow(0.01, float64(step)/rebuttSteps)
			if r.try(chance, heat) {
				finds.put(total(r.cost), r.now)
			}
		}
	}
	var out [][][]buttAt
	for _, f := range finds {
		out = append(out, f.butts)
	}
	return out, nil
}

// finds are the most promising choices, the best first, no two with the same estimated
// cost, which rules out the same pieces in other strakes.
type finds []find

type find struct {
	cost  float64
	butts [][]buttAt
}

// put keeps a choice if it is among the best.
func (f *finds) put(cost float64, butts [][]buttAt) {
	i := 0
	for i < len(*f) && (*f)[i].cost < cost-1e-9 {
		i++
	}
	if i >= rebuttFinds || i < len(*f) && (*f)[i].cost < cost+1e-9 {
		return
	}
	*f = slices.Insert(*f, i, find{cost, slices.Clone(butts)})
	*f = (*f)[:min(len(*f), rebuttFinds)]
}

func total(costs []float64) float64 {
	sum := 0.0
	for _, c := range costs {
		sum += c
	}
	return sum
}

// rebutting is a choice of butts on its way to a better one.
type rebutting struct {
	*buttSearch
	now       [][]buttAt
	breaching int
	movable   []int // strakes
	lot       []int // of each strake, or −1
	of        []*cutstock.Estimator
	cost      []float64 // of each lot
	lengths   []float64
}

// estimate is the approximate cost of a lot at present.
func (r *rebutting) estimate(lot int) float64 {
	r.lengths = r.lengths[:0]
	for n, butts := range r.now {
		if r.lot[n] != lot || r.end[n] <= 0 {
			continue
		}
		for range hull.Sides() {
			from := 0.0
			for _, b := range butts {
				r.lengths = append(r.lengths, b.place-from)
				from = b.place
			}
			r.lengths = append(r.lengths, r.end[n]-from+r.rules.Overhang)
		}
	}
	return r.of[lot].Estimate(r.lengths)
}

// try moves a butt to another frame, or makes two strakes exchange frames, and keeps
// the change if it is better or, more rarely the worse it is and the colder, by chance.
func (r *rebutting) try(chance *rand.Rand, heat float64) bool {
	n := r.movable[chance.IntN(len(r.movable))]
	changed := map[int][]buttAt{n: r.moved(n, chance)}
	if m := r.movable[chance.IntN(len(r.movable))]; m != n && len(r.now[m]) == len(r.now[n]) && chance.IntN(3) == 0 {
		changed = map[int][]buttAt{n: r.onFrames(n, r.now[m]), m: r.onFrames(m, r.now[n])}
	}
	before := slices.Clone(r.now)
	for n, butts := range changed {
		if butts == nil || !r.permitted(n, butts) {
			return false
		}
		before[n] = r.now[n]
	}
	for n, butts := range changed {
		r.now[n] = butts
	}
	costs := slices.Clone(r.cost)
	if len(r.breaches(r.now)) <= r.breaching {
		for n := range changed {
			r.cost[r.lot[n]] = r.estimate(r.lot[n])
		}
		if worse := total(r.cost) - total(costs); worse <= 0 || chance.Float64() < math.Exp(-worse/heat) {
			return true
		}
	}
	r.now, r.cost = before, costs
	return false
}

// moved are the butts of a strake, one of them on another frame.
func (r *rebutting) moved(n int, chance *rand.Rand) []buttAt {
	out := slices.Clone(r.now[n])
	k, frame := chance.IntN(len(out)), chance.IntN(len(r.at[n]))
	out[k] = buttAt{r.at[n][frame], frame}
	return out
}

// onFrames are butts of a strake on the frames of another's.
func (r *rebutting) onFrames(n int, others []buttAt) []buttAt {
	var out []buttAt
	for _, b := range others {
		out = append(out, buttAt{r.at[n][b.frame], b.frame})
	}
	return out
}

// permitted reports whether a strake may be butted so.
func (r *rebutting) permitted(n int, butts []buttAt) bool {
	stub := r.layer.Rules.Stub * r.strip[n]
	shortest, was := r.shortest(n, butts), r.shortest(n, r.now[n])
	for _, b := range butts {
		if b.place < 1e-6 || b.place > r.end[n]-1e-6 || !r.layer.Strakes[n].At[b.frame].Laid {
			return false
		}
	}
	return shortest > 1e-6 && (shortest >= stub || shortest >= was) && r.longest(n, butts) <= r.strip[n]+1e-9
}

func (r *rebutting) shortest(n int, butts []buttAt) float64 {
	from, least := 0.0, math.Inf(1)
	for _, b := range butts {
		least, from = min(least, b.place-from), b.place
	}
	return min(least, r.end[n]-from+r.rules.Overhang)
}

func (r *rebutting) longest(n int, butts []buttAt) float64 {
	from, most := 0.0, 0.0
	for _, b := range butts {
		most, from = max(most, b.place-from), b.place
	}
	return max(most, r.end[n]-from+r.rules.Overhang)
}

// prove finds for every lot a lower bound on the cost of any cutting, wherever on the
// frames its strakes are butted, alike on both sides and with no more butts in all.
func (s *buttSearch) prove(ctx context.Context, c *CuttingPlan, chosen [][]buttAt, p *hull.Plan, stock hull.Stock) error {
	for i := range c.Lots {
		lot := &c.Lots[i]
		wholes, butted, ok := s.wholes(lot.Width, chosen)
		lot.Butted = butted
		switch {
		case !butted:
			lot.Least = lot.Cutting.Bound
			continue
		case !ok:
			continue
		}
		free := Lot{Width: lot.Width}
		box, shop := free.strips(p, stock)
		var err error
		if lot.Least, err = cutstock.Least(ctx, wholes, box, shop, s.rules.Kerf, lot.Cutting); err != nil {
			return tongue.Errorf("strips %g mm wide: %w", lot.Width, err)
		}
	}
	return nil
}

// wholes are the strakes of a lot with the butts they may have, and whether there are
// any; not ok where a butt lies on no frame.
func (s *buttSearch) wholes(width float64, chosen [][]buttAt) (out []cutstock.Whole, butted, ok bool) {
	spare := 0
	for n, st := range s.layer.Strakes {
		if st.Making.Mode != hull.Sprung || st.Strip != width || s.end[n] <= 0 {
			continue
		}
		w := cutstock.Whole{Length: s.end[n] + s.rules.Overhang, Longest: s.strip[n], Most: len(chosen[n]) + 1, Times: len(hull.Sides())}
		if s.uncut(n) {
			w.Longest = math.Inf(1)
		}
		butted = butted || len(chosen[n]) > 0
		for _, b := range chosen[n] {
			if b.frame < 0 {
				return nil, true, false
			}
		}
		for i, place := range s.at[n] {
			if place >= 1e-6 && place <= s.end[n]-1e-6 && st.At[i].Laid {
				w.Marks = append(w.Marks, place)
			}
		}
		spare += w.Most - s.fewest(w)
		out = append(out, w)
	}
	for n := range out { // butts that one strake has beyond its minimum another may have instead
		out[n].Most = s.fewest(out[n]) + spare
	}
	return out, butted, true
}

// fewest is the least number of pieces into which a whole can be divided, each as long
// as the marks allow.
func (s *buttSearch) fewest(w cutstock.Whole) int {
	n, from := 1, 0.0
	for w.Length-from > w.Longest+1e-9 {
		to := from
		for _, m := range w.Marks {
			if m > from && m-from <= w.Longest+1e-9 {
				to = m
			}
		}
		if to == from {
			return w.Most
		}
		n, from = n+1, to
	}
	return n
}
