package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
)

// lineNotes holds what is to be reported about the frames, by their names.
type lineNotes struct {
	high, low  []string // that end at the highest or lowest curve
	most       float64  // greatest half-breadth at which such a frame ends below
	twice      []string // at which a buttock is crossed twice
	missed     []string // at which a curve is missing between others
	few        []string // stations skipped for want of points
	doubled    []string // stations skipped because a curve doubles back there
	edge       bool     // that the half-breadth of the rabbet is not drawn
	said, even bool     // how stations were chosen
	ends       []string // end curves taken
}

// hit is a crossing of a curve and a station.
type hit struct {
	v     float64
	level bool // along a straight edge of the curve
}

// hits are the places at which the line crosses a station, by increasing value; where it
// runs along the station, only the outermost of that run. An open line may fall short of
// the station by as much as is allowed between ends that are joined.
func (p *planLine) hits(x float64) []hit {
	const on = 1e-6
	var out []hit
	for i := range p.chains {
		c := &p.chains[i]
		n := len(c.pts)
		if b := boxOf(c.pts); x < b.x0 || x > b.x1 {
			continue
		}
		run := math.NaN() // of the points on the station so far
		for k, q := range c.pts {
			d := q[0] - x
			if end := k == 0 || k == n-1; math.Abs(d) <= on || (end && !c.closed && c.shortOf(k, d)) {
				if math.IsNaN(run) || math.Abs(q[1]) > math.Abs(run) {
					run = q[1]
				}
				continue
			}
			if !math.IsNaN(run) {
				out, run = append(out, hit{v: run}), math.NaN()
			}
			if k+1 < n && d*(c.pts[k+1][0]-x) < 0 && math.Abs(c.pts[k+1][0]-x) > on {
				r := c.pts[k+1]
				out = append(out, hit{q[1] + (r[1]-q[1])*d/(q[0]-r[0]), math.Abs(r[1]-q[1]) <= leanShare*math.Abs(r[0]-q[0])})
			}
		}
		if !math.IsNaN(run) {
			out = append(out, hit{v: run})
		}
	}
	slices.SortFunc(out, func(a, b hit) int { return cmp.Compare(a.v, b.v) })
	return slices.CompactFunc(out, func(a, b hit) bool { return math.Abs(b.v-a.v) <= meeting })
}

// shortOf reports whether the end k of an open chain, d beyond a station, falls short of
// it by no more than is allowed between ends that are joined.
func (c *chain) shortOf(k int, d float64) bool {
	if math.Abs(d) > meeting {
		return false
	}
	next := c.pts[1]
	if k > 0 {
		next = c.pts[len(c.pts)-2]
	}
	return d*(next[0]-c.pts[k][0]) > 0
}

// values are the values at which a line crosses a station, in increasing order.
func (p *planLine) values(x float64) []float64 {
	var out []float64
	for _, h := range p.hits(x) {
		out = append(out, h.v)
	}
	return out
}

// breadths gives the half-breadths at a station above the centre line of the plan, and
// below it; one suffices where the curve is the same on both sides.
func (p *planLine) breadths(x float64) (above, below []float64) {
	var sides [2][]hit
	onCentre, near := false, 0.0
	for _, h := range p.hits(x) {
		switch {
		case math.Abs(h.v) <= meeting:
			onCentre, near = true, max(near, math.Abs(h.v))
		case h.v > 0:
			sides[0] = append(sides[0], h)
		default:
			sides[1] = append(sides[1], hit{-h.v, h.level})
		}
	}
	closed := slices.ContainsFunc(p.chains, func(c chain) bool { return c.closed })
	var out [2][]float64
	for k, side := range sides {
		slices.SortFunc(side, func(a, b hit) int { return cmp.Compare(a.v, b.v) })
		if closed && len(side) == 2 && side[0].level {
			side = side[1:] // the edge of a closed half, along the half-siding of stem and sternpost
		}
		for _, h := range side {
			out[k] = append(out[k], h.v)
		}
	}
	if len(out[0])+len(out[1]) == 0 && onCentre {
		out[0] = []float64{near}
	}
	return out[0], out[1]
}

