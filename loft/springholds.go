package loft

import (
	"context"
	"math"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Presses follows the strip from the first contact to the last: held amidships, then at
// one frame more each time, outwards on alternate sides, until it is held at all. Each
// state is passed on as it is found; the function that receives it may end the work
// with an error of its own.
func (sp *Springing) Presses(ctx context.Context, told func(*Sprung) error) error {
	order := sp.Order()
	for n := len(sp.Amidships()); n <= len(order); n++ {
		state, err := sp.held(ctx, order[:n], tellBay, true)
		if err != nil {
			return err
		}
		if err := told(state); err != nil {
			return err
		}
	}
	return nil
}

// Holds gives a small set of frames at which the strip must be held so that at every
// frame it lies within a tolerance, mm, of its place, along the frame and off it. From
// amidships outwards each hold is as far from the one before as the frames between
// allow, and holds that then prove idle are removed. Each is needed given the others,
// but another choice might do with fewer. It returns the strip so held. After each
// trial, told, if not nil, is called with the number of trials so far and the number
// there may be.
func (sp *Springing) Holds(ctx context.Context, within float64, told func(tried, prospect int)) (*Sprung, error) {
	if !(within > 0) || math.IsInf(within, 0) {
		return nil, tongue.Errorf("a strip cannot be held within %g mm: give more than 0", within)
	}
	loose := *sp
	loose.Play = min(sp.Play, within)
	h := holding{Springing: &loose, ctx: ctx, within: within, told: told}
	order := sp.Order()
	h.held = slices.Clone(order[:2])
	for _, outwards := range []int{1, -1} {
		if err := h.extend(outwards); err != nil {
			return nil, err
		}
	}
	if err := h.mend(); err != nil {
		return nil, err
	}
	if err := h.prune(order); err != nil {
		return nil, err
	}
	return loose.Held(ctx, h.held)
}

// holding is the search for holds.
type holding struct {
	*Springing
	ctx    context.Context
	within float64
	held   []int
	tried  int
	told   func(tried, prospect int)
}

// with gives the frames at which the strip is not in its place with some further holds.
func (h *holding) with(more ...int) ([]int, error) {
	s, err := h.Springing.held(h.ctx, append(slices.Clone(h.held), more...), searchBay, true)
	if err != nil {
		return nil, err
	}
	if h.tried++; h.told != nil {
		h.told(h.tried, max(3*len(h.supports), h.tried))
	}
	if !s.Converged {
		// It springs out: only the holds themselves are in place.
		var all []int
		for i := h.First; i <= h.Last; i++ {
			if !slices.Contains(s.Held, i) {
				all = append(all, i)
			}
		}
		return all, nil
	}
	return s.astray(h.within), nil
}

// extend adds holds towards rising x (1) or falling x (−1), each as far out as the
// frames before it allow.
func (h *holding) extend(way int) error {
	for {
		last := slices.Max(h.held)
		if way < 0 {
			last = slices.Min(h.held)
		}
		bad, err := h.with()
		if err != nil {
			return err
		}
		beyond := func(i int) bool { return (i-last)*way > 0 }
		bad = slices.DeleteFunc(bad, func(i int) bool { return !beyond(i) })
		if len(bad) == 0 {
			return nil
		}
		next := slices.Min(bad)
		if way < 0 {
			next = slices.Max(bad)
		}
		for to := next + way; to >= h.First && to <= h.Last; to += way {
			bad, err := h.with(to)
			if err != nil {
				return err
			}
			if slices.ContainsFunc(bad, func(i int) bool { return beyond(i) && (to-i)*way > 0 }) {
				break
			}
			next = to
		}
		h.held = append(h.held, next)
	}
}

// mend adds holds where the strip is still not in its place, until it is.
func (h *holding) mend() error {
	for {
		bad, err := h.with()
		if err != nil || len(bad) == 0 {
			return err
		}
		h.held = append(h.held, bad[len(bad)/2])
	}
}

// prune removes the holds without which the strip still lies in its place, beginning
// with the outermost.
func (h *holding) prune(order []int) error {
	for _, i := range slices.Backward(order) {
		k := slices.Index(h.held, i)
		if k < 0 || len(h.held) == 2 {
			continue
		}
		all := h.held
		h.held = slices.Delete(slices.Clone(all), k, k+1)
		bad, err := h.with()
		if err != nil {
			return err
		}
		if len(bad) > 0 {
			h.held = all
		}
	}
	return nil
}
