package loft

import (
	"math"
	"sync"

	"github.com/go-gl/mathgl/mgl64"
)

// middle is the surface that the middle of a strip lies on when it is laid on another
// surface: half its thickness outside it. Where that would fold, it lies closer (see
// Surface.offset).
type middle struct{ under, at *Surface }

// middles keeps the surface of mid-thickness that was asked for last: it is the same
// throughout the drag of a line.
type middles struct {
	sync.Mutex
	thickness float64
	at        *Surface
}

// middleOf is the surface of mid-thickness for strips t mm thick, over the whole
// surface.
func (s *Surface) middleOf(t float64) *middle {
	if t == 0 {
		return &middle{s, s}
	}
	s.middles.Lock()
	defer s.middles.Unlock()
	if s.middles.at == nil || s.middles.thickness != t {
		s.middles.at, s.middles.thickness = s.offset(t/2, 0, s.Frames()-1), t
	}
	return &middle{s, s.middles.at.laidFrom(s.first, s.last)}
}

// upon gives, at a frame's station, the v of the middle of a strip whose inner face has
// its middle at v on the surface below, where it runs with dv/du = slope.
func (m *middle) upon(station int, v, slope float64) float64 {
	return carried(m.under, m.at, station, v, slope)
}

// beneath is the inverse of upon: slope is that of the middle.
func (m *middle) beneath(station int, v, slope float64) float64 {
	return carried(m.at, m.under, station, v, slope)
}

// carried transfers a course from one surface to another beside it, at a station: to
// the nearest place, and from there along a geodesic to the station of the other, since
// the frames are not square to the surface. The curvature of the course over that short
// way, less than a strip's thickness, is neglected.
func carried(from, to *Surface, station int, v, slope float64) float64 {
	if from == to || math.IsNaN(v) {
		return v
	}
	if math.IsNaN(slope) {
		slope = 0
	}
	j := from.atStation(station, v)
	u, w := to.foot(to.stations[station], v, j.P)
	on := to.At(u, w)
	du, dv := on.components(j.Pu.Add(j.Pv.Mul(slope)))
	ddu, ddv := on.geodesicAcceleration(du, dv)
	way := to.stations[station] - u
	return w + way*(dv/du+way/2*(ddv*du-dv*ddu)/(du*du*du))
}

// foot gives u and v of the point of a surface nearest to a point beside it, starting
// from a nearby point, by the Gauss-Newton method.
func (s *Surface) foot(u, v float64, p mgl64.Vec3) (float64, float64) {
	for range 20 {
		j := s.At(u, v)
		du, dv := j.components(p.Sub(j.P))
		u, v = u+du, v+dv
		if !(math.Abs(du)+math.Abs(dv)*j.Pv.Len() > 1e-9) {
			break
		}
	}
	return u, v
}
