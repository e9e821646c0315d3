package progress

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

// Option is one way to make the rest of a band fit.
type Option struct {
	Remedy        hull.Remedy
	Before, After Tally    // how the rest comes out as it stands, and with this option
	Fits          bool     // no gap remains then, and no strake is too narrow or too wide
	Chosen        bool     // it is the option chosen last
	Strake        string   // for More, Fewer and Hidden: the strake put in, left out, or taking up all the difference
	Renumbered    bool     // for More and Fewer: strakes below get other numbers
	Relaid        []Relaid // for Wider and Narrow: the strakes that are laid with other strips
	Square        bool     // for Tighter: the edges have been square so far
	Creeps        float64  // for Tighter: mm a strip by which those to be laid would creep, and then do not
	Creep, Was    float64  // for Learned: mm of creep a strip in the plan, then and so far
	Strakes       int      // for Learned: in the band

	side   hull.Side
	layer  int // from 0
	band   int // from 0
	aim    float64
	change func(*hull.Plan)
	k      *loft.Planking
	habit  Habit
}

// Relaid is a strake that is laid with another strip.
type Relaid struct {
	ID    string
	Width float64 // mm, of the strip
}

// Of is the plan for which the option was found; it must not be changed.
func (o *Option) Of() *hull.Plan { return o.k.Plan }

// Apply carries out the choice: its changes to the plan and a line of the record under
// that date. p is a copy of the plan for which the option was found.
func (o *Option) Apply(p *hull.Plan, date string) error {
	if err := keep(o.k, p, o.layer, o.habit); err != nil {
		return err
	}
	if o.change != nil {
		o.change(p)
	}
	p.Record.Add(o.side, hull.Entry{Date: date, EntryKind: hull.Chosen, Layer: o.layer + 1, Band: o.band + 1, Remedy: o.Remedy, MM: o.aim})
	return nil
}

// Options finds the ways to make the rest of a band (from 0) of a layer (from 0) fit on
// one side, each with its consequences, computed anew. There are none where all is laid
// or cut. Those that change the plan change it for the strakes that are uncut on both
// sides; what is on the ship stays the same on either. Each needs a planking of its
// own. It stops when the context ends, with an error that wraps the context's.
func Options(ctx context.Context, k *loft.Planking, side hull.Side, layer, band int, habit Habit) ([]Option, error) {
	if err := halt.Asked(ctx, findingOptions); err != nil {
		return nil, err
	}
	states, err := BothSides(k, layer, &k.Plan.Record, habit)
	if err != nil {
		return nil, err
	}
	if band < 0 || band >= len(states[side]) {
		return nil, tongue.Errorf("there is no band %d in layer %d", band+1, layer+1)
	}
	f := &optionFinder{ctx: ctx, k: k, side: side, layer: layer, band: band, habit: habit, state: &states[side][band], states: states}
	if f.now, err = f.state.tally(ctx); err != nil {
		return nil, err
	}
	f.free()
	if len(f.uncut) == 0 {
		return nil, nil
	}
	f.find()
	return f.out, f.err
}

// findingOptions is what Options does.
const findingOptions = "the search for ways to make the rest fit"

// optionFinder looks for options.
type optionFinder struct {
	ctx         context.Context // of the one call that it is made for
	k           *loft.Planking
	side        hull.Side
	layer, band int
	habit       Habit
	state       *BandState
	states      map[hull.Side][]BandState
	now         Tally
	uncut       []int // strakes of the band, from 0, cut on neither side
	out         []Option
	err         error
}

// free finds the strakes that may still be changed.
func (f *optionFinder) free() {
	b := f.k.Layers[f.layer].Bands[f.band]
	touched := map[string]bool{}
	for _, side := range hull.Sides() {
		s := &f.states[side][f.band]
		left := map[string]bool{}
		for r, id := range s.Remaining {
			left[id] = !s.cuts[r]
		}
		for n := range b.Weights {
			if id := f.id(n); !left[id] {
				touched[id] = true
			}
		}
	}
	for n := range b.Weights {
		if !touched[f.id(n)] {
			f.uncut = append(f.uncut, n)
		}
	}
}

func (f *optionFinder) id(n int) string { return loft.StrakeID(f.layer+1, f.band+1, n+1) }

func (f *optionFinder) find() {
	f.shave()
	f.tighter()
	f.strips()
	f.more()
	f.fewer()
	f.wedge()
	f.hide()
	f.learned()
}

