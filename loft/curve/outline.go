package curve

import (
	"math"
	"sort"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/integrate/quad"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// Outline is the smooth outline of a frame: a cubic spline over the chord
// length through its points, corners kept at the knuckles, with its girth.
type Outline struct {
	t     []float64    // chord length at every point
	p     []mgl64.Vec3 // the points
	m0    []mgl64.Vec3 // slope leaving point i
	m1    []mgl64.Vec3 // slope arriving at point i+1
	Girth []float64    // arc length at every point
	Turns []int        // indices of the knuckles
}

// LeastChord is the distance, mm, below which two points count as one.
const LeastChord = 1e-6

// Outlines fits the outlines of frames, as NewOutline does that of one.
func Outlines(frames []hull.Frame) ([]*Outline, error) {
	out := make([]*Outline, len(frames))
	for i, f := range frames {
		o, err := NewOutline(f)
		if err != nil {
			return nil, err
		}
		out[i] = o
	}
	return out, nil
}

// NewOutline fits the outline of a frame of two or more distinct points.
func NewOutline(f hull.Frame) (*Outline, error) {
	n := len(f.Points)
	if n < 2 {
		return nil, tongue.Errorf("frame %s has %d points: give it at least three", f.Name, n)
	}
	c := &Outline{t: make([]float64, n), p: f.Points, m0: make([]mgl64.Vec3, n-1), m1: make([]mgl64.Vec3, n-1), Girth: make([]float64, n)}
	for i := 1; i < n; i++ {
		d := f.Points[i].Sub(f.Points[i-1]).Len()
		if !(d > LeastChord) {
			return nil, tongue.Errorf("frame %s: points %d and %d are in one place: remove one", f.Name, i, i+1)
		}
		c.t[i] = c.t[i-1] + d
	}
	for _, k := range f.Knuckles {
		if k > 0 && k < n-1 {
			c.Turns = append(c.Turns, k)
		}
	}
	sort.Ints(c.Turns)
	from := 0
	for _, k := range append(append([]int{}, c.Turns...), n-1) {
		c.fit(from, k)
		from = k
	}
	for i := 1; i < n; i++ {
		c.Girth[i] = c.Girth[i-1] + c.spanLength(i-1, c.t[i]-c.t[i-1])
	}
	return c, nil
}

// fit fits a spline to the points from..to, which have no corner between them.
func (c *Outline) fit(from, to int) {
	x := c.t[from : to+1]
	y := make([]float64, len(x))
	for axis := range 3 {
		for i := range x {
			y[i] = c.p[from+i][axis]
		}
		for i, m := range Slopes(x, y) {
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
func (c *Outline) at(i int, t float64) (p, d mgl64.Vec3) {
	h := c.t[i+1] - c.t[i]
	for a := range 3 {
		p[a], d[a], _ = Hermite(h, c.p[i][a], c.p[i+1][a], c.m0[i][a], c.m1[i][a], t)
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
func (c *Outline) spanLength(i int, t float64) float64 {
	h := c.t[i+1] - c.t[i]
	var d1, d2 mgl64.Vec3 // of the slope: m0 + d1·t + d2·t²
	for a := range 3 {
		c2, c3 := HermitePowers(h, c.p[i][a], c.p[i+1][a], c.m0[i][a], c.m1[i][a])
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

// Total is the girth of the whole frame, mm.
func (c *Outline) Total() float64 { return c.Girth[len(c.Girth)-1] }

// AtGirth gives the point at girth g, mm, clamped to the frame.
func (c *Outline) AtGirth(g float64) mgl64.Vec3 {
	if g <= 0 {
		return c.p[0]
	}
	if g >= c.Total() {
		return c.p[len(c.p)-1]
	}
	p, _ := c.at(c.place(g))
	return p
}

// Within gives the part of a frame from down mm below its first to up mm above its last
// point. It is the same curve: a part of a cubic is a cubic.
func (c *Outline) Within(down, up float64) (*Outline, error) {
	if down == 0 && up == 0 {
		return c, nil
	}
	from, to := down, c.Total()-up
	if !(to-from >= LeastLeft) {
		return nil, tongue.Errorf("limits set in by %.2f mm from above and %.2f mm from below leave nothing of its girth of %.2f mm: set them in by less", down, up, c.Total())
	}
	i0, t0 := c.place(from)
	i1, t1 := c.place(to)
	if h := c.t[i0+1] - c.t[i0]; h-t0 <= LeastChord && i0 < i1 {
		i0, t0 = i0+1, 0
	}
	if t1 <= LeastChord && i1 > i0 {
		i1--
		t1 = c.t[i1+1] - c.t[i1]
	}
	out := &Outline{}
	add := func(p mgl64.Vec3, t, girth float64) {
		out.p, out.t, out.Girth = append(out.p, p), append(out.t, t), append(out.Girth, girth-from)
	}
	p, d := c.at(i0, t0)
	add(p, c.t[i0]+t0, from)
	for i := i0; i <= i1; i++ {
		out.m0 = append(out.m0, d)
		if i < i1 {
			out.m1 = append(out.m1, c.m1[i])
			add(c.p[i+1], c.t[i+1], c.Girth[i+1])
			d = c.m0[i+1]
		}
	}
	p, d = c.at(i1, t1)
	out.m1 = append(out.m1, d)
	add(p, c.t[i1]+t1, to)
	for _, k := range c.Turns {
		if k > i0 && k <= i1 {
			out.Turns = append(out.Turns, k-i0)
		}
	}
	return out, nil
}

// place is the span in which girth g lies, clamped to the frame, and the distance into
// it, mm of chord length.
func (c *Outline) place(g float64) (span int, t float64) {
	n := len(c.p)
	if g <= 0 {
		return 0, 0
	}
	if g >= c.Total() {
		return n - 2, c.t[n-1] - c.t[n-2]
	}
	i := max(sort.SearchFloat64s(c.Girth, g)-1, 0)
	h, want := c.t[i+1]-c.t[i], g-c.Girth[i]
	t = h * want / (c.Girth[i+1] - c.Girth[i])
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

// LeastLeft is the girth, mm, that the limits must leave of a frame.
const LeastLeft = 0.1
