package loft

import (
	"cmp"
	"math"
	"slices"

	"github.com/strakewright/strakewright/hull"
)

// read gives a lining the figures of its layer as laid.
//
// Edge-set is measured by how much of it is forced: ∑∫(ε − ε₀)⁺ ds over the strakes, ε
// their edge strain and ε₀ the rules' limit. Up to that limit a strip is sprung and
// nothing is lost; the greatest strain by itself is usually that of one spot, such as a
// tuck, which no line can improve.
func (l *Lining) read(laid *Layer, p *hull.Plan, layer int) {
	l.Drops, l.Wedges = len(laid.Drops), len(laid.Wedges)
	for _, st := range laid.Strakes {
		if st.To <= st.From {
			continue
		}
		l.Strakes++
		forced, most := st.forced(laid.Rules.EdgeStrain)
		l.Forced += forced
		l.EdgeStrainMax = max(l.EdgeStrainMax, most)
		if most > laid.Rules.EdgeStrain {
			l.Sheets++
		}
	}
	l.Shave, _ = laid.ShaveAndFill()
	for _, b := range laid.Bands {
		l.Fill += laid.gaping(b, &p.Layers[layer])
	}
	l.Over = laid.over(&p.Layers[layer], cuttingOf(p))
}

// forced is the excess of the edge strain of a strake over a limit, integrated along
// it, mm, and the greatest strain.
func (st *Strake) forced(limit float64) (sum, most float64) {
	from, to := st.laidStations()
	before := 0.0
	for k := from; k <= to; k++ {
		e := st.EdgeStrain(k)
		most = max(most, e)
		over := max(e-limit, 0)
		if k > from {
			sum += (before + over) / 2 * (st.Centre.S[k] - st.Centre.S[k-1])
		}
		before = over
	}
	return sum, most
}

// gaping is the area of a band, mm², that its strips do not cover even with their
// natural creep.
func (l *Layer) gaping(b *Band, h *hull.Layer) float64 {
	centre := l.Strakes[b.First+len(b.Weights)/2].Centre
	sum := 0.0
	first, last := l.Surface.Planked()
	for i := first; i < last; i++ {
		run := centre.S[l.Surface.FrameStation(i+1)] - centre.S[l.Surface.FrameStation(i)]
		gap, _ := partedArea(b.laid[i].short-b.creepAt(i, h), b.laid[i+1].short-b.creepAt(i+1, h), run)
		sum += gap
	}
	return sum
}

// ShaveAndFill gives the area, mm² on one side, to be planed off the strips of a layer
// as laid, and the area of the gaps left: between the pitch of each strip and the width
// to cut, along the run from frame to frame.
func (l *Layer) ShaveAndFill() (shave, fill float64) {
	for _, st := range l.Strakes {
		for i := 0; i+1 < len(st.At); i++ {
			a, b := st.At[i], st.At[i+1]
			if !a.Laid || !b.Laid {
				continue
			}
			run := st.Centre.S[l.Surface.FrameStation(i+1)] - st.Centre.S[l.Surface.FrameStation(i)]
			s, f := partedArea(a.Pitch-a.WidthCut, b.Pitch-b.WidthCut, run)
			shave, fill = shave+s, fill+f
		}
	}
	return shave, fill
}

// partedArea divides the area under a straight line from a to b over a run into the
// parts above and below zero.
func partedArea(a, b, run float64) (above, below float64) {
	if a*b >= 0 {
		area := (a + b) / 2 * run
		return max(area, 0), max(-area, 0)
	}
	cut := a / (a - b)
	first, second := a*cut*run/2, b*(1-cut)*run/2
	return max(first, 0) + max(second, 0), max(-first, 0) + max(-second, 0)
}

// over is the area, mm² on one side, of the offcuts that are stubs by the plan's rules
// when the strakes of both sides are cut from strips, the longest first and each from
// the first strip that has room; longer offcuts serve a strake of several pieces. It is
// good enough to compare ways to line off; the cutting list proper, Planking.CutLayers,
// does better.
func (l *Layer) over(h *hull.Layer, c hull.Cutting) float64 {
	type piece struct{ length, width float64 }
	var pieces []piece
	for _, st := range l.Strakes {
		if st.To <= st.From {
			continue
		}
		length := st.Length + c.Overhang
		if whole := math.Floor(length / h.Stock.Length); whole > 0 {
			length -= whole * h.Stock.Length
		}
		pieces = append(pieces, piece{length, st.Strip}, piece{length, st.Strip})
	}
	slices.SortStableFunc(pieces, func(a, b piece) int { return cmp.Compare(b.length, a.length) })
	var left []piece
	for _, p := range pieces {
		i := slices.IndexFunc(left, func(s piece) bool { return s.width == p.width && s.length >= p.length })
		if i < 0 {
			left = append(left, piece{h.Stock.Length, p.width})
			i = len(left) - 1
		}
		left[i].length = max(left[i].length-p.length-c.Kerf, 0)
	}
	sum := 0.0
	for _, s := range left {
		if s.length < l.Rules.Stub*h.Stock.Length {
			sum += s.length * s.width
		}
	}
	return sum / 2
}

