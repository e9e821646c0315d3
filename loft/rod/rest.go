package rod

import (
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// Problem is a strip and what it is laid over.
type Problem struct {
	Section  Section
	Supports []Support      // in their order along the strip
	Between  [][]mgl64.Vec3 // points of the course on which it is first laid, of every bay; none, or none of a bay, for a cubic through the supports
	Bay      int            // segments of the discrete strip from one support to the next; 0 for the usual number
	Rough    bool           // it is not reckoned again twice as finely, and the error is not known
}

// usualBay is how many segments a bay has where the caller does not say.
const usualBay = 6

// Rest is where the strip comes to rest.
type Rest struct {
	Points    []mgl64.Vec3 // mm, of its middle, from the first support to the last, as many in every bay
	Normals   []mgl64.Vec3 // outward normal of its face at every point
	Face      []float64    // 1/mm, bend about its face at every point; negative where it is bent round what it lies on
	Edge      []float64    // 1/mm, bend in its own plane at every point; positive towards normal × course
	Bay       int          // points from one support to the next
	At        []Contact    // at every support
	Energy    float64      // N·mm, of bending and twisting
	Length    float64      // mm, from the first support to the last
	Converged bool         // it is at rest to 1e-7 mm; else it was still moving, and is as it was then
	Steps     int          // of Newton's rule
	Error     float64      // mm: how far any point moves when the strip is reckoned with half as many segments; NaN where that was not asked for
}

// Contact is what passes between the strip and one support. Forces are on the strip.
type Contact struct {
	P     mgl64.Vec3 // mm, where its middle crosses the support's plane
	Off   float64    // mm that it stands off the outline, along that plane; 0 where it touches
	Stray float64    // mm along the outline from the place where it was first laid
	Out   mgl64.Vec3 // unit, square to the strip and to the outline, outwards: the direction of Force
	Force float64    // N, square to outline and strip: positive where the support presses it outwards, negative where it has to be pressed on
	Side  float64    // N, along the outline and square to the strip: what keeps it from slipping, positive with the outline; 0 where it is free to slip
}

// What keeps a strip from being reckoned.
var (
	errFew   = errors.New("a strip over fewer than two supports cannot be reckoned: give it two")
	errLoose = errors.New("a strip that is pinned or clamped at fewer than two supports swings: hold it at two")
)

// Solve finds the rest to which the strip falls when it is first laid on all of its
// supports and then let go where it is not held. It is reckoned with the number of
// segments asked for and, unless Rough, with twice as many; the finer one is given.
// The error says what of the problem is wrong, or wraps that of the context.
func Solve(ctx context.Context, p Problem) (*Rest, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	bay := p.Bay
	if bay == 0 {
		bay = usualBay
	}
	rest, err := p.solve(ctx, bay)
	if err != nil || p.Rough {
		return rest, err
	}
	fine, err := p.solve(ctx, 2*bay)
	if err != nil {
		return nil, err
	}
	fine.Error = 0
	for i, q := range rest.Points {
		fine.Error = max(fine.Error, q.Sub(fine.Points[2*i]).Len())
	}
	return fine, nil
}

// check tells what of a problem is wrong.
func (p *Problem) check() error {
	if err := p.Section.check(); err != nil {
		return err
	}
	if len(p.Supports) < 2 {
		return errFew
	}
	if p.Bay < 0 || p.Bay == 1 {
		return fmt.Errorf("%d segments in a bay are too few: give two or more", p.Bay)
	}
	holds := 0
	var last mgl64.Vec3
	for i, s := range p.Supports {
		at := s.Outline(s.At)
		if math.IsNaN(s.At) || !at.finite() {
			return fmt.Errorf("support %d has no place", i+1)
		}
		if i > 0 && !(at.P.Sub(last).Len() > 1e-6) {
			return fmt.Errorf("supports %d and %d are at one place: leave one of them out", i, i+1)
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

// solve is Solve with so many segments a bay.
func (p *Problem) solve(ctx context.Context, bay int) (*Rest, error) {
	r := &rig{supports: p.Supports, bay: bay}
	c := r.laid(p.Between)
	h := c.length() / float64(len(c.x)-1)
	r.bent = stiffness{flat: p.Section.Flatwise(), edge: p.Section.Edgewise(), twist: p.Section.Twisting()}
	r.bent.spacing = r.bent.flat / (h * h * h)
	r.bent.roll = 1e4 * max(r.bent.flat, r.bent.edge, r.bent.twist) / h
	c, steps, rests, err := r.settle(ctx, c)
	if err != nil {
		return nil, err
	}
	return r.rest(c, steps, rests), nil
}

// rest reads a chain.
func (r *rig) rest(c *chain, steps int, rests bool) *Rest {
	out := &Rest{Bay: r.bay, Converged: rests, Steps: steps, Error: math.NaN()}
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
	first, last := r.point(0), r.point(len(r.supports)-1)
	for i := first; i <= last; i++ {
		t := c.x[i+1].Sub(c.x[i-1]).Normalize()
		n := c.n[i-1].Add(c.n[i])
		out.Points = append(out.Points, c.x[i])
		out.Normals = append(out.Normals, n.Sub(t.Mul(n.Dot(t))).Normalize())
		if i > first {
			out.Length += c.x[i].Sub(c.x[i-1]).Len()
		}
	}
	out.Face, out.Edge = face[first:last+1], edge[first:last+1]
	for s, sup := range r.supports {
		i := r.point(s)
		place := sup.Outline(c.along[s])
		t := c.x[i+1].Sub(c.x[i-1]).Normalize()
		at := Contact{P: c.x[i], Off: c.height[s], Stray: c.along[s] - sup.At, Out: flatOn(t, place.Tangent, place.Normal)}
		if sup.Hold != Free || c.height[s] == 0 {
			at.Force = pull[i].Dot(at.Out)
		}
		if sup.Hold >= Pinned {
			side := at.Out.Cross(t)
			if side.Dot(place.Tangent) < 0 {
				side = side.Mul(-1)
			}
			at.Side = pull[i].Dot(side)
		}
		out.At = append(out.At, at)
	}
	return out
}
