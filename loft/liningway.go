package loft

import (
	"math"
	"slices"

	"github.com/strakewright/strakewright/hull"
)

// mostBands is the greatest number of bands to line off: hull.LinedBands.High.
const mostBands = 20

// way is one way to line off, usable as a map key. The strips of its bands are in
// counts, from the upper limit down.
type way struct {
	bands  int
	counts [mostBands]int16
	free   int // line from 1 down; 0 for none, on a hull of unknown shape
	rest   int // the band from 1 down that takes what whole strips leave; 0 if all share it
	course coursing
}

// laidBy reports whether a layer has all strips of the way: where a line turns away so
// sharply that some would lie at one frame only, it has fewer.
func (w *way) laidBy(l *Layer) bool {
	for k, b := range l.Bands {
		if b.Strakes < int(w.counts[k]) {
			return false
		}
	}
	return true
}

// coursing counts coursings.
type coursing uint8

func (c coursing) named() Coursing { return coursings()[c] }

// liningSpace is the set of all ways to line off into a number of bands.
type liningSpace struct {
	bands   int
	least   int   // strips of a band: two, since a line one strip off another is just its next seam; one where there are too few
	totals  []int // possible numbers of strakes
	frees   []int // lines that can lie free
	rests   map[int]int
	courses []coursing
}

// spaceOf gives that set. The number of strakes is the least that fills the greatest
// frame, and one fewer where the shortfall is then less than any wedge. Where all
// strips are needed at full width and creep closes the rest, no band has one to taper.
func (s *liningSearch) spaceOf(bands int) liningSpace {
	h := &s.plan.Layers[s.layer]
	girth := s.base.Girths[s.base.Greatest()]
	all := s.measure(0, girth)
	most := strakesFor(all, 0, h, s.base.Rules.Creep)
	out := liningSpace{bands: bands, least: 1, rests: map[int]int{}}
	if most > 2*bands {
		out.least = 2
	}
	full := h.Stock.Width + h.Creep
	for _, n := range []int{most, most - 1} {
		over := all - float64(n)*(full+s.base.Rules.Creep*h.Stock.Width)
		if n < bands*out.least || n > int(hull.StrakeCount.High) || over >= s.base.Rules.LeastWedge {
			continue
		}
		out.totals = append(out.totals, n)
		if float64(n)*full > all+1e-9 && bands > 1 {
			out.rests[n] = bands
		}
	}
	switch {
	case bands == 1 || s.plan.Hull.Shapeless():
		out.frees = []int{0}
	default:
		for k := 1; k < bands; k++ {
			out.frees = append(out.frees, k)
		}
	}
	switch {
	case bands == 1:
		out.courses = []coursing{0}
	case s.plan.Hull.Shapeless():
		out.courses = []coursing{1} // how a strip would lie beside it is not known
	case bands == 2:
		out.courses = []coursing{0} // the only line is free
	default:
		out.courses = []coursing{0, 1, 2}
	}
	return out
}

// size is the number of ways, or some number above the most that are ever all tried.
func (sp *liningSpace) size() int {
	sum := 0.0
	for _, n := range sp.totals {
		sum += sp.partings(n, sp.bands) * float64(1+sp.rests[n])
	}
	return int(min(sum*float64(len(sp.frees)*len(sp.courses)), 10*triedLinings))
}

// partings is the number of ways to divide strips among bands: the binomial coefficient
// of the strips beyond the minimum plus the lines, over the lines.
func (sp *liningSpace) partings(strips, bands int) float64 {
	n, c := strips-bands*(sp.least-1)-1, 1.0
	for i := range bands - 1 {
		c *= float64(n-i) / float64(i+1)
	}
	return c
}

// seeds are the ways to start from: all with the strips shared evenly, and some others,
// spread over all possible numbers of strips in a band.
func (sp *liningSpace) seeds() []way {
	var out []way
	gather := func(w way) error { out = append(out, w); return nil }
	for _, n := range sp.totals {
		w := way{bands: sp.bands}
		for k := range sp.bands {
			w.counts[k] = int16(n / sp.bands)
			if k < n%sp.bands {
				w.counts[k]++
			}
		}
		_ = sp.variants(w, gather)
	}
	for _, n := range sp.totals {
		ways := sp.partings(n, sp.bands)
		for i := range seededLinings {
			w := sp.parted(n, math.Floor(ways*(float64(i)+0.5)/seededLinings))
			w.free, w.course = sp.frees[i%len(sp.frees)], sp.courses[i/len(sp.frees)%len(sp.courses)]
			w.rest = i / len(sp.frees) / len(sp.courses) % (sp.rests[n] + 1)
			out = append(out, w)
		}
	}
	return out
}

