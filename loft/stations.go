package loft

import (
	"math"
	"sync"

	"github.com/go-gl/mathgl/mgl64"
)

// column is the surface cut at a station, kept so that the many lines of a planking are
// evaluated there without cutting each cell again.
type column struct {
	rows  [][]rows    // [panel][span of v]
	girth [][]float64 // [panel][knot]: mm from the upper limit
}

// placeStations cuts the surface at every frame and between.
func (s *Surface) placeStations() {
	last := len(s.u) - 1
	s.stations = s.stations[:0]
	for i := range last {
		for k := range stationsPerBay {
			s.stations = append(s.stations, s.u[i]+(s.u[i+1]-s.u[i])*float64(k)/stationsPerBay)
		}
	}
	s.stations = append(s.stations, s.u[last])
	s.columns = make([]column, len(s.stations))
	for k, u := range s.stations {
		s.columns[k] = s.cut(u)
	}
	for i := range s.u {
		s.exactGirth(i)
	}
	s.middles = &middles{}
	s.easeInfluences = sync.OnceValue(func() []influence {
		knots, _ := s.halfBays(newCourse(len(s.stations)))
		return influencesOf(knots, s.stations)
	})
}

// Stations gives u of every station: each frame and three places between each pair. The
// slice must not be changed.
func (s *Surface) Stations() []float64 { return s.stations }

// FrameStation is the station of frame i.
func (s *Surface) FrameStation(i int) int { return i * stationsPerBay }

// cut makes the column at u with its girths.
func (s *Surface) cut(u float64) column {
	part, from := s.part(s.bay(u), u)
	var c column
	total := 0.0
	for k := range s.panels {
		p := &s.panels[k]
		cut := make([]rows, len(p.v)-1)
		girth := make([]float64, len(p.v))
		girth[0] = total
		for j := range cut {
			p.cells[part][j].cut(&cut[j], u-from)
			total += cut[j].length(p.v[j+1] - p.v[j])
			girth[j+1] = total
		}
		c.rows = append(c.rows, cut)
		c.girth = append(c.girth, girth)
	}
	return c
}

// advances reports whether the component of Pu along a vector is above 0, at knot j of
// panel k and from there down to the next: whether the surface runs on in that direction.
func (c *column) advances(k, j int, v []float64, way mgl64.Vec3) bool {
	span := min(j, len(v)-2)
	pu := &c.rows[k][span].pu
	var q [4]float64 // the component, a cubic of the distance from the knot above
	for a, w := range way {
		if w != 0 { // on square frames x alone counts
			for b := range q {
				q[b] += w * pu[b][a]
			}
		}
	}
	at := func(t float64) float64 { return q[0] + t*(q[1]+t*(q[2]+t*q[3])) }
	if span < j {
		return at(v[j]-v[span]) > 0
	}
	h := v[j+1] - v[j]
	// The cubic lies within the range of its Bézier ordinates (Farin, Curves and Surfaces
	// for CAGD, "convex hull property").
	if b1, b2 := q[0]+h*q[1]/3, q[0]+h*(2*q[1]+h*q[2])/3; min(q[0], b1, b2, at(h)) > 0 {
		return true
	}
	least := q[0]
	for _, t := range turningPoints(q) {
		if t > 0 && t < h {
			least = min(least, at(t))
		}
	}
	return least > 0
}

// turningPoints are the two places at which the slope of a cubic vanishes: infinite or not
// a number where there are none. (Numerical Recipes, "Quadratic and Cubic Equations": the
// form that keeps its digits.)
func turningPoints(q [4]float64) [2]float64 {
	a, b, c := 3*q[3], 2*q[2], q[1]
	r := -(b + math.Copysign(math.Sqrt(b*b-4*a*c), b)) / 2
	return [2]float64{r / a, c / r}
}

// length is the arc length of a span of v, by three Gauss points (Abramowitz and
// Stegun, table 25.4); for a span of a thirtieth of the girth the relative error is
// below 1e-7.
func (r *rows) length(h float64) float64 {
	const x, w0, w1 = 0.7745966692414834, 8. / 9, 5. / 9
	return h / 2 * (w1*r.stretch(h*(1-x)/2) + w0*r.stretch(h/2) + w1*r.stretch(h*(1+x)/2))
}

// stretch is |Pv| at t.
func (r *rows) stretch(t float64) float64 {
	var d mgl64.Vec3
	for a := range 3 {
		d[a] = r.p[1][a] + t*(2*r.p[2][a]+3*t*r.p[3][a])
	}
	return d.Len()
}

// exactGirth puts into the frame's column the girths of the frame itself, which the
// spline through its resampled points reproduces to about 1e-6.
func (s *Surface) exactGirth(i int) {
	c := &s.columns[s.FrameStation(i)]
	for k := range s.panels {
		g0, g1 := s.girths[i][k], s.girths[i][k+1]
		for j := range c.girth[k] {
			c.girth[k][j] = g0 + (g1-g0)*float64(j)/float64(len(c.girth[k])-1)
		}
	}
}

