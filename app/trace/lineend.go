package trace

import (
	"cmp"
	"math"
	"slices"
)

// Settings for finding the end of a line. Lengths in pixels.
const (
	endHop       = 0.25
	endLead      = 64.0 // the last part of a run, from which it is extended
	jumpLead     = 24.0 // and from which it is decided whether it jumped to another line
	endBack      = 16.0 // how far back from the point a line is examined for its end
	endSure      = 8.0  // how far the line must be absent beyond its end
	widestLine   = 24.0 // the greatest width, along this line, of another line at which it ends
	halfInk      = 0.5
	wholeInk     = 0.7 // ink of a line that continues after a break: a crossing line is often thinner
	sideInk      = 0.3
	sureSeen     = 0.6
	sureRow      = 6    // points in a row that are clearly visible
	lastLooked   = 70.0 // the part of a run in which it may have jumped to another line
	alikeSpans   = 1.7  // the most times as wide that a line may look on one side as on the other
	mostPaper    = 1.0  // this much paper is only a flaw in the ink
	leastResumed = 16.0 // length of a line that continues after a break
	endStray     = 1.5  // how far to the side a line may continue beyond its end
	walkHop      = 2.0
	leastWalked  = 12.0
)

// lineEnd is how a line ends.
type lineEnd uint8

const (
	goesOn  lineEnd = iota // it does not
	endFree                // with paper around it
	endTee                 // on another line
	endBend                // at a corner: it may continue in another direction
)

// endBeyond looks for the end of a line beyond a run along it, at most reach
// further. It is the end of the ink, or the middle of the line on which it ends.
// It returns the run up to there, with the same bend as before where the line is
// not clearly visible.
func (p *Picture) endBeyond(r middleRun, reach float64) ([]Point, lineEnd) {
	whole := r
	r = r.sure()
	if len(r.places) < 4 {
		return nil, goesOn
	}
	unseen := float64(len(whole.places)-len(r.places)) * runSpacing
	e := endLook{middleRun: r, ahead: r.carriedOn(endLead)}
	within := reach + unseen + widestLine
	for k := range int((within + endSure + r.beside() + leastResumed) / endHop) {
		at, dir := e.ahead(float64(k) * endHop)
		if !p.Holds(at) {
			break
		}
		inked := func(off float64) float64 { return r.inked(p.grey(at.plus(dir.turned().times(off)))) }
		for i, off := range []float64{-r.beside(), r.beside()} {
			e.sides[i] = append(e.sides[i], inked(off) > sideInk)
		}
		e.ink = append(e.ink, (inked(0)+inked(-r.half/2)+inked(r.half/2))/3 > halfInk)
		e.about = append(e.about, max(inked(0), inked(-endStray), inked(endStray)) > wholeInk)
	}
	if !e.stops(within) {
		return nil, goesOn
	}
	return e.end()
}

// endLook is what is visible beyond a run, at steps of endHop.
type endLook struct {
	middleRun
	ahead func(float64) (at, dir Point)
	last  float64   // how far there is unbroken ink in the middle
	ink   []bool    // whether there is ink in the middle
	about []bool    // or close to it
	sides [2][]bool // whether there is ink on the left, and on the right
}

// stops finds how far the ink continues, and reports whether the line stops
// there. It does not if it is only broken, and soon there is ink again that
// continues further than that of a crossing line.
func (e *endLook) stops(within float64) bool {
	stop := -1
	for k := 0; k < len(e.ink) && float64(k-stop-1)*endHop <= mostPaper; k++ {
		if e.ink[k] {
			stop = k
		}
	}
	e.last = float64(stop) * endHop
	soon := stop + int((endSure+e.beside())/endHop)
	if stop < 0 || e.last > within || soon >= len(e.ink) {
		return false
	}
	row := 0
	for k := stop + 1 + int(mostPaper/endHop); k < len(e.about) && (k <= soon || row > 0); k++ {
		if row++; !e.about[k] {
			row = 0
		}
		if float64(row)*endHop >= leastResumed {
			return false
		}
	}
	return true
}