// parted is the i-th way, from 0, to divide the strips among the bands, ordered by the
// strips of the first band, then the second, and so on.
func (sp *liningSpace) parted(n int, i float64) way {
	w := way{bands: sp.bands}
	for k := range sp.bands - 1 {
		c := sp.least
		for left := sp.bands - 1 - k; n-c > left*sp.least; c++ {
			ways := sp.partings(n-c, left)
			if i < ways {
				break
			}
			i -= ways
		}
		w.counts[k] = int16(c)
		n -= c
	}
	w.counts[sp.bands-1] = int16(n)
	return w
}

// variants calls f with every way that has the same strips; the error is f's.
func (sp *liningSpace) variants(w way, f func(way) error) error {
	for w.rest = 0; w.rest <= sp.rests[w.strips()]; w.rest++ {
		for _, w.free = range sp.frees {
			for _, w.course = range sp.courses {
				if err := f(w); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

func (w *way) strips() int {
	n := 0
	for _, c := range w.counts {
		n += int(c)
	}
	return n
}

// each calls f with every way; the error is f's.
func (sp *liningSpace) each(f func(way) error) error {
	var share func(w way, band, left int) error
	share = func(w way, band, left int) error {
		if band == sp.bands-1 {
			w.counts[band] = int16(left)
			return sp.variants(w, f)
		}
		for n := sp.least; left-n >= (sp.bands-1-band)*sp.least; n++ {
			w.counts[band] = int16(n)
			if err := share(w, band+1, left-n); err != nil {
				return err
			}
		}
		return nil
	}
	for _, n := range sp.totals {
		if err := share(way{bands: sp.bands}, 0, n); err != nil {
			return err
		}
	}
	return nil
}

// neighbours are the ways that differ in one respect: one strip more in one band, and
// one less in another or in none; the line that is free; the band that takes the rest;
// the coursing.
func (sp *liningSpace) neighbours(w way) []way {
	var out []way
	add := func(v way) {
		n := v.strips()
		if v != w && slices.Contains(sp.totals, n) && v.rest <= sp.rests[n] {
			out = append(out, v)
		}
	}
	least := int16(sp.least)
	for i := range sp.bands {
		for _, d := range []int16{1, -1} {
			v := w
			if v.counts[i] += d; v.counts[i] < least {
				continue
			}
			add(v)
			v.rest = 0
			add(v)
			for j := range sp.bands {
				u := v
				u.rest = w.rest
				if u.counts[j] -= d; j != i && u.counts[j] >= least && d > 0 {
					add(u)
				}
			}
		}
	}
	for _, free := range sp.frees {
		v := w
		v.free = free
		add(v)
	}
	for rest := 0; rest <= sp.bands; rest++ {
		v := w
		v.rest = rest
		add(v)
	}
	for _, c := range sp.courses {
		v := w
		v.course = c
		add(v)
	}
	return out
}

// measure is the length that strips have to fill between two places on the greatest
// frame, given in mm from the upper limit: the girth, plus what bevelled edges lose
// over its turn.
func (s *liningSearch) measure(from, to float64) float64 {
	l, h := s.base, &s.plan.Layers[s.layer]
	lost := 0.0
	if h.Edges == hull.Bevelled {
		k := l.Surface.FrameStation(l.Greatest())
		lost = max(l.Surface.turning(k, l.Surface.vDown(k, from), l.Surface.vDown(k, to)), 0) * h.Stock.Thickness
	}
	return to - from + lost
}

// below is the place on the greatest frame that lies a given measure below another,
// within 1e-7 mm; above it where the measure is negative. It is kept on the frame.
func (s *liningSearch) below(from, by float64) float64 {
	key := [2]float64{from, by}
	if at, ok := s.places[key]; ok {
		return at
	}
	girth := s.base.Girths[s.base.Greatest()]
	lo, hi := from, girth
	if by < 0 {
		lo, hi = 0, from
	}
	for hi-lo > 1e-7 {
		mid := (lo + hi) / 2
		if by >= 0 && s.measure(from, mid) < by || by < 0 && s.measure(mid, from) > -by {
			lo = mid
		} else {
			hi = mid
		}
	}
	s.places[key] = (lo + hi) / 2
	return s.places[key]
}

// seams are the places of the lines of a way on the greatest frame; ok is false where
// the strips leave one of its bands no girth.
func (s *liningSearch) seams(w way) (at []float64, ok bool) {
	h := &s.plan.Layers[s.layer]
	girth := s.base.Girths[s.base.Greatest()]
	pitch := h.Stock.Width + h.Creep
	at = make([]float64, w.bands-1)
	if w.rest == 0 {
		pitch = s.measure(0, girth) / float64(w.strips())
	}
	sum := 0.0
	for k := 0; k < w.bands-1 && (w.rest == 0 || k < w.rest-1); k++ {
		sum += float64(w.counts[k]) * pitch
		at[k] = s.below(0, sum)
	}
	sum = 0.0
	for k := w.bands - 1; w.rest > 0 && k >= w.rest; k-- {
		sum += float64(w.counts[k]) * pitch
		at[k-1] = s.below(girth, -sum)
	}
	room := s.base.Rules.LeastWidth * h.Stock.Width
	before := 0.0
	for _, d := range append(slices.Clone(at), girth) {
		if d-before < room {
			return nil, false
		}
		before = d
	}
	return at, true
}

// planOf draws the lines of a way; ok is false where that is impossible.
func (s *liningSearch) planOf(w way) (q *hull.Plan, ok bool) {
	at, ok := s.seams(w)
	if !ok {
		return nil, false
	}
	q = new(hull.Plan)
	*q = *s.plan
	q.Layers = slices.Clone(s.plan.Layers)
	h := &q.Layers[s.layer]
	h.Bands = s.bandsOf(w, at)
	switch {
	case w.bands == 1:
		h.Lines = nil
	case w.free == 0:
		h.Lines = s.girthLines(at)
	default:
		h.Lines = s.linesBeside(w, at)
	}
	return q, true
}

// bandsOf are the bands of a way. The number of strakes is left open where it follows
// by itself. The builder's choices for single strakes are kept where the number of
// strakes and the strip are unchanged.
func (s *liningSearch) bandsOf(w way, at []float64) []hull.Band {
	h := &s.plan.Layers[s.layer]
	out := make([]hull.Band, w.bands)
	before := 0.0
	for k := range out {
		to := s.base.Girths[s.base.Greatest()]
		if k < len(at) {
			to = at[k]
		}
		if n := int(w.counts[k]); strakesFor(s.measure(before, to), 0, h, s.base.Rules.Creep) != n {
			out[k].Strakes = n
		}
		if w.bands == len(h.Bands) && s.base.Bands[k].Strakes == int(w.counts[k]) && len(h.Bands[k].Strips) == 0 {
			out[k].Modes = slices.Clone(h.Bands[k].Modes)
		}
		before = to
	}
	return out
}

// girthLines are the lines of a way on a hull known by its girths: drawn in
// proportion to them.
func (s *liningSearch) girthLines(at []float64) []hull.BandLine {
	l := s.base
	mid := l.Greatest()
	var out []hull.BandLine
	for _, d := range at {
		b := l.shareLine(d / l.Girths[mid])
		b.Handles[mid].Down = d
		out = append(out, b)
	}
	return out
}

// linesBeside are the lines of a way other than the free one.
func (s *liningSearch) linesBeside(w way, at []float64) []hull.BandLine {
	free := s.freeAt(at[w.free-1])
	out := make([]hull.BandLine, w.bands-1)
	for k := range out {
		switch {
		case k == w.free-1:
			out[k] = free.BandLine
		case w.course.named() == Parallel:
			out[k] = s.parallel(free, at, w.free-1, k)
		default:
			out[k] = s.inProportion(free, at, w.free-1, k, w.course.named())
		}
	}
	return out
}

// freeLine is a free line, and its course if no limit constrained it.
type freeLine struct {
	hull.BandLine
	run *Line
}

// freeAt is the free line through a place on the greatest frame.
func (s *liningSearch) freeAt(down float64) *freeLine {
	if f := s.middle[down]; f != nil {
		return f
	}
	surface, mid := s.base.Surface, s.base.Greatest()
	f := &freeLine{BandLine: *s.base.freeMiddle(mid, down/s.base.Girths[mid], followsOf(&s.plan.Layers[s.layer]))}
	f.Handles[mid].Down = down
	held := surface.originOf(&f.BandLine, s.base.ribbon)
	free, _ := surface.followed(&held)
	course, _, _ := surface.fill(free)
	f.run = surface.lineAlong(course)
	s.middle[down] = f
	return f
}

// inProportion is line k between the free line f and the limit on its side, in the
// proportion of the greatest frame: at every frame where coursing is shared, else eased
// between that frame and both ends.
func (s *liningSearch) inProportion(free *freeLine, at []float64, f, k int, how Coursing) hull.BandLine {
	l := s.base
	surface, mid := l.Surface, l.Greatest()
	b := hull.BandLine{LineType: hull.Least, Hold: mid, Aim: -1, Handles: make([]hull.Handle, surface.Frames())}
	if how == Shared {
		b.LineType = hull.Drawn
	}
	room := l.Rules.LeastWidth * s.plan.Layers[s.layer].Stock.Width
	share := at[k] / at[f]
	if k > f {
		share = (at[k] - at[f]) / (surface.Girth(mid) - at[f])
	}
	for i := range b.Handles {
		g := surface.Girth(i)
		down := min(max(free.Handles[i].Down, room*float64(f+1)), g-room*float64(len(at)-f))
		switch {
		case i == mid:
			down = at[k]
		case k < f:
			down *= share
		default:
			down += (g - down) * share
		}
		b.Handles[i] = hull.Handle{Down: down, Held: how == Shared || i == surface.first || i == mid || i == surface.last}
	}
	return b
}

// parallel is line k, a number of full strips from the free line f at every frame.
// Where there is no room for them its handle is released, and the line keeps its course
// as far as the limit allows.
func (s *liningSearch) parallel(free *freeLine, at []float64, f, k int) hull.BandLine {
	l := s.base
	surface, mid := l.Surface, l.Greatest()
	b := hull.BandLine{LineType: hull.Drawn, Hold: mid, Aim: -1, Handles: make([]hull.Handle, surface.Frames())}
	across := (at[k] - at[f]) * free.run.runs[mid].slant
	room := l.Rules.LeastWidth * s.plan.Layers[s.layer].Stock.Width
	for i := range b.Handles {
		down := free.run.Down[surface.FrameStation(i)] + across/max(free.run.runs[i].slant, 0.1)
		if i == mid {
			down = at[k]
		}
		lo, hi := room*float64(k+1), surface.Girth(i)-room*float64(len(at)-k)
		b.Handles[i] = hull.Handle{Down: min(max(down, lo), hi), Held: i == mid || down >= lo && down <= hi}
	}
	return b
}

// lineKey identifies a free line of the default heading by where it is held.
type lineKey struct {
	hold, aim int
	down      float64
	follows   hull.Follows
}

func keyOf(b *hull.BandLine) lineKey {
	return lineKey{b.Hold, b.Aim, b.Handles[b.Hold].Down, b.Follows}
}

// known gives, in the form of an old layer, the free lines of a plan that were found
// for another, and the bands of the last way laid; in place of the other lines stands the
// upper limit, which cannot be mistaken for any of them.
func (s *liningSearch) known(p *hull.Plan) *Layer {
	lines := p.Layers[s.layer].Lines
	l := &Layer{Surface: s.base.Surface, fitting: s.base.fitting, above: s.base.above, Lines: []*BandLine{s.base.Lines[0]}}
	if s.last != nil {
		l.Bands, l.Strakes = s.last.Bands, s.last.Strakes
	}
	for k := range lines {
		b := s.base.Lines[0]
		if f := s.found[keyOf(&lines[k])]; f != nil && lines[k].LineType == hull.Free {
			b = f
		}
		l.Lines = append(l.Lines, b)
	}
	l.Lines = append(l.Lines, s.base.Lines[len(s.base.Lines)-1])
	return l
}

// keep keeps the free line of a layer for later ways, few of which share any other line,
// and all of it for the next: the band between the limit and the free line is often the
// same.
func (s *liningSearch) keep(p *hull.Plan, l *Layer) {
	s.last = l
	for k := range p.Layers[s.layer].Lines {
		if b := &p.Layers[s.layer].Lines[k]; b.LineType == hull.Free {
			s.found[keyOf(b)] = l.Lines[k+1]
		}
	}
}
