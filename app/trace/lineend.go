package trace

import (
	"cmp"
	"math"
	"slices"
)

// How the end of a line is found. Lengths in pixels.
const (
	endHop       = 0.25
	endLead      = 64.0 // the last of a run, by which it is carried on
	jumpLead     = 24.0 // and by which it is told whether it went over to another line
	endBack      = 16.0 // so far back from the place a line is looked at for its end
	endSure      = 8.0  // so far the line must not go on beyond its end
	widestLine   = 24.0 // another line at which it ends is at most so wide along it
	halfInk      = 0.5
	wholeInk     = 0.7 // of a line that goes on after a break: one that crosses is often thinner
	sideInk      = 0.3
	sureSeen     = 0.6
	sureRow      = 6    // places in a row that are clearly seen
	lastLooked   = 70.0 // of a run, where it may have gone over to another line
	alikeSpans   = 1.7  // so many times as wide a line may look at one side as at the other
	mostPaper    = 1.0  // so much paper is only a flaw of the ink
	leastResumed = 16.0 // so long a line is that goes on after a break
	endStray     = 1.5  // so far to a side a line may go on beyond its end
	walkHop      = 2.0
	leastWalked  = 12.0
)

// lineEnd is how a line ends.
type lineEnd uint8

const (
	goesOn  lineEnd = iota // it does not
	endFree                // with paper about it
	endTee                 // on another line
	endBend                // at a corner: it may go on in another direction
)

// endBeyond looks for the end of a line beyond a run along it, at most reach
// further. It is the end of the ink, or the middle of the line on which it ends.
// It gives the run up to there, where the line is not clearly seen as bent as
// before.
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

// endLook is what is seen beyond a run, endHop apart.
type endLook struct {
	middleRun
	ahead func(float64) (at, dir Point)
	last  float64   // so far on there is ink in the middle without a break
	ink   []bool    // whether there is ink in the middle
	about []bool    // or close beside it
	sides [2][]bool // whether there is ink at the left, and at the right
}

// stops finds how far the ink goes on, and tells whether the line stops there: it
// does not where it is only broken, and there is ink again soon that goes on
// further than that of a line which crosses.
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

// end tells how a line ends, by another line's ink at its sides.
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
			where -= thin / 2 // its ink reaches on to the further side of that line
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

// inkSpan is from where to where along a line there is ink at its side.
type inkSpan struct{ from, to float64 }

func (s inkSpan) mid() float64  { return (s.from + s.to) / 2 }
func (s inkSpan) wide() float64 { return s.to - s.from }

// narrow tells whether it is that of a line that is come to, and not of one that
// runs along.
func (s inkSpan) narrow() bool { return s.wide() < widestLine/2 && s.from > 0 }

// across is the ink at a side that is nearest to where the line's own ends.
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

// sure leaves out the last of a run where the line is not clearly seen. What is
// seen for a moment, where lines run together, does not count, nor what does not
// lie where the line before leads to: there the run went over to another.
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
		n -= 2 // the first of what runs close by counts in the last places that are seen
	}
	return r.first(n - 2) // what is smoothed is least sure at its end
}

// smoothEnd gives a run whose last, where the line is not clearly seen, leads on as
// before.
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

// first gives the first places of a run.
func (r middleRun) first(n int) middleRun {
	if n < 4 {
		return middleRun{stroke: r.stroke}
	}
	return middleRun{r.places[:n], r.weights[:n], r.stroke}
}

// carriedOn carries a run on from its end, as bent as it is there: by the
// circle through its last, its first and its middle place of the last length px.
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

// walk follows a line from a place for at most so far, as long as it is clearly
// seen.
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

// ending is the end of a line, with a place on it before.
type ending struct {
	at   Point
	how  lineEnd
	line lineAt
}

// endsAbout gives the ends of lines within reach of a place, the nearest first.
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

// endOf looks for the end of a line in a direction from a place of it. What is
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