// add evaluates an option with the plan as changed by it.
func (f *optionFinder) add(o Option, change func(*hull.Plan)) {
	if f.err == nil {
		f.err = halt.Asked(f.ctx, findingOptions)
	}
	if f.err != nil {
		return
	}
	o.Before, o.Chosen = f.now, f.state.Remedy == o.Remedy
	o.side, o.layer, o.band, o.change, o.k, o.habit = f.side, f.layer, f.band, change, f.k, f.habit
	p := f.k.Plan.Clone()
	p.Hull.Frames = f.k.Plan.Hull.Frames
	after, err := f.after(&o, p)
	if err != nil {
		if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
			f.err = fmt.Errorf("%s: %w", o.Remedy, err)
		}
		return // whatever cannot be laid, such as strips so wide that strakes of the record have no room, is not an option
	}
	o.After, o.Fits = after, after.Divides()
	f.out = append(f.out, o)
}

// after is how the rest comes out when an option is taken.
func (f *optionFinder) after(o *Option, p *hull.Plan) (Tally, error) {
	const last = "9999-12-31" // after everything noted
	if err := o.Apply(p, last); err != nil {
		return Tally{}, err
	}
	k, err := f.k.ReplankContext(f.ctx, p)
	if err != nil {
		return Tally{}, err
	}
	if err := halt.Asked(f.ctx, findingOptions); err != nil {
		return Tally{}, err
	}
	states, err := BothSides(k, f.layer, &p.Record, f.habit)
	if err != nil {
		return Tally{}, err
	}
	return states[f.side][f.band].tally(f.ctx)
}

func (f *optionFinder) shave() { f.add(Option{Remedy: hull.Shave}, nil) }

// tighter is worthwhile where edges are square, or strips creep.
func (f *optionFinder) tighter() {
	const worth = 0.02 // mm a strip
	square := f.k.Plan.Layers[f.layer].Edges == hull.Square
	if !square && f.state.CreepToGo < worth {
		return
	}
	var change func(*hull.Plan)
	if square {
		layer := f.layer
		change = func(p *hull.Plan) { p.Layers[layer].Edges = hull.Bevelled }
	}
	f.add(Option{Remedy: hull.Tighter, Square: square, Creeps: max(f.state.CreepToGo, 0)}, change)
}

// strips offers wider ones where the rest has gaps, narrower ones where much comes off
// all of them.
func (f *optionFinder) strips() {
	need := map[int]float64{} // by strake, the width that its strip must have
	now := map[int]float64{}
	first := f.k.Layers[f.layer].Bands[f.band].First
	for _, st := range f.state.Rest() {
		n := f.k.Layers[f.layer].StrakeNamed(st.ID) - first
		if !slices.Contains(f.uncut, n) {
			continue
		}
		now[n] = st.Strip
		for _, c := range st.On {
			if c.Laid {
				need[n] = max(need[n], st.Strip+c.WidthCut-c.Pitch)
			}
		}
	}
	wide, narrow := map[int]float64{}, map[int]float64{}
	for n, w := range need {
		to := f.stripFor(w)
		switch {
		case w > now[n]+f.k.Plan.Rules().Fit:
			wide[n] = to
		case to < now[n]-f.k.Plan.Rules().Fit:
			narrow[n] = to
		}
	}
	f.relay(hull.Wider, wide)
	f.relay(hull.Narrow, narrow)
}

// stripFor is the narrowest strip of at least that width: of those in the box and on
// sale, or else in steps of half a millimetre.
func (f *optionFinder) stripFor(width float64) float64 {
	stock := f.k.Plan.Layers[f.layer].Stock
	best := math.Inf(1)
	for _, list := range [][]hull.Strips{f.k.Plan.Box, f.k.Plan.Shop} {
		for _, s := range list {
			if s.Of(s.Width, stock.Thickness, stock.Species) && s.Count != 0 && s.Width >= width-f.k.Plan.Rules().Fit {
				best = min(best, s.Width)
			}
		}
	}
	if math.IsInf(best, 1) {
		const step = 0.5
		best = math.Ceil((width-f.k.Plan.Rules().Fit)/step) * step
	}
	return best
}

// relay is the option to lay some strakes with strips of other widths.
func (f *optionFinder) relay(way hull.Remedy, to map[int]float64) {
	if len(to) == 0 {
		return
	}
	var relaid []Relaid
	for _, n := range f.uncut {
		if w, ok := to[n]; ok {
			relaid = append(relaid, Relaid{f.id(n), w})
		}
	}
	layer, band := f.layer, f.band
	shares := f.shares()
	f.add(Option{Remedy: way, Relaid: relaid}, func(p *hull.Plan) {
		h := &p.Layers[layer]
		strips := bandStrips(h, band, len(shares))
		for n, w := range to {
			strips[n] = w
		}
		setShares(h, band, shares, strips)
	})
}

// shares are every strake's share of the band: weight times strip.
func (f *optionFinder) shares() []float64 {
	return slices.Clone(f.k.Layers[f.layer].Bands[f.band].Weights)
}

