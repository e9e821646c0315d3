package trace

import (
	"cmp"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/interp"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
)

// onCentre is how far beyond the centre line, mm, a point is still taken to lie
// on it: a click is no more accurate.
const onCentre = 0.5

// datumOf is the origin of a frame's figures.
func (t *Trace) datumOf(f *Frame) Datum { return t.now.datumOf(f) }

func (s *state) datumOf(f *Frame) Datum {
	if f.Own != nil {
		return *f.Own
	}
	return s.grounds[f.Ground].Datum
}

// Lines gives the current centre and base line, on the current picture.
func (t *Trace) Lines() Datum {
	if i := t.now.frame; i >= 0 {
		return t.datumOf(&t.now.frames[i])
	}
	if t.now.ground >= 0 {
		return t.now.grounds[t.now.ground].Datum
	}
	return Datum{}
}

// Read gives a point of the current picture in mm from the centre line, to the
// right, and from the base line, up, by the current lines; where one is not set
// yet, from the origin of the scale. It is false without a scale.
func (t *Trace) Read(at Point) (Point, bool) {
	if t.now.ground < 0 {
		return Point{}, false
	}
	return readBy(t.now.grounds[t.now.ground].Calibration, t.Lines(), at)
}

func readBy(c Calibration, d Datum, at Point) (Point, bool) {
	if !c.Set() {
		return Point{}, false
	}
	p, ok := c.ToMM.Apply(at)
	if d.HasCentre {
		q, k := c.ToMM.Apply(d.Centre)
		p.X, ok = p.X-q.X, ok && k
	}
	if d.HasBase {
		q, k := c.ToMM.Apply(d.Base)
		p.Y, ok = p.Y-q.Y, ok && k
	}
	return p, ok
}

// Outline is a traced frame in mm.
type Outline struct {
	Points   []Point // half-breadth (for an end curve x), and height
	Knuckles []int
	Girth    float64 // along a smooth curve through the points
	Apart    float64 // the largest distance between the two halves, where both are traced
}

// Outline gives frame i as far as it is traced; two halves are averaged. The
// error says what prevents it, as the middle of a sentence.
func (t *Trace) Outline(i int) (Outline, error) {
	f := &t.now.frames[i]
	var sides []Outline
	for _, marks := range f.Halves {
		if len(marks) == 0 {
			continue
		}
		o, err := t.side(f, marks)
		if err != nil {
			return Outline{}, err
		}
		sides = append(sides, o)
	}
	switch len(sides) {
	case 0:
		return Outline{}, nil
	case 1:
		return sides[0].measured(), nil
	}
	a, b := sides[0], sides[1]
	return averaged(a.ended(b), b.ended(a))
}

// ended gives a half with the end of the other one if that lies on the centre
// line and its own does not: the point was clicked once, for both.
func (o Outline) ended(other Outline) Outline {
	n, m := len(o.Points), len(other.Points)
	if n > 1 && m > 1 && other.Points[m-1].X <= onCentre && o.Points[n-1].X > onCentre {
		o.Points = append(slices.Clone(o.Points), other.Points[m-1])
	}
	return o
}

// side gives one half of a frame, from its upper end down whichever way it was
// clicked.
func (t *Trace) side(f *Frame, marks []Mark) (Outline, error) {
	g := &t.now.grounds[f.Ground]
	d := t.datumOf(f)
	switch {
	case !g.Calibration.Set():
		return Outline{}, tongue.Errorf("its picture has no scale yet; set it by two points or four corners")
	case !d.HasCentre && f.IsEnd():
		return Outline{}, tongue.Errorf("where x is 0 is not set; click it as the centre line")
	case !d.HasCentre:
		return Outline{}, tongue.Errorf("the centre line is not set; click it")
	case !d.HasBase:
		return Outline{}, tongue.Errorf("the base line is not set; click it")
	}
	var o Outline
	sum := 0.0
	for k, m := range marks {
		p, ok := readBy(g.Calibration, d, m.At)
		if !ok {
			return Outline{}, tongue.Errorf("point %d lies beyond the horizon of the picture; remove it", k+1)
		}
		o.Points = append(o.Points, p)
		sum += p.X
		if m.Knuckle && k > 0 && k+1 < len(marks) {
			o.Knuckles = append(o.Knuckles, k)
		}
	}
	if f.IsEnd() {
		return o.downwards(), nil
	}
	for k := range o.Points {
		p := &o.Points[k]
		if sum < 0 {
			p.X = -p.X
		}
		if p.X < -onCentre {
			return Outline{}, tongue.Errorf("point %d lies %.1f mm beyond the centre line; trace each half by itself", k+1, -p.X)
		}
		p.X = max(p.X, 0)
	}
	return o.downwards(), nil
}

// downwards gives an outline from its higher end to its lower.
func (o Outline) downwards() Outline {
	n := len(o.Points)
	if n < 2 || o.Points[0].Y >= o.Points[n-1].Y {
		return o
	}
	slices.Reverse(o.Points)
	slices.Reverse(o.Knuckles)
	for k := range o.Knuckles {
		o.Knuckles[k] = n - 1 - o.Knuckles[k]
	}
	return o
}

func (o Outline) measured() Outline {
	run := Through(o.Points, o.Knuckles)
	o.Girth = 0
	for k := 1; k < len(run); k++ {
		o.Girth += run[k].distance(run[k-1])
	}
	return o
}

// stretches is how many straight lines represent a curve between two points.
const stretches = 8