// end says how a line ends, from another line's ink beside it.
func (e *endLook) end() ([]Point, lineEnd) {
	left, hasLeft := e.across(0)
	right, hasRight := e.across(1)
	where, how := e.last, endFree
	switch {
	case hasLeft && hasRight:
		how = endTee
		thin := min(left.wide(), right.wide())
		switch {
		case left.narrow() && right.narrow() && max(left.wide(), right.wide()) < alikeSpans*thin:
			where = (left.mid() + right.mid()) / 2
		case thin < 4*e.half+1.5:
			where -= thin / 2 // its ink reaches to the far side of that line
		default: // lines run together there
			where -= e.half / 2
		}
	case hasLeft && left.narrow():
		where, how = where-left.wide()/2, endBend
	case hasRight && right.narrow():
		where, how = where-right.wide()/2, endBend
	}
	if math.Abs(where-e.last) > widestLine/2 {
		where = e.last
	}
	run := slices.Clone(e.places)
	for s := runSpacing; s < where-runSpacing/2; s += runSpacing {
		at, _ := e.ahead(s)
		run = append(run, at)
	}
	at, _ := e.ahead(where)
	return append(run, at), how
}

// inkSpan is the range along a line with ink at its side.
type inkSpan struct{ from, to float64 }

func (s inkSpan) mid() float64  { return (s.from + s.to) / 2 }
func (s inkSpan) wide() float64 { return s.to - s.from }

// narrow reports whether it belongs to a line that this one meets, and not to
// one that runs beside it.
func (s inkSpan) narrow() bool { return s.wide() < widestLine/2 && s.from > 0 }

// across is the ink on one side that is nearest to where the line's own ink
// ends.
func (e *endLook) across(side int) (inkSpan, bool) {
	ink := e.sides[side]
	stop := int(e.last / endHop)
	most := int((e.beside() + e.half + 2) / endHop)
	for d := range most {
		for _, k := range []int{stop - d, stop + d} {
			if k < 0 || k >= len(ink) || !ink[k] {
				continue
			}
			from, to := k, k
			for from > 0 && ink[from-1] {
				from--
			}
			for to+1 < len(ink) && ink[to+1] {
				to++
			}
			return inkSpan{float64(from) * endHop, float64(to) * endHop}, true
		}
	}
	return inkSpan{}, false
}

// sure drops the last part of a run where the line is not clearly visible. Brief
// sightings where lines run together do not count, nor anything off the course
// of the line before: there the run jumped to another.
func (r middleRun) sure() middleRun {
	n, row := len(r.places), 0
	for i := n - 1; i >= 0 && row < sureRow; i-- {
		if row++; r.weights[i] < sureSeen {
			n, row = i, 0
		}
	}
	for i, from := n-1, max(n/2, n-int(lastLooked/runSpacing)); i > from; i-- {
		if r.weights[i] >= sureSeen {
			continue
		}
		gap := i
		for gap > from && r.weights[gap-1] < sureSeen {
			gap--
		}
		before := r.first(gap - 2)
		if len(before.places) < 4 {
			break
		}
		to := min(i+sureRow, n-1)
		s := milesOf(r.places[max(gap-3, 0) : to+1])
		if at, _ := before.carriedOn(jumpLead)(s[len(s)-1]); at.distance(r.places[to]) > 1+s[len(s)-1]/30 {
			n = gap
		}
		i = gap
	}
	if n < len(r.places) {
		n -= 2 // the beginning of a neighbouring line affects the last visible points
	}
	return r.first(n - 2) // smoothed values are least reliable at the end
}

// smoothEnd gives a run whose last part, where the line is not clearly visible,
// continues as before.
func (r middleRun) smoothEnd() middleRun {
	sure := r.sure()
	n := len(sure.places)
	if n < 4 || len(r.places)-n <= sureRow {
		return r
	}
	ahead := sure.carriedOn(endLead)
	out := middleRun{slices.Clone(sure.places), slices.Clone(sure.weights), r.stroke}
	for k := 1; k <= len(r.places)-n+2; k++ {
		at, _ := ahead(float64(k) * runSpacing)
		out.places, out.weights = append(out.places, at), append(out.weights, 0)
	}
	return out
}

