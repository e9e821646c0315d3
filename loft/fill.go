package loft

import (
	"math"
	"slices"

	"github.com/strakewright/strakewright/hull"
)

// short is a run of frames at which whole strips of a band leave more of its girth open
// than natural creep closes, with the frames on either side at which they leave less.
type short struct {
	from, to int
	at       int     // where most is open
	by       float64 // mm along the frame there
	wedges   []int   // the strakes beneath which wedges fill it; nil for none
	widened  []int   // the strakes that are cut wider instead
}

// fill closes what whole strips leave open at every frame. The strips creep apart;
// where that is not enough they are laid tight, and a wedge goes in where wedges may
// lie, or a strake is cut wider.
func (b *Band) fill(h *hull.Layer) {
	b.shorts = nil
	for i := b.first; i <= b.last; i++ {
		if b.beyondCreep(i, h) <= tight {
			continue
		}
		run := short{from: i, to: i, at: i}
		for ; i <= b.last && b.beyondCreep(i, h) > tight; i++ {
			run.to = i
			if e := b.laid[i].short; e > run.by {
				run.at, run.by = i, e
			}
		}
		if run.by >= b.rules.LeastWedge {
			i = b.close(run, h)
		}
		i--
	}
	for i := b.first; i <= b.last; i++ {
		if !b.closed(i) {
			b.creepBy(i, b.laid[i].short, h)
		}
	}
}

// tight is the opening, mm, below which nothing counts as left open.
const tight = 1e-9

// closed reports whether a frame lies in a run that wedges or wider strakes fill.
func (b *Band) closed(i int) bool {
	for _, run := range b.shorts {
		if i >= run.from && i <= run.to {
			return true
		}
	}
	return false
}

// beyondCreep is the opening at a frame beyond what creep closes, mm.
func (b *Band) beyondCreep(i int, h *hull.Layer) float64 {
	sum := 0.0
	for _, c := range b.creeps(i, h) {
		sum += c
	}
	return b.laid[i].short - sum
}

// creeps is how far every whole strip at a frame creeps of its own accord, beyond the
// plan's allowance, mm along the frame.
func (b *Band) creeps(i int, h *hull.Layer) []float64 {
	a := &b.laid[i]
	out := make([]float64, len(a.width))
	at := 0.0
	for k, w := range a.width {
		if a.whole[k] && b.Girths[i] > 0 {
			cos := b.slantAt(i, min((at+w/2)/b.Girths[i], 1))
			out[k] = max(b.rules.Creep*b.strips[k]*h.Stock.Width-h.Creep, 0) / cos
		}
		at += w
	}
	return out
}

// creepBy makes the strips at a frame creep apart by a total, each in proportion to its
// own limit, or all equally.
func (b *Band) creepBy(i int, by float64, h *hull.Layer) {
	if !(by > 0) {
		return
	}
	a, may := &b.laid[i], b.creeps(i, h)
	sum := 0.0
	for _, c := range may {
		sum += c
	}
	for k, w := range a.width {
		if w == 0 {
			continue
		}
		c := by / float64(b.Laid[i])
		if sum > 0 {
			c = by * may[k] / sum
		}
		a.creep[k] += c
		a.width[k] += c
	}
}

// close fills one run, by wedges where they may lie, else by cutting as few strakes
// wider as possible. It returns the frame after the run.
func (b *Band) close(run short, h *hull.Layer) int {
	wedged := b.stretched(run, func(i int) bool { return b.wedgeable[i] })
	if wedged.wedges = b.wedgesFor(wedged, h); wedged.wedges != nil {
		run = wedged
	} else {
		run = b.stretched(run, func(int) bool { return true })
		run.widened = b.widenedFor(run, h)
	}
	for i := run.from; i <= run.to; i++ {
		for _, k := range run.wedges {
			b.laid[i].wedge[k] = b.laid[i].short / float64(len(run.wedges))
		}
		b.widen(i, run.widened, b.laid[i].short)
	}
	b.shorts = append(b.shorts, run)
	return run.to + 1
}

// stretched is a run with the frames on either side that are open at all, as far as it may
// go on.
func (b *Band) stretched(run short, may func(frame int) bool) short {
	goesOn := func(i int) bool {
		return i >= b.first && i <= b.last && b.laid[i].short > tight && !b.closed(i) && may(i)
	}
	for goesOn(run.from - 1) {
		run.from--
	}
	for goesOn(run.to + 1) {
		run.to++
	}
	return run
}

