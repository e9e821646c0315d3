package fair

import "math"

// around measures how far points next to a pattern, mm, lie off in the same sense from
// the surface through all points except these and the pattern. A slip stands alone;
// where the surface cannot follow the hull, points along it or down the girth are off
// as well. It is the greater of the figures along and down, each the geometric mean of
// the two sides, so that a slip next to another hides neither; 0 for what may be noise.
func (v *verdict) around(p pattern, shift float64) float64 {
	along, down := v.alongside(p)
	if p.whole(v.f.g) {
		return wholeAround * meanOf(along, 0)
	}
	level := max(meanOf(along, shift), meanOf(down, shift))
	if level < aroundNoise*v.noise {
		return 0
	}
	return level
}

const (
	// wholeAround is the share of the misfit of the frames beside one, with it also left
	// out, that the frame may show by itself: it has only one bay to bridge on either side.
	wholeAround = 0.5
	// aroundNoise is the multiple of the noise below which the figure counts as zero.
	aroundNoise = 3
)

// alongside gives how far off the points next to a pattern are, mm, in the frames
// beside its own, and in its own; for a whole frame, in the frames beside it.
func (v *verdict) alongside(p pattern) (along, down []float64) {
	g := v.f.g
	for _, i := range []int{p.frame - 1, p.frame + 1} {
		if i < 0 || i >= len(g.frames) || g.frames[i].IsEnd() {
			continue
		}
		first, last := g.first[i], g.first[i+1]-1
		if !p.whole(g) {
			first = g.beside((p.first+p.last)/2, p.frame, i)
			last = first
		}
		along = v.offWithout(p, along, first, last)
	}
	if p.first > g.first[p.frame] {
		down = v.offWithout(p, down, p.first-1, p.first-1)
	}
	if p.last < g.first[p.frame+1]-1 {
		down = v.offWithout(p, down, p.last+1, p.last+1)
	}
	return along, down
}

// offWithout adds the mean distance outwards, mm, of the trusted points from first to
// last from the surface through all except these and the pattern, where there are any.
func (v *verdict) offWithout(p pattern, off []float64, first, last int) []float64 {
	at := v.f.trustedIn(first, last)
	e, ok := v.f.leftOut(append(at, v.f.trustedIn(p.first, p.last)...))
	if len(at) == 0 || !ok {
		return off
	}
	mean := 0.0
	for k := range at {
		mean += e[k] / float64(len(at))
	}
	return append(off, mean)
}

// meanOf is the geometric mean of distances, 0 if any, or if none, has the sign of
// sense.
func meanOf(off []float64, sense float64) float64 {
	logs := 0.0
	for _, d := range off {
		if d*sense < 0 || d == 0 {
			return 0
		}
		logs += math.Log(math.Abs(d))
	}
	if len(off) == 0 {
		return 0
	}
	return math.Exp(logs / float64(len(off)))
}

// whole reports whether a pattern is all of a frame.
func (p pattern) whole(g *grid) bool {
	return p.first == g.first[p.frame] && p.last == g.first[p.frame+1]-1
}

// beside is the point of another frame that is nearest to one's share of the girth.
func (g *grid) beside(k, frame, other int) int {
	if g.joined != byGirth {
		return k - g.first[frame] + g.first[other]
	}
	panel, w := g.outlines[frame].share(g.outlines[frame].curve.Girth[k-g.first[frame]])
	o := &g.outlines[other]
	girth := o.lines[panel] + w*(o.lines[panel+1]-o.lines[panel])
	best := 0
	for j, s := range o.curve.Girth {
		if math.Abs(s-girth) < math.Abs(o.curve.Girth[best]-girth) {
			best = j
		}
	}
	return g.first[other] + best
}

// trustedIn gives the trusted points from first to last.
func (f *smoothed) trustedIn(first, last int) []int {
	var at []int
	for k := first; k <= last; k++ {
		if f.trusted[k] {
			at = append(at, k)
		}
	}
	return at
}

// leftOut is how far trusted points lie outwards, mm, from the surface through all
// others: with A their part of the inverse, (1-A)⁻¹·off. False for no points, or where
// they alone determine the surface.
func (f *smoothed) leftOut(at []int) ([]float64, bool) {
	off := make([]float64, len(at))
	for a, i := range at {
		off[a] = f.off[i]
	}
	l, ok := f.unled(at, func(i, j int) float64 { return f.g.normal[i].Dot(f.g.normal[j]) })
	if !ok {
		return nil, false
	}
	return l.solve(off), true
}