// breadth is the half-breadth at a station, of the half that is to be used; ok is false
// where the curve does not reach it. A curve that doubles back there is a fault.
func (l *lined) breadth(p *planLine, x float64) (y float64, halves [2]float64, ok bool) {
	if p == nil {
		return 0, halves, false
	}
	above, below := p.breadths(x)
	for _, side := range [][]float64{above, below} {
		if n := len(side); n > 1 {
			l.Add(p.line, "", "leave the line out or choose another station, and draw each height once",
				"%s crosses the station at x %s mm more than once on one side, at half-breadths %s and %s mm", p.name, fault.Figure(x), hundredth(side[0]), hundredth(side[n-1]))
			return 0, halves, false
		}
	}
	if len(above)+len(below) == 0 {
		return 0, halves, false
	}
	if len(above) > 0 && len(below) > 0 {
		halves = [2]float64{above[0], below[0]}
	}
	return l.taken(above, below), halves, true
}

// taken is the half-breadth to use, from those on the two sides, of which there is at
// least one.
func (l *lined) taken(above, below []float64) float64 {
	switch {
	case len(below) == 0 || (len(above) > 0 && l.half == RightHalf):
		return above[0]
	case len(above) == 0 || l.half == LeftHalf:
		return below[0]
	}
	return (above[0] + below[0]) / 2
}

func hundredth(v float64) string { return fault.Figure(math.Round(v*100) / 100) }

// span finds the ends of the hull as drawn.
func (l *lined) span() {
	l.low, l.high = math.Inf(1), math.Inf(-1)
	for _, lines := range [][]*planLine{l.waters, l.butts} {
		if len(lines) > 0 {
			b := boxOfLines(lines)
			l.low, l.high = min(l.low, b.x0+meeting), max(l.high, b.x1-meeting)
		}
	}
}

// stations are where frames are taken, with their names: as given, at the marks
// of stations, or evenly spaced where most curves run.
func (l *lined) stations() (at []float64, names []string) {
	if at = l.at.within(l.low, l.high, l.List); len(at) > 0 || len(l.Found) > 0 {
		l.told.said = len(l.at.List) > 0
		return at, nil
	}
	var marked []partKey
	for _, key := range l.keys() {
		if key.mark == StationMark {
			marked = append(marked, key)
		}
	}
	where := func(key partKey) float64 { return l.stationAt(key.frame) }
	slices.SortFunc(marked, func(a, b partKey) int { return cmp.Compare(where(a), where(b)) })
	for _, key := range marked {
		at, names = append(at, where(key)), append(names, key.frame)
	}
	if len(at) > 0 {
		l.told.said = true
		return at, names
	}
	l.told.even = true
	low, high := l.shared()
	for k := range evenStations {
		at = append(at, low+(high-low)*(float64(k)+0.5)/evenStations)
	}
	return at, nil
}

// stationAt is the x of a station's marks: of those along the half-breadth plan or,
// without any, the sheer plan.
func (l *lined) stationAt(name string) float64 {
	view, lines := inBreadth, l.waters
	if len(lines) == 0 {
		view, lines = inHeight, l.butts
	}
	b := boxOfLines(lines)
	sum, n := 0.0, 0.0
	places := l.places(StationMark, name, 0)
	for _, u := range places {
		if x := u - l.zero[view][0]; x >= b.x0 && x <= b.x1 {
			sum, n = sum+x, n+1
		}
	}
	if n == 0 {
		return places[0] - l.zero[view][0]
	}
	return sum / n
}

// wholeShare is the share of the hull that the range of all curves must cover to stand
// for it.
const wholeShare = 0.8