// widen adds an amount to the widths of strakes at a frame, equally; to all strakes
// where none of these is laid there.
func (b *Band) widen(i int, strakes []int, by float64) {
	if strakes == nil {
		return
	}
	a := &b.laid[i]
	var laid []int
	for _, k := range strakes {
		if a.width[k] > 0 {
			laid = append(laid, k)
		}
	}
	if laid == nil {
		laid = b.laidOf(b.Laid[i])
	}
	for _, k := range laid {
		a.width[k] += by / float64(len(laid))
		a.whole[k] = false
	}
}

// wedgesFor gives the strakes beneath which wedges fill a run, as few as keep each
// within a strip's width; nil where the trade's rule allows none. By that rule a wedge
// lies near an end of the hull or where the strip twists away, and its length is at
// least a given multiple of its width. Common practice, no source. It lies between
// strakes that are laid along the whole run: where one ends that lies at it, the wedge
// would go on along another.
func (b *Band) wedgesFor(run short, h *hull.Layer) []int {
	laid := b.laidOf(slices.Min(b.Laid[run.from : run.to+1]))
	count := int(math.Ceil(run.by/h.Stock.Width - 1e-9))
	if len(laid) < count+1 {
		return nil
	}
	for i := run.from; i <= run.to; i++ {
		if !b.wedgeable[i] {
			return nil
		}
	}
	need := b.rules.WedgeLength * run.by / float64(count)
	for _, step := range []int{-1, 1} {
		foot := run.at
		for foot+step >= b.first && foot+step <= b.last && b.laid[foot].short > tight {
			foot += step
		}
		if b.laid[foot].short <= tight && math.Abs(b.along[foot]-b.along[run.at]) < need {
			return nil
		}
	}
	var out []int
	for j := range count {
		out = append(out, laid[min(max((2*j+1)*len(laid)/(2*count)-1, j), len(laid)-1-count+j)])
	}
	return out
}

// widenedFor gives the strakes cut wider than their strips where no wedge may lie: as
// few as can take the opening within the greatest width the rules allow. Strakes that
// the builder has cut from sheet anyway come first, then the garboard, whose shape is
// cut in any case, then those from the middle of the band outwards.
func (b *Band) widenedFor(run short, h *hull.Layer) []int {
	laid := b.laidOf(b.Laid[run.at])
	each := (b.rules.MostWidth - 1) * h.Stock.Width
	count := len(laid)
	if each > 0 {
		count = min(int(math.Ceil(run.by/each-1e-9)), len(laid))
	}
	var out []int
	taken := map[int]bool{}
	take := func(k int) {
		if len(out) < count && !taken[k] {
			taken[k] = true
			out = append(out, k)
		}
	}
	for _, k := range laid {
		if b.modes[k] == hull.Spiled || b.modes[k] == hull.Block {
			take(k)
		}
	}
	if b.lowest {
		take(laid[len(laid)-1])
	}
	for j := range count {
		take(laid[(2*j+1)*len(laid)/(2*count)])
	}
	for _, k := range laid {
		take(k)
	}
	return out
}

// mayWedge reports for every frame whether wedges may lie there: within the rule's
// share of the planked length from an end, or where the strips of the band twist as
// much as the rule requires. It also measures along.
func (b *Band) mayWedge(s *Surface) {
	b.along = make([]float64, s.Frames())
	b.wedgeable = make([]bool, s.Frames())
	middle := func(i int) (station int, v float64) {
		k := s.FrameStation(i)
		return k, (b.top.V[k] + b.bottom.V[k]) / 2
	}
	for i := 1; i < len(b.along); i++ {
		k, v := middle(i)
		j, w := middle(i - 1)
		b.along[i] = b.along[i-1] + s.placeAt(k, v).Sub(s.placeAt(j, w)).Len()
	}
	from, to := b.along[b.first], b.along[b.last]
	for i := b.first; i <= b.last; i++ {
		end := min(b.along[i]-from, to-b.along[i])
		b.wedgeable[i] = end <= b.rules.WedgeEnd*(to-from)+1e-9 || b.twistAt(s, i) >= b.rules.WedgeTwist
	}
}

// twistAt is the twist of a strip along the middle of the band at a frame, degrees
// in 100 mm.
func (b *Band) twistAt(s *Surface, i int) float64 {
	if s.shapeless {
		return 0
	}
	k := s.FrameStation(i)
	c, d := b.top.course, b.bottom.course
	j := s.atStation(k, (c.v[k]+d.v[k])/2)
	st := j.strainsAlong((c.v1[k]+d.v1[k])/2, (c.v2[k]+d.v2[k])/2)
	return 100 * hull.Angle(abs(st.twist)).Degrees()
}
