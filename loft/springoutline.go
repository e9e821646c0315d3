package loft

import (
	"math"
	"sort"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/loft/curve"
	"github.com/strakewright/strakewright/loft/rod"
)

// outlinePlaces is the number of points, over the whole girth of a frame, through which
// a sprung strip's outline is drawn there.
const outlinePlaces = 96

// midOutline is where a strip's middle lies at a frame when its face touches it: a
// curve in the frame's plane, or, at an end curve, in the plane square to the strip.
type midOutline struct {
	origin, a, b mgl64.Vec3   // a point of the plane and its unit axes: down the frame, outwards
	at           []float64    // mm along it, of every point
	p            [2][]float64 // the points in these axes
	m            [2][]float64 // their slopes
}

// midOutline gives the outline at a frame for a strip t mm thick that crosses it near
// v. A knuckle is rounded over the points on either side of it.
func (s *Surface) midOutline(frame int, v, t float64) *midOutline {
	u := s.u[frame]
	j := s.At(u, v)
	n := j.Normal()
	o := &midOutline{origin: s.moved(u, v, t/2), a: j.Pv.Normalize(), b: n}
	plane := s.planes[frame]
	if plane != nil {
		square := mgl64.Vec3{1, -math.Tan(float64(plane.Cant)), -math.Tan(float64(plane.Rake))}.Normalize()
		o.a = o.a.Sub(square.Mul(o.a.Dot(square))).Normalize()
		if o.b = square.Cross(o.a); o.b.Dot(n) < 0 {
			o.b = o.b.Mul(-1)
		}
	}
	place := func(v float64) mgl64.Vec3 {
		if plane != nil {
			if p, ok := s.movedToPlane(frame, v, t/2, plane); ok {
				return p
			}
		}
		return s.moved(u, v, t/2)
	}
	var breaks []int
	for k := range s.panels {
		count := max(int(outlinePlaces*(s.breaks[k+1]-s.breaks[k])), 4)
		for i := range count {
			if i == 0 {
				breaks = append(breaks, len(o.at))
			}
			o.add(place(s.breaks[k] + (s.breaks[k+1]-s.breaks[k])*float64(i)/float64(count)))
		}
	}
	breaks = append(breaks, len(o.at))
	o.add(place(1))
	o.slopes(breaks)
	return o
}

// add adds a point if it lies farther along; else it is left out.
func (o *midOutline) add(p mgl64.Vec3) {
	d := p.Sub(o.origin)
	x, y, along := d.Dot(o.a), d.Dot(o.b), 0.0
	if n := len(o.at); n > 0 {
		step := math.Hypot(x-o.p[0][n-1], y-o.p[1][n-1])
		if !(step > curve.LeastChord) {
			return
		}
		along = o.at[n-1] + step
	}
	o.at = append(o.at, along)
	o.p[0], o.p[1] = append(o.p[0], x), append(o.p[1], y)
}

// slopes fits a cubic between successive breaks; at a break the two slopes are
// averaged.
func (o *midOutline) slopes(breaks []int) {
	last := len(o.at) - 1
	for axis := range o.p {
		o.m[axis] = make([]float64, len(o.at))
		for k := 1; k < len(breaks); k++ {
			from, to := min(breaks[k-1], last), min(breaks[k], last)
			if from >= to {
				continue
			}
			for i, m := range curve.Slopes(o.at[from:to+1], o.p[axis][from:to+1]) {
				if i == 0 && from > 0 {
					m = (m + o.m[axis][from]) / 2
				}
				o.m[axis][from+i] = m
			}
		}
	}
}

// place gives the point at a distance along the outline, straight beyond its ends.
func (o *midOutline) place(along float64) rod.Place {
	last := len(o.at) - 1
	s := min(max(along, 0), o.at[last])
	i := min(max(sort.SearchFloat64s(o.at, s)-1, 0), last-1)
	var f, f1, f2 [2]float64
	for axis := range f {
		f[axis], f1[axis], f2[axis] = curve.Hermite(o.at[i+1]-o.at[i], o.p[axis][i], o.p[axis][i+1], o.m[axis][i], o.m[axis][i+1], s-o.at[i])
	}
	speed := math.Hypot(f1[0], f1[1])
	x, y := f1[0]/speed, f1[1]/speed
	// Outwards is on the side of b where the outline runs along a.
	p := rod.Place{
		P:       o.origin.Add(o.a.Mul(f[0] + (along-s)*x)).Add(o.b.Mul(f[1] + (along-s)*y)),
		Tangent: o.a.Mul(x).Add(o.b.Mul(y)),
		Normal:  o.b.Mul(x).Sub(o.a.Mul(y)),
	}
	if along == s {
		p.Bend = -(f1[0]*f2[1] - f1[1]*f2[0]) / (speed * speed * speed)
	}
	return p
}

// alongTo is the distance along the outline of the point nearest to a point of its
// plane.
func (o *midOutline) alongTo(p mgl64.Vec3) float64 {
	best, least := 0.0, math.Inf(1)
	for i, s := range o.at {
		q := o.origin.Add(o.a.Mul(o.p[0][i])).Add(o.b.Mul(o.p[1][i]))
		if d := q.Sub(p).Len(); d < least {
			best, least = s, d
		}
	}
	for range 20 {
		at := o.place(best)
		best += p.Sub(at.P).Dot(at.Tangent)
	}
	return best
}
