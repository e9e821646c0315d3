package trace

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Settings for drawing a rough run onto the middle of its line. Lengths in
// pixels.
const (
	runSpacing    = 2.0  // between the points of a run
	runRounds     = 3    // how many times the middle is sought
	stiffness     = 30.0 // of the run, relative to the visible middle
	heldFast      = 50.0 // weight of a point that is to stay
	barelySeen    = 1e-5 // weight where the middle is not visible
	profileHop    = 0.5
	inkTolerance  = 0.25 // of the ink across the line: beyond this there is something else in it
	leastSeen     = 0.4  // weight from which a point counts as visible
	turnSpan      = 10   // points within which no line turns back
	mostUnseen    = 0.35 // share of points where the line is not visible
	oneSide       = 0.65 // weight of a point whose line shows an edge only on one side
	leastSlack    = 1.2  // the least distance by which that edge may be off its place,
	slackShare    = 0.6  // or this share of half the line's width
	sideRow       = 12   // points in a row with the edge on that side
	longestUnseen = 40.0 // widths of the line over which it may be invisible in one stretch
)

// middleRun is a run along the middle of a line, its points runSpacing apart.
type middleRun struct {
	places  []Point
	weights []float64 // how clearly the line is visible there, 0 to 1
	stroke            // as measured along it
}

// middled draws a rough run onto the middle of its line: the centre of the ink
// across it, smoothed along the run by the least Σ w·d² + stiffness·Σ (Δ³)²
// (Whittaker, 1923). A point counts less if there is more or less ink than
// elsewhere on the run: another line crosses or runs close by there, or this one is
// broken. If held, the first point stays where it is.
func (p *Picture) middled(rough []Point, k stroke, held bool) middleRun {
	r := middleRun{places: evenly(rough, runSpacing), stroke: k}
	wide := k.half + 3
	for range runRounds {
		n := len(r.places)
		found, ink := make([]Point, n), make([]float64, n)
		for i := range r.places {
			normal := r.ahead(i, 3).turned()
			off, much := p.inkAcross(r.places[i], normal, r.stroke, wide)
			found[i], ink[i] = r.places[i].plus(normal.times(off)), much
		}
		r.weights = weightsOf(ink)
		for i, e := range p.besideEdges(r) {
			if e.side != 0 && r.weights[i] < oneSide {
				found[i], r.weights[i] = r.places[i].plus(r.ahead(i, 3).turned().times(e.off)), oneSide
			}
		}
		first := found[0]
		if held {
			first = rough[0]
		}
		r.places = whittaker(found, r.weights, r.places, first, held)
		r.places = evenly(r.places, runSpacing)
		wide = k.half + 2
	}
	n := len(r.places)
	ink := make([]float64, n)
	for i := range r.places {
		_, ink[i] = p.inkAcross(r.places[i], r.ahead(i, 3).turned(), r.stroke, wide)
	}
	r.weights = weightsOf(ink)
	for i, e := range p.besideEdges(r) {
		if e.side != 0 && math.Abs(e.off) < r.slack()/2 {
			r.weights[i] = max(r.weights[i], oneSide)
		}
	}
	return r
}

// sideEdge is the edge of a line that shows only one of its edges, because it runs into
// another line on the other side: which side, 0 for none, and how far off that edge
// puts the middle.
type sideEdge struct {
	side int
	off  float64
}

// slack is how far that edge may put the middle off.
func (s stroke) slack() float64 { return max(leastSlack, s.half*slackShare) }

// besideEdges gives these along a run. A crossing line shows an edge on one side before it and
// on the other after it: only what stays on one side for long counts.
func (p *Picture) besideEdges(r middleRun) []sideEdge {
	out := make([]sideEdge, len(r.places))
	if r.isEdge() {
		return out
	}
	from, last, row := 0, 0, 0 // a row on one side: the first, the last and how many
	for i := range out {
		out[i] = p.besideEdge(r.places[i], r.ahead(i, 3).turned(), r.stroke)
		if out[i].side == 0 {
			continue // another line may cross there
		}
		if row > 0 && (out[i].side != out[last].side || i-last > sideRow) {
			dropShort(out[from:i], row)
			row = 0
		}
		if row == 0 {
			from = i
		}
		last = i
		row++
	}
	dropShort(out[from:], row)
	return out
}