// atStation evaluates the surface at a station.
func (s *Surface) atStation(station int, v float64) Jet {
	k := s.panelAt(v)
	j, t, past := s.span(k, v)
	return s.columns[station].rows[k][j].jet(t, past)
}

// tangentsAt gives Pu and Pv at a station.
func (s *Surface) tangentsAt(station int, v float64) (pu, pv mgl64.Vec3) {
	k := s.panelAt(v)
	j, t, past := s.span(k, v)
	r := &s.columns[station].rows[k][j]
	for a := range 3 {
		pv[a] = r.p[1][a] + t*(2*r.p[2][a]+3*t*r.p[3][a])
		pu[a] = r.pu[0][a] + t*(r.pu[1][a]+t*(r.pu[2][a]+t*r.pu[3][a]))
		if past != 0 {
			pu[a] += past * (r.pu[1][a] + t*(2*r.pu[2][a]+3*t*r.pu[3][a]))
		}
	}
	return pu, pv
}

// placeAt is the point at a station.
func (s *Surface) placeAt(station int, v float64) mgl64.Vec3 {
	k := s.panelAt(v)
	j, t, past := s.span(k, v)
	return s.columns[station].rows[k][j].place(t, past)
}

// place is the point at t of the cut, and beyond it by past along the tangent.
func (r *rows) place(t, past float64) mgl64.Vec3 {
	c := &r.p
	var p mgl64.Vec3
	for a := range 3 {
		p[a] = c[0][a] + t*(c[1][a]+t*(c[2][a]+t*c[3][a]))
		if past != 0 {
			p[a] += past * (c[1][a] + t*(2*c[2][a]+3*t*c[3][a]))
		}
	}
	return p
}

// girthAt is the whole girth at a station.
func (s *Surface) girthAt(station int) float64 {
	g := s.columns[station].girth
	last := g[len(g)-1]
	return last[len(last)-1]
}

// down is the girth from the upper limit to v at a station, mm; negative above
// it.
func (s *Surface) down(station int, v float64) float64 {
	k := s.panelAt(v)
	j, t, past := s.span(k, v)
	return s.downIn(station, k, j, t, past)
}

// downIn is down for callers that know the span: t in from its upper edge, and past the
// limits by past.
func (s *Surface) downIn(station, k, j int, t, past float64) float64 {
	g, p := s.columns[station].girth[k], &s.panels[k]
	h := p.v[j+1] - p.v[j]
	return g[j] + (g[j+1]-g[j])*t/h + past*(g[j+1]-g[j])/h
}

// vDown is the v at a girth below the upper limit: the inverse of down.
func (s *Surface) vDown(station int, mm float64) float64 {
	c := &s.columns[station]
	k := 0
	for k < len(s.panels)-1 && mm >= c.girth[k+1][0] {
		k++
	}
	g, v := c.girth[k], s.panels[k].v
	lo, hi := 0, len(g)-1
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; mm >= g[mid] {
			lo = mid
		} else {
			hi = mid
		}
	}
	return v[lo] + (v[hi]-v[lo])*(mm-g[lo])/(g[hi]-g[lo])
}

// AtDown gives the point of frame i at the given girth (mm) below the upper limit,
// clamped to the frame.
func (s *Surface) AtDown(frame int, down float64) mgl64.Vec3 {
	k := s.FrameStation(frame)
	j := s.atStation(k, min(max(s.vDown(k, down), 0), 1))
	return j.P
}

// FaceDown is AtDown with the unit normal of the surface there, outwards.
func (s *Surface) FaceDown(frame int, down float64) (p, normal mgl64.Vec3) {
	k := s.FrameStation(frame)
	j := s.atStation(k, min(max(s.vDown(k, down), 0), 1))
	return j.P, j.Normal()
}

// DownAt gives the girth below the upper limit of the point of frame i whose projection
// by project lies nearest to (x, y).
func (s *Surface) DownAt(frame int, project func(mgl64.Vec3) (x, y float64), x, y float64) float64 {
	return nearestDown(s.Girth(frame), func(down float64) float64 {
		a, b := project(s.AtDown(frame, down))
		return math.Hypot(a-x, b-y)
	})
}

// nearestDown gives the girth between 0 and g mm at which away is least, to 1e-4 mm.
func nearestDown(g float64, away func(down float64) float64) float64 {
	const steps = 200
	best, least := 0.0, math.Inf(1)
	for i := 0; i <= steps; i++ {
		if d := away(g * float64(i) / steps); d < least {
			best, least = g*float64(i)/steps, d
		}
	}
	for step := g / steps; step > 1e-4; step /= 2 {
		for _, d := range []float64{best - step, best + step} {
			if d >= 0 && d <= g && away(d) < least {
				best, least = d, away(d)
			}
		}
	}
	return best
}

// downAt is the girth below the upper limit at any (u, v).
func (s *Surface) downAt(u, v float64) float64 {
	c := s.cut(u)
	k := s.panelAt(v)
	j, t, past := s.span(k, v)
	r := &c.rows[k][j]
	return c.girth[k][j] + r.length(t) + past*r.stretch(t)
}
