package trace

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Point is a place in a plane: pixels in a picture (y down), or mm (y up).
type Point struct{ X, Y float64 }

// Pt is the point (x, y).
func Pt(x, y float64) Point { return Point{x, y} }

func (p Point) minus(q Point) Point       { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) plus(q Point) Point        { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) times(f float64) Point     { return Point{p.X * f, p.Y * f} }
func (p Point) dot(q Point) float64       { return p.X*q.X + p.Y*q.Y }
func (p Point) cross(q Point) float64     { return p.X*q.Y - p.Y*q.X }
func (p Point) length() float64           { return math.Hypot(p.X, p.Y) }
func (p Point) finite() bool              { s := p.X + p.Y; return !math.IsNaN(s) && !math.IsInf(s, 0) }
func (p Point) distance(q Point) float64  { return p.minus(q).length() }
func (p Point) turned() Point             { return Point{-p.Y, p.X} }
func between(a, b Point, t float64) Point { return a.plus(b.minus(a).times(t)) }

// Homography is a projective map of a plane, by rows: a point (x, y) maps to
// ((m0·x + m1·y + m2)/w, (m3·x + m4·y + m5)/w) with w = m6·x + m7·y + m8.
type Homography [9]float64

// Identity leaves every point where it is.
func Identity() Homography { return Homography{0: 1, 4: 1, 8: 1} }

// Scaling enlarges everything f times about (0, 0).
func Scaling(f float64) Homography { return Homography{0: f, 4: f, 8: 1} }

// shift moves everything by d.
func shift(d Point) Homography { return Homography{0: 1, 2: d.X, 4: 1, 5: d.Y, 8: 1} }

// Apply maps a point; ok is false for a point on or beyond the line that maps
// to infinity, where w is not positive.
func (m Homography) Apply(p Point) (q Point, ok bool) {
	w := m[6]*p.X + m[7]*p.Y + m[8]
	if !(w > 1e-12) {
		return Point{math.NaN(), math.NaN()}, false
	}
	return Point{(m[0]*p.X + m[1]*p.Y + m[2]) / w, (m[3]*p.X + m[4]*p.Y + m[5]) / w}, true
}

// After is the map that applies first, and then m.
func (m Homography) After(first Homography) Homography {
	var out Homography
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				out[3*i+j] += m[3*i+k] * first[3*k+j]
			}
		}
	}
	return out
}

// Inverse is the inverse map. A map that flattens the plane has none, and the
// error says so.
func (m Homography) Inverse() (Homography, error) {
	a, b, c, d, e, f, g, h, i := m[0], m[1], m[2], m[3], m[4], m[5], m[6], m[7], m[8]
	out := Homography{e*i - f*h, c*h - b*i, b*f - c*e, f*g - d*i, a*i - c*g, c*d - a*f, d*h - e*g, b*g - a*h, a*e - b*d}
	det := a*out[0] + b*out[3] + c*out[6]
	for k := range out {
		if out[k] /= det; math.IsNaN(out[k]) || math.IsInf(out[k], 0) {
			return Homography{}, tongue.New("the map flattens the plane")
		}
	}
	return out, nil
}

// stretch is how much longer a step at q becomes at its image at, taking the
// greater of the two directions.
func (m Homography) stretch(q, at Point) float64 {
	w := m[6]*q.X + m[7]*q.Y + m[8]
	dx := Point{(m[0] - m[6]*at.X) / w, (m[3] - m[6]*at.Y) / w}
	dy := Point{(m[1] - m[7]*at.X) / w, (m[4] - m[7]*at.Y) / w}
	return max(dx.length(), dy.length())
}

// fourPoints is the map that takes four points to four others. No three of
// either may be in one line; the error says so.
//
// Each pair (x, y) to (u, v) gives two linear equations in the first eight
// entries, the ninth being 1 (Hartley and Zisserman, Multiple View Geometry,
// section 4.1, from memory); both sides are first moved and scaled to unit
// size, which keeps the equations well conditioned (the same, section 4.4).
func fourPoints(from, to [4]Point) (Homography, error) {
	if inLine(from) || inLine(to) {
		return Homography{}, tongue.New("three of the four points lie in one line")
	}
	nf, nt := normal(from), normal(to)
	a, b := mat.NewDense(8, 8, nil), mat.NewVecDense(8, nil)
	for i := range 4 {
		p, _ := nf.Apply(from[i])
		q, _ := nt.Apply(to[i])
		a.SetRow(2*i, []float64{p.X, p.Y, 1, 0, 0, 0, -q.X * p.X, -q.X * p.Y})
		a.SetRow(2*i+1, []float64{0, 0, 0, p.X, p.Y, 1, -q.Y * p.X, -q.Y * p.Y})
		b.SetVec(2*i, q.X)
		b.SetVec(2*i+1, q.Y)
	}
	var x mat.VecDense
	if err := x.SolveVec(a, b); err != nil {
		return Homography{}, tongue.New("the four points do not settle the perspective")
	}
	m := Homography{8: 1}
	copy(m[:8], x.RawVector().Data)
	back, err := nt.Inverse()
	if err != nil {
		return Homography{}, err
	}
	return back.After(m).After(nf), nil
}

// normal centres four points on (0, 0) and scales their mean distance to √2.
func normal(pts [4]Point) Homography {
	c := pts[0].plus(pts[1]).plus(pts[2]).plus(pts[3]).times(0.25)
	mean := 0.0
	for _, p := range pts {
		mean += p.distance(c) / 4
	}
	return Scaling(math.Sqrt2 / mean).After(shift(c.times(-1)))
}

// inLine reports whether three of four points are in one line, to within a
// thousandth of the longest distance between them.
func inLine(pts [4]Point) bool {
	longest := 0.0
	for i := range 4 {
		if !pts[i].finite() {
			return true
		}
		for j := range i {
			longest = max(longest, pts[i].distance(pts[j]))
		}
	}
	for i := range 4 {
		a, b, c := pts[(i+1)%4], pts[(i+2)%4], pts[(i+3)%4]
		if math.Abs(b.minus(a).cross(c.minus(a))) <= 1e-3*longest*longest*0.5 {
			return true
		}
	}
	return false
}
