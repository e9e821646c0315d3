package rod

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/interp"
)

// chain is the strip as points and the segments between them. The first and the last
// segment represent its free ends, beyond the first and last support.
type chain struct {
	x      []mgl64.Vec3 // mm
	n      []mgl64.Vec3 // outward normal of the face, of every segment
	along  []float64    // mm along the outline, for every support
	height []float64    // mm over the outline, for every support
}

// clone is an independent copy.
func (c *chain) clone() *chain {
	return &chain{append([]mgl64.Vec3(nil), c.x...), append([]mgl64.Vec3(nil), c.n...), append([]float64(nil), c.along...), append([]float64(nil), c.height...)}
}

// rig is the stiffness of a chain and the supports that hold it.
type rig struct {
	supports []Support
	bay      int // segments from one support to the next
	bent     stiffness
}

// point is the index of the point at a support.
func (r *rig) point(support int) int { return 1 + support*r.bay }

// support is the index of the support at a point, or −1.
func (r *rig) support(point int) int {
	if k := point - 1; k >= 0 && k%r.bay == 0 && k/r.bay < len(r.supports) {
		return k / r.bay
	}
	return -1
}

// points is the number of points of a chain.
func (r *rig) points() int { return (len(r.supports)-1)*r.bay + 3 }

// laid is the chain that lies on all supports at their places. Between any two it takes
// the course given or, if there is none, that of a cubic through all.
func (r *rig) laid(between [][]mgl64.Vec3) *chain {
	c := &chain{x: make([]mgl64.Vec3, r.points()), n: make([]mgl64.Vec3, r.points()-1)}
	for k, s := range r.supports {
		c.x[r.point(k)] = s.Outline(s.At).P
		c.along, c.height = append(c.along, s.At), append(c.height, 0)
	}
	cubic := r.cubic(c)
	for k := range len(r.supports) - 1 {
		way := []mgl64.Vec3{c.x[r.point(k)]}
		if k < len(between) && len(between[k]) > 0 {
			way = append(way, between[k]...)
		} else {
			way = append(way, cubic[k]...)
		}
		r.lay(c, r.point(k), onwards(append(way, c.x[r.point(k+1)])))
	}
	last := len(c.x) - 1
	c.x[0], c.x[last] = c.x[1].Mul(2).Sub(c.x[2]), c.x[last-1].Mul(2).Sub(c.x[last-2])
	for j := range c.n {
		t := c.x[j+1].Sub(c.x[j]).Normalize()
		k := min(max(float64(j)-0.5, 0)/float64(r.bay), float64(len(r.supports)-1))
		a, b := r.supports[int(k)], r.supports[min(int(k)+1, len(r.supports)-1)]
		share := k - math.Floor(k)
		n := a.Outline(a.At).Normal.Mul(1 - share).Add(b.Outline(b.At).Normal.Mul(share))
		d := a.Outline(a.At).Tangent.Mul(1 - share).Add(b.Outline(b.At).Tangent.Mul(share))
		c.n[j] = flatOn(t, d, n)
	}
	return c
}

// onwards leaves out the points of a path that do not lie farther along its chord than
// those before, so that it never turns back.
func onwards(way []mgl64.Vec3) []mgl64.Vec3 {
	last := len(way) - 1
	chord := way[last].Sub(way[0])
	out, passed := way[:1:1], 0.0
	for _, p := range way[1:last] {
		if at := p.Sub(way[0]).Dot(chord) / chord.Dot(chord); at > passed && at < 1 {
			out, passed = append(out, p), at
		}
	}
	return append(out, way[last])
}

// cubic gives, for every bay, points of the natural cubic through the chain's
// supports, over the chords.
func (r *rig) cubic(c *chain) [][]mgl64.Vec3 {
	at := make([]float64, len(r.supports))
	var of [3][]float64
	for k := range at {
		p := c.x[r.point(k)]
		if k > 0 {
			at[k] = at[k-1] + p.Sub(c.x[r.point(k-1)]).Len()
		}
		for a := range of {
			of[a] = append(of[a], p[a])
		}
	}
	out := make([][]mgl64.Vec3, len(at)-1)
	for a := range of {
		var curve interp.NaturalCubic
		if err := curve.Fit(at, of[a]); err != nil {
			return make([][]mgl64.Vec3, len(at)-1) // straight
		}
		for k := range out {
			if out[k] == nil {
				out[k] = make([]mgl64.Vec3, 4*r.bay)
			}
			for i := range out[k] {
				share := float64(i+1) / float64(len(out[k])+1)
				out[k][i][a] = curve.Predict(at[k] + share*(at[k+1]-at[k]))
			}
		}
	}
	return out
}

// lay spaces the points of a bay evenly along a path.
func (r *rig) lay(c *chain, from int, way []mgl64.Vec3) {
	length := 0.0
	for i := 1; i < len(way); i++ {
		length += way[i].Sub(way[i-1]).Len()
	}
	i, passed := 1, 0.0
	for k := 1; k < r.bay; k++ {
		want := length * float64(k) / float64(r.bay)
		step := way[i].Sub(way[i-1]).Len()
		for i < len(way)-1 && passed+step < want {
			passed += step
			i++
			step = way[i].Sub(way[i-1]).Len()
		}
		share := 0.0
		if step > 0 {
			share = (want - passed) / step
		}
		c.x[from+k] = way[i-1].Add(way[i].Sub(way[i-1]).Mul(share))
	}
}

