package loft

import (
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft/curve"

	"github.com/go-gl/mathgl/mgl64"
)

// rungsPerStation is how many rungs of a flat shape lie from one station to
// the next: with 32 to a bay the chords of an edge are short of its arc by
// less than 1e-5 on any bend a strip takes. Of a hull of more than 100 frames, whose
// bays are so much shorter, there are half as many, and so on, down to one: then no
// edge has more than some 4000 points.
const rungsPerStation = 8

// rungsBetween is how many lie from one station to the next over so many bays.
func rungsBetween(bays int) int {
	n := rungsPerStation
	for ; n > 1 && bays > 100; bays /= 2 {
		n /= 2
	}
	return n
}

// Flat is the flat shape of a strake: the strip ruled between its two edge
// lines along the frames, developed. All lengths in mm; x runs along the
// strake in the direction of rising x of the hull, y upwards, the chord of the
// middle line on y = 0.
type Flat struct {
	ID           string
	Upper, Lower []mgl64.Vec2 // its edges, one point a rung
	Frames       []FlatFrame  // the frames it crosses, from the first laid to the last
	Length       float64      // of the least rectangle that holds it
	Width        float64
	Sweep        float64 // the largest distance of the middle line from its chord
	Misfit       float64 // how much longer the middle line is on the hull than on the flat shape: negative in a saddle
	Area         float64 // mm² of the flat shape
	HullArea     float64 // mm² of the hull that it covers
}

// FlatFrame is where a frame crosses a flat shape: the rung of that index.
type FlatFrame struct{ Frame, Rung int }

// Flat develops the strake of that ID. The lengths of both edges, and of the
// rungs between them, are kept exactly; where the hull is curved both ways the
// middle does not fit, and Misfit and the areas tell by how much. The error
// says that there is no such strake, or that it is laid nowhere.
func (l *Layer) Flat(id string) (*Flat, error) {
	for n, st := range l.Strakes {
		if st.ID == id {
			return l.flat(n)
		}
	}
	return nil, tongue.Errorf("there is no strake %s in layer %d: they run from %s to %s", id, l.Number, l.Strakes[0].ID, l.Strakes[len(l.Strakes)-1].ID)
}

func (l *Layer) flat(n int) (*Flat, error) {
	st := l.Strakes[n]
	if l.Surface.shapeless {
		return nil, tongue.Errorf("the flat shape of a strake cannot be found: %w", ErrShapeless)
	}
	if st.To <= st.From {
		return nil, tongue.Errorf("strake %s is laid at no frame", st.ID)
	}
	r := l.rungs(n)
	f := &Flat{ID: st.ID}
	f.Upper, f.Lower = unroll(r.upper, r.lower)
	f.straighten()
	f.HullArea = r.area
	f.Area = shoelace(f.outline())
	f.Misfit = polylineLength(r.middle) - f.middleLength()
	f.Length, f.Width = leastRectangle(f.outline())
	f.Frames = r.frames
	return f, nil
}

// rungs are the places across a strake along the hull. Where it is notched for a
// nib two lie on one frame.
type rungs struct {
	upper, middle, lower []mgl64.Vec3
	area                 float64     // mm² of surface between the edges
	frames               []FlatFrame // those at which the strake is laid
	u, v0, v1, across    float64     // of the last
}

// rungs samples the edges and the middle of strake n between the stations at
// which it is laid.
func (l *Layer) rungs(n int) rungs {
	s, st := l.Surface, l.Strakes[n]
	var out rungs
	first, last := st.From/stationsPerBay, st.To/stationsPerBay
	each := rungsBetween(len(s.u) - 1)
	var before, after [2]*Line // its edges in the bays on either side of a frame
	for f := first; f <= last; f++ {
		k := s.FrameStation(f)
		before, after = after, l.edgesIn(n, f)
		for _, e := range [][2]*Line{before, {st.Upper, st.Lower}, after} {
			if e[0] != nil {
				out.add(s, k, 0, e, st)
			}
			if e[0] == st.Upper && e[1] == st.Lower && st.At[f].Laid && (len(out.frames) == 0 || out.frames[len(out.frames)-1].Frame != f) {
				out.frames = append(out.frames, FlatFrame{f, len(out.upper) - 1})
			}
		}
		for r := 1; f < last && r < stationsPerBay*each; r++ {
			out.add(s, k+r/each, float64(r%each)/float64(each), after, st)
		}
	}
	return out
}

// add puts a rung between two edges at a share of the way from a station to the
// next, unless it is the last over again.
func (r *rungs) add(s *Surface, k int, t float64, edges [2]*Line, st *Strake) {
	u, v0 := edges[0].course.between(s.stations, k, t)
	_, v1 := edges[1].course.between(s.stations, k, t)
	n := len(r.upper)
	if n > 0 && u == r.u && same(v0, r.v0) && same(v1, r.v1) {
		return
	}
	v := (v0 + v1) / 2
	if st.Nibs == nil {
		_, v = st.Centre.course.between(s.stations, k, t)
	}
	at := func(v float64) mgl64.Vec3 { return s.At(u, v).P }
	r.upper, r.middle, r.lower = append(r.upper, at(v0)), append(r.middle, at(v)), append(r.lower, at(v1))
	across := s.areaAcross(u, v0, v1)
	if n > 0 {
		r.area += (across + r.across) / 2 * (u - r.u)
	}
	r.u, r.v0, r.v1, r.across = u, v0, v1, across
}

