package progress

import (
	"fmt"
	"math"
	"math/bits"
	"slices"

	"gonum.org/v1/gonum/mat"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Habit says how the work strays from a plan: settings,
// of which what is measured soon outweighs all but the first.
type Habit struct {
	Measuring float64 // mm: how far a measurement is out, as a standard deviation
	Mean      float64 // mm a strip: the creep to be expected before anything is measured, as the other side has taught it
	Creep     float64 // mm a strip: how far this builder's creep may be from that
	Strake    float64 // mm: how unlike each other a builder's strakes come out
	Reach     float64 // mm along the hull over which one strake's straying keeps alike
}

// UsualHabit is that of a careful builder with a rule of half millimetres.
func UsualHabit() Habit {
	return Habit{Measuring: loft.UsualMeasuring, Creep: loft.UsualCreep, Strake: loft.UsualStrake, Reach: loft.UsualReach}
}

// taught is the habit as the bands measured so far teach it for another side:
// their creep, each weighed by how well it is known, is to be expected there
// too, to within loft.Likeness. Without a band that was measured it is as before.
func (b Habit) taught(states []BandState) Habit {
	sum, weight := 0.0, 0.0
	for _, s := range states {
		if s.Measured && s.CreepBound > 0 {
			w := 1 / (s.CreepBound * s.CreepBound)
			sum, weight = sum+w*s.Creep, weight+w
		}
	}
	if weight > 0 {
		b.Mean = sum / weight
		b.Creep = min(math.Sqrt(1/weight+loft.Likeness*loft.Likeness), b.Creep)
	}
	return b
}

// BandState is a band of one side as it stands on the bench, and what is to be
// done with the rest of it.
type BandState struct {
	Layer, Band int         // from 1
	Laid        []string    // IDs of the strakes glued, in the order of laying
	Remaining   []string    // those still to go, from the upper limit down
	Measured    bool        // something was measured in this band
	Known       bool        // this builder's creep is known: from this band, or taught by the other side
	Creep       float64     // mm a strip over the plan: this builder's own, as learned
	CreepToGo   float64     // mm a strip that those to go are expected to creep: Creep, but where tighter bevels were chosen
	Remedy      hull.Remedy // how the rest is made to fit, as chosen last; empty for shared afresh
	CreepBound  float64     // mm: in 95 % of cases Creep is within this of what it is told to be
	Left        []float64   // mm of girth left at every frame
	LeftBound   []float64   // mm: in 95 % of cases it is within this of Left
	FrameOff    []float64   // mm at every frame: how much more girth the band has there than drawn, as learned
	Straying    []float64   // mm at every frame: how much more is left than was planned
	Widths      [][]float64 // mm along the frame, [remaining strake][frame]: what is left, shared afresh; 0 where dropped
	Change      [][]float64 // mm against the plan
	Seams       [][]float64 // mm below the upper limit at every frame, of the band's upper edge and the lower edge of each strake, with any wedge beneath it: as laid, and for the rest as shared afresh
	Made        []bool      // of every seam, whether it lies: all strakes above it in the band are laid, or all below; of the band's own edges, all of them
	Queries     []Query     // measurements that can hardly be, left out of account
	Wet         []int       // entries: measurements of wet wood, left out of account until it is measured dry

	Spread hull.Spread // how this builder's work strays, as the record has taught it so far

	plan *loft.Planking // as planned
	runs []bool         // of every strake, from 0: whether it is laid
	cuts []bool         // of those still to go: whether it is cut
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

// reading is one measurement, as a sum over strakes of how far each strayed from
// its width at a frame.
type reading struct {
	entry  int
	frame  int
	at     float64 // arc length of the frame along the band, mm
	over   strakeSet
	strays float64 // mm
}

// strakeSet is a set of strakes of a band, a bit each.
type strakeSet []uint64

// with is the set with one more strake, from 0.
func (a strakeSet) with(n int) strakeSet {
	for n/64 >= len(a) {
		a = append(a, 0)
	}
	a[n/64] |= 1 << (n % 64)
	return a
}

// both is how many strakes are in both sets.
func (a strakeSet) both(b strakeSet) int {
	n := 0
	for i := range min(len(a), len(b)) {
		n += bits.OnesCount64(a[i] & b[i])
	}
	return n
}

// count is how many strakes are in the set.
func (a strakeSet) count() int { return a.both(a) }

// Replan follows the bench record of one side of a layer (from 0): from what
// was glued and measured it learns this builder's creep and what remains of
// every band at every frame, and shares that afresh among the strakes to go.
// An entry that names no strake, band or frame of the plan is an error that
// names the entry.
//
// Straying is estimated by Gaussian process regression (Rasmussen and Williams,
// Gaussian Processes for Machine Learning, 2006, chapter 2): each strake strays
// by the builder's own creep, the same for all, and by a part of its own that
// changes smoothly along the hull; a measurement sees the sum over the strakes
// laid by then. So frames that were not measured follow by a smooth course
// between those that were, and a measurement is believed only as far as the
// others bear it out.
func Replan(k *loft.Planking, layer int, entries []hull.Entry, habit Habit) ([]BandState, error) {
	l, err := k.Layer(layer)
	if err != nil {
		return nil, err
	}
	var out []BandState
	for _, b := range l.Bands {
		s, g, err := follow(l, b, entries, habit)
		if err != nil {
			return nil, err
		}
		s.share(g)
		state := s.tell(g)
		state.plan = k
		out = append(out, state)
	}
	return out, nil
}

// follow follows the record of a side through one band.
func follow(l *loft.Layer, b *loft.Band, entries []hull.Entry, habit Habit) (*benchBand, *regression, error) {
	s := &benchBand{l: l, b: b, habit: habit, entries: entries}
	if err := s.run(); err != nil {
		return nil, nil, err
	}
	g := s.regress(s.readings)
	return s, g, nil
}

// benchBand is one band on the bench.
type benchBand struct {
	l        *loft.Layer
	b        *loft.Band
	habit    Habit
	entries  []hull.Entry
	along    []float64    // arc length at every frame, mm
	laid     map[int]bool // strakes glued, from 0
	order    []int        // as they were glued
	widths   [][]float64  // [strake][frame]: as planned, and since the last measurement as shared afresh
	cut      map[int]bool // strakes whose widths stand, since they were cut
	cutBy    map[int]int  // and by which entry
	fresh    bool         // something was measured since the widths were shared
	readings []reading
	queries  []Query
	wet      []int // entries left out of account
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
		if e.Layer != s.l.Number {
			continue
		}
		if err := s.take(i, e); err != nil {
			return fmt.Errorf("entry %d of the record: %w", i+1, err)
		}
	}
	s.doubt()
	return nil
}

// take follows one entry.
func (s *benchBand) take(i int, e hull.Entry) error {
	if e.EntryKind.OfBand() {
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
		return s.see(i, e, s.laid, func(frame int) float64 { return e.MM - s.without(frame, s.laid) })
	}
	if e.EntryKind == hull.BareGirth {
		return s.bare(i, e)
	}
	n := s.strake(e.Strake)
	if n < 0 {
		if s.l.StrakeNamed(e.Strake) < 0 {
			return fmt.Errorf("there is no strake %s in layer %d", e.Strake, s.l.Number)
		}
		return nil // of another band
	}
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
		return s.see(i, e, map[int]bool{n: true}, func(frame int) float64 { return s.widths[n][frame] - e.MM })
	case hull.GapAbove:
		return s.see(i, e, map[int]bool{n: true}, func(int) float64 { return -e.MM })
	}
	return nil
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
	if s.fresh {
		s.doubt()
		s.share(s.regress(s.readings))
	}
	s.cut[n], s.cutBy[n] = true, entry
	for _, w := range s.entries[entry].Widths {
		if i := s.l.Surface.FrameNamed(w.Frame); i >= 0 {
			s.widths[n][i] = w.MM
		}
	}
}

