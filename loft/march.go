package loft

import (
	"context"
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/interp"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

// March is the result of laying strips of constant width edge to edge from one edge of
// a band towards the other. The edges of such strips are the parallel curves of the
// line they start from, at equal distances n along the geodesics square to it.
type March struct {
	Band   int  // from 1, down
	Line   int  // index in Layer.Lines of the line it starts from; 0 is the upper limit
	Up     bool // the band lies above that line, and the strips go up
	Free   bool // the line is a free one
	Strips []MarchStrip
	Forced int // index of the first strip whose edge strain exceeds the plan's limit, −1 for none
	// Folds is the index of the first strip across which neighbouring geodesics meet, −1
	// for none, and FoldsAt the frame nearest to the point where they do: no strip of
	// constant width can lie there.
	Folds, FoldsAt int
}

// MarchStrip is one strip of a march.
type MarchStrip struct {
	Width  float64        // mm, of the strip
	Middle float64        // mm from the line to its middle
	At     []MarchAt      // one a frame
	Runs   [][]MarchPoint // its middle, by rising u; several runs where it leaves the band in between
	Strain float64        // the greatest edge strain, a ratio
	Frame  int            // the nearest frame
	Gapes  bool           // left to itself there, it would open from the strip before it towards its ends; else run onto it
}

// MarchAt is a strip's middle at a frame.
type MarchAt struct {
	Laid    bool           // false where it does not reach the frame within the band; all else is then zero
	Down    float64        // mm of girth below the upper limit
	EdgeSet hull.Curvature // geodesic curvature; positive bends downwards
	Strain  float64        // at the strip's edges, |κ|·w/2: a ratio
}

// MarchPoint is a point of a strip's middle.
type MarchPoint struct {
	P       mgl64.Vec3 // mm
	U, V    float64
	EdgeSet hull.Curvature // positive bends downwards
	Strain  float64        // a ratio
}

const (
	marching     = "the march from strip to strip"
	mostRays     = 400 // geodesics started from a line; a longer hull has more stations, and not every one is used
	jacobiStep   = 1.0 // mm: a fourth-order step of this length is exact to about 1e-9 on a hull
	endSlack     = 1e-6
	leastOverrun = 0.05 // mm that a strip goes on past its neighbour's end before it is followed there
)

// March lays strips of a layer (from 0) outwards into every band: from each of its
// edges that is a free line or, if neither is, from the one with less edge-set (the
// upper if equal), since planking runs outwards from the strip that lies freest. The
// strips are those of the band in their order, and after them the layer's stock, each
// of the width it covers at the hull's greatest frame, with the layer's creep and
// bevels. Past the end of the strip before it, a strip goes on free. The error says
// that the hull has no known shape, that there is no such layer, or wraps the
// context's.
func (k *Planking) March(ctx context.Context, layer int) ([]March, error) {
	l, err := k.Layer(layer)
	if err != nil {
		return nil, err
	}
	if l.Surface.shapeless {
		return nil, tongue.Errorf("strips cannot be marched out: %w", ErrShapeless)
	}
	h := &k.Plan.Layers[layer]
	var out []March
	for b := range l.Bands {
		for _, up := range l.outwards(h, b) {
			m, err := l.march(ctx, h, b, up)
			if err != nil {
				return nil, err
			}
			out = append(out, m)
		}
	}
	return out, nil
}

// outwards gives the directions in which a band (from 0) is marched: false down from
// its upper edge, true up from its lower one.
func (l *Layer) outwards(h *hull.Layer, band int) []bool {
	top, bottom := isFree(h, band), isFree(h, band+1)
	switch {
	case top && bottom:
		return []bool{false, true}
	case top || bottom:
		return []bool{bottom}
	}
	from, to := l.Surface.plankedStations()
	hardest := func(b *BandLine) (most hull.Curvature) {
		for _, e := range b.EdgeSet[from : to+1] {
			most = max(most, e, -e)
		}
		return most
	}
	return []bool{hardest(l.Lines[band+1]) < hardest(l.Lines[band])}
}

// isFree reports whether a line, by its index in Layer.Lines, is free.
func isFree(h *hull.Layer, line int) bool {
	return line > 0 && line <= len(h.Lines) && h.Lines[line-1].LineType == hull.Free
}

// marcher is a march under way.
type marcher struct {
	*March
	l     *Layer
	other *Line   // the band's other edge
	sign  float64 // 1 down, −1 up
	slack float64 // of u at the hull's ends
	rays  []*ray  // by rising u
}

// march marches into a band (from 0) of the plan's layer h.
func (l *Layer) march(ctx context.Context, h *hull.Layer, band int, up bool) (March, error) {
	s := l.Surface
	out := March{Band: band + 1, Line: band, Up: up, Forced: -1, Folds: -1}
	m := marcher{March: &out, l: l, other: l.Lines[band+1].Line, sign: 1, slack: endSlack * s.u[len(s.u)-1]}
	if up {
		out.Line, m.other, m.sign = band+1, l.Lines[band].Line, -1
	}
	out.Free = isFree(h, out.Line)
	if err := m.setOut(ctx, l.Lines[out.Line].Line); err != nil {
		return out, err
	}
	strakes, lost := l.Bands[band].Strakes, l.lostToBevels(h, band)
	edge := 0.0
	for n := range int(hull.StrakeCount.High) {
		if err := halt.Asked(ctx, marching); err != nil {
			return out, err
		}
		k := n
		if up {
			k = strakes - 1 - n
		}
		width := h.Stock.Width
		if k >= 0 {
			width = h.Bands[band].Strip(k, h.Stock)
		}
		pitch := (width + h.Creep) / (1 + lost)
		if !m.lay(width, edge+pitch/2) {
			break
		}
		edge += pitch
		m.overrun(edge)
	}
	return out, nil
}

// lostToBevels is the share of a band's girth at the hull's greatest frame by which
// strips with bevelled edges fall short: the excess of their outer faces over their
// inner ones, as allowed for when strakes are counted.
func (l *Layer) lostToBevels(h *hull.Layer, band int) float64 {
	mid := l.Surface.FrameStation(l.Greatest())
	top, bottom := l.Lines[band].Line, l.Lines[band+1].Line
	girth := bottom.Down[mid] - top.Down[mid]
	if h.Edges != hull.Bevelled || !(girth > 0) {
		return 0
	}
	return max(l.Surface.turning(mid, top.V[mid], bottom.V[mid]), 0) * h.Stock.Thickness / girth
}

// setOut starts a geodesic square to the line at every station, or at most
// mostRays of them.
func (m *marcher) setOut(ctx context.Context, line *Line) error {
	s := m.l.Surface
	from, to := s.plankedStations()
	every := (to-from)/mostRays + 1
	for k := from; k <= to; k += every {
		if err := halt.Asked(ctx, marching); err != nil {
			return err
		}
		u, c := s.stations[k], line.course
		j := m.facing(u, c.v[k])
		set := j.strainsAlong(c.v1[k], c.v2[k])
		m.rays = append(m.rays, m.ray(0, u, c.v[k], set.tangent, m.sign*float64(set.edge)))
	}
	return nil
}

// facing is the surface at a place, on the panel that the march enters.
func (m *marcher) facing(u, v float64) Jet {
	t := m.l.Surface.tracer()
	return m.l.Surface.at(t.panelFrom(v, m.sign), u, v)
}

// ray follows a geodesic square to a curve, given its tangent, from n mm off the line
// until it leaves the band.
func (m *marcher) ray(n, u, v float64, along mgl64.Vec3, bend float64) *ray {
	s := m.l.Surface
	t := s.tracer()
	t.first, t.last = s.u[s.first]-m.slack, s.u[s.last]+m.slack
	t.enough = func(a sample) bool { return !m.within(a.u, a.v) }
	j := m.facing(u, v)
	across := j.Normal().Cross(along).Normalize().Mul(m.sign)
	du, dv := j.components(across)
	samples, end := t.trace(u, v, du, dv)
	return &ray{s: s, samples: samples, end: end, from: n, n: n, j: 1, slope: -bend}
}

// within reports whether a place lies between the edges of the band: a geodesic leaves
// it across the other edge, or across the curved line that it started from.
func (m *marcher) within(u, v float64) bool {
	const rounding = 1e-9
	from, to := m.l.Lines[m.Line].course, m.other.course
	return m.sign*(m.l.Surface.courseAt(to, u)-v) > -rounding && m.sign*(v-m.l.Surface.courseAt(from, u)) > -rounding
}

// courseAt is the v of a course at any u: the Hermite cubic between two stations.
func (s *Surface) courseAt(c course, u float64) float64 {
	i := s.bay(u)
	k := min(max(i*stationsPerBay+int((u-s.u[i])/(s.u[i+1]-s.u[i])*stationsPerBay), 0), len(s.stations)-2)
	h := s.stations[k+1] - s.stations[k]
	p := powers(h, c.v[k], c.v[k+1], c.v1[k], c.v1[k+1])
	x := min(max(u-s.stations[k], 0), h)
	return p[0] + x*(p[1]+x*(p[2]+x*p[3]))
}

// lay adds the strip whose middle lies n mm off the line; false where none of it
// is within the band.
func (m *marcher) lay(width, n float64) bool {
	strip := MarchStrip{Width: width, Middle: n, At: make([]MarchAt, m.l.Surface.Frames())}
	var run []MarchPoint
	reached, beside := math.Inf(-1), false // the last u; whether the line itself lies square below it somewhere
	end := func() {
		if len(run) > 1 {
			strip.Runs = append(strip.Runs, run)
		}
		run = nil
	}
	for _, r := range m.rays {
		p, ok := r.at(n)
		if r.folded && m.Folds < 0 {
			m.Folds, m.FoldsAt = len(m.Strips), m.l.Surface.frameNear(r.samples[r.i].u)
		}
		if !ok || !m.within(p.u, p.v) {
			end()
			continue
		}
		if p.u <= reached {
			continue // geodesics from two places that have crossed
		}
		reached, beside = p.u, beside || r.from == 0
		bend := r.bend()
		jet := m.l.Surface.At(p.u, p.v)
		run = append(run, MarchPoint{P: jet.P, U: p.u, V: p.v, EdgeSet: hull.Curvature(m.sign * bend), Strain: math.Abs(bend) * width / 2})
	}
	end()
	if len(strip.Runs) == 0 || !beside {
		return false
	}
	m.toEnds(&strip)
	m.read(&strip)
	if strip.Strain > m.l.Rules.EdgeStrain && m.Forced < 0 {
		m.Forced = len(m.Strips)
	}
	m.Strips = append(m.Strips, strip)
	return true
}

// toEnds continues a strip to the ends of the hull with its last known bend: that
// covers at most one station, or the part where it goes on past its neighbour.
func (m *marcher) toEnds(strip *MarchStrip) {
	on := func(e hullEnd, from MarchPoint) MarchPoint {
		j := m.l.Surface.At(e.u, e.v)
		from.P, from.U, from.V = j.P, e.u, e.v
		return from
	}
	first, last := &strip.Runs[0], &strip.Runs[len(strip.Runs)-1]
	if e, ok := m.runOn(strip.Middle, -1); ok && e.u < (*first)[0].U {
		*first = append([]MarchPoint{on(e, (*first)[0])}, *first...)
	}
	if e, ok := m.runOn(strip.Middle, 1); ok && e.u > (*last)[len(*last)-1].U {
		*last = append(*last, on(e, (*last)[len(*last)-1]))
	}
}

// read fills in a strip at the frames, by the monotone cubic of Fritsch and Butland
// between its points, and its greatest strain.
func (m *marcher) read(strip *MarchStrip) {
	s := m.l.Surface
	for _, run := range strip.Runs {
		var us, vs, bends []float64
		for _, p := range run {
			us, vs, bends = append(us, p.U), append(vs, p.V), append(bends, float64(p.EdgeSet))
			if p.Strain > strip.Strain {
				strip.Strain, strip.Frame, strip.Gapes = p.Strain, s.frameNear(p.U), m.sign*float64(p.EdgeSet) < 0
			}
		}
		var v, bend interp.FritschButland
		if v.Fit(us, vs) != nil || bend.Fit(us, bends) != nil {
			continue
		}
		for f := s.first; f <= s.last; f++ {
			u := s.u[f]
			if u < us[0]-m.slack || u > us[len(us)-1]+m.slack || !m.within(u, v.Predict(u)) {
				continue
			}
			e := bend.Predict(u)
			strip.At[f] = MarchAt{Laid: true, Down: s.down(s.FrameStation(f), v.Predict(u)), EdgeSet: hull.Curvature(e), Strain: math.Abs(e) * strip.Width / 2}
		}
	}
}

// frameNear is the planked frame nearest to u.
func (s *Surface) frameNear(u float64) int {
	i := s.bay(u)
	if u-s.u[i] > s.u[i+1]-u {
		i++
	}
	return min(max(i, s.first), s.last)
}

// overrun follows the strip just laid past the end of the one before it, at both ends
// of the hull. Nothing holds it there, so its outer edge, n mm off the line, continues
// as a geodesic, and the march goes on from that as well.
func (m *marcher) overrun(n float64) {
	if e, ok := m.runOn(n, -1); ok && e.off > leastOverrun {
		m.rays = append([]*ray{m.ray(n, e.u, e.v, e.along, 0)}, m.rays...)
	}
	if e, ok := m.runOn(n, 1); ok && e.off > leastOverrun {
		m.rays = append(m.rays, m.ray(n, e.u, e.v, e.along, 0))
	}
}

// hullEnd is where a strip reaches the end of the hull, and its tangent there towards
// rising x.
type hullEnd struct {
	u, v  float64
	off   float64 // mm from the outermost geodesic
	along mgl64.Vec3
}

// runOn continues the curve n mm off the line straight on, from the outermost ray that
// reaches that far to the hull's first end (way −1) or its last (way 1). ok is false
// where that ray starts at the end itself, and where the curve ends in the band's other
// edge.
func (m *marcher) runOn(n, way float64) (e hullEnd, ok bool) {
	p, ok := m.outermost(n, way)
	if !ok || !m.within(p.u, p.v) {
		return e, false
	}
	s := m.l.Surface
	t := s.tracer()
	t.first, t.last = s.u[s.first], s.u[s.last]
	if (way < 0 && p.u <= t.first+m.slack) || (way > 0 && p.u >= t.last-m.slack) {
		return e, false
	}
	j := s.At(p.u, p.v)
	ahead := j.Pu.Mul(p.du).Add(j.Pv.Mul(p.dv)).Cross(j.Normal()).Mul(m.sign) // towards rising x
	t.enough = func(a sample) bool { return !m.within(a.u, a.v) || a.du*way <= 0 }
	du, dv := j.components(ahead.Normalize().Mul(way))
	samples, end := t.trace(p.u, p.v, du, dv)
	last := samples[len(samples)-1]
	if end != endOfHull || !m.within(last.u, last.v) {
		return e, false
	}
	at := s.At(last.u, last.v)
	return hullEnd{last.u, last.v, last.s, at.Pu.Mul(way * last.du).Add(at.Pv.Mul(way * last.dv))}, true
}

// outermost is the place of the first geodesic from one end of the hull that reaches n
// mm; ok is false where there is none, or where one nearer to the end has ended in the
// band's other edge or met its neighbour.
func (m *marcher) outermost(n, way float64) (p sample, ok bool) {
	for i := range m.rays {
		r := m.rays[i]
		if way > 0 {
			r = m.rays[len(m.rays)-1-i]
		}
		if p, ok := r.at(n); ok {
			return p, true
		}
		if r.end != endOfHull || r.folded {
			return p, false
		}
	}
	return p, false
}

// Over lists the frames at which the strip's edge strain exceeds a limit, or the frame
// nearest to where it does; none where it does not.
func (m *MarchStrip) Over(strain float64) []int {
	var out []int
	for f, at := range m.At {
		if at.Strain > strain {
			out = append(out, f)
		}
	}
	if len(out) == 0 && m.Strain > strain {
		out = append(out, m.Frame)
	}
	return out
}