// shared is the range along the hull that all curves cover or, where that is only a
// small part of it, the range covered by as many as a frame needs.
func (l *lined) shared() (low, high float64) {
	var from, to []float64
	for _, lines := range [][]*planLine{l.waters, l.butts} {
		for _, p := range lines {
			b := boxOfLines([]*planLine{p})
			from, to = append(from, b.x0+meeting), append(to, b.x1-meeting)
		}
	}
	slices.Sort(from)
	slices.Sort(to)
	n := len(from)
	if low, high = from[n-1], to[0]; high-low >= wholeShare*(l.high-l.low) {
		return low, high
	}
	k := min(fewestCrossed, n) - 1
	return from[k], to[n-1-k]
}

// spot is a point of a frame, and the curve it came from.
type spot struct {
	y, z    float64
	buttock bool
}

// mostDoubled is the share of stations not listed one by one at which curves may double
// back: these are skipped.
const mostDoubled = 0.25

// hull makes the frames and the end curves.
func (l *lined) hull() {
	at, names := l.stations()
	if len(l.Found) > 0 {
		return
	}
	var frames []hull.Frame
	for k, x := range at {
		if l.stopped() {
			return
		}
		name := fmt.Sprintf("F%d", len(frames)+1)
		if names != nil {
			name = names[k]
		}
		was, halves, faults := l.told, len(l.drawing.Halves), len(l.Found)
		if fr, ok := l.frameAt(name, x); ok {
			frames = append(frames, fr)
			continue
		}
		doubled := len(l.Found) > faults
		l.told, l.drawing.Halves = was, l.drawing.Halves[:halves]
		if doubled {
			l.told.doubled = append(l.told.doubled, hundredth(x))
		} else {
			l.told.few = append(l.told.few, hundredth(x))
		}
	}
	if n := len(l.told.doubled); !l.told.said && len(frames) > 0 && float64(n) <= mostDoubled*float64(len(at)) {
		l.Found = l.Found[:0]
	}
	if len(l.Found) == 0 && len(frames) == 0 {
		l.Add(0, "", "draw more waterlines or buttocks, or the sheer and the rabbet", "no station crosses the %d lines that a frame needs", fewestCrossed)
	}
	l.drawing.Hull.Bow = l.how.Bow
	l.drawing.Hull.Frames = l.withEnds(frames)
}

// frameAt is the frame at a station; ok is false where the drawing shows too little of
// it, or a curve doubles back there.
func (l *lined) frameAt(name string, x float64) (fr hull.Frame, ok bool) {
	faults := len(l.Found)
	spots, differ := l.spots(name, x)
	top, rabbet := l.limits(x)
	if len(l.Found) > faults {
		return fr, false
	}
	size := 0.0
	for _, s := range spots {
		size = max(size, s.y, s.z-spots[len(spots)-1].z)
	}
	if top != nil {
		spots = slices.DeleteFunc(spots, func(s spot) bool { return s.z > top.z || (s.buttock && s.z > top.z-nearShare*size) })
		spots = append([]spot{*top}, spots...)
	}
	if rabbet != nil {
		spots = slices.DeleteFunc(spots, func(s spot) bool { return s.z < rabbet.z })
		spots = append(spots, *rabbet)
	}
	spots = apart(spots, nearShare*size)
	if len(spots) < fewestCrossed {
		if l.told.said {
			l.Add(0, "", "leave the station out, or draw more waterlines or buttocks, or the sheer and the rabbet",
				"the station at x %s mm crosses the lines in %s, but a frame needs %d points", fault.Figure(x), tongue.Count(len(spots), "%d place", "%d places", len(spots)), fewestCrossed)
		}
		return fr, false
	}
	if l.told.ended(name, top, rabbet, spots); differ.MM > 0 {
		l.drawing.Halves = append(l.drawing.Halves, differ)
	}
	fr.Name = name
	for _, s := range spots {
		fr.Points = append(fr.Points, mgl64.Vec3{x, max(s.y, 0), s.z})
	}
	return fr, true
}