// Through gives a smooth curve through points, with a corner at each knuckle: a
// cubic by the length of the chords between corners.
func Through(pts []Point, knuckles []int) []Point {
	if len(pts) < 2 {
		return pts
	}
	out := []Point{pts[0]}
	for _, run := range (Outline{Points: pts, Knuckles: knuckles}).runs() {
		if len(run) < 3 || !allFinite(run) {
			out = append(out, run[1:]...)
			continue
		}
		c := curveOf(run)
		for k := 1; k < len(run); k++ {
			for j := 1; j < stretches; j++ {
				t := float64(j) / stretches
				out = append(out, c.at(c.shares[k-1]*(1-t)+c.shares[k]*t))
			}
			out = append(out, run[k])
		}
	}
	return out
}

func allFinite(pts []Point) bool {
	for _, p := range pts {
		if !p.finite() {
			return false
		}
	}
	return true
}

// averaged gives the mean of two halves, at the points of the first; each
// stretch between corners is paired with its counterpart, at equal shares of
// their lengths.
func averaged(a, b Outline) (Outline, error) {
	if len(a.Knuckles) != len(b.Knuckles) {
		return Outline{}, tongue.Errorf("one half has %d knuckles and the other %d; mark the same on both", len(a.Knuckles), len(b.Knuckles))
	}
	out := Outline{Knuckles: a.Knuckles}
	ra, rb := a.runs(), b.runs()
	for k := range ra {
		if len(ra[k]) < 2 || len(rb[k]) < 2 {
			return Outline{}, tongue.Errorf("one half has a single point; click both halves down to the rabbet")
		}
		ca, cb := curveOf(ra[k]), curveOf(rb[k])
		for j, share := range ca.shares {
			if k > 0 && j == 0 {
				continue // it ended the stretch before
			}
			out.Points = append(out.Points, between(ra[k][j], cb.at(share), 0.5))
		}
		for j := range 65 {
			share := float64(j) / 64
			out.Apart = max(out.Apart, ca.at(share).distance(cb.at(share)))
		}
	}
	return out.measured(), nil
}

// runs cuts an outline at its corners.
func (o Outline) runs() [][]Point {
	var out [][]Point
	start := 0
	for _, k := range o.Knuckles {
		out = append(out, o.Points[start:k+1])
		start = k
	}
	return append(out, o.Points[start:])
}

// curve is a smooth curve through points, by shares of its length.
type curve struct {
	shares []float64
	x, y   interp.Predictor
}

// curveOf fits a cubic through points by the length of their chords, or
// straight lines where a cubic is not possible.
func curveOf(pts []Point) curve {
	s, x, y := []float64{0}, []float64{pts[0].X}, []float64{pts[0].Y}
	all := []float64{0}
	length := 0.0
	for k := 1; k < len(pts); k++ {
		d := pts[k].distance(pts[k-1])
		length += d
		all = append(all, length)
		if d > 1e-9 {
			s, x, y = append(s, length), append(x, pts[k].X), append(y, pts[k].Y)
		}
	}
	for k := range all {
		all[k] /= max(length, 1e-9)
	}
	for k := range s {
		s[k] /= max(length, 1e-9)
	}
	if len(s) == 1 {
		return curve{all, interp.Constant(x[0]), interp.Constant(y[0])}
	}
	if len(s) >= 3 {
		var fx, fy interp.NotAKnotCubic
		if fx.Fit(s, x) == nil && fy.Fit(s, y) == nil {
			return curve{all, &fx, &fy}
		}
	}
	var fx, fy interp.PiecewiseLinear
	if fx.Fit(s, x) == nil && fy.Fit(s, y) == nil {
		return curve{all, &fx, &fy}
	}
	return curve{all, interp.Constant(x[0]), interp.Constant(y[0])}
}

func (c curve) at(share float64) Point { return Point{c.x.Predict(share), c.y.Predict(share)} }

// Hull gives the traced hull, its frames by increasing x, or every fault in it,
// including those that hull.Check finds.
func (t *Trace) Hull() (*hull.Hull, []fault.Fault) {
	h := &hull.Hull{Bow: t.now.bow, Limits: hull.Limits{Upper: "sheer", Lower: "rabbet"}}
	var faults []fault.Fault
	for i, f := range t.now.frames {
		o, err := t.Outline(i)
		if err != nil {
			faults = append(faults, fault.Fault{Frame: f.Name, What: err.Error()})
			continue
		}
		fr := hull.Frame{Name: f.Name, Knuckles: o.Knuckles}
		for _, p := range o.Points {
			at := mgl64.Vec3{f.X, p.X, p.Y}
			if f.IsEnd() {
				at = mgl64.Vec3{p.X, f.X, p.Y}
			}
			fr.Points = append(fr.Points, at)
		}
		h.Frames = append(h.Frames, fr)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	slices.SortStableFunc(h.Frames, func(a, b hull.Frame) int { return cmp.Compare(a.X(), b.X()) })
	if faults = h.Check(); len(faults) > 0 {
		return nil, faults
	}
	return h, nil
}

// Nearest gives the point of the current frame nearest to a place in the
// picture, and its distance in pixels; half and i are −1 where there is none.
func (t *Trace) Nearest(at Point) (half, i int, away float64) {
	half, i, away = -1, -1, math.Inf(1)
	if t.now.frame < 0 {
		return half, i, away
	}
	for h, marks := range t.now.frames[t.now.frame].Halves {
		for k, m := range marks {
			if d := m.At.distance(at); d < away {
				half, i, away = h, k, d
			}
		}
	}
	return half, i, away
}