// bandStrips is every strake's strip, mm.
func bandStrips(h *hull.Layer, band, count int) []float64 {
	out := make([]float64, count)
	for n := range out {
		out[n] = h.Bands[band].Strip(n, h.Stock)
	}
	return out
}

// setShares gives a band's strakes those shares and strips, so that a strake keeps its
// width while its strip changes.
func setShares(h *hull.Layer, band int, shares, strips []float64) {
	b := &h.Bands[band]
	b.Strakes = len(shares)
	b.Weights, b.Strips = make([]float64, len(shares)), strips
	for n := range shares {
		b.Weights[n] = shares[n] * h.Stock.Width / strips[n]
	}
}

// more adds one strake below the last that may be changed.
func (f *optionFinder) more() {
	m := len(f.uncut)
	at := f.uncut[m-1] + 1
	shares := f.shares()
	sum := 0.0
	for _, n := range f.uncut {
		sum += shares[n]
		shares[n] *= float64(m) / float64(m+1)
	}
	shares = slices.Insert(shares, at, sum/float64(m+1))
	f.recount(hull.More, at, +1, shares)
}

// fewer removes one strake: the last that may be changed and about which nothing was
// ever noted.
func (f *optionFinder) fewer() {
	m := len(f.uncut)
	if m < 2 {
		return
	}
	at := -1
	for _, n := range f.uncut {
		if !f.noted(f.id(n)) {
			at = n
		}
	}
	if at < 0 {
		return
	}
	shares := f.shares()
	sum := 0.0
	for _, n := range f.uncut {
		sum += shares[n]
	}
	for _, n := range f.uncut {
		shares[n] *= sum / (sum - f.shares()[at])
	}
	f.recount(hull.Fewer, at, -1, slices.Delete(shares, at, at+1))
}

// noted reports whether anything was noted about a strake.
func (f *optionFinder) noted(id string) bool {
	for _, side := range hull.Sides() {
		for _, e := range f.k.Plan.Record.Of(side) {
			if e.Layer == f.layer+1 && e.Strake == id {
				return true
			}
		}
	}
	return false
}

// recount is the option of another number of strakes: one put in at a place, or taken
// out. Those below are renumbered, in the record too.
func (f *optionFinder) recount(way hull.Remedy, at, by int, shares []float64) {
	layer, band := f.layer, f.band
	count := len(f.shares())
	names := map[string]string{}
	for n := at; n < count; n++ {
		if by > 0 || n > at {
			names[loft.StrakeID(layer+1, band+1, n+1)] = loft.StrakeID(layer+1, band+1, n+1+by)
		}
	}
	f.add(Option{Remedy: way, Strake: f.id(at), Renumbered: len(names) > 0}, func(p *hull.Plan) {
		h := &p.Layers[layer]
		strips := bandStrips(h, band, count)
		if by > 0 {
			strips = slices.Insert(strips, at, h.Stock.Width)
		} else {
			strips = slices.Delete(strips, at, at+1)
		}
		setShares(h, band, shares, strips)
		for _, list := range [][]hull.Entry{p.Record.Starboard, p.Record.Port} {
			for i := range list {
				if to, ok := names[list[i].Strake]; ok && list[i].Layer == layer+1 {
					list[i].Strake = to
				}
			}
		}
	})
}

// wedge is the option where a gap opens and closes along the band.
func (f *optionFinder) wedge() {
	if len(f.now.Wedges) == 0 {
		return
	}
	f.add(Option{Remedy: hull.Wedged}, nil)
	if n := len(f.out) - 1; f.err == nil {
		o := &f.out[n]
		o.Fits = o.After.GapAll <= o.After.Rules.Fit*float64(o.After.Strakes) && o.After.Least >= o.After.Rules.LeastWidth && o.After.Most <= o.After.Rules.MostWidth
	}
}

// hide is the option while the top strake is uncut and others are still to be laid.
func (f *optionFinder) hide() {
	if f.band != 0 || f.uncut[0] != 0 || len(f.state.Remaining) < 2 {
		return
	}
	f.add(Option{Remedy: hull.Hidden, Strake: f.id(0)}, nil)
}

// learned is the option to plan with the creep that was learned.
func (f *optionFinder) learned() {
	const step = 0.01 // mm
	creep := math.Round(f.state.Creep/step) * step
	old := f.k.Plan.Layers[f.layer].Creep
	if !f.state.Measured || math.Abs(creep-old) < step/2 {
		return
	}
	layer := f.layer
	f.add(Option{Remedy: hull.Learned, Creep: creep, Was: old, Strakes: len(f.shares())}, func(p *hull.Plan) { p.Layers[layer].Creep = creep })
}