// without is what a frame's girth leaves besides strakes as wide as they were
// cut, and the wedges beneath them.
func (s *benchBand) without(frame int, laid map[int]bool) float64 {
	left := s.b.Girths[frame]
	for n := range laid {
		left -= s.widths[n][frame] + s.b.WedgeAt(n, frame)
	}
	return left
}

// see keeps a measurement, unless it can't be.
func (s *benchBand) see(i int, e hull.Entry, over map[int]bool, strays func(frame int) float64) error {
	frame := s.l.Surface.FrameNamed(e.Frame)
	if frame < 0 {
		return fmt.Errorf("there is no frame %s", e.Frame)
	}
	switch {
	case e.Wet: // it tells of swelling, and will shrink
		s.wet = append(s.wet, i)
	case !s.l.Surface.Planks(frame):
		s.query(i, NotPlanked, 0)
	case e.MM < 0:
		s.query(i, Negative, 0)
	case e.MM > s.b.Girths[frame]+farOff:
		s.query(i, OverBand, s.b.Girths[frame])
	case len(over) == 0:
		// Before the first strake what is left is the whole band: it tells of
		// the frames, not of the strakes.
	default:
		s.readings = append(s.readings, reading{i, frame, s.along[frame], s.there(over, frame), strays(frame)})
		s.fresh = true
	}
	return nil
}

