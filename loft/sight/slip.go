package sight

import (
	"cmp"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// How certain a slip must be.
const (
	slipChance = 1e-3 // that the worst of all marks is called a slip but is none
	wideChance = 0.01 // that marks are wrongly said to fit badly
	clearly    = 10.0 // in squares of standard errors: how much better they must fit without one than without any other
)

// How much is tried. Of so few marks each bears much on the camera and is tried without;
// of more, only those that the others contradict most, and the camera is first sought
// near the one found with it.
const (
	singly    = 24
	mostSlips = 20
)

// reachOf is the bound that a sum of the given number of squared standard errors
// exceeds only with that chance.
func reachOf(chance float64, of int) float64 {
	if of < 1 {
		return math.Inf(1)
	}
	return distuv.ChiSquared{K: float64(of)}.Quantile(1 - chance)
}

// over is the number of observations beyond the free parameters.
func (a *adjustment) over() int {
	n := 2 * len(a.seen)
	return n + 4 - degrees // four are the likely properties of a camera
}

// without is the adjustment without some of the observations.
func (a *adjustment) without(left map[int]bool) *adjustment {
	var seen []observed
	for i, o := range a.seen {
		if !left[i] {
			seen = append(seen, o)
		}
	}
	return newAdjustment(a.pic, seen, a.stands)
}

// taken is a solution, and what was left out for it.
type taken struct {
	*solution
	a       *adjustment
	slips   []int // indices of the observations
	unclear []int // one of these is a slip, but the others do not show which
}

// solveSparing finds the camera, and leaves out marks that the others contradict, at
// most a quarter of them and mostSlips: each is the one without which the others fit
// best, and far better than without any other. It ends where the marks would be lost
// even if each that may still be left out were worth as much as the last.
func (a *adjustment) solveSparing(least func(*adjustment) bool) (taken, bool) {
	left := map[int]bool{}
	s, ok := a.found()
	out := taken{solution: s, a: a}
	most := min((len(a.seen)+3)/4, mostSlips)
	for ok && len(left) < most {
		if a.without(left).fits(out.solution) {
			break
		}
		few := len(a.seen)-len(left) <= singly
		slip, without, unclear := a.slip(left, out.solution, least, few)
		hopeless := func() bool {
			more := float64(most - len(left) - 1)
			return slip >= 0 && without.misfit-more*(out.misfit-without.misfit) > lost*lost*float64(out.a.over()-2)
		}
		if !few && (slip < 0 && len(unclear) == 0 || hopeless()) { // the camera found with it may be another's
			slip, without, unclear = a.slip(left, out.solution, least, true)
		}
		if slip < 0 {
			out.unclear = unclear
			break
		}
		end := hopeless()
		left[slip] = true
		out.slips = append(out.slips, slip)
		out.solution, out.a = without, a.without(left)
		if end {
			break
		}
	}
	return out, ok
}

// fits reports whether no mark is off by more than chance would explain.
func (a *adjustment) fits(s *solution) bool {
	if s.misfit > reachOf(slipChance, a.over()) {
		return false
	}
	most := reachOf(slipChance/float64(len(a.seen)), 2)
	for i := range a.seen {
		if a.contradicts(s, &a.seen[i]) > most {
			return false
		}
	}
	return true
}

// contradicts measures how far all others contradict a mark, in squares of standard
// errors: the amount by which the sum of all squares would fall without it (the
// deletion statistic of Cook and Weisberg, Residuals and Influence in Regression, 1982,
// section 2.2, from memory).
func (a *adjustment) contradicts(s *solution, o *observed) float64 {
	place, by, ok := a.follow(s, o)
	if !ok {
		return math.Inf(1)
	}
	open := a.spread(o, &place, s.shifts == nil).Sub(carried(by, by, s.cov))
	if open.Det() <= 1e-6*open.At(0, 0)*open.At(1, 1) || open.At(0, 0) <= 0 {
		return 0 // nothing else bears on it
	}
	r := place.at.Sub(o.at)
	return r.Dot(open.Inv().Mul2x1(r))
}

// follow is a place as the solution sees it, and its derivatives by all free
// parameters.
func (a *adjustment) follow(s *solution, o *observed) (v sight, by *mat.Dense, ok bool) {
	place, shift := a.stood(s, o)
	if v, ok = s.see(place); !ok {
		return v, nil, false
	}
	by = mat.NewDense(2, s.cov.SymmetricDim(), nil)
	for axis := range 2 {
		for j, d := range v.byLook {
			by.Set(axis, j, d[axis])
		}
		for j := range 3 {
			if shift >= 0 {
				by.Set(axis, shift+j, v.byPlace.At(axis, j))
			}
		}
	}
	return v, by, true
}

// carried is the covariance of two places of the picture due to all free parameters.
func carried(a, b *mat.Dense, cov *mat.SymDense) (out mgl64.Mat2) {
	var m, half mat.Dense
	half.Mul(a, cov)
	m.Mul(&half, b.T())
	for i := range 2 {
		for j := range 2 {
			out.Set(i, j, m.At(i, j))
		}
	}
	return out
}

// slip finds the mark without which the others fit, and fit far better than without
// any other; −1 where there is none, with those that may be it. Thoroughly, the camera is
// sought from any start each time, else from that found with the mark.
func (a *adjustment) slip(left map[int]bool, with *solution, least func(*adjustment) bool, thorough bool) (slip int, without *solution, unclear []int) {
	misfit := map[int]float64{}
	slip = -1
	var others *adjustment
	for _, i := range a.suspects(left, with) {
		left[i] = true
		less := a.without(left)
		delete(left, i)
		if !least(less) {
			continue
		}
		s, ok := less.foundFrom(with, thorough)
		if !ok {
			continue
		}
		misfit[i] = s.misfit
		if slip < 0 || s.misfit < without.misfit {
			slip, without, others = i, s, less
		}
	}
	if slip >= 0 && !thorough {
		if s, ok := others.found(); ok && s.misfit < without.misfit {
			without = s
		}
	}
	if slip < 0 || with.misfit-without.misfit < clearly {
		return -1, nil, nil
	}
	for i := range a.seen {
		if m, ok := misfit[i]; ok && m < without.misfit+clearly {
			unclear = append(unclear, i)
		}
	}
	if len(unclear) > 1 {
		return -1, nil, unclear
	}
	return slip, without, nil
}

// suspects are the marks of which one may be a slip, in their order: all that are not
// left out where they are few, else those that the others contradict most.
func (a *adjustment) suspects(left map[int]bool, with *solution) []int {
	var out []int
	for i := range a.seen {
		if !left[i] {
			out = append(out, i)
		}
	}
	if len(out) <= singly {
		return out
	}
	now, off := a.without(left), make([]float64, len(a.seen))
	for _, i := range out {
		off[i] = now.contradicts(with, &a.seen[i])
	}
	slices.SortStableFunc(out, func(i, j int) int { return cmp.Compare(off[j], off[i]) })
	out = out[:singly]
	slices.Sort(out)
	return out
}

// foundFrom is the solution without a mark, given that with it: thoroughly from any
// start, else from that.
func (a *adjustment) foundFrom(with *solution, thorough bool) (*solution, bool) {
	if thorough {
		return a.found()
	}
	return a.from(with.camera, len(a.frames) > 0, math.Inf(1))
}
