package loft

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/interp"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/curve"
)

// Band is one band with its girths.
type Band struct {
	Number  int       // from 1, down
	Girths  []float64 // mm at every frame; 0 at those not planked
	Strakes int       // number of strakes where all are laid
	Laid    []int     // number laid at every frame
	Left    float64   // mm of girth that full strips leave at the hull's greatest frame; negative if they overrun

	*region
	First   int // index of its first strake in the layer
	Weights []float64
	strips  []float64 // the width of each strake's strip relative to the stock's
	stock   float64   // mm, the width of that
	least   float64   // mm, least width of a strake
	rules   hull.Trade
	order   []int // the strakes in the order in which they drop out

	modes       []hull.Mode // the builder's choice for every strake; "" for none
	wider       []bool      // of every strake: its weight was set above 1
	lowest      bool        // no band lies below it
	lists       [][]int     // for laidOf
	given       hull.Band   // what it was made from
	first, last int         // the frames between which the hull is planked
	most        int         // the frame of its greatest girth where all its strakes are laid
	endings     []ending    // the nibs in which strakes end
	ledBy       [][]float64 // mm, the widths at every frame that fair the seams past them; nil for none
	along       []float64   // mm, position of every frame along its middle
	wedgeable   []bool      // for every frame: whether wedges may lie there
	laid        []asLaid    // at every frame, with its strips laid
	shorts      []short     // where whole strips leave more open than creep can close
	places      [][]place   // at every frame
}

// slantPlaces is the number of places down a band at which the slant of its run is
// sampled.
const slantPlaces = 9

// slants are the cosines of the angle between the run and square to the frame, at
// evenly spaced places from the upper to the lower edge of a band.
type slants [slantPlaces]float64

// slantsAt samples them at a station, the run being interpolated between two lines.
func (s *Surface) slantsAt(station int, top, bottom *Line) slants {
	var out slants
	for i := range out {
		f := float64(i) / (slantPlaces - 1)
		v := top.V[station]*(1-f) + bottom.V[station]*f
		v1 := top.course.v1[station]*(1-f) + bottom.course.v1[station]*f
		pu, pv := s.tangentsAt(station, v)
		run := pu.Add(pv.Mul(v1))
		sin := run.Dot(pv)
		out[i] = math.Sqrt(max(1-sin*sin/(run.Dot(run)*pv.Dot(pv)), 0))
	}
	return out
}

// newBand shares the girth of a region among strakes; mid is the hull's greatest frame.
// Frames outside the planked length get none.
func newBand(number, first int, r *region, s *Surface, mid int, l *hull.Layer, rules hull.Trade) *Band {
	girths, h := r.girths, l.Bands[number-1]
	b := &Band{Number: number, Girths: girths, region: r, First: first, rules: rules, least: rules.LeastWidth * l.Stock.Width, stock: l.Stock.Width,
		first: s.first, last: s.last, lowest: number == len(l.Bands), given: h}
	b.mayWedge(s)
	n := h.Strakes
	if n <= 0 {
		n = b.count(s, mid, l)
	}
	for k := range n {
		rel := h.Strip(k, l.Stock) / l.Stock.Width
		b.Weights = append(b.Weights, h.Weight(k)*rel)
		b.strips = append(b.strips, rel)
	}
	// Strakes that are nowhere half a strip wide, or are so at one frame only, are not laid
	// at all; leaving them out changes the shares of the others and the number that fit.
	for b.Strakes = 0; b.Strakes < len(b.Weights); {
		if b.Strakes > 0 {
			b.Weights, b.strips, b.Strakes = b.Weights[:b.Strakes], b.strips[:b.Strakes], 0
		}
		b.order = dropOrder(len(b.Weights))
		b.Laid = make([]int, len(girths))
		for i := b.first; i <= b.last; i++ {
			b.Laid[i] = b.room(i, girths[i])
		}
		b.stagger(s, l)
		b.lengthen()
		b.Strakes = slices.Max(b.Laid)
	}
	for k := range b.Weights {
		b.modes = append(b.modes, h.Mode(k))
		b.wider = append(b.wider, h.Weight(k) > 1)
	}
	b.keepLists()
	b.endings = b.findEndings()
	b.Left = girths[mid]
	for _, rel := range b.strips {
		b.Left -= rel * l.Stock.Width
	}
	return b
}

// again returns the band of an old layer, renumbered, if nothing that it depends on has
// changed; else nil. Its number and the index of its first strake become those given.
func (b *Band) again(number, first int, h *hull.Layer, old, l *Layer) *Band {
	if b == nil || old.fitting != l.fitting || b.lowest != (number == len(h.Bands)) || (b.Number == 1) != (number == 1) {
		return nil
	}
	given := h.Bands[number-1]
	if given.Strakes != b.given.Strakes || !slices.Equal(given.Weights, b.given.Weights) || !slices.Equal(given.Strips, b.given.Strips) || !slices.Equal(given.Modes, b.given.Modes) {
		return nil
	}
	c := *b
	c.Number, c.First, c.given = number, first, given
	return &c
}

