package loft

import (
	"fmt"
	"math"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// offset gives the surface that the next layer lies on: this one moved out by
// t mm along its normal, and lofted again through its sections at the frames.
// At a knuckle the two sides are carried on to where they meet. The error
// names the frame and girth where a hollow is tighter than t, so that the
// surface would fold.
func (s *Surface) offset(t float64) (*Surface, error) {
	if err := s.tooHollow(t); err != nil {
		return nil, err
	}
	frames := make([]hull.Frame, s.Frames())
	for i := range frames {
		f, err := s.offsetFrame(i, t)
		if err != nil {
			return nil, err
		}
		frames[i] = f
	}
	out, err := Loft(frames)
	if err != nil {
		return nil, err
	}
	out.first, out.last, out.planes = s.first, s.last, s.planes
	return out, nil
}

// tooHollow finds a frame at which moving out by t folds the surface: where
// the radius of its tightest hollow is under t.
func (s *Surface) tooHollow(t float64) error {
	for i := range s.u {
		k := s.FrameStation(i)
		for n := range s.panels {
			for _, v := range s.panels[n].v {
				j := s.at(n, s.u[i], v)
				if c := j.hollowest(); c*t >= 1 {
					return fmt.Errorf("frame %s is hollow to a radius of %.2f mm at %.1f mm below the upper limit, too tight for planking %.2f mm thick: ease the frame or take thinner strips", s.names[i], 1/c, s.down(k, v), t)
				}
			}
		}
	}
	return nil
}

// offsetFrame is the section of the offset surface at frame i; of an end
// curve, its points moved out.
func (s *Surface) offsetFrame(i int, t float64) (hull.Frame, error) {
	f := hull.Frame{Name: s.names[i]}
	plane := s.planes[i]
	for n := range s.panels {
		for k, v := range s.panels[n].v {
			if n > 0 && k == 0 {
				f.Knuckles = append(f.Knuckles, len(f.Points)-1)
				continue // the point was made by the panel above
			}
			p := s.moved(s.u[i], v, t)
			if plane != nil {
				var ok bool
				if p, ok = s.movedToPlane(i, v, t, plane); !ok {
					return f, fmt.Errorf("the planking's outer face does not come to frame %s at %.0f %% of its girth: its planks stand too square to the keel there", s.names[i], 100*v)
				}
			}
			if p[1] = max(p[1], 0); plane != nil {
				p[0] = plane.At(p.Y(), p.Z())
			}
			f.Points = append(f.Points, p)
		}
	}
	return f, nil
}

// planeOf gives the plane in which a frame stands. A stem or stern stands in
// none unless it is square to the keel: the planking runs into its rabbet, and
// ends there square to itself.
func planeOf(f hull.Frame) *hull.Plane {
	p, ok := f.Plane()
	if !ok || f.IsEnd() && !strings.EqualFold(f.Name, "transom") && !p.Square() {
		return nil
	}
	return &p
}

// moved is the point at (u, v) moved out by t; on a knuckle line along the
// mitre p + t·(n₁ + n₂)/(1 + n₁·n₂), which keeps t from both panels.
func (s *Surface) moved(u, v, t float64) mgl64.Vec3 {
	j := s.At(u, v)
	n := j.Normal()
	for k := 1; k < len(s.breaks)-1; k++ {
		if v == s.breaks[k] {
			above := s.at(k-1, u, v)
			m := above.Normal()
			return j.P.Add(n.Add(m).Mul(t / (1 + n.Dot(m))))
		}
	}
	return j.P.Add(n.Mul(t))
}

// movedToPlane finds, for one v, where the moved surface comes to the plane of
// frame i, by the secant rule from there.
func (s *Surface) movedToPlane(i int, v, t float64, plane *hull.Plane) (mgl64.Vec3, bool) {
	past := func(p mgl64.Vec3) float64 { return p.X() - plane.At(p.Y(), p.Z()) }
	j := s.At(s.u[i], v)
	u0 := s.u[i]
	y0 := past(s.moved(u0, v, t))
	u1 := u0 - y0/(past(j.Pu)+plane.X)
	for range 40 {
		p := s.moved(u1, v, t)
		y1 := past(p)
		if math.Abs(y1) < 1e-9 {
			return p, true
		}
		if y1 == y0 {
			break
		}
		u0, y0, u1 = u1, y1, u1-y1*(u1-u0)/(y1-y0)
		if math.IsNaN(u1) || math.Abs(u1-s.u[i]) > s.u[len(s.u)-1]/4 {
			break
		}
	}
	return mgl64.Vec3{}, false
}