// ended notes a frame that ends where the drawing does, and not at a limit.
func (n *lineNotes) ended(name string, top, rabbet *spot, spots []spot) {
	if top == nil {
		n.high = append(n.high, name)
	}
	if low := spots[len(spots)-1]; rabbet == nil && low.y > 10*meeting {
		n.low, n.most = append(n.low, name), max(n.most, low.y)
	}
}

// spots are where the curves cross a station, from the highest down, and the most by
// which the two halves of waterlines drawn whole differ there.
func (l *lined) spots(name string, x float64) (out []spot, differ Halves) {
	differ = Halves{Frame: name}
	first, last, missed := -1, -1, 0
	for i, p := range l.waters {
		y, halves, ok := l.breadth(p, x)
		if !ok {
			continue
		}
		if first < 0 {
			first = i
		}
		missed += max(i-last-1, 0)
		if last < 0 {
			missed = 0
		}
		last = i
		out = append(out, spot{y, p.at, false})
		if d := math.Abs(halves[0] - halves[1]); halves[0] > 0 && d >= differ.MM {
			differ.MM, differ.Y, differ.Z = math.Max(d, 1e-9), y, p.at
		}
	}
	if missed > 0 {
		l.told.missed = append(l.told.missed, name)
	}
	for _, p := range l.butts {
		z := p.values(x)
		if len(z) > 2 {
			l.Add(p.line, "", "leave the line out, or choose another station", "%s crosses the station at x %s mm %d times", p.name, fault.Figure(x), len(z))
		}
		if len(z) > 1 {
			l.told.twice = append(l.told.twice, name)
		}
		if len(z) > 0 {
			out = append(out, spot{p.at, z[0], true})
		}
	}
	slices.SortFunc(out, func(a, b spot) int { return cmp.Or(cmp.Compare(b.z, a.z), cmp.Compare(b.y, a.y)) })
	return out, differ
}

// limits are the upper and lower end of a frame, where they are drawn.
func (l *lined) limits(x float64) (top, rabbet *spot) {
	if y, _, ok := l.breadth(l.upper[inBreadth], x); ok && l.upper[inHeight] != nil {
		if z := l.upper[inHeight].values(x); len(z) > 0 {
			top = &spot{y: y, z: z[len(z)-1]}
		}
	}
	if p := l.rabbet[inHeight]; p != nil {
		if z := p.values(x); len(z) > 0 {
			rabbet = &spot{y: p.siding, z: z[0]}
			if y, _, ok := l.breadth(l.rabbet[inBreadth], x); ok {
				rabbet.y = y
			} else if p.siding == 0 {
				l.told.edge = true
			}
		}
	}
	return top, rabbet
}

// apart leaves out points that nearly coincide with others: those of buttocks rather
// than those of waterlines, and neither end.
func apart(spots []spot, near float64) []spot {
	dist := func(a, b spot) float64 { return math.Hypot(a.y-b.y, a.z-b.z) }
	var out []spot
	for i, s := range spots {
		n := len(out)
		switch {
		case n == 0 || dist(s, out[n-1]) > near:
			out = append(out, s)
		case i == len(spots)-1 && n > 1, out[n-1].buttock && !s.buttock && n > 1:
			out[n-1] = s
		case !s.buttock && dist(s, out[n-1]) > 10*hull.Apart:
			out = append(out, s)
		}
	}
	return out
}