// liningFigures are the figures by which linings are compared: strakes, ends, forced
// edge-set (mm) and waste (mm²).
type liningFigures [4]float64

// unseen is the difference in each figure that no builder could notice: 0.001 mm forced
// is a strake 0.1 % over the limit for 1 mm.
var unseen = liningFigures{0, 0, 1e-3, 10}

func (l *Lining) figures() liningFigures {
	return liningFigures{float64(l.Strakes), float64(l.Ends()), l.Forced, l.Waste()}
}

// covers reports whether no figure exceeds the other's by more than the allowance.
func (f liningFigures) covers(g, may liningFigures) bool {
	for i := range f {
		if f[i] > g[i]+may[i] {
			return false
		}
	}
	return true
}

// liningScale scales figures from 0 at the least of a front to 1 at the median or, if
// that is more, at the least difference that counts: a strake, two ends, a twentieth of
// the forced edge-set or of the wood lost. The maximum would be a poor scale: it
// belongs to a way that sacrifices everything for one figure.
type liningScale struct{ least, middle liningFigures }

func scaleOf(front []*tried) liningScale {
	var s liningScale
	for i := range s.least {
		var all []float64
		for _, t := range front {
			all = append(all, t.figures()[i])
		}
		slices.Sort(all)
		s.least[i], s.middle[i] = all[0], all[len(all)/2]
	}
	for i, f := range (liningFigures{s.least[0] + 1, s.least[1] + 2, s.least[2] * 1.05, s.least[3] * 1.05}) {
		s.middle[i] = max(s.middle[i], f)
	}
	return s
}

// of gives the figures on the scale; one that is the same throughout the front is 0.
func (s liningScale) of(t *tried) liningFigures {
	f := t.figures()
	for i := range f {
		if f[i] -= s.least[i]; f[i] > 0 {
			f[i] /= max(s.middle[i]-s.least[i], unseen[i])
		}
	}
	return f
}

// uneven is how far the bands of a lining are from having equal numbers of strakes.
func (t *tried) uneven() int {
	return slices.Max(t.Counts) - slices.Min(t.Counts)
}

// recommended is the one that loses least; of those that lose hardly more, the one
// whose bands are most even.
func (s liningScale) recommended(front []*tried) *tried {
	const hardly = 0.1
	least := s.sum(slices.MinFunc(front, func(a, b *tried) int { return cmp.Compare(s.sum(a), s.sum(b)) }))
	near := slices.DeleteFunc(slices.Clone(front), func(t *tried) bool { return s.sum(t) > least+hardly })
	return slices.MinFunc(near, func(a, b *tried) int {
		return cmp.Or(cmp.Compare(a.uneven(), b.uneven()), cmp.Compare(s.sum(a), s.sum(b)))
	})
}

// sum is the total loss of a lining against the least of all.
func (s liningScale) sum(t *tried) float64 {
	sum := 0.0
	for _, f := range s.of(t) {
		sum += f
	}
	return sum
}

// offered thins the front and lays what remains of it again: the recommended way first,
// then one with the least of each figure, then repeatedly the one farthest from all those
// taken, until the number to offer is reached. Those after the first are sorted by their
// figures.
func (s *liningSearch) offered() ([]Lining, error) {
	scale := scaleOf(s.front)
	left := slices.Clone(s.front)
	slices.SortStableFunc(left, func(a, b *tried) int { return cmp.Compare(scale.sum(a), scale.sum(b)) })
	taken := []*tried{scale.recommended(left)}
	for i := range (liningFigures{}) {
		best := slices.MinFunc(left, func(a, b *tried) int {
			return cmp.Or(cmp.Compare(a.figures()[i], b.figures()[i]), cmp.Compare(scale.sum(a), scale.sum(b)))
		})
		if !slices.Contains(taken, best) {
			taken = append(taken, best)
		}
	}
	for len(taken) < min(mostLinings, len(left)) {
		taken = append(taken, farthestOf(left, taken, scale))
	}
	slices.SortStableFunc(taken[1:], func(a, b *tried) int {
		f, g := a.figures(), b.figures()
		return slices.Compare(f[:], g[:])
	})
	var out []Lining
	for _, t := range taken {
		var err error
		if t.Layer, err = newLayer(s.ctx, t.Plan, s.layer, s.base.Surface, s.known(t.Plan)); err != nil {
			return nil, err
		}
		beginOutward(t.Plan)
		out = append(out, t.Lining)
	}
	return out, nil
}

// farOff is the point on the scale beyond which a worse figure makes no difference.
const farOff = 3

// farthestOf is the one of a front that is farthest, on its scale, from the nearest
// already taken.
func farthestOf(front, taken []*tried, scale liningScale) *tried {
	var best *tried
	most := -1.0
	for _, t := range front {
		near := math.Inf(1)
		for _, o := range taken {
			d, f, g := 0.0, scale.of(t), scale.of(o)
			for i := range f {
				by := min(f[i], farOff) - min(g[i], farOff)
				d += by * by
			}
			near = min(near, d)
		}
		if near > most && !slices.Contains(taken, t) {
			best, most = t, near
		}
	}
	return best
}
