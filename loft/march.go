package loft

import (
	"context"
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/interp"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

// March is what strips of constant width come to that are laid edge to edge from
// one edge of a band towards the other. The edges of such strips are the parallel
// curves of the line that they set out from, at equal distances n along the
// geodesics square to it.
type March struct {
	Band   int  // from 1, down
	Line   int  // index in Layer.Lines of the line it sets out from; 0 is the upper limit
	Up     bool // the band lies above that line, and the strips go up
	Free   bool // the line is a free one
	Strips []MarchStrip
	Forced int // index of the first strip that is strained at its edges more than the plan's rule allows, -1 for none
	Folds  int // index of the first strip in whose way neighbouring geodesics meet, -1 for none: beyond, no strip of constant width lies flat
}

// MarchStrip is one of them.
type MarchStrip struct {
	Width  float64        // mm, of the strip
	Middle float64        // mm from the line to its middle
	At     []MarchAt      // one a frame
	Runs   [][]MarchPoint // its middle, by rising u; several where it leaves the band between
	Strain float64        // the greatest at its edges, a ratio
	Frame  int            // the nearest frame
}

// MarchAt is a strip's middle at a frame.
type MarchAt struct {
	Laid    bool           // false where it does not come to the frame within the band; all else is then zero
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
	mostRays     = 400 // geodesics that set out from a line; of a longer hull's stations not every one is taken
	jacobiStep   = 1.0 // mm: a fourth-order step of it is exact to about 1e-9 on a hull
	endSlack     = 1e-6
	leastOverrun = 0.05 // mm that a strip goes on past its neighbour's end before it is followed there
)

// March marches strips of a layer (from 0) out into every band: from each of its
// edges that is a free line or, where neither is, from that of the two with the
// lesser edge-set, the upper of equal ones, for planking runs outwards from the
// strip that lies freest. The strips are those of the band in their order, beyond
// them the layer's stock, each with the layer's creep. A strip goes on free past
// the end of the one before it. The error says that the hull has no shape, that
// there is no such layer, or wraps the context's.
func (k *Planking) March(ctx context.Context, layer int) ([]March, error) {
	l, err := k.Layer(layer)
	if err != nil {
		return nil, err
	}
	if l.Surface.shapeless {
		return nil, fmt.Errorf("what strips come to that are laid side by side cannot be told: %w", ErrShapeless)
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

// outwards tells in which directions a band (from 0) is marched: false down from
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

// isFree tells of a line, by its index in Layer.Lines, whether it is a free one.
func isFree(h *hull.Layer, line int) bool {
	return line > 0 && line <= len(h.Lines) && h.Lines[line-1].LineType == hull.Free
}

// marcher is a march under way.
type marcher struct {
	*March
	l     *Layer
	other *Line   // the band's other edge
	sign  float64 // 1 down, -1 up
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
	strakes := l.Bands[band].Strakes
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
		pitch := width + h.Creep
		if !m.lay(width, edge+pitch/2) {
			break
		}
		edge += pitch
		m.overrun(edge)
	}
	return out, nil
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

// facing is the surface at a place, of the panel that the march goes into.
func (m *marcher) facing(u, v float64) Jet {
	t := m.l.Surface.tracer()
	return m.l.Surface.at(t.panelFrom(v, m.sign), u, v)
}

// ray follows a geodesic square to a curve along a tangent, from n mm off the line
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

// within tells whether a place has not passed the band's other edge.
func (m *marcher) within(u, v float64) bool {
	s := m.l.Surface
	i := s.bay(u)
	k := min(max(i*stationsPerBay+int((u-s.u[i])/(s.u[i+1]-s.u[i])*stationsPerBay), 0), len(s.stations)-2)
	h := s.stations[k+1] - s.stations[k]
	c := m.other.course
	p := powers(h, c.v[k], c.v[k+1], c.v1[k], c.v1[k+1])
	x := min(max(u-s.stations[k], 0), h)
	return m.sign*(p[0]+x*(p[1]+x*(p[2]+x*p[3]))-v) > -1e-9
}

// lay adds the strip whose middle lies n mm off the line; false where none of it
// is within the band.
func (m *marcher) lay(width, n float64) bool {
	strip := MarchStrip{Width: width, Middle: n, At: make([]MarchAt, m.l.Surface.Frames())}
	var run []MarchPoint
	reached, beside := math.Inf(-1), false // the last u; whether the line itself lies square under it somewhere
	end := func() {
		if len(run) > 1 {
			strip.Runs = append(strip.Runs, run)
		}
		run = nil
	}
	for _, r := range m.rays {
		p, ok := r.at(n)
		if r.folded && m.Folds < 0 {
			m.Folds = len(m.Strips)
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
	m.read(&strip)
	if strip.Strain > m.l.Rules.EdgeStrain && m.Forced < 0 {
		m.Forced = len(m.Strips)
	}
	m.Strips = append(m.Strips, strip)
	return true
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
				strip.Strain, strip.Frame = p.Strain, s.frameNear(p.U)
			}
		}
		var v, bend interp.FritschButland
		if v.Fit(us, vs) != nil || bend.Fit(us, bends) != nil {
			continue
		}
		for f := s.first; f <= s.last; f++ {
			if u := s.u[f]; u >= us[0]-m.slack && u <= us[len(us)-1]+m.slack {
				e := bend.Predict(u)
				strip.At[f] = MarchAt{Laid: true, Down: s.down(s.FrameStation(f), v.Predict(u)), EdgeSet: hull.Curvature(e), Strain: math.Abs(e) * strip.Width / 2}
			}
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

// overrun follows the strip just laid past the end of the one before it, at both
// ends of the hull: nothing holds it there, so that its outer edge, n mm off the
// line, goes on as a geodesic, from which the march goes on too.
func (m *marcher) overrun(n float64) {
	m.rays = append(m.pastEnd(n, -1), m.rays...)
	m.rays = append(m.rays, m.pastEnd(n, 1)...)
}

// pastEnd gives the geodesics that set out from the edge where it goes on towards
// the hull's first end (way -1) or its last (way 1), by rising u.
func (m *marcher) pastEnd(n, way float64) []*ray {
	s := m.l.Surface
	i, step := 0, 1
	if way > 0 {
		i, step = len(m.rays)-1, -1
	}
	for ; i >= 0 && i < len(m.rays); i += step {
		if _, ok := m.rays[i].at(n); ok {
			break
		}
		if m.rays[i].end != endOfHull || m.rays[i].folded {
			return nil // the strip ends in the band's other edge, or where none can lie
		}
	}
	if i < 0 || i >= len(m.rays) {
		return nil
	}
	p, _ := m.rays[i].at(n)
	if !m.within(p.u, p.v) {
		return nil
	}
	j := s.At(p.u, p.v)
	ahead := j.Pu.Mul(p.du).Add(j.Pv.Mul(p.dv)).Cross(j.Normal()).Mul(m.sign) // towards rising x
	t := s.tracer()
	t.first, t.last = s.u[s.first], s.u[s.last]
	if (way < 0 && p.u <= t.first+m.slack) || (way > 0 && p.u >= t.last-m.slack) {
		return nil
	}
	t.enough = func(a sample) bool { return !m.within(a.u, a.v) || a.du*way <= 0 }
	du, dv := j.components(ahead.Normalize().Mul(way))
	samples, end := t.trace(p.u, p.v, du, dv)
	last := samples[len(samples)-1]
	if end != endOfHull || last.s < leastOverrun {
		return nil
	}
	at := s.At(last.u, last.v)
	along := at.Pu.Mul(way * last.du).Add(at.Pv.Mul(way * last.dv))
	return []*ray{m.ray(n, last.u, last.v, along, 0)}
}
