package rod

import (
	"context"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Problem is a strip and what it is laid over.
type Problem struct {
	Section  Section
	Supports []Support      // in their order along the strip
	Between  [][]mgl64.Vec3 // points of the course on which it is first laid, for every bay; none, or none for a bay, for a cubic through the supports
	Bay      int            // segments of the discrete strip from one support to the next; 0 for the usual number
	Rough    bool           // it is not computed again twice as finely, and the error is not known

	far []float64 // mm of the course on which it is first laid, as chords, from the first support to every one
}

// usualBay is the number of segments in a bay where the caller does not say.
const usualBay = 6

// Rest is where the strip comes to rest.
type Rest struct {
	Points    []mgl64.Vec3 // mm, of its middle, from the first support to the last, the same number in every bay
	Normals   []mgl64.Vec3 // outward normal of its face at every point
	Face      []float64    // 1/mm, bend about its face at every point; negative where it is bent round what it lies on
	Edge      []float64    // 1/mm, bend in its own plane at every point; positive towards normal × course
	Bay       int          // points from one support to the next
	At        []Contact    // at every support
	Energy    float64      // N·mm, of bending and twisting
	Converged bool         // it is at rest to 1e-7 mm; else it was still moving, and is as it was then
	Steps     int          // of Newton's method
	Error     float64      // mm: the greatest difference at any point from a computation with half as many segments; NaN where that was not asked for
}

// Contact is the state of the strip at one support. Forces are those on the strip.
type Contact struct {
	P      mgl64.Vec3 // mm, where its middle crosses the support's plane
	Off    float64    // mm that it stands off the outline, along that plane; 0 where it touches, NaN where it does not reach
	Stray  float64    // mm along the outline from the place where it was first laid; NaN where it does not reach
	Out    mgl64.Vec3 // unit, square to the strip and to the outline, outwards: the direction of Force
	Across mgl64.Vec3 // unit, square to Out and the strip, with the outline: the direction of Side
	Force  float64    // N, square to outline and strip: positive where the support presses it outwards, negative where it has to be pressed on
	Side   float64    // N, along the outline and square to the strip: keeps it from slipping, positive with the outline; 0 where it is free to slip
}

// Reasons why a strip cannot be computed.
var (
	errFew   = tongue.New("a strip needs two supports: give it two")
	errLoose = tongue.New("a strip that is pinned or clamped at fewer than two supports swings: hold it at two")
)

// Solve finds the state of rest to which the strip falls when it is first laid on all
// of its supports and then released where it is not held. It is computed with the
// number of segments asked for and, unless Rough, with twice as many; the finer result
// is given. The error says what is wrong with the problem, or wraps that of the
// context.
//
// Beyond the outermost hold the strip is straight until it strikes a support there. It
// then has the length over which it was laid, and may not reach the outermost supports.
func Solve(ctx context.Context, p Problem) (*Rest, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	bay := p.Bay
	if bay == 0 {
		bay = usualBay
	}
	p.measure()
	sp := p.held()
	for {
		r, c := p.rig(sp, bay)
		c, err := r.pressed(ctx, c)
		if err != nil {
			return nil, err
		}
		c, steps, rests, err := r.settle(ctx, c)
		if err != nil {
			return nil, err
		}
		if rests {
			if wider := p.struck(sp, c); wider != sp {
				sp = wider
				continue
			}
		}
		rest := p.rest(sp, r, c)
		rest.Steps, rest.Converged, rest.Error = steps, rests, math.NaN()
		if p.Rough || !rests {
			return rest, nil
		}
		return p.refined(ctx, sp, r, c, rest)
	}
}

// pressed is the chain at rest when it is held at all of its supports, from which it is
// then released.
func (r *rig) pressed(ctx context.Context, c *chain) (*chain, error) {
	all := &rig{slices.Clone(r.supports), r.bay, r.bent}
	for i := range all.supports {
		all.supports[i].Hold, all.supports[i].Play = max(all.supports[i].Hold, Pinned), 0
	}
	c, _, _, err := all.settle(ctx, c)
	return c, err
}

// refined computes a state of rest again twice as finely.
func (p *Problem) refined(ctx context.Context, sp span, r *rig, c *chain, rough *Rest) (*Rest, error) {
	bent := r.bent
	r, c = r.finer(c)
	r.bend(bent, c)
	c, steps, rests, err := r.settle(ctx, c)
	if err != nil {
		return nil, err
	}
	rest := p.rest(sp, r, c)
	rest.Steps, rest.Converged = rough.Steps+steps, rests
	for i, q := range rough.Points[sp.first*rough.Bay : sp.last*rough.Bay+1] {
		rest.Error = max(rest.Error, q.Sub(rest.Points[sp.first*rest.Bay+2*i]).Len())
	}
	return rest, nil
}

// span is a run of supports, of which the strip may touch some.
type span struct{ first, last int }

// held is the span from the first hold to the last.
func (p *Problem) held() span {
	out := span{len(p.Supports), -1}
	for i, s := range p.Supports {
		if s.Hold != Free {
			out.first, out.last = min(out.first, i), max(out.last, i)
		}
	}
	return out
}

// rig lays the strip over a span.
func (p *Problem) rig(sp span, bay int) (*rig, *chain) {
	r := &rig{supports: p.Supports[sp.first : sp.last+1], bay: bay}
	c := r.laid(p.Between[min(sp.first, len(p.Between)):min(sp.last, len(p.Between))])
	r.bend(stiffness{flat: p.Section.flatwise(), edge: p.Section.edgewise(), twist: p.Section.twisting()}, c)
	return r, c
}

// bend gives a rig the stiffness of its strip, and from it that of its spacing and of
// its clamps: these give by a ten-thousandth of a segment's bend.
func (r *rig) bend(strip stiffness, c *chain) {
	h := c.length() / float64(len(c.x)-1)
	r.bent = stiffness{flat: strip.flat, edge: strip.edge, twist: strip.twist,
		spacing: strip.flat / (h * h * h), roll: 1e4 * max(strip.flat, strip.edge, strip.twist) / h}
}

// end is one end of the chain over a span, from which the strip continues straight.
type end struct {
	from, way mgl64.Vec3 // its last support, and the unit direction there, outwards
	support   int        // its index
	outwards  int        // from one support to the next
}

func (sp span) ends(c *chain) [2]end {
	last := len(c.x) - 1
	return [2]end{
		{c.x[1], c.x[0].Sub(c.x[1]).Normalize(), sp.first, -1},
		{c.x[last-1], c.x[last].Sub(c.x[last-1]).Normalize(), sp.last, 1},
	}
}

// struck is the span extended by the first support beyond each end that the strip would
// enter if it continued straight.
func (p *Problem) struck(sp span, c *chain) span {
	out := sp
	for _, e := range sp.ends(c) {
		for i := e.support + e.outwards; i >= 0 && i < len(p.Supports); i += e.outwards {
			at, ok := p.crossing(e, i)
			if !ok {
				break
			}
			if at.Off < -grazing {
				out.first, out.last = min(out.first, i), max(out.last, i)
				break
			}
		}
	}
	return out
}

// crossing is where a straight end crosses the plane of a support; ok is false where the strip is not long enough.
func (p *Problem) crossing(e end, i int) (at Contact, ok bool) {
	sup := &p.Supports[i]
	place := sup.Outline(sup.At)
	square := place.Tangent.Cross(place.Normal)
	far := place.P.Sub(e.from).Dot(square) / e.way.Dot(square)
	if !(far > 0 && far <= spare*p.laid(e.support, i)) {
		return Contact{}, false
	}
	at.P = e.from.Add(e.way.Mul(far))
	place, along, height := sup.Outline.nearest(at.P, sup.At)
	at.Off, at.Stray = height, along-sup.At
	if math.Abs(height) <= grazing {
		at.Off = 0
	}
	at.face(e.way.Mul(float64(e.outwards)), place)
	return at, true
}

// grazing is the distance, mm, at which a straight end may pass a support without
// pressing on it.
const grazing = 1e-6

// spare is the multiple of the length it was laid over that a straight end may have to
// reach a support: strips are cut somewhat longer.
const spare = 1.2

// measure measures the course on which the strip is first laid.
func (p *Problem) measure() {
	p.far = make([]float64, len(p.Supports))
	at := p.Supports[0].Outline(p.Supports[0].At).P
	for i := 1; i < len(p.Supports); i++ {
		p.far[i] = p.far[i-1]
		if i <= len(p.Between) {
			for _, q := range p.Between[i-1] {
				p.far[i] += q.Sub(at).Len()
				at = q
			}
		}
		next := p.Supports[i].Outline(p.Supports[i].At).P
		p.far[i] += next.Sub(at).Len()
		at = next
	}
}

// laid is the length of that course from one support to another.
func (p *Problem) laid(i, j int) float64 { return math.Abs(p.far[j] - p.far[i]) }

// check says what is wrong with a problem.
func (p *Problem) check() error {
	if err := p.Section.check(); err != nil {
		return err
	}
	if len(p.Supports) < 2 {
		return errFew
	}
	if p.Bay < 0 || p.Bay == 1 {
		return tongue.Errorf("%d segments in a bay are too few: give two or more", p.Bay)
	}
	holds := 0
	var last mgl64.Vec3
	for i, s := range p.Supports {
		at := s.Outline(s.At)
		if math.IsNaN(s.At) || !at.finite() {
			return tongue.Errorf("support %d has no place", i+1)
		}
		if !(s.Play >= 0) {
			return tongue.Errorf("the play of support %d is %g mm: give 0 or more", i+1, s.Play)
		}
		if i > 0 && !(at.P.Sub(last).Len() > 1e-6) {
			return tongue.Errorf("supports %d and %d are at one place: leave one of them out", i, i+1)
		}
		last = at.P
		if s.Hold >= Pinned {
			holds++
		}
	}
	if holds < 2 {
		return errLoose
	}
	return nil
}

// rest gives the results for a chain over a span, and its straight ends beyond.
func (p *Problem) rest(sp span, r *rig, c *chain) *Rest {
	out, before := &Rest{Bay: r.bay}, &Rest{Bay: r.bay}
	ends := sp.ends(c)
	p.goOn(ends[0], c.n[0], before)
	slices.Reverse(before.Points)
	slices.Reverse(before.At)
	out.Points, out.At = before.Points, before.At
	out.Normals, out.Face, out.Edge = before.Normals, before.Face, before.Edge // all alike
	r.read(c, out)
	p.goOn(ends[1], c.n[len(c.n)-1], out)
	return out
}

// goOn adds the straight end of a strip, with its normal, to the results, from its last
// support outwards.
func (p *Problem) goOn(e end, normal mgl64.Vec3, out *Rest) {
	for i := e.support + e.outwards; i >= 0 && i < len(p.Supports); i += e.outwards {
		before, after := p.laid(e.support, i-e.outwards), p.laid(e.support, i)
		for k := 1; k <= out.Bay; k++ {
			far := before + (after-before)*float64(k)/float64(out.Bay)
			out.put(e.from.Add(e.way.Mul(far)), normal, 0, 0)
		}
		at, ok := p.crossing(e, i)
		if !ok {
			at = Contact{P: e.from.Add(e.way.Mul(after)), Off: math.NaN(), Stray: math.NaN()}
			place := p.Supports[i].Outline(p.Supports[i].At)
			at.face(e.way.Mul(float64(e.outwards)), place)
		}
		out.At = append(out.At, at)
	}
}

// put adds a point after the last.
func (out *Rest) put(p, normal mgl64.Vec3, face, edge float64) {
	out.Points, out.Normals = append(out.Points, p), append(out.Normals, normal)
	out.Face, out.Edge = append(out.Face, face), append(out.Edge, edge)
}

// face sets the directions of the forces of a strip that runs along t.
func (at *Contact) face(t mgl64.Vec3, place Place) {
	at.Out = flatOn(t, place.Tangent, place.Normal)
	if at.Across = at.Out.Cross(t); at.Across.Dot(place.Tangent) < 0 {
		at.Across = at.Across.Mul(-1)
	}
}

// read gives the results for a chain from its first support to its last.
func (r *rig) read(c *chain, out *Rest) {
	pure := &rig{r.supports, r.bay, stiffness{flat: r.bent.flat, edge: r.bent.edge, twist: r.bent.twist}}
	pull := make([]mgl64.Vec3, len(c.x)) // the slope of the energy at every point
	face, edge := make([]float64, len(c.x)), make([]float64, len(c.x))
	var b bends
	var g [freedoms]float64
	for i := 1; i < len(c.x)-1; i++ {
		a, k := pure.element(c, i)
		a.read(&k, &b)
		b.slope(&g)
		g0, g1 := mgl64.Vec3{g[0], g[1], g[2]}, mgl64.Vec3{g[4], g[5], g[6]}
		pull[i-1], pull[i], pull[i+1] = pull[i-1].Sub(g0), pull[i].Add(g0).Sub(g1), pull[i+1].Add(g1)
		out.Energy += b.energy()
		per := 1 / math.Sqrt(b.width)
		face[i], edge[i] = b.of[0]*per/math.Sqrt(k.flat), -b.of[1]*per/math.Sqrt(k.edge)
	}
	for i := r.point(0); i <= r.point(len(r.supports)-1); i++ {
		t := c.x[i+1].Sub(c.x[i-1]).Normalize()
		n := c.n[i-1].Add(c.n[i])
		out.put(c.x[i], n.Sub(t.Mul(n.Dot(t))).Normalize(), face[i], edge[i])
	}
	for s := range r.supports {
		sup, i := &r.supports[s], r.point(s)
		at := Contact{P: c.x[i], Off: c.height[s], Stray: c.along[s] - sup.At}
		at.face(c.x[i+1].Sub(c.x[i-1]).Normalize(), sup.Outline(c.along[s]))
		if sup.Hold != Free || c.height[s] <= touching {
			at.Off, at.Force = 0, pull[i].Dot(at.Out)
		}
		low, high := sup.bounds()
		if c.along[s] <= low || c.along[s] >= high {
			at.Side = pull[i].Dot(at.Across)
		}
		out.At = append(out.At, at)
	}
}