// dropShort clears those on one side where they are few.
func dropShort(same []sideEdge, row int) {
	if row < sideRow {
		clear(same)
	}
}

// besideEdge looks for one at a point.
func (p *Picture) besideEdge(at, normal Point, k stroke) sideEdge {
	tangent := normal.turned()
	ink := func(s float64) float64 {
		q := at.plus(normal.times(s))
		return k.inked((p.grey(q.plus(tangent.times(-1))) + p.grey(q) + p.grey(q.plus(tangent))) / 3)
	}
	middle := ink(0)
	edge := func(side float64) (float64, bool) {
		last := middle
		for s := profileHop; s <= k.half+2*k.slack(); s += profileHop {
			v := ink(side * s)
			if last >= halfInk && v < halfInk {
				return s - profileHop*(halfInk-v)/(last-v), true
			}
			last = v
		}
		return 0, false
	}
	left, isLeft := edge(-1)
	right, isRight := edge(1)
	e := sideEdge{1, right - k.half}
	if isLeft {
		e = sideEdge{-1, k.half - left}
	}
	if isLeft == isRight || math.Abs(e.off) > k.slack() {
		return sideEdge{}
	}
	return e
}

// weightsOf says how clearly the line is visible, by how close the ink across it
// is to the median.
func weightsOf(ink []float64) []float64 {
	sorted := slices.Sorted(slices.Values(ink))
	usual := max(sorted[len(sorted)/2], 1e-6)
	out := make([]float64, len(ink))
	for i, v := range ink {
		d := (v/usual - 1) / inkTolerance
		out[i] = math.Exp(-d * d / 2)
	}
	return out
}

// ahead is the direction of the run at a point, taken over so many points on
// either side.
func (r middleRun) ahead(i, over int) Point {
	a, b := r.places[max(i-over, 0)], r.places[min(i+over, len(r.places)-1)]
	d := b.minus(a)
	if l := d.length(); l > 0 {
		return d.times(1 / l)
	}
	return Point{1, 0}
}

// inkAcross gives the centre of the ink across a line, in pixels from a point,
// and the amount of ink; for an edge the same of its slope.
func (p *Picture) inkAcross(at, normal Point, k stroke, wide float64) (off, much float64) {
	n := int(math.Ceil(wide / profileHop))
	tangent := normal.turned()
	values := make([]float64, 2*n+1)
	for i := range values {
		q := at.plus(normal.times(float64(i-n) * profileHop))
		values[i] = (p.grey(q.plus(tangent.times(-1))) + p.grey(q) + p.grey(q.plus(tangent))) / 3
	}
	if k.isEdge() {
		values = steepness(values)
	} else {
		here := k // the paper's brightness here
		light, dark := max(values[0], values[2*n]), min(values[0], values[2*n])
		here.paper = light
		if k.ink > k.paper {
			here.paper = dark
		}
		here.ink = here.paper - (k.paper - k.ink)
		for i, v := range values {
			values[i] = max(here.inked(v)-0.12, 0)
		}
	}
	ownHill(values, k.half/profileHop+1)
	moment := 0.0
	for i, v := range values {
		moment += v * float64(i-n) * profileHop
		much += v
	}
	if much < 1e-9 {
		return 0, 0
	}
	return moment / much, much * profileHop
}

// hillNoise is how much values may rise again on the way down from a hill.
const hillNoise = 0.08

// ownHill keeps of the values only the hill whose top is the highest near the
// middle: a second rise beside it belongs to a line close by.
func ownHill(values []float64, near float64) {
	n := len(values) / 2
	top, highest := n, 0.0
	for i := max(n-int(near), 0); i <= min(n+int(near), len(values)-1); i++ {
		if values[i] > highest {
			top, highest = i, values[i]
		}
	}
	for _, step := range []int{-1, 1} {
		i, least := top, highest
		for ; i >= 0 && i < len(values) && values[i] <= least+hillNoise*highest; i += step {
			least = min(least, values[i])
		}
		for ; i >= 0 && i < len(values); i += step {
			values[i] = 0
		}
	}
}

// steepness is how steep values are where they rise in the same direction as
// most of them, squared so that flat ground counts little.
func steepness(values []float64) []float64 {
	out := make([]float64, len(values))
	rise := values[len(values)-1] - values[0]
	for i := 1; i+1 < len(values); i++ {
		if s := (values[i+1] - values[i-1]) * sign(rise); s > 0 {
			out[i] = s * s
		}
	}
	return out
}