// withEnds adds the stem and the stern before and behind the frames where they are drawn
// from the side, or as the ends of the waterlines.
func (l *lined) withEnds(frames []hull.Frame) []hull.Frame {
	if len(frames) == 0 || len(l.Found) > 0 {
		return frames
	}
	drawn := map[string]hull.Frame{}
	for _, name := range []string{"stem", "stern"} {
		if o, ok := l.found[name]; ok && o.Profile {
			fr, ok := l.profileEnd(name, &o)
			if !ok {
				return frames
			}
			drawn[name] = fr
		}
	}
	h := &l.drawing.Hull
	if stem, ok := drawn["stem"]; ok && h.Bow == "" {
		h.Bow = hull.BowFirst
		if stem.X() > frames[0].X() {
			h.Bow = hull.BowLast
		}
	} else if stern, ok := drawn["stern"]; ok && h.Bow == "" {
		h.Bow = hull.BowLast
		if stern.X() > frames[0].X() {
			h.Bow = hull.BowFirst
		}
	}
	if h.Bow == "" {
		h.Bow = hull.BowFirst
		l.note("The bow is taken to be at the least x, because the drawing does not show it.")
	}
	for _, side := range []float64{-1, 1} {
		name := "stem"
		if (h.Bow == hull.BowFirst) != (side < 0) {
			name = "stern"
		}
		fr, ok := drawn[name]
		if !ok {
			fr, ok = l.lineEnds(side)
			fr.Name = name
		}
		switch {
		case !ok || same(frames, &fr):
		case !l.clear(frames, &fr, side):
			l.note("The %s is left out, because the nearest frame is between its points: choose stations clear of it to include it.", name)
		case side < 0:
			frames = append([]hull.Frame{fr}, frames...)
			l.told.ends = append(l.told.ends, name)
		default:
			frames = append(frames, fr)
			l.told.ends = append(l.told.ends, name)
		}
	}
	return frames
}

// same reports whether an end curve coincides with a frame all along.
func same(frames []hull.Frame, end *hull.Frame) bool {
	return slices.ContainsFunc(frames, func(f hull.Frame) bool {
		return !f.IsEnd() && !slices.ContainsFunc(end.Points, func(p mgl64.Vec3) bool { return math.Abs(p.X()-f.X()) > 10*hull.Apart })
	})
}

// clear reports whether an end curve lies beyond all frames.
func (l *lined) clear(frames []hull.Frame, end *hull.Frame, side float64) bool {
	for _, f := range frames {
		for _, p := range end.Points {
			if !f.IsEnd() && side*(p.X()-f.X()) <= hull.Apart {
				return false
			}
		}
	}
	return true
}

// profileEnd is a stem or stern drawn from the side.
func (l *lined) profileEnd(name string, o *Outline) (fr hull.Frame, ok bool) {
	chains := l.whole(name, l.chains[partKey{"", name}])
	if len(chains) != 1 {
		l.Add(o.Line, name, "draw it as one line whose pieces meet", "the profile is in %d parts", len(chains))
		return fr, false
	}
	run, ok := l.profileRun(name, &chains[0])
	if !ok {
		return fr, false
	}
	fr = chosen(&run, nil)
	fr.Name = name
	for j, p := range fr.Points {
		fr.Points[j] = mgl64.Vec3{p[1] - l.zero[inHeight][0], o.Siding, p[2] - l.zero[inHeight][1]}
	}
	return fr, true
}

// lineEnds is the end curve through the ends of the waterlines on one side, -1 or 1 along
// x, and those of the limits; ok is false where the hull is not narrow there.
func (l *lined) lineEnds(side float64) (fr hull.Frame, ok bool) {
	for i := len(l.waters) - 1; i >= 0; i-- {
		x, y := l.end(l.waters[i], side)
		if y > narrowShare*l.widest {
			return fr, false
		}
		fr.Points = append(fr.Points, mgl64.Vec3{x, y, l.waters[i].at})
	}
	if up, at := l.upper[inBreadth], l.upper[inHeight]; up != nil && at != nil {
		x, y := l.end(up, side)
		if z := at.values(x); len(z) > 0 && y <= narrowShare*l.widest && len(fr.Points) > 0 && z[len(z)-1] > fr.Points[0].Z()+hull.Apart {
			fr.Points = append([]mgl64.Vec3{{x, y, z[len(z)-1]}}, fr.Points...)
		}
	}
	return fr, len(fr.Points) >= fewestCrossed
}

