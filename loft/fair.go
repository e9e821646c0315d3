package loft

import (
	"context"
	"errors"
	"math"
	"slices"

	"strakewright/hull"
)

// Bounds of what is taken for wrong, as multiples of what chance alone would
// give. A hull has a few hundred points and a few tens of frames: by the
// normal distribution noise alone crosses pointBound at one point in 1000, and
// the others so seldom that all together raise a false alarm on about every
// second hull of 370 points.
const (
	pointBound = 3.3
	runBound   = 4.5
	frameBound = 4.5
	// leastMisfit is the misfit, mm, under which nothing is called wrong,
	// however fair the rest: less than a sanding stroke or two. Common
	// practice, no source.
	leastMisfit = 0.3
	longestRun  = 5 // points of a frame that are tried together
	// ownTurn is how far, as a share of its third differences along the
	// length, the hull's own shape may pass for a shift of a whole frame, as a
	// standard deviation: it is what fair hulls show at their bluffest frames.
	ownTurn = 0.08
)

// Misfit is how one frame lies against the smooth run of the others.
type Misfit struct {
	Frame string
	// Off is the signed distance of every point from the smooth surface
	// through the other points, along the section's normal in its plane,
	// outwards positive, mm. Suspects have no part in that surface.
	Off []float64
	// Shift is how far the frame as a whole stands outwards from the smooth
	// surface through the other frames, mm, by least squares; single suspects
	// left out.
	Shift float64
	// RMS is the root mean square of Off, mm.
	RMS float64
	// Noise is the standard deviation of the errors of the points of the
	// whole hull, mm, the same for every frame: the misfit that is no news.
	Noise float64
	// Suspects are the points, rising, that misfit by more than chance would
	// give, on their own or with their neighbours.
	Suspects []int
	// Bumped is whether the frame as a whole is suspect: all its points are
	// among Suspects then.
	Bumped bool
}

// Worst is the index of the point that misfits most.
func (m Misfit) Worst() int {
	w := 0
	for j, v := range m.Off {
		if math.Abs(v) > math.Abs(m.Off[w]) {
			w = j
		}
	}
	return w
}

// Misfits tells how every frame lies against the smooth run of the others:
// five frames or more, by rising x, each of two or more distinct points. An
// end curve (stem, stern) bears on its neighbours, but is not judged itself:
// its distances are 0. The error names what cannot be read as a hull.
//
// A point alone is told from noise only where its error stands out from that:
// of errors of seven times the noise hardly one is missed; of errors of four
// times the noise no rule that raises under one false alarm a hull can find
// more than five in six, and this one finds half to three quarters. A run of
// points or a whole frame that is off together is told at less; but next to
// the ends of the hull, where nothing beyond tells a bump from the shape, a
// frame is judged by its own outline for the most part.
//
// It stops, with an error that wraps the context's, when the context ends.
func Misfits(ctx context.Context, frames []hull.Frame) ([]Misfit, error) {
	g, err := newFairGrid(ctx, frames)
	if err != nil {
		return nil, err
	}
	v, err := g.judge()
	if err != nil {
		return nil, err
	}
	out := make([]Misfit, len(frames))
	for i := range frames {
		out[i] = v.misfit(i)
	}
	return out, nil
}

// verdict is what was found wrong with the points of a grid.
type verdict struct {
	f      *fairSmooth
	noise  float64
	turns  turns
	bumped []bool // of every frame
}

// pattern is points of one frame that are tried together: from first to last.
type pattern struct {
	frame, first, last int // indices into the grid's points
	bound              float64
}

// judge finds what is wrong: the surface is settled on all points, the worst
// are taken out until none is left that chance does not account for; then the
// same again from the start, on a surface settled without them.
func (g *fairGrid) judge() (*verdict, error) {
	all := slices.Repeat([]bool{true}, len(g.at))
	f, t, err := g.suit([2]float64{1, 1}, all)
	if err != nil {
		return nil, err
	}
	v, err := g.weed(f, f.noise(), t)
	if err != nil || v.f == f {
		return v, err
	}
	clean, t, err := g.suit(v.f.stiff, v.f.trusted)
	if err != nil {
		return nil, err
	}
	full, err := g.smooth(clean.stiff, all)
	if errors.Is(err, errLoose) {
		return v, nil
	} else if err != nil {
		return nil, err
	}
	return g.weed(full, clean.noise(), t)
}

// suit settles the stiffness and lets it follow the shape, in turn.
func (g *fairGrid) suit(start [2]float64, trusted []bool) (*fairSmooth, turns, error) {
	gather(g.lengthwise, g.along, nil)
	gather(g.girthwise, g.down, nil)
	f, err := g.settle(start, trusted)
	if err != nil {
		return nil, turns{}, err
	}
	t := f.turns()
	for range 2 {
		gather(g.lengthwise, g.along, adapted(t.along))
		gather(g.girthwise, g.down, adapted(t.down))
		if f, err = g.settle(f.stiff, trusted); err != nil {
			return nil, turns{}, err
		}
		t = f.turns()
	}
	return f, t, halted(g.ctx, fairing)
}