// flatOn is the normal of a face that runs along t and lies flat across d; it is
// square to t and on the side of n.
func flatOn(t, d, n mgl64.Vec3) mgl64.Vec3 {
	f := t.Cross(d)
	if l := f.Len(); l > 1e-6 {
		if f = f.Mul(1 / l); f.Dot(n) < 0 {
			return f.Mul(-1)
		}
		return f
	}
	return n.Sub(t.Mul(n.Dot(t))).Normalize()
}

// element is the strip about a point other than its ends, with its stiffness.
func (r *rig) element(c *chain, point int) (element, stiffness) {
	a := element{e0: c.x[point].Sub(c.x[point-1]), e1: c.x[point+1].Sub(c.x[point]), n0: c.n[point-1], n1: c.n[point]}
	k := r.bent
	s := r.support(point)
	if s < 0 || r.supports[s].Hold != Clamped {
		k.roll = 0
	} else {
		a.across = r.supports[s].Outline(r.supports[s].At).Tangent
	}
	switch s {
	case -1:
	case 0, len(r.supports) - 1:
		// The free end beyond has the turn of the support itself, half a segment from the
		// middle of the next.
		k.twist *= 2
		if s == 0 {
			a.before = 1
		}
	default:
		k.spacing, a.before = 0, 0.5 // the bays on either side are of any length
	}
	return a, k
}

// length is that of the chain with its free ends, mm.
func (c *chain) length() float64 {
	sum := 0.0
	for i := 1; i < len(c.x); i++ {
		sum += c.x[i].Sub(c.x[i-1]).Len()
	}
	return sum
}

// energy is the energy of the chain, N·mm; infinite where it is folded.
func (r *rig) energy(c *chain) float64 {
	sum := 0.0
	var b bends
	for i := 1; i < len(c.x)-1; i++ {
		a, k := r.element(c, i)
		if !a.read(&k, &b) {
			return math.Inf(1)
		}
		sum += b.energy()
	}
	if math.IsNaN(sum) {
		return math.Inf(1)
	}
	return sum
}

// moved is the chain after a fraction of a step. It has four degrees of freedom a
// point: the first three are its move (across and along the normal of the outline at a
// support) and the last the turn of the segment behind it. Points at supports where the
// strip rests stay on their outlines, none comes inside, and none slips beyond its
// play.
func (r *rig) moved(c *chain, axes []mgl64.Mat3, step []float64, share float64, resting []bool) *chain {
	m := c.clone()
	for i := range m.x {
		d := mgl64.Vec3{step[4*i], step[4*i+1], step[4*i+2]}
		if s := r.support(i); s >= 0 {
			d = axes[s].Mul3x1(d)
		}
		m.x[i] = c.x[i].Add(d.Mul(share))
	}
	for s := range r.supports {
		sup, i := &r.supports[s], r.point(s)
		if !sup.slips() {
			continue
		}
		at, along, height := sup.Outline.nearest(m.x[i], c.along[s])
		if low, high := sup.bounds(); along < low || along > high {
			along = min(max(along, low), high)
			at = sup.Outline(along)
		}
		m.along[s], m.height[s] = along, height
		if resting[s] || height < 0 {
			m.x[i], m.height[s] = at.P, 0
		}
	}
	for j := range m.n {
		was, is := c.x[j+1].Sub(c.x[j]), m.x[j+1].Sub(m.x[j])
		m.n[j] = turned(along(c.n[j], was, is), is.Normalize(), share*step[4*j+3])
	}
	return m
}

// finer is a chain of twice as many segments along the same course.
func (r *rig) finer(c *chain) (*rig, *chain) {
	f := &rig{supports: r.supports, bay: 2 * r.bay}
	last := len(c.x) - 1
	out := &chain{along: c.along, height: c.height, x: make([]mgl64.Vec3, f.points()), n: make([]mgl64.Vec3, f.points()-1)}
	end := len(out.x) - 1
	out.x[0], out.x[end] = c.x[0].Add(c.x[1]).Mul(0.5), c.x[last].Add(c.x[last-1]).Mul(0.5)
	out.n[0], out.n[end-1] = c.n[0], c.n[last-1]
	for j := 1; j < last; j++ {
		out.x[2*j-1] = c.x[j]
		if j == last-1 {
			break
		}
		// The cubic through the four points about the middle of a segment.
		out.x[2*j] = c.x[j].Add(c.x[j+1]).Mul(9. / 16).Sub(c.x[j-1].Add(c.x[j+2]).Mul(1. / 16))
		out.n[2*j-1] = c.n[j].Mul(3).Add(c.n[j-1])
		out.n[2*j] = c.n[j].Mul(3).Add(c.n[j+1])
	}
	for j := range out.n {
		t := out.x[j+1].Sub(out.x[j]).Normalize()
		out.n[j] = out.n[j].Sub(t.Mul(out.n[j].Dot(t))).Normalize()
	}
	return f, out
}