// between gives (u, v) at a share t of the way from station k to the next.
func (c *course) between(stations []float64, k int, t float64) (u, v float64) {
	if t == 0 {
		return stations[k], c.v[k]
	}
	h := stations[k+1] - stations[k]
	v, _, _ = curve.Hermite(h, c.v[k], c.v[k+1], c.v1[k], c.v1[k+1], t*h)
	return stations[k] + t*h, v
}

// areaAcross is ∫|Pu × Pv| dv from v0 to v1, mm² per unit of u, by three Gauss
// points.
func (s *Surface) areaAcross(u, v0, v1 float64) float64 {
	const x, w0, w1 = 0.7745966692414834, 8. / 9, 5. / 9
	mid, half := (v0+v1)/2, (v1-v0)/2
	sum := 0.0
	for i, w := range []float64{w1, w0, w1} {
		j := s.At(u, mid+half*x*float64(i-1))
		sum += w * j.Pu.Cross(j.Pv).Len()
	}
	return sum * half
}

// unroll lays the strip ruled between two edges flat, triangle by triangle,
// every side at its length in space. The diagonal changes hands from cell to
// cell, so that neither way of splitting a twisted cell is favoured.
func unroll(upper, lower []mgl64.Vec3) (u, l []mgl64.Vec2) {
	u, l = make([]mgl64.Vec2, len(upper)), make([]mgl64.Vec2, len(upper))
	l[0] = mgl64.Vec2{0, -upper[0].Sub(lower[0]).Len()}
	for k := 1; k < len(upper); k++ {
		along := func(a, b mgl64.Vec3) float64 { return a.Sub(b).Len() }
		switch { // where it is notched the one edge stands still, and the other goes on along the frame
		case upper[k] == upper[k-1]:
			u[k], l[k] = u[k-1], l[k-1].Add(l[k-1].Sub(u[k-1]).Normalize().Mul(along(upper[k], lower[k])-along(upper[k-1], lower[k-1])))
			continue
		case lower[k] == lower[k-1]:
			l[k], u[k] = l[k-1], u[k-1].Add(u[k-1].Sub(l[k-1]).Normalize().Mul(along(upper[k], lower[k])-along(upper[k-1], lower[k-1])))
			continue
		}
		if k%2 == 1 {
			l[k] = third(u[k-1], l[k-1], along(upper[k-1], lower[k]), along(lower[k-1], lower[k]))
			u[k] = third(u[k-1], l[k], along(upper[k-1], upper[k]), along(lower[k], upper[k]))
		} else {
			u[k] = third(u[k-1], l[k-1], along(upper[k-1], upper[k]), along(lower[k-1], upper[k]))
			l[k] = third(u[k], l[k-1], along(upper[k], lower[k]), along(lower[k-1], lower[k]))
		}
	}
	return u, l
}

// third is the corner at distances da from a and db from b, to the left of the
// way from b up to a turned towards rising x: the corner farther along the
// strake. Where a and b fall together (a strake that starts in a point) it lies
// straight ahead.
func third(a, b mgl64.Vec2, da, db float64) mgl64.Vec2 {
	side := a.Sub(b)
	d := side.Len()
	if d < 1e-9 {
		return mgl64.Vec2{a.X() + da, a.Y()}
	}
	t := (db*db - da*da + d*d) / (2 * d)
	h := math.Sqrt(max(db*db-t*t, 0))
	e := side.Mul(1 / d)
	return b.Add(e.Mul(t)).Add(mgl64.Vec2{e.Y(), -e.X()}.Mul(h))
}

// straighten puts the chord of the middle line on y = 0, its start at x = 0,
// and measures the sweep.
func (f *Flat) straighten() {
	a, b := f.middle(0), f.middle(len(f.Upper)-1)
	d := b.Sub(a).Normalize()
	turn := func(p mgl64.Vec2) mgl64.Vec2 {
		q := p.Sub(a)
		return mgl64.Vec2{q.Dot(d), d.X()*q.Y() - d.Y()*q.X()}
	}
	for k := range f.Upper {
		f.Upper[k], f.Lower[k] = turn(f.Upper[k]), turn(f.Lower[k])
	}
	for k := range f.Upper {
		f.Sweep = max(f.Sweep, math.Abs(f.middle(k).Y()))
	}
}

// middle is the middle of a rung.
func (f *Flat) middle(k int) mgl64.Vec2 { return f.Upper[k].Add(f.Lower[k]).Mul(0.5) }

// middleLength is the length of the middle line on the flat shape.
func (f *Flat) middleLength() float64 {
	sum := 0.0
	for k := 1; k < len(f.Upper); k++ {
		sum += f.middle(k).Sub(f.middle(k - 1)).Len()
	}
	return sum
}

// outline runs along the upper edge and back along the lower.
func (f *Flat) outline() []mgl64.Vec2 {
	out := append([]mgl64.Vec2{}, f.Upper...)
	for k := len(f.Lower) - 1; k >= 0; k-- {
		out = append(out, f.Lower[k])
	}
	return out
}

// polylineLength is the length of a polyline in space.
func polylineLength(p []mgl64.Vec3) float64 {
	sum := 0.0
	for i := 1; i < len(p); i++ {
		sum += p[i].Sub(p[i-1]).Len()
	}
	return sum
}

// shoelace is the area of a polygon.
func shoelace(p []mgl64.Vec2) float64 {
	sum := 0.0
	for i := range p {
		q := p[(i+1)%len(p)]
		sum += p[i].X()*q.Y() - p[i].Y()*q.X()
	}
	return math.Abs(sum) / 2
}
