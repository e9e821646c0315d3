package loft

import (
	"fmt"
	"math"
	"sort"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/integrate/quad"

	"strakewright/hull"
)

// frameCurve is the smooth outline of a frame: a cubic spline over the chord
// length through its points, corners kept at the knuckles, with its girth.
type frameCurve struct {
	t     []float64    // chord length at every point
	p     []mgl64.Vec3 // the points
	m0    []mgl64.Vec3 // slope leaving point i
	m1    []mgl64.Vec3 // slope arriving at point i+1
	girth []float64    // arc length at every point
	turns []int        // indices of the knuckles
}

// leastChord is the distance, mm, within which two points are one.
const leastChord = 1e-6

// newFrameCurve fits the outline of a frame of two or more distinct points.
func newFrameCurve(f hull.Frame) (*frameCurve, error) {
	n := len(f.Points)
	if n < 2 {
		return nil, fmt.Errorf("frame %s has %d points: give it at least four", f.Name, n)
	}
	c := &frameCurve{t: make([]float64, n), p: f.Points, m0: make([]mgl64.Vec3, n-1), m1: make([]mgl64.Vec3, n-1), girth: make([]float64, n)}
	for i := 1; i < n; i++ {
		d := f.Points[i].Sub(f.Points[i-1]).Len()
		if !(d > leastChord) {
			return nil, fmt.Errorf("frame %s: points %d and %d fall together: take one out", f.Name, i, i+1)
		}
		c.t[i] = c.t[i-1] + d
	}
	for _, k := range f.Knuckles {
		if k > 0 && k < n-1 {
			c.turns = append(c.turns, k)
		}
	}
	sort.Ints(c.turns)
	from := 0
	for _, k := range append(append([]int{}, c.turns...), n-1) {
		c.fit(from, k)
		from = k
	}
	for i := 1; i < n; i++ {
		c.girth[i] = c.girth[i-1] + c.spanLength(i-1, c.t[i]-c.t[i-1])
	}
	return c, nil
}

// fit splines the points from..to, which have no corner between them.
func (c *frameCurve) fit(from, to int) {
	x := c.t[from : to+1]
	y := make([]float64, len(x))
	for axis := 0; axis < 3; axis++ {
		for i := range x {
			y[i] = c.p[from+i][axis]
		}
		for i, m := range notAKnotSlopes(x, y) {
			if i < len(x)-1 {
				c.m0[from+i][axis] = m
			}
			if i > 0 {
				c.m1[from+i-1][axis] = m
			}
		}
	}
}

// at gives the point and slope at chord length t past the start of span i.
func (c *frameCurve) at(i int, t float64) (p, d mgl64.Vec3) {
	h := c.t[i+1] - c.t[i]
	for a := 0; a < 3; a++ {
		p[a], d[a], _ = hermite(h, c.p[i][a], c.p[i+1][a], c.m0[i][a], c.m1[i][a], t)
	}
	return p, d
}

// gauss are the nodes and weights of seven Gauss points over [0, 1].
var gauss = gaussPoints()

func gaussPoints() (g struct{ x, w [7]float64 }) {
	quad.Legendre{}.FixedLocations(g.x[:], g.w[:], 0, 1)
	return g
}

// spanLength is the arc length of span i up to t past its start. Seven Gauss
// points leave less than 1e-9 of the span on any outline without a cusp.
func (c *frameCurve) spanLength(i int, t float64) float64 {
	h := c.t[i+1] - c.t[i]
	var d1, d2 mgl64.Vec3 // of the slope: m0 + d1·t + d2·t²
	for a := range 3 {
		c2, c3 := hermitePowers(h, c.p[i][a], c.p[i+1][a], c.m0[i][a], c.m1[i][a])
		d1[a], d2[a] = 2*c2, 3*c3
	}
	m, sum := &c.m0[i], 0.0
	for k, x := range gauss.x {
		at := x * t
		dx, dy, dz := m[0]+at*(d1[0]+at*d2[0]), m[1]+at*(d1[1]+at*d2[1]), m[2]+at*(d1[2]+at*d2[2])
		sum += gauss.w[k] * math.Sqrt(dx*dx+dy*dy+dz*dz)
	}
	return sum * t
}

// total is the girth of the whole frame, mm.
func (c *frameCurve) total() float64 { return c.girth[len(c.girth)-1] }

// atGirth gives the point at girth g, mm, clamped to the frame.
func (c *frameCurve) atGirth(g float64) mgl64.Vec3 {
	if g <= 0 {
		return c.p[0]
	}
	if g >= c.total() {
		return c.p[len(c.p)-1]
	}
	p, _ := c.at(c.place(g))
	return p
}

// within gives the part of a frame from down mm below its first to up mm above
// its last point. It is the same curve: a part of a cubic is a cubic.
func (c *frameCurve) within(down, up float64) (*frameCurve, error) {
	if down == 0 && up == 0 {
		return c, nil
	}
	from, to := down, c.total()-up
	if !(to-from >= leastLeft) {
		return nil, fmt.Errorf("limits set in by %.2f mm from above and %.2f mm from below leave nothing of its girth of %.2f mm: set them in by less", down, up, c.total())
	}
	i0, t0 := c.place(from)
	i1, t1 := c.place(to)
	if h := c.t[i0+1] - c.t[i0]; h-t0 <= leastChord && i0 < i1 {
		i0, t0 = i0+1, 0
	}
	if t1 <= leastChord && i1 > i0 {
		i1--
		t1 = c.t[i1+1] - c.t[i1]
	}
	out := &frameCurve{}
	add := func(p mgl64.Vec3, t, girth float64) {
		out.p, out.t, out.girth = append(out.p, p), append(out.t, t), append(out.girth, girth-from)
	}
	p, d := c.at(i0, t0)
	add(p, c.t[i0]+t0, from)
	for i := i0; i <= i1; i++ {
		out.m0 = append(out.m0, d)
		if i < i1 {
			out.m1 = append(out.m1, c.m1[i])
			add(c.p[i+1], c.t[i+1], c.girth[i+1])
			d = c.m0[i+1]
		}
	}
	p, d = c.at(i1, t1)
	out.m1 = append(out.m1, d)
	add(p, c.t[i1]+t1, to)
	for _, k := range c.turns {
		if k > i0 && k <= i1 {
			out.turns = append(out.turns, k-i0)
		}
	}
	return out, nil
}

// place is the span in which girth g lies, clamped to the frame, and how far in,
// mm of chord length.
func (c *frameCurve) place(g float64) (span int, t float64) {
	n := len(c.p)
	if g <= 0 {
		return 0, 0
	}
	if g >= c.total() {
		return n - 2, c.t[n-1] - c.t[n-2]
	}
	i := max(sort.SearchFloat64s(c.girth, g)-1, 0)
	h, want := c.t[i+1]-c.t[i], g-c.girth[i]
	t = h * want / (c.girth[i+1] - c.girth[i])
	for range 20 {
		_, d := c.at(i, t)
		step := (want - c.spanLength(i, t)) / max(d.Len(), 1e-9)
		t = min(max(t+step, 0), h)
		if step < 1e-10*h && step > -1e-10*h {
			break
		}
	}
	return i, t
}

// leastLeft is the girth, mm, that the limits must leave of a frame.
const leastLeft = 0.1
