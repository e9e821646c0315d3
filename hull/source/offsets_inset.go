package source

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
)

// steepest is the greatest component along the keel that the planking's normal
// may have for its thickness to be taken off at a frame: there the plank lies
// only 18 degrees off square to the keel.
const steepest = 0.95

// insetFrames moves the frames in by t mm along the normal of the hull. A frame
// stays in its plane: a surface whose unit normal is n, moved by t, meets the
// plane x = const at a distance t/√(1 − nx²) along the frame's own normal, to
// within t² times the curvature along the hull. Anything that moves past the
// centre line is cut off there. The error names the frame of which nothing would
// be left, or at which the planking is too nearly square to the keel.
func insetFrames(frames []hull.Frame, t float64) ([]hull.Frame, error) {
	curves := make([]outlineRun, len(frames))
	for i, fr := range frames {
		curves[i] = newOutlineRun(fr.Points)
	}
	out := make([]hull.Frame, len(frames))
	for i, fr := range frames {
		moved := make([]mgl64.Vec3, len(fr.Points))
		for j, p := range fr.Points {
			above, below := tangents(fr, j)
			along := alongHull(frames, curves, i, curves[i].share(j))
			a, okA := insetAt(above, along, t)
			b, okB := insetAt(below, along, t)
			if !okA || !okB {
				return nil, tongue.Errorf("frame %s: the planking there is too square to the keel to take its thickness off", fault.Name(fr.Name))
			}
			moved[j] = p.Add(mitre(a, b))
		}
		cut, ok := aboveCentre(moved)
		if !ok {
			return nil, tongue.Errorf("frame %s: taking off %s mm leaves nothing of it", fault.Name(fr.Name), fault.Figure(t))
		}
		out[i] = fr
		out[i].Points = cut
		out[i].Knuckles = nil
		for _, k := range fr.Knuckles {
			if k < len(cut)-1 {
				out[i].Knuckles = append(out[i].Knuckles, k)
			}
		}
	}
	return out, nil
}

// tangents are the directions down the outline into and out of point j: those of
// the parabola through it and its neighbours over their chords, the same for
// both except at a knuckle.
func tangents(f hull.Frame, j int) (in, out mgl64.Vec3) {
	p, last := f.Points, len(f.Points)-1
	corner := func(k int) bool {
		if k <= 0 || k >= last {
			return true
		}
		return slices.Contains(f.Knuckles, k)
	}
	if !corner(j) {
		d := slope(p[j-1], p[j], p[j+1])
		return d, d
	}
	if j > 0 {
		if in = p[j].Sub(p[j-1]); !corner(j - 1) {
			in = endSlope(p[j], p[j-1], p[j-2]).Mul(-1)
		}
	}
	if j < last {
		if out = p[j+1].Sub(p[j]); !corner(j + 1) {
			out = endSlope(p[j], p[j+1], p[j+2])
		}
	}
	switch j {
	case 0:
		in = out
	case last:
		out = in
	}
	return in.Normalize(), out.Normalize()
}

// slope is the direction at b of the parabola through three points.
func slope(a, b, c mgl64.Vec3) mgl64.Vec3 {
	h, k := b.Sub(a).Len(), c.Sub(b).Len()
	return b.Sub(a).Mul(k / h).Add(c.Sub(b).Mul(h / k)).Normalize()
}

// endSlope is the direction at a of the parabola through three points.
func endSlope(a, b, c mgl64.Vec3) mgl64.Vec3 {
	h, k := b.Sub(a).Len(), c.Sub(b).Len()
	return b.Sub(a).Mul((2*h + k) / h / (h + k)).Sub(c.Sub(b).Mul(h / k / (h + k)))
}

// alongHull is the direction along the hull at a share of the girth of frame i:
// that of the parabola through it and the frames on either side, over x.
func alongHull(frames []hull.Frame, curves []outlineRun, i int, share float64) mgl64.Vec3 {
	at := func(k int) mgl64.Vec3 { return curves[k].at(share) }
	n := len(frames)
	var a, b, c mgl64.Vec3
	switch i {
	case 0:
		a, b, c = at(0), at(1), at(min(2, n-1))
		return endSlope(a, b, c)
	case n - 1:
		a, b, c = at(n-1), at(n-2), at(max(n-3, 0))
		return endSlope(a, b, c).Mul(-1)
	}
	return slope(at(i-1), at(i), at(i+1))
}

// insetAt is the displacement of a point in the frame's plane, given the
// directions down the frame and along the hull.
func insetAt(down, along mgl64.Vec3, t float64) (mgl64.Vec3, bool) {
	n := along.Cross(down)
	if n.Len() < 1e-9 {
		return mgl64.Vec3{}, false
	}
	n = n.Normalize()
	if math.Abs(n.X()) > steepest {
		return mgl64.Vec3{}, false
	}
	flat := mgl64.Vec3{0, n.Y(), n.Z()}.Normalize()
	return flat.Mul(-t / math.Sqrt(1-n.X()*n.X())), true
}

// mitre is where the two sides of a corner, moved by a and b, meet.
func mitre(a, b mgl64.Vec3) mgl64.Vec3 {
	// m·a = a², m·b = b², in the plane of both.
	g, h, k := a.Dot(a), a.Dot(b), b.Dot(b)
	if det := g*k - h*h; det > 1e-6*g*k {
		return a.Mul(k * (g - h) / det).Add(b.Mul(g * (k - h) / det))
	}
	return a.Add(b).Mul(0.5)
}

// aboveCentre keeps the points of an outline down to where it first crosses the
// centre line, and ends it there.
func aboveCentre(p []mgl64.Vec3) ([]mgl64.Vec3, bool) {
	for j := range p {
		if p[j].Y() >= 0 {
			continue
		}
		if j == 0 {
			return nil, false
		}
		a, b := p[j-1], p[j]
		cut := a.Add(b.Sub(a).Mul(a.Y() / (a.Y() - b.Y())))
		cut[1] = 0
		if cut.Sub(a).Len() < 0.1*b.Sub(a).Len() { // too close to keep beside it
			p[j-1] = cut
			return p[:j], j > 1
		}
		return append(p[:j:j], cut), true
	}
	return p, true
}

// outlineRun is an outline with the length of straight lines up to each point.
type outlineRun struct {
	p []mgl64.Vec3
	s []float64
}

func newOutlineRun(p []mgl64.Vec3) outlineRun {
	r := outlineRun{p, make([]float64, len(p))}
	for j := 1; j < len(p); j++ {
		r.s[j] = r.s[j-1] + p[j].Sub(p[j-1]).Len()
	}
	return r
}

// share is how far down the outline point j lies, from 0 to 1.
func (r outlineRun) share(j int) float64 { return r.s[j] / r.s[len(r.s)-1] }

// at is the point at a share of the way down the outline, on the parabola
// through the three points next to it.
func (r outlineRun) at(share float64) mgl64.Vec3 {
	n := len(r.p)
	s := share * r.s[n-1]
	k := 1
	for k < n-2 && r.s[k+1] < s {
		k++
	}
	a, b, c := r.s[k-1], r.s[k], r.s[k+1]
	return r.p[k-1].Mul((s - b) * (s - c) / (a - b) / (a - c)).
		Add(r.p[k].Mul((s - a) * (s - c) / (b - a) / (b - c))).
		Add(r.p[k+1].Mul((s - a) * (s - b) / (c - a) / (c - b)))
}
