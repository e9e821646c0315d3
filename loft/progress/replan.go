package progress

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// BandState is a band of one side as it stands on the bench, and what is to be
// done with the rest of it.
type BandState struct {
	Layer, Band int         // from 1
	Laid        []string    // IDs of the strakes glued, in the order of laying
	Remaining   []string    // those still to go, from the upper limit down
	Measured    bool        // something was measured in this band
	Known       bool        // this builder's creep is known: from this band, or taught by the other side
	Creep       float64     // mm a strip over the plan: this builder's own, as learned, in the mean along the hull
	CreepToGo   float64     // mm a strip that those to go are expected to creep: Creep, but where tighter bevels were chosen
	Remedy      hull.Remedy // how the rest is made to fit, as chosen last; empty for shared afresh
	CreepBound  float64     // mm: in 95 % of cases Creep is within this of what it is told to be
	Left        []float64   // mm of girth left at every frame
	LeftBound   []float64   // mm: in 95 % of cases it is within this of Left
	FrameOff    []float64   // mm at every frame: how much more girth the band has there than drawn, as learned
	CreepAt     []float64   // mm a strip at every frame: what those to go are expected to creep there
	Straying    []float64   // mm at every frame: how much more is left than was planned
	Widths      [][]float64 // mm along the frame, [remaining strake][frame]: what is left, shared afresh; 0 where dropped
	Change      [][]float64 // mm against the plan
	Seams       [][]float64 // mm below the upper limit at every frame, of the band's upper edge and the lower edge of each strake, with any wedge beneath it: as laid, and for the rest as shared afresh
	Made        []bool      // of every seam, whether it lies: all strakes above it in the band are laid, or all below; of the band's own edges, all of them
	Queries     []Query     // measurements that can hardly be, left out of account
	Wet         []int       // entries: measurements of wet wood, left out of account until it is measured dry

	Spread hull.Spread // how this builder's work strays, as the record has taught it so far

	plan *loft.Planking // as planned
	g    *regression
	runs []bool // of every strake, from 0: whether it is laid
	cuts []bool // of those still to go: whether it is cut
}

// Query is a measurement that can hardly be right.
type Query struct {
	Entry int // index into the entries given
	Doubt Doubt
	Frame string
	Kept  bool    // it is believed all the same; else it is left out of account
	MM    float64 // as measured
	Other float64 // mm: the band's girth there where it is over that, else how far it is off what is expected; of a bare frame by how much it is over the drawing
}

// Doubt is why a measurement can hardly be right.
type Doubt uint8

// The doubts.
const (
	NotPlanked Doubt = iota // the hull is not planked at the frame
	Negative                // it is less than nothing
	OverBand                // it is more than the whole band
	OffPlan                 // it is far off the plan, and nothing else bears on it
	OffOthers               // it is far off what the others lead to expect
	OffDrawn                // of a bare frame: it is far off the drawing
)

// Replan follows the bench record of one side of a layer (from 0): from what
// was glued and measured it learns this builder's creep and what remains of
// every band at every frame, and shares that afresh among the strakes to go.
// An entry that names no strake, band or frame of the plan is an error that
// names the entry.
//
// Straying is estimated by Gaussian process regression (Rasmussen and Williams,
// Gaussian Processes for Machine Learning, 2006, chapter 2): what is left at a
// frame strays by the frame's own error and by the creep of the strakes laid
// there, as Habit tells; how large each of these is, the record teaches. A frame
// that was read carefully is so believed, and those that were not follow by a
// smooth course between their neighbours.
func Replan(k *loft.Planking, layer int, entries []hull.Entry, habit Habit) ([]BandState, error) {
	var record hull.Record
	record.Starboard, record.To = entries, k.Plan.Record.To
	f, err := followAll(k, layer, &record, habit)
	if err != nil {
		var side sideError
		if errors.As(err, &side) {
			err = side.err
		}
		return nil, err
	}
	return f.states(hull.Starboard), nil
}

