package progress

import (
	"slices"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// follower is one band of a side with its record followed.
type follower struct {
	s  *benchBand
	on *regression
}

// g is the regression on all readings.
func (f *follower) g() *regression {
	if f.on == nil {
		f.on = f.s.regress(f.s.readings)
	}
	return f.on
}

// followed are all bands of both sides of a layer.
type followed struct {
	k     *loft.Planking
	habit Habit // as learned from the record
	bands map[hull.Side][]*follower
}

// followAll follows the record of both sides of a layer: first with the prior, so that
// the spreads can be learned; then with the learned spreads and, where a frame proves
// off by more than the others, with those learned without it; and last with the creep
// learned from the other bands and the other side.
func followAll(k *loft.Planking, layer int, record *hull.Record, habit Habit) (*followed, error) {
	l, err := k.Layer(layer)
	if err != nil {
		return nil, err
	}
	habit = habit.forStock(k.Plan.Record.Spreads, k.Plan.Layers[layer].Stock)
	f := &followed{k: k, habit: habit}
	by := func(h Habit) error { return f.pass(l, record, func(hull.Side, int) Habit { return h }) }
	if err := by(habit); err != nil {
		return nil, err
	}
	if len(habit.beliefs) == 0 {
		for _, leaveOut := range []bool{false, true} {
			if leaveOut && !f.off() {
				break
			}
			f.habit = habit.learned(f.all(), leaveOut)
			if err := by(f.habit); err != nil {
				return nil, err
			}
		}
	}
	if !f.measured() {
		return f, nil
	}
	before := f.bands
	err = f.pass(l, record, func(side hull.Side, band int) Habit {
		var others []*follower
		for _, s := range hull.Sides() {
			for i, b := range before[s] {
				if s != side || i != band {
					others = append(others, b)
				}
			}
		}
		return f.habit.taughtBy(others)
	})
	return f, err
}

// all are the bands of both sides.
func (f *followed) all() []*benchBand {
	var out []*benchBand
	for _, side := range hull.Sides() {
		for _, b := range f.bands[side] {
			out = append(out, b.s)
		}
	}
	return out
}

// measured reports whether anything was measured.
func (f *followed) measured() bool {
	return slices.ContainsFunc(f.all(), func(s *benchBand) bool { return len(s.readings) > 0 })
}

// off reports whether any frame is off by more than the others.
func (f *followed) off() bool {
	return slices.ContainsFunc(f.all(), func(s *benchBand) bool {
		return len(s.exceptions(true)) > len(s.exceptions(false))
	})
}

// pass follows the record through every band, each with a habit of its own.
func (f *followed) pass(l *loft.Layer, record *hull.Record, habit func(side hull.Side, band int) Habit) error {
	before := f.bands
	f.bands = map[hull.Side][]*follower{}
	for _, side := range hull.Sides() {
		for i, b := range l.Bands {
			own := habit(side, i)
			if before != nil && before[side][i].s.habit.same(&own) {
				f.bands[side] = append(f.bands[side], before[side][i])
				continue
			}
			s := &benchBand{l: l, b: b, habit: own, entries: record.Of(side), division: record.To}
			if err := s.run(); err != nil {
				return sideError{side, err}
			}
			f.bands[side] = append(f.bands[side], &follower{s: s})
		}
	}
	return nil
}

// states are the states of a side's bands, the rest shared afresh.
func (f *followed) states(side hull.Side) []BandState {
	var out []BandState
	for _, b := range f.bands[side] {
		b.s.share(b.g())
		state := b.s.tell(b.g())
		state.plan, state.g = f.k, b.g()
		state.Spread = f.spread(b.s.l)
		out = append(out, state)
	}
	return out
}