// weed takes out the worst patterns until none is beyond its bound.
func (g *fairGrid) weed(f *fairSmooth, noise float64, t turns) (*verdict, error) {
	v := &verdict{f: f, noise: noise, turns: t, bumped: make([]bool, len(g.frames))}
	for range len(g.at) {
		found := v.worst()
		if len(found) == 0 {
			break
		}
		trusted := append([]bool{}, v.f.trusted...)
		for _, p := range found {
			for i := p.first; i <= p.last; i++ {
				trusted[i] = false
			}
			v.bumped[p.frame] = v.bumped[p.frame] || p.last-p.first+1 == g.first[p.frame+1]-g.first[p.frame]
		}
		next, err := g.smooth(v.f.stiff, trusted)
		if errors.Is(err, errLoose) {
			break
		} else if err != nil {
			return nil, err
		}
		v.f = next
	}
	return v, nil
}

// worst gives of every frame the pattern that is furthest beyond its bound,
// where no frame within three has a worse one.
func (v *verdict) worst() []pattern {
	g := v.f.g
	best := make([]pattern, len(g.frames))
	excess := make([]float64, len(g.frames))
	for i, f := range g.frames {
		if f.IsEnd() {
			continue
		}
		for _, p := range g.patterns(i) {
			if e := v.excess(p); e > excess[i] {
				best[i], excess[i] = p, e
			}
		}
	}
	var out []pattern
	for i, e := range excess {
		if e <= 1 {
			continue
		}
		top := true
		for k := max(i-3, 0); k <= min(i+3, len(excess)-1); k++ {
			top = top && (excess[k] < e || k == i || (excess[k] == e && k > i))
		}
		if top {
			out = append(out, best[i])
		}
	}
	return out
}

// patterns gives what is tried of a frame: each point, each run of points, and
// the whole.
func (g *fairGrid) patterns(frame int) []pattern {
	a, b := g.first[frame], g.first[frame+1]
	var out []pattern
	for i := a; i < b; i++ {
		out = append(out, pattern{frame, i, i, pointBound})
		for n := 3; n <= longestRun; n += 2 {
			if i+n < b {
				out = append(out, pattern{frame, i, i + n - 1, runBound})
			}
		}
	}
	return append(out, pattern{frame, a, b - 1, frameBound})
}

// excess is how far a pattern is beyond its bound, 1 being at it; 0 where it
// misfits by less than leastMisfit, or where points of it are taken out
// already.
func (v *verdict) excess(p pattern) float64 {
	if slices.Contains(v.f.trusted[p.first:p.last+1], false) {
		return 0
	}
	shift, sd := v.shift(p)
	if math.Abs(shift) < leastMisfit {
		return 0
	}
	return math.Abs(shift) / max(sd*p.bound, 1e-12)
}

// shift is the outward shift of the pattern's points together that accounts
// best for what they are off, by generalised least squares, and its standard
// deviation by chance, mm; points that are taken out have no part. With A the
// inverse of the normal equations, errors e leave (1−A)·e and have the
// precision (1−A)/noise²; so a shift a has aᵀ·off / aᵀ(1−A)a. What the hull's
// own shape may do there comes on top.
func (v *verdict) shift(p pattern) (mm, sd float64) {
	f := v.f
	sum, weight := 0.0, 0.0
	for i := p.first; i <= p.last; i++ {
		if !f.trusted[i] {
			continue
		}
		sum += f.off[i]
		for j := p.first; j <= i; j++ {
			if !f.trusted[j] {
				continue
			}
			a := -f.inverse.at(i, j) * f.g.normal[i].Dot(f.g.normal[j])
			if i == j {
				weight += a + 1
			} else {
				weight += 2 * a
			}
		}
	}
	weight = max(weight, 1e-9)
	whole := float64(f.g.first[p.frame+1] - f.g.first[p.frame])
	own := ownTurn * v.turns.at(p.frame) * math.Sqrt(float64(p.last-p.first+1)/whole)
	return sum / weight, math.Hypot(max(v.noise, fineness)/math.Sqrt(weight), own)
}

// misfit gathers what is told of a frame.
func (v *verdict) misfit(i int) Misfit {
	g := v.f.g
	m := Misfit{Frame: g.frames[i].Name, Noise: v.noise, Bumped: v.bumped[i], Off: make([]float64, len(g.frames[i].Points))}
	if g.frames[i].IsEnd() {
		return m
	}
	a, b := g.first[i], g.first[i+1]
	sum := 0.0
	for k := a; k < b; k++ {
		d := v.f.misfit(k)
		m.Off[k-a] = d
		m.RMS += d * d / float64(b-a)
		sum += v.f.off[k] / float64(b-a)
		if !v.f.trusted[k] {
			m.Suspects = append(m.Suspects, k-a)
		}
	}
	m.RMS = math.Sqrt(m.RMS)
	if m.Shift, _ = v.shift(pattern{i, a, b - 1, frameBound}); len(m.Suspects) == b-a {
		m.Shift = sum // the surface owes nothing to this frame
	}
	return m
}