// first gives the first n points of a run.
func (r middleRun) first(n int) middleRun {
	if n < 4 {
		return middleRun{stroke: r.stroke}
	}
	return middleRun{r.places[:n], r.weights[:n], r.stroke}
}

// carriedOn extends a run beyond its end with the bend it has there: by the
// circle through the last, first and middle points of its last length px.
func (r middleRun) carriedOn(length float64) func(s float64) (at, dir Point) {
	n := len(r.places)
	lead := min(int(length/runSpacing), n-1) / 2 * 2
	a, m, z := r.places[n-1-lead], r.places[n-1-lead/2], r.places[n-1]
	bend := 0.0
	if d := a.distance(m) * m.distance(z) * a.distance(z); d > 0 {
		bend = 2 * m.minus(a).cross(z.minus(m)) / d
	}
	chord := z.minus(a)
	toward := math.Atan2(chord.Y, chord.X) + bend*chord.length()/2
	return func(s float64) (Point, Point) {
		sin, cos := math.Sincos(toward + bend*s)
		dir := Point{cos, sin}
		sin, cos = math.Sincos(toward + bend*s/2)
		return z.plus(Point{cos, sin}.times(s)), dir
	}
}

// walk follows a line from a point for at most far, as long as it is clearly
// visible.
func (p *Picture) walk(l lineAt, ahead Point, far float64) middleRun {
	r := middleRun{places: []Point{l.at}, weights: []float64{1}, stroke: l.stroke}
	_, usual := p.inkAcross(l.at, ahead.turned(), l.stroke, l.half+2)
	at := l.at
	for s := 0.0; s < far; s += walkHop {
		at = at.plus(ahead.times(walkHop))
		normal := ahead.turned()
		off, much := p.inkAcross(at, normal, l.stroke, l.half+2)
		w := weightsOf([]float64{usual, usual, much})[2]
		if w >= leastSeen && math.Abs(off) < 1 {
			at = at.plus(normal.times(off))
		}
		if much < usual/3 {
			break
		}
		r.places, r.weights = append(r.places, at), append(r.weights, w)
		ahead = r.ahead(len(r.places)-1, 6)
	}
	return r
}

// ending is the end of a line, with a point on it just before.
type ending struct {
	at   Point
	how  lineEnd
	line lineAt
}

// endsAbout gives the ends of lines within reach of a point, the nearest first.
func (p *Picture) endsAbout(at Point, reach float64) []ending {
	var all []ending
	for _, l := range p.linesAbout(at, reach) {
		for _, ahead := range []Point{l.normal.turned(), l.normal.turned().times(-1)} {
			run, how := p.endOf(l, ahead, reach)
			if how == goesOn {
				continue
			}
			if end := run[len(run)-1]; end.distance(at) <= reach {
				all = append(all, ending{end, how, l})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b ending) int { return cmp.Compare(a.at.distance(at), b.at.distance(at)) })
	return all
}

// SnapEnd gives the end of a line nearest to a click, and whether there is one
// within reach pixels (taken within 3 and 40): where the ink ends, or the middle
// of another line on which it ends, or the corner at which it meets one.
func (p *Picture) SnapEnd(at Point, reach float64) (Point, bool) {
	reach = min(max(reach, leastReach), mostReach)
	if !at.finite() || !p.Holds(at) {
		return at, false
	}
	all := p.endsAbout(at, reach)
	if len(all) == 0 {
		return at, false
	}
	return all[0].at, true
}

// endOf looks for the end of a line in a direction from a point on it. Anything
// too short to be a line has none.
func (p *Picture) endOf(l lineAt, ahead Point, reach float64) ([]Point, lineEnd) {
	back := p.walk(l, ahead.times(-1), endBack)
	on := p.walk(l, ahead, 2*reach)
	n := len(back.places)
	if float64(n-1)*walkHop < leastWalked {
		return nil, goesOn
	}
	r := middleRun{stroke: l.stroke}
	for i := n - 1; i > 0; i-- {
		r.places, r.weights = append(r.places, back.places[i]), append(r.weights, back.weights[i])
	}
	r.places, r.weights = append(r.places, on.places...), append(r.weights, on.weights...)
	return p.endBeyond(r, reach)
}