// there are those strakes that are laid at a frame and have not dropped out.
func (s *benchBand) there(strakes map[int]bool, frame int) strakeSet {
	var out strakeSet
	for n := range strakes {
		if s.widths[n][frame] > 0 {
			out = out.with(n)
		}
	}
	return out
}

func (s *benchBand) query(entry int, why Doubt, other float64) {
	e := s.entries[entry]
	s.queries = append(s.queries, Query{Entry: entry, Doubt: why, Frame: e.Frame, MM: e.MM, Other: other})
}

// farOff is how far, mm, a measurement may be off what the others lead to
// expect before it is queried.
const farOff = 3

// farOffPlan is how far, mm, it may be off the plan where no others bear on it.
const farOffPlan = 15

// doubt queries the measurements that the others contradict: the worst first,
// by its distance from what is expected of it without it, until none is far
// off.
func (s *benchBand) doubt() {
	if len(s.readings) <= 2 {
		s.readings = slices.DeleteFunc(s.readings, func(x reading) bool {
			off := math.Abs(x.strays)
			if off > farOffPlan {
				s.query(x.entry, OffPlan, off)
			}
			return off > farOffPlan
		})
	}
	for len(s.readings) > 2 {
		worst, off := -1, 0.0
		for i := range s.readings {
			without := append(append([]reading{}, s.readings[:i]...), s.readings[i+1:]...)
			mean, _ := s.expect(without, s.readings[i].over, s.readings[i].at)
			if d := math.Abs(mean - s.readings[i].strays); d > off {
				worst, off = i, d
			}
			if len(s.readings) > 60 {
				break // many together bear each other out; see below
			}
		}
		if len(s.readings) > 60 {
			worst, off = s.roughest()
		}
		if off <= farOff {
			return
		}
		s.query(s.readings[worst].entry, OffOthers, off)
		s.readings = append(s.readings[:worst:worst], s.readings[worst+1:]...)
	}
}

// roughest is the measurement farthest from the course through all of them.
func (s *benchBand) roughest() (worst int, off float64) {
	g := s.regress(s.readings)
	for i, x := range s.readings {
		mean, _ := g.expect(x.over, x.at)
		if d := math.Abs(mean - x.strays); d > off {
			worst, off = i, d
		}
	}
	return worst, off
}

func (s *benchBand) expect(sights []reading, over strakeSet, at float64) (mean, deviation float64) {
	return s.regress(sights).expect(over, at)
}

// regression is the Gaussian process conditioned on readings.
type regression struct {
	s        *benchBand
	readings []reading
	chol     mat.Cholesky
	alpha    mat.VecDense // (K + σ²I)⁻¹·strays
}

// regress conditions the process.
func (s *benchBand) regress(sights []reading) *regression {
	g := &regression{s: s, readings: sights}
	n := len(sights)
	if n == 0 {
		return g
	}
	k := mat.NewSymDense(n, nil)
	y := mat.NewVecDense(n, nil)
	for i, a := range sights {
		for j := i; j < n; j++ {
			k.SetSym(i, j, s.covariance(a.over, a.at, sights[j].over, sights[j].at))
		}
		k.SetSym(i, i, k.At(i, i)+s.habit.Measuring*s.habit.Measuring+1e-12)
		y.SetVec(i, a.strays-s.expected(a.over.count()))
	}
	if !g.chol.Factorize(k) || g.chol.SolveVecTo(&g.alpha, y) != nil {
		g.readings = nil // no belief in any; the plan stands
	}
	return g
}