// whittaker smooths points by the weights. Where a point is hardly visible it
// stays near its old position.
func whittaker(found []Point, weights []float64, was []Point, first Point, held bool) []Point {
	n := len(found)
	if n < 5 {
		return found
	}
	const band = 3
	a := mat.NewSymBandDense(n, band, nil)
	xy := mat.NewDense(n, 2, nil)
	for i := range n {
		w, q := weights[i]+barelySeen, found[i].times(weights[i]).plus(was[i].times(barelySeen))
		if held && i == 0 {
			w, q = heldFast, first.times(heldFast)
		}
		a.SetSymBand(i, i, w)
		xy.Set(i, 0, q.X)
		xy.Set(i, 1, q.Y)
	}
	third := [band + 1]float64{-1, 3, -3, 1}
	for i := 0; i+band < n; i++ {
		for s := range third {
			for t := s; t <= band; t++ {
				a.SetSymBand(i+s, i+t, a.At(i+s, i+t)+stiffness*third[s]*third[t])
			}
		}
	}
	var c mat.BandCholesky
	var smooth mat.Dense
	if !c.Factorize(a) || c.SolveTo(&smooth, xy) != nil {
		return found
	}
	out := make([]Point, n)
	for i := range out {
		out[i] = Point{smooth.At(i, 0), smooth.At(i, 1)}
	}
	return out
}

// evenly gives points along a run, keeping the first and last, as near as
// possible to a spacing apart.
func evenly(run []Point, spacing float64) []Point {
	if len(run) < 2 {
		return run
	}
	miles := milesOf(run)
	whole := miles[len(miles)-1]
	n := max(int(math.Round(whole/spacing)), 1)
	out := make([]Point, 0, n+1)
	k := 0
	for i := range n + 1 {
		s := whole * float64(i) / float64(n)
		for k+2 < len(run) && miles[k+1] < s {
			k++
		}
		t := 0.0
		if d := miles[k+1] - miles[k]; d > 0 {
			t = (s - miles[k]) / d
		}
		out = append(out, between(run[k], run[k+1], t))
	}
	return out
}

// milesOf is the distance along a run of each of its points.
func milesOf(run []Point) []float64 {
	out := make([]float64, len(run))
	for i := 1; i < len(run); i++ {
		out[i] = out[i-1] + run[i].distance(run[i-1])
	}
	return out
}

// seen reports whether a run lies on a line for nearly all of its length, and
// never turns back.
func (r middleRun) seen() bool {
	for i := 0; i+turnSpan < len(r.places); i++ {
		if r.ahead(i, 3).dot(r.ahead(i+turnSpan, 3)) < -0.2 {
			return false
		}
	}
	unseen, row := 0, 0
	longest := longestUnseen * max(2*r.half, 1)
	for _, w := range r.weights {
		if w >= leastSeen {
			row = 0
			continue
		}
		unseen++
		if row++; float64(row)*runSpacing > longest {
			return false
		}
	}
	return float64(unseen) <= mostUnseen*float64(len(r.weights))
}

// measured measures the line along its run, where it is clearly visible: the
// median of all measurements.
func (p *Picture) measured(r middleRun) (lineAt, bool) {
	var usual lineAt
	var halves, inks, papers []float64
	step := max(len(r.places)/24, 1)
	for i := step / 2; i < len(r.places); i += step {
		if r.weights[i] < leastSeen {
			continue
		}
		n := r.ahead(i, 3).turned()
		o, ok := p.nearestOutline(r.places[i], n, leastReach)
		if !ok || (o.half == 0) != r.isEdge() {
			continue
		}
		s := p.strokeAt(r.places[i].plus(n.times(o.at)), n, o.half)
		usual.at, usual.normal = r.places[i], n
		halves, inks, papers = append(halves, s.half), append(inks, s.ink), append(papers, s.paper)
	}
	if len(halves) < 3 {
		return lineAt{}, false
	}
	return lineAt{usual.at, usual.normal, stroke{middleOf(halves), middleOf(inks), middleOf(papers)}}, true
}

func middleOf(all []float64) float64 {
	slices.Sort(all)
	return all[len(all)/2]
}