// count is the least number of strips that fill the band at the hull's greatest frame
// and at every other frame where no wedge may lie.
func (b *Band) count(s *Surface, mid int, l *hull.Layer) int {
	n := strakesFor(b.Girths[mid], b.turn, l, b.rules.Creep)
	pitch := l.Stock.Width*(1+b.rules.Creep) + l.Creep
	for i := b.first; i <= b.last; i++ {
		need := b.Girths[i] * b.slantAt(i, 0.5)
		// No frame turns by more than half a circle.
		if b.wedgeable[i] || need+math.Pi*l.Stock.Thickness <= float64(n)*pitch {
			continue
		}
		k := s.FrameStation(i)
		n = max(n, strakesFor(need, s.turning(k, b.top.V[k], b.bottom.V[k]), l, b.rules.Creep))
	}
	return n
}

// stagger makes strakes drop out one frame after another towards either end, as far as
// the strips of those that go on can cover the frames. A strake that can end early does
// not wait for the bay in which it must end, so that the ends do not fall in one bay.
// Common practice, no source. Strakes drop out only where the remaining ones are no
// wider than that share of their strips; otherwise they would have to be narrowed to
// their nibs over a short length, and all the others bent aside.
func (b *Band) stagger(s *Surface, l *hull.Layer) {
	most := b.first
	for i := b.first; i <= b.last; i++ {
		if b.Laid[i] > b.Laid[most] || b.Laid[i] == b.Laid[most] && b.Girths[i] > b.Girths[most] {
			most = i
		}
	}
	b.most = most
	mean := 0.0
	for _, rel := range b.strips {
		mean += rel / float64(len(b.strips))
	}
	ease := func(i, outward int) {
		if b.Laid[i] <= b.Laid[outward]+1 {
			return
		}
		k := s.FrameStation(i)
		cover := strakesFor(b.Girths[i]*b.slantAt(i, 0.5)/mean/eased, s.turning(k, b.top.V[k], b.bottom.V[k]), l, 0)
		b.Laid[i] = min(b.Laid[i], max(b.Laid[outward]+1, cover))
	}
	for i := b.first + 1; i < most; i++ {
		ease(i, i-1)
	}
	for i := b.last - 1; i > most; i-- {
		ease(i, i+1)
	}
}

// lengthen leaves out, at every frame, the strakes that would be laid at that frame but
// at neither of its neighbours: such a strake has no length.
func (b *Band) lengthen() {
	if b.first == b.last {
		return
	}
	for i := b.first; i <= b.last; i++ {
		beside := 0
		if i > b.first {
			beside = b.Laid[i-1]
		}
		if i < b.last {
			beside = max(beside, b.Laid[i+1])
		}
		b.Laid[i] = min(b.Laid[i], beside)
	}
}

// eased is the mean width of strakes, relative to their strips, that must not be
// exceeded when one drops out before it must. Common practice, no source: planks are
// well tapered before one is dropped.
const eased = 0.8

// strakesFor is the least number of strips that fills a girth whose frame turns by the
// given angle (rad): n strips as laid, edges bevelled or square, with their natural
// creep. However narrow the strips, it is at most one more than the greatest number of
// strakes a band may have.
func strakesFor(girth, turn float64, l *hull.Layer, creep float64) int {
	lost := 0.0
	if l.Edges == hull.Bevelled {
		lost = max(turn, 0) * l.Stock.Thickness
	}
	pitch := l.Stock.Width*(1+creep) + l.Creep
	return int(min(max(math.Ceil((girth+lost)/pitch-1e-9), 1), hull.StrakeCount.High+1))
}

// room is the number of strakes that a frame's girth takes with none under half the
// stock's width, measured across the strake.
func (b *Band) room(frame int, girth float64) int {
	n := len(b.Weights)
	for n > 1 && b.narrowest(frame, n)*girth < b.least*(1-1e-9) {
		n--
	}
	return n
}

// narrowest is the least width across a strake where n are laid, as a share of the
// girth at that frame; for a strake of a wider strip it is reduced in proportion.
func (b *Band) narrowest(frame, n int) float64 {
	laid := b.laidOf(n)
	sum := 0.0
	for _, k := range laid {
		sum += b.Weights[k]
	}
	least, at := math.Inf(1), 0.0
	for _, k := range laid {
		share := b.Weights[k] / sum
		least = min(least, share*b.slantAt(frame, at+share/2)/b.strips[k])
		at += share
	}
	return least
}

// slantAt is the cosine of the angle between the run and square to the frame at a share
// of the girth, interpolated linearly between the sampled places.
func (b *Band) slantAt(frame int, share float64) float64 {
	x := share * (slantPlaces - 1)
	i := min(int(x), slantPlaces-2)
	c := &b.slant[frame]
	return c[i] + (x-float64(i))*(c[i+1]-c[i])
}

// laidOf lists the strakes laid where n are, in rising order from 0. The list must not
// be changed.
func (b *Band) laidOf(n int) []int {
	if n < len(b.lists) && b.lists[n] != nil {
		return b.lists[n]
	}
	return b.listLaid(n)
}