// expected is what so many strakes stray by as the bench teaches: a strake that
// creeps takes more, and leaves less.
func (s *benchBand) expected(strakes int) float64 { return -s.habit.Mean * float64(strakes) }

// covariance of what two sets of strakes stray in all, at two places: the
// creep they share, and the part of each strake that is in both.
func (s *benchBand) covariance(a strakeSet, at float64, b strakeSet, bt float64) float64 {
	both := a.both(b)
	d := (at - bt) / s.habit.Reach
	c, w := s.habit.Creep, s.habit.Strake
	return c*c*float64(a.count()*b.count()) + w*w*float64(both)*math.Exp(-d*d/2)
}

// expect is what a set of strakes strays in all at a place.
func (g *regression) expect(over strakeSet, at float64) (mean, deviation float64) {
	prior := g.s.covariance(over, at, over, at)
	mean, deviation = g.condition(prior, func(x reading) float64 { return g.s.covariance(over, at, x.over, x.at) })
	return mean + g.s.expected(over.count()), deviation
}

// creep is the builder's own, by strip.
func (g *regression) creep() (mean, deviation float64) {
	c := g.s.habit.Creep
	mean, deviation = g.condition(c*c, func(x reading) float64 { return c * c * float64(x.over.count()) })
	return mean + g.s.expected(1), deviation
}

// toGo is what each strake to go is expected to creep, mm.
func (s *benchBand) toGo(creep float64) float64 {
	if s.way == hull.Tighter {
		return min(s.aim, creep)
	}
	return creep
}

// condition gives the mean, over what the bench taught, and the deviation of a
// quantity of that prior variance and covariance with the sights.
func (g *regression) condition(prior float64, with func(reading) float64) (mean, deviation float64) {
	if len(g.readings) == 0 {
		return 0, math.Sqrt(prior)
	}
	k := mat.NewVecDense(len(g.readings), nil)
	for i, x := range g.readings {
		k.SetVec(i, with(x))
	}
	var w mat.VecDense
	if err := g.chol.SolveVecTo(&w, k); err != nil {
		return 0, math.Sqrt(prior)
	}
	return mat.Dot(k, &g.alpha), math.Sqrt(max(prior-mat.Dot(k, &w), 0))
}

// share shares what is left at every frame, less what the strakes to go will
// creep and those cut already take, among those not yet cut.
func (s *benchBand) share(g *regression) {
	s.fresh = false
	stray, _ := g.creep()
	stray = -s.toGo(-stray)
	for i := range s.along {
		mean, _ := g.expect(s.there(s.laid, i), s.along[i])
		left := s.without(i, s.laid) + mean
		planned := 0.0
		for n := range s.b.Weights {
			w := s.plan(n, i)
			if s.laid[n] || w == 0 {
				continue
			}
			left += stray - s.b.WedgeAt(n, i)
			if s.cut[n] {
				left -= s.widths[n][i]
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
	out := BandState{Layer: s.l.Number, Band: s.b.Number, Queries: s.queries, Measured: len(s.readings) > 0, Known: len(s.readings) > 0 || s.habit.Mean != 0, Remedy: s.way, Wet: s.wet}
	stray, bound := g.creep()
	out.Creep, out.CreepBound = -stray, bound
	out.CreepToGo = s.toGo(out.Creep)
	for _, n := range s.order {
		out.Laid = append(out.Laid, s.l.Strakes[s.b.First+n].ID)
	}
	for i := range s.along {
		mean, deviation := g.expect(s.there(s.laid, i), s.along[i])
		left, planned := max(s.without(i, s.laid)+mean, 0), 0.0
		for n := range s.b.Weights {
			if !s.laid[n] {
				planned += s.plan(n, i) + s.b.WedgeAt(n, i)
			}
		}
		out.Left = append(out.Left, left)
		out.LeftBound = append(out.LeftBound, deviation)
		out.FrameOff = append(out.FrameOff, 0)
		out.Straying = append(out.Straying, left-planned)
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
			case s.laid[n]:
				mean, _ := g.expect(strakeSet{}.with(n), s.along[i])
				down[i] += w - mean
			default:
				down[i] += w + out.CreepToGo
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
