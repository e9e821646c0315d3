package loft

import (
	"context"
	"errors"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

// Lining is one way to line a layer off: where its band lines lie, and the strakes that
// result. Figures are for one side of the ship.
type Lining struct {
	Plan   *hull.Plan // with the lines in place, and the laying begun at the free one
	Layer  *Layer     // as laid by it
	Counts []int      // strakes of every band, from the upper limit down
	Free   int        // the free line, from 1 down; 0 if there is none
	Course Coursing   // how the other lines run
	Even   bool       // it is the plan of FairLines: bands of equal girth

	Strakes       int
	Drops, Wedges int
	Forced        float64 // mm: the excess of the edge strain over the rules' limit, integrated along all strakes
	EdgeStrainMax float64 // the greatest, a ratio; at the middle line of the strakes
	Sheets        int     // strakes that exceed the limit somewhere
	Shave         float64 // mm² of strip to plane off
	Fill          float64 // mm² of gap that creep does not close
	Over          float64 // mm² of offcuts that are stubs
}

// Coursing is how the lines that are not free run.
type Coursing string

// The courses of lines that are not free. All lie a whole number of strips from the
// free line where the strakes are counted.
const (
	Eased    Coursing = "eased"    // with the least edge-set between there and the ends, where they share the remaining girth in proportion
	Shared   Coursing = "shared"   // in proportion between the free line and the limit at every frame
	Parallel Coursing = "parallel" // a number of strips of full width from the free line at every frame, as far as there is room
)

// coursings lists them.
func coursings() []Coursing { return []Coursing{Eased, Shared, Parallel} }

// Ends is the number of strakes that end early or have a wedge beside them.
func (l *Lining) Ends() int { return l.Drops + l.Wedges }

// Waste is the wood that is lost, mm².
func (l *Lining) Waste() float64 { return l.Shave + l.Fill + l.Over }

const (
	mostLinings   = 7    // the number offered
	everyLining   = 1500 // up to this many ways are all tried
	triedLinings  = 4000 // the number tried, with few more, where there are more
	walkedLinings = 800  // at least this many, if there are as many
	seededLinings = 200  // from which the walk starts, besides the even ones
)

// LineOff searches for ways to line off a layer (from 0) into a number of bands within
// the given range. It returns at most seven, the front: none of them is as good as
// another in all four figures (number of strakes, drops and wedges, forced edge-set,
// wood lost), and for each figure one of them is as low as any way tried. The
// recommended one stands first. Each figure is scaled from 0 at its least to 1 at the
// median of all ways that no other beats; the recommended way has the least sum of the
// four or, of those within a tenth of that, the most even bands. The others follow in
// order of their figures.
//
// A way is a number of strips for every band, two at least; which line lies free, held
// at the greatest frame, where strakes are counted; which band takes what whole strips
// leave there, if only one does; and how the other lines run. Whole strips fill the
// girth together with what their bevels lose over its turn, the plan's creep, and their
// natural creep. The plan of FairLines is one of those tried, and every way is laid as
// Plank lays it.
//
// Up to some thousand ways are all tried. Where there are more, the search starts from
// the even ones and others spread over the whole set, and moves from each that no other
// has beaten to its neighbours: one strip more here and one less there, or another line
// free. It may therefore miss some.
//
// told, if not nil, is called after each way with the number tried and the number
// expected. The plan passed in is not changed. It stops when the context ends, with an
// error that wraps the context's.
func LineOff(ctx context.Context, p *hull.Plan, layer, from, to int, told func(tried, prospect int)) ([]Lining, error) {
	s, err := newLiningSearch(ctx, p, layer, from, to)
	if err != nil {
		return nil, err
	}
	if told != nil {
		s.told = told
	}
	if err := s.run(); err != nil {
		return nil, err
	}
	return s.offered()
}

// LiningAsPlanned gives the figures of a layer (from 0) as the planking has it, to
// compare with ways to line it off.
func (k *Planking) LiningAsPlanned(layer int) (Lining, error) {
	l, err := k.Layer(layer)
	if err != nil {
		return Lining{}, err
	}
	out := Lining{Plan: k.Plan, Layer: l}
	for i, b := range l.Bands {
		out.Counts = append(out.Counts, b.Strakes)
		if i > 0 && out.Free == 0 && l.Lines[i].manner == hull.Free {
			out.Free = i
		}
	}
	out.read(l, k.Plan, layer)
	return out, nil
}

// liningSearch is the search for one layer.
type liningSearch struct {
	ctx   context.Context
	plan  *hull.Plan
	layer int
	base  *Layer
	told  func(tried, prospect int)
	every int // up to this many are all tried

	spaces []liningSpace
	found  map[lineKey]*BandLine  // lines laid before, which others reuse
	last   *Layer                 // as laid by the last way: the next one often shares a band with it
	middle map[float64]*freeLine  // by its place on the greatest frame
	places map[[2]float64]float64 // for below
	seen   map[way]bool
	front  []*tried
	beaten []*tried // of those walked over, without their plans
	ahead  int      // ways in prospect
}

// tried is a way that was laid, and its figures. Its layer is not kept: over many frames
// a front of them would fill the memory.
type tried struct {
	way way
	Lining
	expanded bool
}

func newLiningSearch(ctx context.Context, p *hull.Plan, layer, from, to int) (*liningSearch, error) {
	if layer < 0 || layer >= len(p.Layers) {
		return nil, noLayer(p, layer)
	}
	if err := hull.LinedBands.Refuse(tongue.T("the number of bands"), float64(from), ""); err != nil {
		return nil, err
	}
	if err := hull.LinedBands.Refuse(tongue.T("the number of bands"), float64(to), ""); err != nil {
		return nil, err
	}
	if to < from {
		return nil, tongue.Errorf("the range from %d bands to %d is empty: give the lesser number first", from, to)
	}
	base, err := plank(ctx, p, nil)
	if err != nil {
		return nil, err
	}
	s := &liningSearch{ctx: ctx, plan: p, layer: layer, base: base.Layers[layer], told: func(int, int) {}, every: everyLining,
		found: map[lineKey]*BandLine{}, middle: map[float64]*freeLine{}, places: map[[2]float64]float64{}, seen: map[way]bool{}}
	for bands := from; bands <= to; bands++ {
		s.spaces = append(s.spaces, s.spaceOf(bands))
	}
	return s, nil
}

// run tries all ways, or follows those that are promising.
func (s *liningSearch) run() error {
	all := 0
	for _, sp := range s.spaces {
		if err := s.tryFair(sp.bands); err != nil {
			return err
		}
		all = min(all+sp.size(), s.every+1)
	}
	if s.ahead = all; all > s.every {
		s.ahead = walkedLinings // or more, as far as the walk leads
	}
	for _, sp := range s.spaces {
		for _, w := range sp.seeds() {
			if err := s.try(w); err != nil {
				return err
			}
		}
	}
	if all > s.every {
		return s.walk()
	}
	for _, sp := range s.spaces {
		if err := sp.each(s.try); err != nil {
			return err
		}
	}
	return nil
}

// nearest is the beaten way, among those whose neighbours were not tried, that loses
// least against the front; nil if there is none.
func (s *liningSearch) nearest() *tried {
	scale := scaleOf(s.front)
	var best *tried
	for _, t := range s.beaten {
		if !t.expanded && (best == nil || scale.sum(t) < scale.sum(best)) {
			best = t
		}
	}
	return best
}

// walk tries the neighbours of every way not yet beaten and, while few ways have been
// tried, those of the best beaten ones, until all neighbours or enough ways have been
// tried.
func (s *liningSearch) walk() error {
	for {
		i := slices.IndexFunc(s.front, func(t *tried) bool { return !t.expanded })
		if len(s.seen) >= triedLinings || i < 0 && len(s.seen) >= walkedLinings {
			return nil
		}
		t := s.nearest()
		if i >= 0 {
			t = s.front[i]
		}
		if t == nil {
			return nil
		}
		t.expanded = true
		sp := s.spaces[t.way.bands-s.spaces[0].bands]
		for _, w := range sp.neighbours(t.way) {
			if err := s.try(w); err != nil {
				return err
			}
		}
	}
}

// try lays a way, unless it was laid before. One that cannot be laid is left out.
func (s *liningSearch) try(w way) error {
	if s.seen[w] {
		return nil
	}
	if err := halt.Asked(s.ctx, liningOff); err != nil {
		return err
	}
	s.seen[w] = true
	s.told(len(s.seen), max(s.ahead, len(s.seen)))
	q, ok := s.planOf(w)
	if !ok {
		return nil
	}
	return s.weigh(&tried{way: w, Lining: Lining{Plan: q, Free: w.free, Course: w.course.named()}})
}

// liningOff is what LineOff does.
const liningOff = "the search for band lines"

// tryFair lays the plan of FairLines.
func (s *liningSearch) tryFair(bands int) error {
	q, err := FairLines(s.ctx, s.plan, s.layer, bands)
	if err != nil {
		return err
	}
	free := 0
	if bands > 1 && !s.plan.Hull.Shapeless() {
		free = bands / 2
	}
	return s.weigh(&tried{way: way{bands: bands}, Lining: Lining{Plan: q, Free: free, Course: Eased, Even: true}})
}

// weigh lays a plan, reads its figures, and keeps it unless one kept already is as good
// in all of them, apart from differences too small to see: of equal ways the first
// stays.
func (s *liningSearch) weigh(t *tried) error {
	l, err := newLayer(s.ctx, t.Plan, s.layer, s.base.Surface, s.known(t.Plan))
	if err != nil {
		if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
			return err
		}
		return nil // more strakes than the program computes: not a way to line off
	}
	if !t.Even && !t.way.laidBy(l) {
		return nil
	}
	s.keep(t.Plan, l)
	for k, b := range l.Bands {
		t.Counts = append(t.Counts, b.Strakes)
		if t.Even {
			t.way.counts[k], t.way.free = int16(b.Strakes), t.Free
		}
	}
	t.read(l, t.Plan, s.layer)
	at := t.figures()
	for _, o := range s.front {
		if f := o.figures(); f.covers(at, unseen) {
			t.Plan = nil
			s.beaten = append(s.beaten, t)
			return nil
		}
	}
	s.front = slices.DeleteFunc(s.front, func(o *tried) bool { f := o.figures(); return at.covers(f, liningFigures{}) })
	s.front = append(s.front, t)
	return nil
}

// beginOutward makes the laying begin with the free strip, unless the builder chose an
// order other than the usual one, or has already begun.
func beginOutward(p *hull.Plan) {
	c, begun := cuttingOf(p), len(p.Record.Starboard)+len(p.Record.Port) > 0
	if c.Laying == hull.Meeting && !begun {
		c.Laying = hull.Outward
		p.Cutting = c
	}
}
