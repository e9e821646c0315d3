package loft

import (
	"math"
	"slices"

	"github.com/strakewright/strakewright/loft/curve"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// ease moves a course to the least edge-set, ∫κg² ds, among all C2 cubics that pass
// through its places at the held u, with knots at and halfway between the frames. It
// uses the Gauss-Newton method on the edge-set at the stations; the cubic is linear in
// the knots' positions, and each round is kept only if it lowers the edge-set. The
// cubics are not-a-knot, since a batten is straight at its ends and a line of least
// edge-set need not be.
func (s *Surface) ease(c course, held []float64) course {
	knots, v := s.halfBays(c)
	open := openKnots(knots, held)
	if len(open) == 0 {
		return c
	}
	all := s.easeInfluences()
	reach := make([]influence, len(open))
	for k, i := range open {
		reach[k] = all[i]
	}
	c = s.supple(knots, v)
	best := s.stress(c)
	for range 12 {
		step, ok := s.easing(c, reach)
		if !ok {
			break
		}
		trial, moved, stress := v, c, math.Inf(1)
		for scale := 1.0; scale > 0.1 && !(stress < best); scale /= 2 {
			trial = append([]float64{}, v...)
			for k, i := range open {
				trial[i] = min(max(v[i]+scale*step[k], -beyond), 1+beyond)
			}
			moved = s.supple(knots, trial)
			stress = s.stress(moved)
		}
		if !(stress < best) {
			break
		}
		gain := (best - stress) / best
		v, c, best = trial, moved, stress
		if gain < 1e-6 {
			break
		}
	}
	return c
}

// halfBays gives u of every second station (the frames and the points halfway between),
// and the course there.
func (s *Surface) halfBays(c course) (knots, v []float64) {
	for i := 0; i < len(s.stations); i += stationsPerBay / 2 {
		knots = append(knots, s.stations[i])
		v = append(v, c.v[i])
	}
	return knots, v
}

// openKnots lists the knots that are not held.
func openKnots(knots, held []float64) []int {
	var out []int
	for i, u := range knots {
		if !slices.Contains(held, u) {
			out = append(out, i)
		}
	}
	return out
}

// supple is the course of the not-a-knot cubic through positions at the knots.
func (s *Surface) supple(knots, v []float64) course {
	m := curve.Slopes(knots, v)
	c := newCourse(len(s.stations))
	for k, u := range s.stations {
		i := min(k/(stationsPerBay/2), len(knots)-2)
		c.v[k], c.v1[k], c.v2[k] = curve.Hermite(knots[i+1]-knots[i], v[i], v[i+1], m[i], m[i+1], u-knots[i])
	}
	return c
}

// influence is how a course moves for a unit move of one knot, at the stations it
// reaches, from the first on.
type influence struct {
	first int
	course
}

// faint is the fraction of a knot's move below which its effect on the slope at another
// knot, over the bay there, is neglected. The effect falls by 2 + √3 from knot to knot
// where these are evenly spaced, so that some 23 knots either way are reached, and the
// cost of a move does not grow with the hull.
const faint = 1e-13

// influencesOf gives the influence of every knot: the course is linear in their
// positions.
func influencesOf(knots, stations []float64) []influence {
	n := len(knots)
	system := curve.NewNotAKnot(knots)
	out := make([]influence, n)
	unit := mat.NewDense(n, 1, nil)
	for i := range knots {
		unit.Set(i, 0, 1)
		m := system.Slopes(unit).RawMatrix().Data
		unit.Set(i, 0, 0)
		out[i] = reachOf(i, m, knots, stations)
	}
	return out
}

// reachOf reads the influence of knot i at the stations from its slopes m.
func reachOf(i int, m, knots, stations []float64) influence {
	felt := func(k int) bool { return math.Abs(m[k])*(knots[max(k, 1)]-knots[max(k, 1)-1]) > faint }
	lo, hi := max(i-1, 0), min(i+1, len(knots)-1) // at the knot itself the slope may be 0
	for lo > 0 && felt(lo) {
		lo--
	}
	for hi < len(knots)-1 && felt(hi) {
		hi++
	}
	const each = stationsPerBay / 2
	f := influence{first: lo * each, course: newCourse((hi-lo)*each + 1)}
	value := func(k int) float64 {
		if k == i {
			return 1
		}
		return 0
	}
	for k := range f.v {
		j := min((f.first+k)/each, len(knots)-2)
		f.v[k], f.v1[k], f.v2[k] = curve.Hermite(knots[j+1]-knots[j], value(j), value(j+1), m[j], m[j+1], stations[f.first+k]-knots[j])
	}
	return f
}

// unplanked is the small weight of the edge-set where the hull is not planked.
const unplanked = 1e-3

// weight is the square root of the arc length that a station represents.
func (s *Surface) weight(i int, speed float64) float64 {
	a, b := max(i-1, 0), min(i+1, len(s.stations)-1)
	w := math.Sqrt(speed * (s.stations[b] - s.stations[a]) / 2)
	if from, to := s.plankedStations(); i < from || i > to {
		w *= unplanked
	}
	return w
}

// stress is ∫κg² ds by the trapezium rule over the stations, 1/mm.
func (s *Surface) stress(c course) float64 {
	sum := 0.0
	for i := range c.v {
		j := s.atStation(i, c.v[i])
		st := j.strainsOf(1, c.v1[i], 0, c.v2[i])
		w := s.weight(i, st.speed)
		sum += float64(st.edge*st.edge) * w * w
	}
	return sum
}

// easing is the Gauss-Newton step for the positions of the open knots. Knots far apart
// have no common influence, so the normal equations are banded.
func (s *Surface) easing(c course, reach []influence) ([]float64, bool) {
	b, moves := s.edgeSetMoves(c, reach)
	m := len(reach)
	width := 0
	for k := range reach {
		for width+k+1 < m && reach[k+width+1].first < reach[k].end() {
			width++
		}
	}
	normal := mat.NewSymBandDense(m, width, nil)
	slope := make([]float64, m)
	for k := range reach {
		slope[k] = floats.Dot(moves[k], b[reach[k].first:reach[k].end()])
		for l := k; l < min(k+width+1, m); l++ {
			normal.SetSymBand(k, l, overlap(&reach[k], &reach[l], moves[k], moves[l]))
		}
		normal.SetSymBand(k, k, normal.At(k, k)*(1+1e-12))
	}
	return solved(normal, slope)
}

// edgeSetMoves gives the weighted edge-set at every station and, for each influence,
// its change for a unit move at the stations reached.
func (s *Surface) edgeSetMoves(c course, reach []influence) (b []float64, moves [][]float64) {
	n := len(c.v)
	b = make([]float64, n)
	d := make([][3]float64, n)
	for i := range c.v {
		b[i], d[i][0], d[i][1], d[i][2] = s.edgeSetSlopes(i, c)
	}
	moves = make([][]float64, len(reach))
	for k := range reach {
		f := &reach[k]
		moves[k] = make([]float64, len(f.v))
		for i := range f.v {
			to := &d[f.first+i]
			moves[k][i] = to[0]*f.v[i] + to[1]*f.v1[i] + to[2]*f.v2[i]
		}
	}
	return b, moves
}

// end is the station after the last that an influence reaches.
func (f *influence) end() int { return f.first + len(f.v) }

// overlap is the product of two rows of moves over the stations that both reach.
func overlap(f, g *influence, a, b []float64) float64 {
	from, to := max(f.first, g.first), min(f.end(), g.end())
	if from >= to {
		return 0
	}
	return floats.Dot(a[from-f.first:to-f.first], b[from-g.first:to-g.first])
}

// edgeSetSlopes gives the weighted edge-set at a station and its derivatives with
// respect to v, v′ and v″, by differences.
func (s *Surface) edgeSetSlopes(i int, c course) (r, d0, d1, d2 float64) {
	v, v1, v2 := c.v[i], c.v1[i], c.v2[i]
	j := s.atStation(i, v)
	st := j.strainsOf(1, v1, 0, v2)
	w := s.weight(i, st.speed)
	at := func(j *Jet, v1, v2 float64) float64 { return w * float64(j.strainsOf(1, v1, 0, v2).edge) }
	r = w * float64(st.edge)
	const e = 1e-6
	scale := 1 / s.stations[len(s.stations)-1]
	moved := s.atStation(i, v+e)
	d0 = (at(&moved, v1, v2) - r) / e
	d1 = (at(&j, v1+e*scale, v2) - r) / (e * scale)
	d2 = (at(&j, v1, v2+e*scale*scale) - r) / (e * scale * scale)
	return r, d0, d1, d2
}