// end is the outermost point of a line towards one side along x, and its half-breadth
// there.
func (l *lined) end(p *planLine, side float64) (x, y float64) {
	const same = 0.001 // mm along the hull
	x = math.Inf(-1)
	for i := range p.chains {
		for _, q := range p.chains[i].pts {
			x = max(x, side*q[0])
		}
	}
	low, high := math.Inf(1), math.Inf(-1)
	for i := range p.chains {
		for _, q := range p.chains[i].pts {
			if side*q[0] >= x-same {
				low, high = min(low, q[1]), max(high, q[1])
			}
		}
	}
	if low < -meeting && high > meeting {
		return side * x, l.taken([]float64{high}, []float64{-low})
	}
	return side * x, max(math.Abs(low), math.Abs(high))
}

// framesOf names frames, or all.
func (l *lined) framesOf(names []string) string {
	n := 0
	for _, f := range l.drawing.Hull.Frames {
		if !f.IsEnd() {
			n++
		}
	}
	if len(names) == n {
		return "all"
	}
	return few(names)
}

// tell notes what was found.
func (l *lined) tell() {
	n, frames := &l.told, l.drawing.Hull.Frames
	drawn := tongue.Count(len(l.waters), "%d waterline", "%d waterlines", len(l.waters))
	if b := tongue.Count(len(l.butts), "%d buttock", "%d buttocks", len(l.butts)); len(l.waters) == 0 {
		drawn = b
	} else if len(l.butts) > 0 {
		drawn += tongue.T(" and %s", b)
	}
	first, last := frames[0], frames[len(frames)-1]
	l.note("Taken off %s, drawn from x %s to x %s mm: %s, from x %s to x %s mm.", drawn, hundredth(l.low), hundredth(l.high), tongue.Count(len(frames), "%d frame", "%d frames", len(frames)), hundredth(first.X()), hundredth(last.X()))
	if n.even {
		l.note("You gave no stations: %d are set evenly along the lines.", evenStations)
	}
	if len(n.ends) > 0 {
		l.note("The drawn ends of the hull are included: %s.", strings.Join(n.ends, tongue.T(" and ")))
	}
	if len(n.few) > 0 {
		l.note("Stations left out, with fewer than the %d crossings that a frame needs, at x %s mm.", fewestCrossed, few(slices.Compact(n.few)))
	}
	if len(n.doubled) > 0 {
		l.note("Stations left out, because a line crosses them more than once, at x %s mm.", few(slices.Compact(n.doubled)))
	}
	if len(n.low) > 0 {
		l.note("The drawing shows no shape below its lowest line, so frames end there, at half-breadths of up to %s mm: %s. Draw the line of the rabbet from the side, named rabbet-height, to show their ends.", hundredth(n.most), l.framesOf(n.low))
	}
	if len(n.high) > 0 {
		l.note("Frames end above at the highest line, because the sheer is not drawn in both plans there: %s.", l.framesOf(n.high))
	}
	if n.edge {
		l.note("The half-breadth of the rabbet is not drawn and counts as 0; a name such as rabbet-height-y-2.5 gives it.")
	}
	if len(n.missed) > 0 {
		l.note("A waterline does not reach a station that others above and below it reach, and gives no point there: check that it is whole at %s.", few(slices.Compact(n.missed)))
	}
	if len(n.twice) > 0 {
		l.note("A buttock crosses a station twice, and its lower place is taken: %s.", few(slices.Compact(n.twice)))
	}
	if len(l.gap) > 0 {
		l.note("Gaps were bridged: %s.", few(slices.Compact(l.gap)))
	}
	if len(l.left) > 0 {
		l.note("Left out: %s.", listed(l.left))
	}
	l.halfNotes()
}
