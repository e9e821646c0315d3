package fair

import (
	"context"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/curve"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

const (
	fewestFairFrames = 5    // with fewer there is no run of neighbours
	tangentShare     = 0.05 // of the girth, to either side of a point, over which its normal is taken
	// mostFairWork is the number of points times the bandwidth squared above which fairing
	// would take over two seconds, and could not be stopped at once: 23 frames of 100
	// points, or 400 frames of 40.
	mostFairWork = 250e6
	negligible   = 1e-9 // a weight of interpolation that counts as zero
)

// grid holds the points of all frames as one list, frame after frame, with the
// operators that measure their roughness.
type grid struct {
	ctx        context.Context // of the one call that the grid is made for
	frames     []hull.Frame
	outlines   []outline
	places     []float64    // of the frames along the hull, in mean bays
	first      []int        // index of each frame's first point, and the number of points after the last
	at         []mgl64.Vec2 // y and z of every point, mm
	normal     []mgl64.Vec2 // outward normal of the section, in its plane
	onEnd      []bool       // whether a point is on an end curve
	thin       *thinGrid    // to settle on; nil for none
	pointBound float64      // for single points, like runBound
	stepped    float64      // the result of rounded

	joined                joining
	order                 int            // of the differences
	along                 [][]difference // [order+1 frames]
	down                  [][]difference // [frame]
	lengthwise, girthwise *bandMatrix    // Σ row·rowᵀ

	equations *bandMatrix // the normal equations solved last
	room      []float64   // for inverting them

	// rounding is the standard deviation of the points' errors, mm, where that settles a
	// surface; else 0.
	rounding float64
	// tried collects every surface that is settled, with its risk; nil for none.
	tried func(f *smoothed, risk float64)
}

// fairing is the context of everything done on a grid.
const fairing = "the fairing"

// difference is one difference, linear in the points.
type difference struct {
	at []int
	c  []float64
}

// outline is one frame with its knuckle lines.
type outline struct {
	curve *curve.Outline
	lines []float64 // girth at the limits and at every knuckle line between, mm
	ends  []int     // indices of the first point, the knuckles and the last point
}

// newGrid makes the grid of five frames or more, with points joined by girth and third
// differences.
func newGrid(ctx context.Context, frames []hull.Frame) (*grid, error) {
	if len(frames) < fewestFairFrames {
		return nil, tongue.Errorf("the hull has %d frames: fairing needs %d or more, so that frames have neighbours to run with", len(frames), fewestFairFrames)
	}
	if err := finitePoints(frames); err != nil {
		return nil, err
	}
	curves, err := curve.Outlines(frames)
	if err != nil {
		return nil, err
	}
	g := &grid{ctx: ctx, frames: frames, order: 3}
	outlines := make([]outline, len(frames))
	for i, f := range frames {
		c := curves[i]
		outlines[i] = outline{curve: c, ends: slices.Concat([]int{0}, c.Turns, []int{len(f.Points) - 1})}
		g.first = append(g.first, len(g.at))
		for j, p := range f.Points {
			g.at = append(g.at, mgl64.Vec2{p.Y(), p.Z()})
			g.normal = append(g.normal, outlines[i].normalAt(j))
			g.onEnd = append(g.onEnd, f.IsEnd())
		}
	}
	g.first = append(g.first, len(g.at))
	g.pointBound = normalBound(alarmBudget / float64(max(g.judged(), 1)))
	for i, l := range curve.KnuckleLines(curves) {
		outlines[i].lines = l
	}
	g.outlines, g.places = outlines, placesAlong(curves, outlines)
	if err := g.join(byGirth); err != nil {
		return nil, err
	}
	g.stepped = g.rounded()
	g.thin, err = g.thinned(outlines)
	return g, err
}

// join remakes the differences of the grid's order, with points of neighbouring frames
// joined in the given way.
func (g *grid) join(how joining) error {
	if err := halt.Asked(g.ctx, fairing); err != nil {
		return err
	}
	g.joined = how
	g.along, g.down = nil, nil
	g.differAlong(g.outlines, g.places)
	g.differDown(g.outlines)
	width := 0
	for _, r := range slices.Concat(slices.Concat(g.along...), slices.Concat(g.down...)) {
		width = max(width, slices.Max(r.at)-slices.Min(r.at))
	}
	if g.lengthwise = newBandMatrix(len(g.at), width); g.work() > mostFairWork {
		return tongue.Errorf("the hull has %d points in %d frames, too many to fair: thin the outlines to 40 points a frame or fewer", len(g.at), len(g.frames))
	}
	g.girthwise = newBandMatrix(len(g.at), width)
	gather(g.lengthwise, g.along, nil)
	gather(g.girthwise, g.down, nil)
	return nil
}

// work is the cost of one surface: the points times the bandwidth squared.
func (g *grid) work() float64 {
	return float64(len(g.at)) * float64(g.lengthwise.width) * float64(g.lengthwise.width)
}

// judged is the number of points that are not on an end curve.
func (g *grid) judged() int {
	n := 0
	for _, end := range g.onEnd {
		if !end {
			n++
		}
	}
	return n
}

// normalBound is the bound that a normal distribution of standard deviation 1 exceeds,
// on either side, with the given probability.
func normalBound(p float64) float64 { return math.Sqrt2 * math.Erfinv(max(1-p, 0)) }

// finitePoints names the first point that is not finite.
func finitePoints(frames []hull.Frame) error {
	for _, f := range frames {
		for j, p := range f.Points {
			if s := p.X() + p.Y() + p.Z(); math.IsNaN(s) || math.IsInf(s, 0) {
				return tongue.Errorf("frame %s: point %d is not finite: give numbers", f.Name, j+1)
			}
		}
	}
	return nil
}

// gather adds Σ weight·row·rowᵀ.
func gather(b *bandMatrix, rows [][]difference, weight []float64) {
	clear(b.data)
	for s, set := range rows {
		w := 1.0
		if weight != nil {
			w = weight[s]
		}
		for _, r := range set {
			for k, i := range r.at {
				for m, j := range r.at {
					if j <= i {
						b.add(i, j, w*r.c[k]*r.c[m])
					}
				}
			}
		}
	}
}

// of is the difference applied to points.
func (r difference) of(p []mgl64.Vec2) mgl64.Vec2 {
	var d mgl64.Vec2
	for k, i := range r.at {
		d = d.Add(p[i].Mul(r.c[k]))
	}
	return d
}

// meanSquare is the mean square of the differences of points, mm²; 0 for no
// differences.
func meanSquare(set []difference, p []mgl64.Vec2) float64 {
	sum := 0.0
	for _, r := range set {
		sum += r.of(p).LenSqr() / float64(len(set))
	}
	return sum
}

// adapted lets the surface turn more where the hull does: each set of differences is
// weighted by the inverse of its mean square in the smooth hull, there and next to it,
// relative to the median; nil where nothing is known.
func adapted(mean []float64) []float64 {
	if mean == nil {
		return nil
	}
	mid := median(append([]float64{}, mean...))
	w := make([]float64, len(mean))
	for s := range mean {
		v := mid
		for k := max(s-1, 0); k <= min(s+1, len(mean)-1); k++ {
			v = max(v, mean[k])
		}
		w[s] = 1
		if v > 0 {
			w[s] = mid / v
		}
	}
	return w
}

// segmentOf is the run of point j: the one below it where it is a knuckle.
func (o *outline) segmentOf(j int) int {
	k := 0
	for k < len(o.ends)-2 && j >= o.ends[k+1] {
		k++
	}
	return k
}

// normalAt is the unit normal of the section at point j, outwards, from a
// chord long enough that one wrong point does not turn it far. A knuckle has
// that of the run below it.
func (o *outline) normalAt(j int) mgl64.Vec2 {
	c := o.curve
	k := o.segmentOf(j)
	low, high := c.Girth[o.ends[k]], c.Girth[o.ends[k+1]]
	reach := tangentShare * c.Total()
	a := c.AtGirth(max(c.Girth[j]-reach, low))
	b := c.AtGirth(min(c.Girth[j]+reach, high))
	t := mgl64.Vec2{b.Y() - a.Y(), b.Z() - a.Z()}
	if !(t.Len() > curve.LeastChord) {
		return mgl64.Vec2{1, 0}
	}
	t = t.Normalize()
	return mgl64.Vec2{-t[1], t[0]}
}

// placesAlong is the place of every frame along the hull: the chord from frame to
// frame, averaged down the girth, over the mean bay. The square root of the chord,
// which tames single sharp turns of a curve, misplaces unevenly spaced frames: on exact
// hulls with bays of one and of two it made half the frames appear bumped.
func placesAlong(curves []*curve.Outline, outlines []outline) []float64 {
	const shares = 16
	rows := make([][]mgl64.Vec3, len(curves))
	for i, c := range curves {
		for p := 1; p < len(outlines[i].lines); p++ {
			a, b := outlines[i].lines[p-1], outlines[i].lines[p]
			for k := range shares + 1 {
				rows[i] = append(rows[i], c.AtGirth(a+(b-a)*float64(k)/shares))
			}
		}
	}
	u := curve.LengthParameter([][][]mgl64.Vec3{rows}, 1)
	mean := u[len(u)-1] / float64(len(u)-1)
	for i := range u {
		u[i] /= mean
	}
	return u
}

// share is the place of a girth between the knuckle lines: the panel and the share of
// it.
func (o *outline) share(girth float64) (panel int, w float64) {
	for panel < len(o.lines)-2 && girth >= o.lines[panel+1] {
		panel++
	}
	a, b := o.lines[panel], o.lines[panel+1]
	return panel, min(max((girth-a)/(b-a), 0), 1)
}

// pick gives the weights with which the frame's points interpolate it at a place: the
// cubic through the four nearest of the run between corners, or fewer where the run has
// fewer.
func (o *outline) pick(panel int, w float64) difference {
	c := o.curve
	girth := o.lines[panel] + w*(o.lines[panel+1]-o.lines[panel])
	k := 0
	for k < len(o.ends)-2 && girth >= c.Girth[o.ends[k+1]] {
		k++
	}
	low, high := o.ends[k], o.ends[k+1]
	j := low
	for j < high-1 && girth >= c.Girth[j+1] {
		j++
	}
	from := max(min(j-1, high-3), low)
	to := min(from+3, high)
	var r difference
	for a := from; a <= to; a++ {
		v := 1.0
		for b := from; b <= to; b++ {
			if b != a {
				v *= (girth - c.Girth[b]) / (c.Girth[a] - c.Girth[b])
			}
		}
		if math.Abs(v) > negligible {
			r.at, r.c = append(r.at, a), append(r.c, v)
		}
	}
	return r
}

// differenceOf gives the weights of the difference of values at rising places, of order
// one less than their number: for the third order on even spacing -1, 3, -3, 1;
// otherwise the divided difference on the same scale, so that the sum of its squares
// represents ∫(f‴)².
func differenceOf(x []float64, mean float64) []float64 {
	order := len(x) - 1
	scale := math.Sqrt((x[order] - x[0]) / float64(order) / mean)
	for k := range order {
		scale *= float64(k+1) * mean
	}
	c := make([]float64, len(x))
	for i := range c {
		c[i] = scale
		for j := range x {
			if j != i {
				c[i] /= x[i] - x[j]
			}
		}
	}
	return c
}

// usual is the mean number of points of a frame.
func (g *grid) usual() float64 { return float64(len(g.at)) / float64(len(g.frames)) }

// differAlong makes the differences along the length: over four frames at a time for
// the third order, one more for each higher, through every point of the middle two or
// one.
func (g *grid) differAlong(outlines []outline, u []float64) {
	for i := 0; i+g.order < len(outlines); i++ {
		d := differenceOf(u[i:i+g.order+1], 1)
		var set []difference
		for _, anchor := range []int{i + g.order/2, i + (g.order+1)/2} {
			o := &outlines[anchor]
			weight := math.Sqrt(0.5 * g.usual() / float64(len(o.curve.Girth)))
			for j := range o.curve.Girth {
				panel, w := o.share(o.curve.Girth[j])
				var r difference
				for k := range d {
					p := difference{at: []int{j}, c: []float64{1}}
					if g.joined == byGirth {
						p = outlines[i+k].pick(panel, w)
					}
					for m, at := range p.at {
						r.at = append(r.at, g.first[i+k]+at)
						r.c = append(r.c, weight*d[k]*p.c[m])
					}
				}
				set = append(set, r)
			}
		}
		g.along = append(g.along, set)
	}
}

// differDown makes the differences down the girth of every frame, none across a corner;
// of a lower order, but at least the third, where there are too few points between two
// corners.
func (g *grid) differDown(outlines []outline) {
	rows := g.rowPlaces()
	for i := range outlines {
		o := &outlines[i]
		places := o.curve.Girth
		if rows != nil {
			places = rows
		}
		mean := places[len(places)-1] / (g.usual() - 1)
		var set []difference
		for k := 1; k < len(o.ends); k++ {
			order := max(min(g.order, o.ends[k]-o.ends[k-1]), 3)
			for j := o.ends[k-1]; j+order <= o.ends[k]; j++ {
				d := difference{c: differenceOf(places[j:j+order+1], mean)}
				for m := range d.c {
					d.at = append(d.at, g.first[i]+j+m)
				}
				set = append(set, d)
			}
		}
		g.down = append(g.down, set)
	}
}
