package loft

import (
	"context"
	"math"
	"math/bits"
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
		state, err := sp.held(ctx, order[:n], sp.finely(tellBay), true)
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
	h := holding{first: sp.First, last: sp.Last, told: told, astray: func(held []int) ([]int, error) { return loose.astrayHeld(ctx, held, within) }}
	held, err := h.search(sp.Order())
	if err != nil {
		return nil, err
	}
	return loose.Held(ctx, held)
}

// astrayHeld gives the frames at which the strip is not in its place, held at some.
func (sp *Springing) astrayHeld(ctx context.Context, held []int, within float64) ([]int, error) {
	s, err := sp.held(ctx, held, sp.finely(searchBay), true)
	if err != nil {
		return nil, err
	}
	if s.Converged {
		return s.astray(within), nil
	}
	// It springs out: nothing but the holds themselves is in its place.
	var all []int
	for i := sp.First; i <= sp.Last; i++ {
		if !slices.Contains(s.Held, i) {
			all = append(all, i)
		}
	}
	return all, nil
}

// holding is the search for holds.
type holding struct {
	first, last int
	astray      func(held []int) ([]int, error) // at which frames the strip is not in its place, so held
	held        []int
	tried       int
	told        func(tried, prospect int)
}

// search gives the holds, for frames in the order in which a strip is pressed on.
func (h *holding) search(order []int) ([]int, error) {
	h.held = slices.Clone(order[:2])
	for _, outwards := range []int{1, -1} {
		if err := h.extend(outwards); err != nil {
			return nil, err
		}
	}
	if err := h.mend(); err != nil {
		return nil, err
	}
	return h.held, h.prune(order)
}

// with gives the frames at which the strip is not in its place with some further holds.
func (h *holding) with(more ...int) ([]int, error) {
	bad, err := h.astray(append(slices.Clone(h.held), more...))
	if err != nil {
		return nil, err
	}
	if h.tried++; h.told != nil {
		h.told(h.tried, max(h.prospect(), h.tried))
	}
	return bad, nil
}

// prospect is how many ways there may be to try: with few frames some three for each,
// with many the halvings of a reach for each of the dozen or two that are held.
func (h *holding) prospect() int {
	n := h.last - h.first + 1
	return min(3*n, 20*bits.Len(uint(n)))
}

// extend adds holds towards rising x (1) or falling x (-1), each as far out as the
// frames before it allow. The first reach tried is that of the hold before; it is doubled
// while it does, and halved down to the frame that does and the next that does not, so
// that the ways tried grow with the holds and hardly with the frames.
func (h *holding) extend(way int) error {
	for reach := 1; ; {
		last := slices.Max(h.held)
		if way < 0 {
			last = slices.Min(h.held)
		}
		bad, err := h.with()
		if err != nil {
			return err
		}
		next := 0 // frames from last to the first beyond it that is astray
		for _, i := range bad {
			if d := (i - last) * way; d > 0 && (next == 0 || d < next) {
				next = d
			}
		}
		if next == 0 {
			return nil
		}
		if reach, err = h.farthest(last, way, next, reach); err != nil {
			return err
		}
		h.held = append(h.held, last+way*reach)
	}
}

// farthest is how many frames from last a hold may be, if it may be near, so that all
// between are in their place, as far as such holds follow one on another; it first tries
// one at first.
func (h *holding) farthest(last, way, near, first int) (int, error) {
	end := h.last - last
	if way < 0 {
		end = last - h.first
	}
	far, step := end+1, max(first-near, 1) // what does not serve
	for far-near > 1 {
		to := min(near+step, far-1)
		if far <= end {
			to = (near + far) / 2
		}
		bad, err := h.with(last + way*to)
		if err != nil {
			return 0, err
		}
		between := func(i int) bool { d := (i - last) * way; return d > 0 && d < to }
		if slices.ContainsFunc(bad, between) {
			far = to
		} else {
			near, step = to, 2*step
		}
	}
	return near, nil
}

// mend adds holds where the strip is still not in its place, till it is.
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
