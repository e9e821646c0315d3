package fair

import (
	"context"
	"errors"
	"math"
	"slices"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

// Bounds above which a point is taken to be wrong, as multiples of what chance alone
// would give. The bound for single points follows from their number, so that by the
// normal distribution noise alone crosses it at alarmBudget points of a hull; the
// others are crossed so seldom that they add next to nothing to that.
const (
	alarmBudget = 0.6
	runBound    = 4.1
	frameBound  = 4.2
	// leastMisfit is the misfit, mm, below which nothing is called wrong, however fair the
	// rest: less than a sanding stroke or two. Common practice, no source.
	leastMisfit = 0.3
	longestRun  = 5 // points of a frame that are tried together
	// surely is the share of the prediction error with points joined by girth below which
	// another way of joining them counts as better: noise alone makes that much of a
	// difference.
	surely = 0.8
	// ownTurn is the share of a frame's third differences along the length up to which the
	// hull's own shape may pass for a shift of the whole frame, as a standard deviation:
	// the figure that fair hulls show at their bluffest frames.
	ownTurn = 0.08
	// endTurn is the same for the frames next to the ends. A third difference of d at the
	// last four frames alone looks like a shift of the last frame but one by (3d-d)/(3²+1²)
	// = 0.2·d, which cancels in the middle of a hull; and noise makes the surface settle so
	// stiff that it shows two thirds of d.
	endTurn = 0.3
)

// Misfit is how one frame lies relative to the smooth run of the others.
type Misfit struct {
	Frame string
	// Off is the signed distance of every point from the smooth surface through the other
	// points, along the section's normal in its plane, outwards positive, mm. Suspects are
	// left out of that surface.
	Off []float64
	// Shift is how far the frame as a whole stands outwards from the smooth
	// surface through the other frames, mm, by least squares; single suspects
	// left out.
	Shift float64
	// RMS is the root mean square of Off, mm.
	RMS float64
	// Noise is the standard deviation of the errors of the points of the whole hull, mm,
	// the same for every frame: a misfit of that size is to be expected.
	Noise float64
	// Suspects are the points, in rising order, that misfit by more than chance would give,
	// on their own or with their neighbours.
	Suspects []int
	// Bumped is whether the frame as a whole is suspect: if so, all its points are among
	// Suspects.
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

// Misfits reports how every frame lies relative to the smooth run of the others, for
// five frames or more, by rising x, each of two or more distinct points. An end curve
// (stem, stern) affects its neighbours, but is not judged itself: its distances are 0.
// The error names what cannot be read as a hull.
//
// A single point can be distinguished from noise only if its error stands out. Hardly
// one error of seven times the noise is missed; but of errors of four times the noise,
// σ, no rule that raises less than one false alarm a hull can find more than the share
// Φ(4·√(1-h) - t), t being where 2·(1-Φ(t)) is one in the number of points, and h the
// leverage: the influence of a point on the smooth surface at itself. At 370 points
// that is five in six if the hull were known (h = 0), and from 0.65 (a bluff hull, h =
// 0.3) to 0.8 (a fine one, h = 0.1) where it is known only by its points; this rule
// comes within a tenth of that. A run of points or a whole frame that is off together
// is detected at smaller errors; but next to the ends of the hull, where nothing beyond
// distinguishes a bump from the shape, a frame is judged mainly by its own outline.
//
// It stops when the context ends, with an error that wraps the context's.
func Misfits(ctx context.Context, frames []hull.Frame) ([]Misfit, error) {
	g, err := newGrid(ctx, frames)
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
	f      *smoothed
	noise  float64
	turns  turns
	bumped []bool // for every frame
}

// pattern is points of one frame that are tried together: from first to last.
type pattern struct {
	frame, first, last int // indices into the grid's points
	bound              float64
}

// judge finds what is wrong, each time on a surface settled without what was found so
// far: first whole frames, on the surface that predicts frames best; then all patterns,
// on the one that predicts points best, where a bumped frame left in would make it
// settle loose enough to follow it; then the same again, using the scatter of the
// points that are left.
func (g *grid) judge() (*verdict, error) {
	all := slices.Repeat([]bool{true}, len(g.at))
	start, err := g.choose(all, surely)
	if err != nil {
		return nil, err
	}
	f, t, err := g.suit(start, all, (*smoothed).frameSurprise)
	if err != nil {
		return nil, err
	}
	v, err := g.weed(f, f.noise(), t, g.wholes)
	if err != nil {
		return nil, err
	}
	if f, t, err = g.suit(f.stiff, v.f.trusted, (*smoothed).surprise); err != nil {
		return nil, err
	}
	if v, err = g.weedAll(f, f.noise(), t); err != nil {
		return nil, err
	}
	if !slices.Equal(v.f.trusted, f.trusted) {
		if f, t, err = g.suit(f.stiff, v.f.trusted, (*smoothed).surprise); err != nil {
			return nil, err
		}
	}
	return g.weedAll(f, f.spread(), t)
}

// suit alternately settles the stiffness, along the length by that criterion, and lets
// it follow the shape.
func (g *grid) suit(start [2]float64, trusted []bool, criterion func(*smoothed) float64) (*smoothed, turns, error) {
	if g.thin != nil {
		return g.thin.suit(g, start, trusted, criterion)
	}
	var f *smoothed
	var t, by, next turns
	least, settled := math.Inf(1), false
	for range 3 {
		g.weigh(next)
		fit := g.settle
		if settled { // only the shape that it follows is new
			fit = func(stiff [2]float64, trusted []bool, _ func(*smoothed) float64) (*smoothed, error) {
				return g.smooth(stiff, trusted)
			}
		}
		trial, err := fit(start, trusted, criterion)
		if err != nil {
			return nil, turns{}, err
		}
		was := next
		settled = f != nil && trial.stiff == start
		start, next = trial.stiff, trial.turns()
		// Among surfaces judged by known errors the best is chosen; how well points predict one
		// another depends less on chance, the looser a surface is.
		if s := criterion(trial); s < least || g.rounding == 0 {
			f, t, by, least = trial, next, was, s
		}
	}
	g.weigh(by)
	return f, t, halt.Asked(g.ctx, fairing)
}

// weigh lets the surface turn as the hull is known to.
func (g *grid) weigh(t turns) {
	gather(g.lengthwise, g.along, adapted(t.along))
	gather(g.girthwise, g.down, adapted(t.down))
}

// weedAll weeds all patterns on a surface through all points, of the given stiffness.
func (g *grid) weedAll(clean *smoothed, noise float64, t turns) (*verdict, error) {
	full := clean
	if slices.Contains(clean.trusted, false) {
		var err error
		if full, err = g.smooth(clean.stiff, slices.Repeat([]bool{true}, len(g.at))); err != nil {
			return nil, err
		}
	}
	return g.weed(full, noise, t, g.patterns)
}

// weed takes out the worst of the patterns tried until none exceeds its bound.
func (g *grid) weed(f *smoothed, noise float64, t turns, tried func(int) []pattern) (*verdict, error) {
	v := &verdict{f: f, noise: max(noise, g.stepped), turns: t, bumped: make([]bool, len(g.frames))}
	for range len(g.at) {
		found := v.worst(tried)
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
	err := v.readmit()
	return v, err
}

// readmit trusts again those points, taken out with their neighbours, that misfit by
// less than leastMisfit: a run is tried as one, and a wrong point may have carried it
// alone.
func (v *verdict) readmit() error {
	g := v.f.g
	trusted := append([]bool{}, v.f.trusted...)
	for i := range g.frames {
		for k := g.first[i]; k < g.first[i+1] && !v.bumped[i]; k++ {
			trusted[k] = trusted[k] || math.Abs(v.f.off[k]) < leastMisfit
		}
	}
	if slices.Equal(trusted, v.f.trusted) {
		return nil
	}
	f, err := g.smooth(v.f.stiff, trusted)
	if err == nil {
		v.f = f
	} else if !errors.Is(err, errLoose) {
		return err
	}
	return nil
}

// worst gives for every frame the pattern that most exceeds its bound, where no frame
// within three has a worse one.
func (v *verdict) worst(tried func(int) []pattern) []pattern {
	g := v.f.g
	best := make([]pattern, len(g.frames))
	excess := make([]float64, len(g.frames))
	for i, f := range g.frames {
		if f.IsEnd() {
			continue
		}
		for _, p := range tried(i) {
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

// patterns gives the patterns tried of a frame: each point, each run of points and the
// whole; of the first and the last frame, which have nothing beyond them, each point
// except the first and the last.
func (g *grid) patterns(frame int) []pattern {
	a, b := g.first[frame], g.first[frame+1]
	var out []pattern
	if frame == 0 || frame == len(g.frames)-1 {
		for i := a + 1; i < b-1; i++ {
			out = append(out, pattern{frame, i, i, g.pointBound})
		}
		return out
	}
	for i := a; i < b; i++ {
		out = append(out, pattern{frame, i, i, g.pointBound})
		for n := 3; n <= longestRun; n += 2 {
			if i+n < b {
				out = append(out, pattern{frame, i, i + n - 1, runBound})
			}
		}
	}
	return append(out, g.wholes(frame)...)
}

// wholes gives the frame as a whole, where three or more lie to either side: nearer to
// the ends nothing distinguishes a bump from the sharpness of an end.
func (g *grid) wholes(frame int) []pattern {
	if frame < 3 || frame >= len(g.frames)-3 {
		return nil
	}
	return []pattern{{frame, g.first[frame], g.first[frame+1] - 1, frameBound}}
}

// excess is how far a pattern exceeds its bound, 1 being at it; 0 where it misfits by
// less than leastMisfit, or where points of it are already taken out. The misfit around
// it counts like chance.
func (v *verdict) excess(p pattern) float64 {
	if slices.Contains(v.f.trusted[p.first:p.last+1], false) {
		return 0
	}
	shift, sd := v.shift(p)
	if math.Abs(shift) < leastMisfit {
		return 0
	}
	if e := math.Abs(shift) / max(sd*p.bound, 1e-12); e <= 1 {
		return e
	}
	return math.Abs(shift) / (math.Hypot(sd, v.around(p, shift)) * p.bound)
}

// shift is the outward shift of the pattern's points together that accounts best for
// what they are off, by generalised least squares, and its standard deviation by
// chance, mm; points that are taken out do not count. With A the inverse of the normal
// equations, errors e leave (1−A)·e and have the precision (1−A)/noise²; so a shift a
// has aᵀ·off / aᵀ(1−A)a. The effect of the hull's own shape there is added. Points read
// to fineness at best are each off by that much, however well the surface follows them,
// so a bumped frame on a fair hull, where the surface settles loose enough to follow
// it, still stands out.
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
	own := 0.0
	switch {
	case p.whole(f.g):
		own = ownTurn * v.turns.at(p.frame)
	case p.first < p.last && (p.frame == 1 || p.frame == len(f.g.frames)-2):
		own = endTurn * v.turns.at(p.frame)
	}
	chance := max(v.noise/math.Sqrt(weight), readTo/math.Sqrt(float64(p.last-p.first+1)))
	return sum / weight, math.Hypot(chance, own)
}

// misfit gathers the results for a frame.
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
		m.Shift = sum // the surface does not depend on this frame
	}
	return m
}