// follower is one band of a side with its record followed.
type follower struct {
	s  *benchBand
	on *regression
}

// g is the regression on all that was read.
func (f *follower) g() *regression {
	if f.on == nil {
		f.on = f.s.regress(f.s.readings)
	}
	return f.on
}

// followed are all bands of both sides of a layer.
type followed struct {
	k     *loft.Planking
	habit Habit // as the record has taught it
	bands map[hull.Side][]*follower
}

// followAll follows the record of both sides of a layer: once by what is believed
// beforehand, so that the spreads can be learned; then by these, and, where a frame
// is found off by more than the others, by those learned without it; and at last with
// the creep that the other bands and the other side have taught.
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
	return f, f.pass(l, record, func(side hull.Side, band int) Habit {
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

// measured tells whether anything was.
func (f *followed) measured() bool {
	return slices.ContainsFunc(f.all(), func(s *benchBand) bool { return len(s.readings) > 0 })
}

// off tells whether any frame is off by more than the others.
func (f *followed) off() bool {
	return slices.ContainsFunc(f.all(), func(s *benchBand) bool {
		return len(s.exceptions(true)) > len(s.exceptions(false))
	})
}

// pass follows the record through every band by a habit of its own.
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

// states are those of a side's bands, the rest shared afresh.
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

// benchBand is one band on the bench.
type benchBand struct {
	l        *loft.Layer
	b        *loft.Band
	habit    Habit
	entries  []hull.Entry
	division float64         // mm: of the rule in use, 0 where that is not told
	along    []float64       // arc length at every frame, mm
	laid     map[int]bool    // strakes glued, from 0
	order    []int           // as they were glued
	widths   [][]float64     // [strake][frame]: as planned, and since the last measurement as shared afresh
	cut      map[int]bool    // strakes whose widths stand, since they were cut
	cutBy    map[int]int     // and by which entry
	fresh    bool            // something was measured since the widths were shared
	readings []reading       // those believed
	all      []reading       // those that can be
	wild     map[int]float64 // mm: how far frames may be off that are off by more than the others
	queries  []Query
	doubted  []Query // queries that more readings may settle
	wet      []int   // entries left out of account
	way      hull.Remedy
	aim      float64 // mm a strip that is left of the creep, where tighter bevels were chosen
}

func (s *benchBand) run() error {
	mid := s.l.Strakes[s.b.First+len(s.b.Weights)/2].Centre
	for i := range s.l.Surface.Frames() {
		s.along = append(s.along, mid.S[s.l.Surface.FrameStation(i)])
	}
	s.laid, s.cut, s.cutBy = map[int]bool{}, map[int]bool{}, map[int]int{}
	for n := range s.b.Weights {
		var row []float64
		for _, c := range s.l.Strakes[s.b.First+n].At {
			row = append(row, c.WidthFrame)
		}
		s.widths = append(s.widths, row)
	}
	for i, e := range s.entries {
		if e.Layer != s.l.Number && e.EntryKind != hull.BareGirth {
			continue
		}
		if err := s.take(i, e); err != nil {
			return fmt.Errorf("entry %d of the record: %w", i+1, err)
		}
	}
	s.doubt()
	s.queries = append(s.queries, s.doubted...)
	return nil
}

// take follows one entry.
func (s *benchBand) take(i int, e hull.Entry) error {
	switch {
	case e.EntryKind == hull.BareGirth:
		return s.girth(i, e)
	case e.EntryKind.OfBand():
		if e.Band < 1 || e.Band > len(s.l.Bands) {
			return fmt.Errorf("there is no band %d in layer %d", e.Band, s.l.Number)
		}
		if e.Band != s.b.Number {
			return nil
		}
		if e.EntryKind == hull.Chosen {
			s.way, s.aim, s.fresh = e.Remedy, e.MM, true
			return nil
		}
		return s.see(i, e, s.laid, true, func(frame int) float64 { return e.MM - s.without(frame, s.laid) })
	}
	n := s.strake(e.Strake)
	if n < 0 {
		if s.l.StrakeNamed(e.Strake) < 0 {
			return fmt.Errorf("there is no strake %s in layer %d", e.Strake, s.l.Number)
		}
		return nil // of another band
	}
	one := map[int]bool{n: true}
	switch e.EntryKind {
	case hull.Cutout:
		s.cutNow(n, i)
	case hull.Glued:
		s.cutNow(n, i)
		if !s.laid[n] {
			s.laid[n] = true
			s.order = append(s.order, n)
		}
	case hull.Removed:
		delete(s.laid, n)
		for j, o := range s.order {
			if o == n {
				s.order = append(s.order[:j:j], s.order[j+1:]...)
				break
			}
		}
	case hull.AsLaid:
		return s.see(i, e, one, false, func(frame int) float64 { return s.wood(n, frame) - e.MM })
	case hull.GapAbove:
		return s.see(i, e, one, false, func(int) float64 { return -e.MM })
	}
	return nil
}

// girth takes the girth of a bare frame: each band's share of it tells of the band,
// and the first asks about it. It is believed of the first layer alone, which lies on
// the frames.
func (s *benchBand) girth(i int, e hull.Entry) error {
	frame := s.l.Surface.FrameNamed(e.Frame)
	whole := 0.0
	if frame >= 0 {
		for _, b := range s.l.Bands {
			whole += b.Girths[frame]
		}
	}
	switch {
	case s.l.Number != 1 || whole == 0 && s.b.Number != 1 && frame >= 0:
		return nil
	case math.Abs(e.MM-whole) > farOffPlan && whole > 0:
		if s.b.Number == 1 {
			s.query(i, OffDrawn, e.MM-whole)
		}
		return nil
	}
	before := len(s.all)
	err := s.see(i, e, nil, true, func(frame int) float64 { return (e.MM - whole) * s.b.Girths[frame] / whole })
	if len(s.all) > before {
		x := &s.all[before]
		x.division *= s.b.Girths[frame] / whole
		x.offDrawn = 0
		if s.b.Number == 1 {
			x.offDrawn = e.MM - whole
		}
	}
	return err
}

// strake is the place of a strake in the band, or -1.
func (s *benchBand) strake(id string) int {
	n := s.l.StrakeNamed(id) - s.b.First
	if n < 0 || n >= len(s.b.Weights) {
		return -1
	}
	return n
}

// cutNow fixes a strake's widths: those noted when it was cut, or else those
// that the plan, or the last sharing, told then.
func (s *benchBand) cutNow(n, entry int) {
	if s.cut[n] {
		return
	}
	noted := s.entries[entry].Widths
	if s.fresh && len(noted) == 0 {
		s.doubt()
		s.share(s.regress(s.readings))
	}
	s.cut[n], s.cutBy[n] = true, entry
	for _, w := range noted {
		if i := s.l.Surface.FrameNamed(w.Frame); i >= 0 {
			s.widths[n][i] = w.MM
		}
	}
}

// wood is what the wood of a strake takes up along a frame, mm: no more than its
// strip whole, unless it is cut from wider wood. What the plan would have it creep
// apart beyond that is no wood.
func (s *benchBand) wood(n, frame int) float64 {
	st := s.l.Strakes[s.b.First+n]
	w := s.widths[n][frame]
	c := &st.At[frame]
	if st.Making.Mode != hull.Sprung || !c.Laid || !(c.WidthCut+c.Creep > 0) {
		return w
	}
	return min(w, c.Pitch*c.WidthFrame/(c.WidthCut+c.Creep))
}

// without is what a frame's girth leaves besides the wood of strakes as they were
// cut, and the wedges beneath them.
func (s *benchBand) without(frame int, laid map[int]bool) float64 {
	left := s.b.Girths[frame]
	for n := range laid {
		left -= s.wood(n, frame) + s.b.WedgeAt(n, frame)
	}
	return left
}

// see keeps a measurement, unless it can't be; frames tells that the frame's own
// girth is in it.
func (s *benchBand) see(i int, e hull.Entry, over map[int]bool, frames bool, strays func(frame int) float64) error {
	frame := s.l.Surface.FrameNamed(e.Frame)
	if frame < 0 {
		return fmt.Errorf("there is no frame %s", e.Frame)
	}
	switch most := s.b.Girths[frame] + farOff; {
	case e.Wet: // it tells of swelling, and will shrink
		s.wet = append(s.wet, i)
	case !s.l.Surface.Planks(frame):
		s.query(i, NotPlanked, 0)
	case e.MM < 0:
		s.query(i, Negative, 0)
	case e.EntryKind != hull.BareGirth && len(over) > 0 && e.MM > most:
		s.query(i, OverBand, s.b.Girths[frame])
	default:
		x := reading{stray: s.there(over, frame), entry: i, strays: strays(frame), division: divisionOf(&e, s.division, s.entries)}
		x.frames = frames
		if x.bare() {
			x.offDrawn = x.strays
		}
		if math.Abs(x.offDrawn) > farOffPlan {
			s.query(i, OffDrawn, x.offDrawn)
			return nil
		}
		s.all = append(s.all, x)
		s.fresh = true
	}
	return nil
}

// there is what those strakes stray that are laid at a frame and have not dropped
// out.
func (s *benchBand) there(strakes map[int]bool, frame int) stray {
	out := stray{frame: frame, at: s.along[frame]}
	for n := range strakes {
		if s.widths[n][frame] > 0 {
			out.over = out.over.with(n)
			out.count++
		}
	}
	return out
}

// next is what one strake still to go strays at a frame.
func (s *benchBand) next(frame int) stray {
	return stray{frame: frame, at: s.along[frame], over: strakeSet{}.with(len(s.b.Weights)), count: 1}
}

// leftAt is what strays of what is left at a frame.
func (s *benchBand) leftAt(frame int) stray {
	out := s.there(s.laid, frame)
	out.frames = true
	return out
}

func (s *benchBand) query(entry int, why Doubt, other float64) {
	e := s.entries[entry]
	s.queries = append(s.queries, Query{Entry: entry, Doubt: why, Frame: e.Frame, MM: e.MM, Other: other})
}

// toGo is what a strake to go is expected to creep, mm, of what was learned.
func (s *benchBand) toGo(creep float64) float64 {
	if s.way == hull.Tighter {
		return min(s.aim, creep)
	}
	return creep
}

// share shares what is left at every frame, less what the strakes to go will
// creep and those cut already take, among those not yet cut.
func (s *benchBand) share(g *regression) {
	s.fresh = false
	for i := range s.along {
		left, creep := s.leftOf(g, i)
		planned := 0.0
		for n := range s.b.Weights {
			w := s.plan(n, i)
			if s.laid[n] || w == 0 {
				continue
			}
			left -= creep + s.b.WedgeAt(n, i)
			if s.cut[n] {
				left -= s.wood(n, i)
			} else {
				planned += w
			}
		}
		if s.hides(i) {
			left -= planned - s.plan(0, i)
			for n := range s.b.Weights {
				if !s.cut[n] {
					s.widths[n][i] = s.plan(n, i)
				}
			}
			s.widths[0][i] = max(left, 0)
			continue
		}
		for n := range s.b.Weights {
			if !s.cut[n] && planned > 0 {
				s.widths[n][i] = max(s.plan(n, i)*left/planned, 0)
			}
		}
	}
}

// leftOf is what is left at a frame, mm, and what a strake to go is expected to
// creep there. Where nothing was read the plan stands, with what it would have
// strips creep apart.
func (s *benchBand) leftOf(g *regression, i int) (left, creep float64) {
	if len(s.readings) == 0 && !s.habit.taught {
		left = s.b.Girths[i]
		for n := range s.laid {
			left -= s.widths[n][i] + s.b.WedgeAt(n, i)
		}
		return left, s.toGo(s.habit.Mean)
	}
	return s.without(i, s.laid) + g.mean(s.leftAt(i)), s.toGo(-g.mean(s.next(i)))
}

// hides tells whether the top strake takes up all the difference at a frame:
// where that was chosen and it is still to be cut, and laid there.
func (s *benchBand) hides(frame int) bool {
	return s.way == hull.Hidden && s.b.Number == 1 && !s.cut[0] && s.plan(0, frame) > 0
}

// plan is a strake's width at a frame as first planned.
func (s *benchBand) plan(n, frame int) float64 {
	return s.l.Strakes[s.b.First+n].At[frame].WidthFrame
}

// tell puts the band's state together.
func (s *benchBand) tell(g *regression) BandState {
	out := BandState{Layer: s.l.Number, Band: s.b.Number, Queries: s.queries, Measured: len(s.readings) > 0, Known: len(s.readings) > 0 || s.habit.taught, Remedy: s.way, Wet: s.wet}
	creep, deviation, _ := g.creep()
	out.Creep, out.CreepBound = creep, certain*deviation
	out.CreepToGo = s.toGo(creep)
	for _, n := range s.order {
		out.Laid = append(out.Laid, s.l.Strakes[s.b.First+n].ID)
	}
	for i := range s.along {
		left, toGo := s.leftOf(g, i)
		_, bound := g.expect(s.leftAt(i))
		off := g.mean(stray{frame: i, at: s.along[i], frames: true})
		planned := 0.0
		for n := range s.b.Weights {
			if !s.laid[n] {
				planned += s.plan(n, i) + s.b.WedgeAt(n, i)
			}
		}
		if !s.l.Surface.Planks(i) {
			left, bound, off, toGo = 0, 0, 0, 0
		}
		out.Left = append(out.Left, max(left, 0))
		out.LeftBound = append(out.LeftBound, bound)
		out.FrameOff = append(out.FrameOff, off)
		out.CreepAt = append(out.CreepAt, toGo)
		out.Straying = append(out.Straying, max(left, 0)-planned)
	}
	for n := range s.b.Weights {
		if s.laid[n] {
			continue
		}
		out.Remaining = append(out.Remaining, s.l.Strakes[s.b.First+n].ID)
		out.cuts = append(out.cuts, s.cut[n])
		change := make([]float64, len(s.along))
		for i := range change {
			change[i] = s.widths[n][i] - s.plan(n, i)
		}
		out.Widths = append(out.Widths, s.widths[n])
		out.Change = append(out.Change, change)
	}
	s.seams(g, &out)
	return out
}

// seams tells where the seams lie.
func (s *benchBand) seams(g *regression, out *BandState) {
	count := len(s.b.Weights)
	out.runs, out.Made = make([]bool, count), make([]bool, count+1)
	down := make([]float64, len(s.along))
	for i := range down {
		down[i] = s.l.Lines[s.b.Number-1].Down[s.l.Surface.FrameStation(i)]
	}
	out.Seams = [][]float64{slices.Clone(down)}
	for n := range count {
		out.runs[n] = s.laid[n]
		for i := range down {
			switch w := s.widths[n][i]; {
			case w == 0: // dropped out
			case s.laid[n] && !out.Known:
				down[i] += w
			case s.laid[n]:
				down[i] += s.wood(n, i) - g.mean(s.there(map[int]bool{n: true}, i))
			default:
				down[i] += w + out.CreepAt[i]
			}
			down[i] += s.b.WedgeAt(n, i)
		}
		out.Seams = append(out.Seams, slices.Clone(down))
	}
	for n := range out.Made {
		out.Made[n] = !slices.Contains(out.runs[:n], false) || !slices.Contains(out.runs[n:], false)
	}
	whole := !slices.Contains(out.runs, false)
	out.Made[0], out.Made[count] = whole, whole // the band's edges lie where all of it does
}