// keepLists prepares the lists of laidOf for the numbers laid at the frames, so that
// they are not made again.
func (b *Band) keepLists() {
	lists := make([][]int, len(b.Weights)+1)
	for i := b.first; i <= b.last; i++ {
		if n := b.Laid[i]; lists[n] == nil {
			lists[n] = b.listLaid(n)
		}
	}
	b.lists = lists
}

func (b *Band) listLaid(n int) []int {
	gone := make([]bool, len(b.Weights))
	for _, k := range b.order[:len(b.Weights)-n] {
		gone[k] = true
	}
	out := make([]int, 0, n)
	for k, g := range gone {
		if !g {
			out = append(out, k)
		}
	}
	return out
}

// dropOrder spreads the strakes that drop out over the band: the middle one first, then
// those halfway between, the outermost last.
func dropOrder(n int) []int {
	var out []int
	spans := [][2]int{{0, n - 1}}
	for len(spans) > 0 {
		a, z := spans[0][0], spans[0][1]
		spans = spans[1:]
		if z-a < 2 {
			continue
		}
		m := (a + z) / 2
		out = append(out, m)
		spans = append(spans, [2]int{a, m}, [2]int{m, z})
	}
	if n > 1 {
		out = append(out, 0)
	}
	return append(out, n-1)
}

// widths gives every strake's share of the band's girth at frame i: its weight divided
// by the sum of all weights.
func (b *Band) widths(i int) []float64 {
	laid := b.laidOf(b.Laid[i])
	out := make([]float64, len(b.Weights))
	sum := 0.0
	for _, k := range laid {
		out[k] = b.Weights[k]
		sum += out[k]
	}
	for k := range out {
		out[k] /= sum
	}
	return out
}

// ending is where a strake of a band ends in a nib and another takes the place of both:
// the frame, and the direction in which it lies from the band's greatest frame, 1 or
// −1.
type ending struct {
	dropping
	frame, way int
}

// findEndings lists them, from the greatest frame outwards.
func (b *Band) findEndings() []ending {
	var out []ending
	for _, way := range []int{-1, 1} {
		for i := b.most; i >= b.first && i <= b.last; i += way {
			for _, d := range b.dropsTo(i, i+way) {
				out = append(out, ending{d, i, way})
			}
		}
	}
	return out
}

// raise widens every strake at a frame to its least width, at the expense of wider
// ones. It reports whether there is room; if not, nothing is changed.
func (b *Band) raise(i int, want []float64, ends []dropping) bool {
	least := make([]float64, len(want))
	sum := 0.0
	for k, w := range want {
		if w > 0 {
			least[k] = b.leastAt(i, k, want, b.rules.LeastWidth)
			sum += least[k]
		}
	}
	for _, d := range ends {
		if nib := b.leastAt(i, d.strake, want, b.rules.Nib); nib > least[d.strake] && sum+nib-least[d.strake] <= b.Girths[i] {
			sum += nib - least[d.strake]
			least[d.strake] = nib
		}
	}
	if sum > b.Girths[i] {
		return false
	}
	low, spare := 0.0, 0.0
	for k, w := range want {
		low += max(least[k]-w, 0)
		spare += max(w-least[k], 0)
	}
	if low == 0 || spare < low {
		return low == 0
	}
	for k, w := range want {
		if w < least[k] {
			want[k] = least[k]
		} else {
			want[k] -= (w - least[k]) * low / spare
		}
	}
	return true
}

// heir is the laid strake nearest to one that is not laid; of two equally near, the
// lower.
func heir(k int, laid []int) int {
	best := laid[0]
	for _, n := range laid {
		if d, e := max(n-k, k-n), max(best-k, k-best); d < e || d == e && n > best {
			best = n
		}
	}
	return best
}

// sharesAlong interpolates a share of the girth along the hull: constant if it is the
// same at all frames, else the monotone cubic of Fritsch and Butland (SIAM J. Sci.
// Stat. Comput. 5, 1984), which never overshoots. The result is written into c.
func (s *Surface) sharesAlong(at []float64, c course) course {
	same := true
	for _, a := range at {
		same = same && math.Abs(a-at[0]) < 1e-12
	}
	var f interp.FritschButland
	if same || f.Fit(s.u, at) != nil {
		for i := range c.v {
			c.v[i], c.v1[i], c.v2[i] = at[0], 0, 0
		}
		return c
	}
	m := make([]float64, len(at))
	for i := range m {
		m[i] = f.PredictDerivative(s.u[i])
	}
	for i := range len(at) - 1 {
		u := s.u[i]
		c2, c3 := curve.HermitePowers(s.u[i+1]-u, at[i], at[i+1], m[i], m[i+1])
		for k := i * stationsPerBay; k <= (i+1)*stationsPerBay; k++ {
			t := s.stations[k] - u
			c.v[k], c.v1[k], c.v2[k] = at[i]+t*(m[i]+t*(c2+t*c3)), m[i]+t*(2*c2+3*t*c3), 2*c2+6*t*c3
		}
	}
	return c
}
