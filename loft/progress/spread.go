package progress

import (
	"math"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Learned gives, layer by layer, how the builder's work varies, as learned from the
// record: for those layers on which anything was measured.
func Learned(k *loft.Planking) ([]hull.Spread, error) {
	var out []hull.Spread
	for layer := range k.Layers {
		f, err := followAll(k, layer, &k.Plan.Record, UsualHabit())
		if err != nil {
			return nil, err
		}
		if sp := f.spread(f.k.Layers[layer]); sp.Readings > 0 {
			out = append(out, sp)
		}
	}
	return out, nil
}

// spread is how the work on a layer varies, as far as it is known.
func (f *followed) spread(l *loft.Layer) hull.Spread {
	stock := f.k.Plan.Layers[l.Number-1].Stock
	t := f.habit.mean()
	out := hull.Spread{
		Species: stock.Species, Width: stock.Width, Thickness: stock.Thickness,
		Along: t[along], Strake: t[strake], Knife: t[knife], Shape: t[shape], Frame: t[frame], Reading: t[hand],
		Sure: f.habit.sure(), Builds: 1,
	}
	var all []*follower
	for _, side := range hull.Sides() {
		for _, b := range f.bands[side] {
			out.Readings += len(b.s.readings)
			all = append(all, b)
		}
	}
	taught := f.habit.taughtBy(all)
	out.Creep, out.CreepSD = taught.Mean, taught.Creep
	return out
}

// sure is the mean uncertainty of the spreads: the standard deviation of their
// logarithms over the beliefs, but no more than before.
func (h *Habit) sure() float64 {
	if len(h.beliefs) == 0 {
		return h.Sure
	}
	mean := h.mean()
	sum := 0.0
	for _, b := range h.beliefs {
		for m, s := range b.spreads {
			d := math.Log(s/mean[m]) / surer[m]
			sum += b.weight * d * d
		}
	}
	return min(math.Sqrt(sum/float64(len(mean))), h.Sure)
}

// forStock is the habit for a strip as learned from the plan's own spreads: those of
// the same wood and strip, or else of the same wood, which are half as certain.
func (h Habit) forStock(spreads []hull.Spread, stock hull.Stock) Habit {
	var best *hull.Spread
	rank := 0
	for i := range spreads {
		sp := &spreads[i]
		r := 0
		switch {
		case sp.Of(stock):
			r = 2
		case stock.Species != "" && hull.SameWood(sp.Species, stock.Species):
			r = 1
		}
		if r > rank {
			best, rank = sp, r
		}
	}
	if best == nil {
		return h
	}
	h.Mean, h.Creep = best.Creep, best.CreepSD
	h.Along, h.Strake, h.Knife, h.Shape, h.Frame, h.Hand = best.Along, best.Strake, best.Knife, best.Shape, best.Frame, best.Reading
	h.Sure, h.taught = best.Sure, true
	if rank == 1 {
		h.Sure, h.Creep = min(2*h.Sure, loft.UsualSure), min(2*h.Creep, loft.UsualCreep)
	}
	return h
}
