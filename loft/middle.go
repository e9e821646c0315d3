package loft

import (
	"math"
	"sync"
)

// middle is the surface on which the middle of a strip lies that is laid on
// another: half its thickness outside it. Where that would fold the surface it is
// nearer (see Surface.offset).
type middle struct{ under, at *Surface }

// middles keeps the surface of mid-thickness that was asked for last: while a line
// is dragged it is the same.
type middles struct {
	sync.Mutex
	thickness float64
	at        *Surface
}

// middleOf is that of strips t mm thick, all over the surface.
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

// upon gives the v of the middle over v of the surface under it, at a station of
// either: at a frame, in the frame's plane, square to its outline, as a strip lies
// that crosses the frame squarely.
func (m *middle) upon(station int, v float64) float64 {
	if m.under == m.at {
		return v
	}
	below := m.under.atStation(station, v)
	return nearby(v, func(v float64) float64 {
		above := m.at.atStation(station, v)
		return above.P.Sub(below.P).Dot(below.Pv) / above.Pv.Dot(below.Pv)
	})
}

// beneath is the inverse of upon.
func (m *middle) beneath(station int, v float64) float64 {
	if m.under == m.at || math.IsNaN(v) {
		return v
	}
	above := m.at.placeAt(station, v)
	return nearby(v, func(v float64) float64 {
		below := m.under.atStation(station, v)
		away := below.P.Sub(above)
		return away.Dot(below.Pv) / (below.Pv.Dot(below.Pv) + away.Dot(below.Pvv))
	})
}

// nearby follows the steps of Newton's rule from v.
func nearby(v float64, step func(v float64) float64) float64 {
	for range 20 {
		d := step(v)
		if v -= d; !(math.Abs(d) > 1e-13) {
			break
		}
	}
	return v
}
