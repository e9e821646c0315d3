package drawing

import (
	"cmp"
	"context"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
)

// How the points of a frame are chosen from its outline.
const (
	fewestChosen = 8
	mostChosen   = 40
	turnApart    = math.Pi / 36 // about the turn of the outline from one point to the next
	lengthApart  = 6            // parts into which length alone would divide it
	halfAsWide   = 0.2          // share of its breadth from which a second half counts as one
	leanShare    = 0.01         // of a centre line or base line: how far it may lean, or lie off another
	leastScale   = 1e-4
	mostScale    = 1e4
)

// tracing makes a hull from the outlines of a drawing.
type tracing struct {
	*fault.List
	ctx     context.Context // of the one call for which it is made
	drawing *Drawing
	half    Half
	found   map[string]Outline // for each frame, the first of its outlines, without its points
	pieces  map[partKey][]stroke
	chains  map[partKey][]chain
	dots    map[partKey][]mgl64.Vec2
	sides   map[string][]chain // for each frame, what is to be planked: one half, or both
	close   int                // pairs of pieces that may still be examined
	lines   bool               // the drawing is one of waterlines and buttocks
	left    []string           // names of outlines that belong to no frame
	gaps    []string           // bridged, by frame
	notches []string           // likewise
}

// partKey names an outline or a mark, of one frame or of all.
type partKey struct{ mark, frame string }

// HullOf makes a hull from outlines, taking each for what it says it is: for each
// frame its outlines, whose ends meet, and the marks for it or for all frames. It
// returns the hull, with notes on what the builder should know, and every fault;
// the faults name no file. When the context ends it stops before the next
// outline, mark or frame, with an error that wraps the context's.
func HullOf(ctx context.Context, outlines []Outline, how Options) (*Drawing, []fault.Fault, error) {
	d, f := &Drawing{Outlines: outlines}, &fault.List{}
	d.makeHull(ctx, how, f)
	if err := ctx.Err(); err != nil {
		return nil, nil, tongue.Errorf("the reading of the outlines was stopped: %w", err)
	}
	return d, f.Sorted(), nil
}

// makeHull makes the hull from the drawing's outlines; once the context has
// ended the result must not be used.
func (d *Drawing) makeHull(ctx context.Context, how Options, f *fault.List) {
	if d.Whole = len(f.Found) == 0; d.Whole {
		how = how.Or(d.Told)
		if scale := how.Scale(); scale < leastScale || scale > mostScale {
			f.Add(0, "", "check the scales of the drawing and of the model", "the drawing would be scaled by %s", fault.Figure(scale))
		} else {
			takeOff(ctx, d, how, f)
		}
	}
	d.Hull.Settle()
}

// takeOff makes the hull from what the drawing shows: frames, or waterlines and
// buttocks.
func takeOff(ctx context.Context, d *Drawing, how Options, f *fault.List) {
	shows := how.lines().Shows
	if d.Outlines = understood(d.Outlines, shows); showsLines(d.Outlines, shows) {
		linesHull(ctx, d, how, f)
		return
	}
	if l := how.lines(); l.Waterlines != (Even{}) || l.Buttocks != (Even{}) || l.Bow != "" || how.With != "" {
		f.Add(0, "", "leave these options out, or add --shows waterlines or buttocks", "the drawing shows frames, which take no waterlines, buttocks, bow or other plan")
		return
	}
	hullOf(ctx, d, how, f)
}

// tracingOf is an empty tracing.
func tracingOf(ctx context.Context, d *Drawing, how Options, f *fault.List) *tracing {
	return &tracing{ctx: ctx, close: mostClose, List: f, drawing: d, half: how.Half, found: map[string]Outline{},
		pieces: map[partKey][]stroke{}, chains: map[partKey][]chain{}, dots: map[partKey][]mgl64.Vec2{}, sides: map[string][]chain{}}
}

// hullOf makes the hull from the outlines of frames, and notes what was found.
func hullOf(ctx context.Context, d *Drawing, how Options, f *fault.List) {
	t := tracingOf(ctx, d, how, f)
	lines := d.Outlines
	if how.Level != NoPieces {
		lines = t.cut(how)
	}
	for i := range lines {
		if t.stopped() {
			return
		}
		if o := &lines[i]; !t.ofLines(o) {
			t.sort(o, how.Scale())
		}
	}
	t.join()
	if t.stopped() || len(f.Found) > 0 || !t.complete() {
		return
	}
	t.scaleNotes(how)
	drawnAt := t.frames()
	if t.stopped() || len(f.Found) > 0 {
		return
	}
	t.chines()
	t.ground()
	t.bridgeNotes()
	t.halfNotes()
	d.Hull.CheckIn(hull.Places{
		Line:  func(frame, _ int) int { return drawnAt[d.Hull.Frames[frame].Name] },
		Scale: 0,
		Unit:  tongue.T("check the unit and the scale of the drawing"),
	}, f)
}

// stopped reports whether the context has ended.
func (t *tracing) stopped() bool { return t.ctx.Err() != nil }

// frames makes the frames, by increasing x, and gives the line of the file at
// which each is drawn.
func (t *tracing) frames() map[string]int {
	d, lines := t.drawing, map[string]int{}
	names := slices.SortedFunc(maps.Keys(t.found), func(a, b string) int {
		return cmp.Or(cmp.Compare(t.found[a].X, t.found[b].X), cmp.Compare(a, b))
	})
	for _, name := range names {
		if t.stopped() {
			return lines
		}
		make := t.frame
		if t.found[name].Profile {
			make = t.profile
		}
		if fr, line, ok := make(name); ok {
			d.Hull.Frames = append(d.Hull.Frames, fr)
			lines[fr.Name] = line
		}
		if t.close < 0 {
			t.Found = nil // giving up may have caused the faults found so far
			t.Add(0, "", "draw them more simply", "the outlines and marks of the drawing cross too often")
			return lines
		}
	}
	slices.SortStableFunc(d.Hull.Frames, func(a, b hull.Frame) int { return cmp.Compare(a.X(), b.X()) })
	return lines
}

// scaleNotes notes how the drawing was scaled.
func (t *tracing) scaleNotes(how Options) {
	d := t.drawing
	switch scale := how.Scale(); {
	case scale != 1 && how.Factor == 0:
		d.Notes = append(d.Notes, tongue.T("Drawn at 1:%s, for a model at 1:%s: its lines are scaled by %s.", fault.Figure(how.Drawn), fault.Figure(how.Model), fault.Figure(scale)))
	case scale != 1:
		d.Notes = append(d.Notes, tongue.T("The drawing is scaled by %s.", fault.Figure(scale)))
	case how.Drawn > 0 && how.Model == 0:
		d.Notes = append(d.Notes, tongue.T("The drawing is at 1:%s and is used unscaled, for a model at that scale; give the scale of the model to scale it.", fault.Figure(how.Drawn)))
	}
}

// sort adds a line, scaled, to the part it belongs to. A mark that is a circle
// stands for its centre.
func (t *tracing) sort(o *Outline, scale float64) {
	switch {
	case o.Mark == Unused || len(o.Points) == 0:
		return
	case o.Mark == "" && o.Frame == "":
		t.leave(o.Name)
		return
	case o.Mark == "":
		if !t.meet(o, scale) {
			return
		}
	}
	key, s := partKey{o.Mark, o.Frame}, o.stroke(scale)
	if centre, round := s.centre(); round && o.Mark != "" {
		s.dot, s.pts = true, []mgl64.Vec2{centre}
	}
	if s.dot {
		t.dots[key] = append(t.dots[key], s.pts[0])
		return
	}
	if t.pieces[key] = append(t.pieces[key], s); len(t.pieces[key]) == mostPieces+1 {
		t.Add(o.Line, o.Frame, "join its pieces", "it is drawn in more than %d pieces, the most that the program reads", mostPieces)
	}
}

// leave notes the name of a line that is ignored.
func (t *tracing) leave(name string) {
	if !slices.Contains(t.left, name) && len(t.left) < hull.MostFrames {
		t.left = append(t.left, name)
	}
}

// ofLines ignores, in a drawing of frames, what belongs to plans of waterlines and
// buttocks.
func (t *tracing) ofLines(o *Outline) bool {
	ofView := o.ofView() && (o.Frame == BreadthView || o.Frame == HeightView) &&
		!slices.ContainsFunc(t.drawing.Outlines, func(other Outline) bool { return other.isFrame() && other.Frame == o.Frame })
	if !o.IsLine() && o.Mark != OriginMark && !ofView {
		return false
	}
	t.leave(o.Called())
	return true
}

// meet records the frame of an outline; it returns false where the outline does
// not say where its frame stands, or contradicts another outline of the same
// frame.
func (t *tracing) meet(o *Outline, scale float64) bool {
	had, twice := t.found[o.Frame]
	x := o.X
	if x == o.drawn {
		x *= scale
	}
	switch {
	case !o.Placed && !o.Profile && !had.Placed:
		t.Add(o.Line, o.Frame, "add the x to its name, as F-x-120, or to the table", "its x is missing")
		return false
	case twice && had.Placed && o.Placed && had.X != x:
		t.Add(o.Line, o.Frame, "give each frame one x", "the frame is drawn at x %s and x %s", fault.Figure(had.X), fault.Figure(x))
		return false
	case twice && had.Profile != o.Profile:
		t.Add(o.Line, o.Frame, "leave one out", "it is drawn from the end and from the side")
		return false
	}
	if !twice || (o.Placed && !had.Placed) {
		t.found[o.Frame] = Outline{X: x, Placed: o.Placed, Profile: o.Profile, Siding: max(o.Siding, had.Siding), Line: o.Line}
	}
	return true
}

// join joins the pieces of every outline and mark.
func (t *tracing) join() {
	for key, pieces := range t.pieces {
		if t.stopped() {
			return
		}
		if len(pieces) > mostPieces {
			continue
		}
		all := joined(pieces, false)
		if key.mark != "" && !t.lines {
			for i := range all {
				all[i] = all[i].thinned(mostMarked)
			}
		}
		t.chains[key] = all
	}
	for _, key := range t.keys() {
		t.bound(key)
	}
}

// keys are those of all lines, in order.
func (t *tracing) keys() []partKey {
	return slices.SortedFunc(maps.Keys(t.chains), func(a, b partKey) int {
		return cmp.Or(cmp.Compare(a.mark, b.mark), cmp.Compare(a.frame, b.frame))
	})
}

// bound notes an outline or mark with more points than are read.
func (t *tracing) bound(key partKey) {
	most, what := mostOutline, "outline"
	if key.mark != "" {
		if what = tongue.T("mark %s", key.mark); !t.lines {
			most = mostMarked
		}
	}
	points := 0
	for _, c := range t.chains[key] {
		points += len(c.pts)
	}
	if points > most {
		t.Add(t.chains[key][0].line, key.frame, "draw it more simply", "its %s has more than the %d points that are read", what, most)
	}
}

// complete notes marks without a frame, and a drawing in which no outline is a
// frame's.
func (t *tracing) complete() bool {
	if len(t.found) == 0 {
		seen := tongue.T("it has no outlines")
		if len(t.left) > 0 {
			seen = tongue.T("it has %s", listed(t.left))
		}
		t.Add(0, "", "name each outline by its frame and x, as F-x-120, or put a table with the header frame,x_mm beside the drawing, under its name with the ending .csv",
			"no outline of the drawing shows which frame it is: %s", seen)
		return false
	}
	for _, key := range append(t.keys(), slices.Collect(maps.Keys(t.dots))...) {
		if _, ok := t.found[key.frame]; !ok && (key.frame != "" || key.mark == StationMark) {
			t.Add(0, "", "name it by the frame", "the mark %s has no frame in the drawing", fault.Name(strings.Trim(key.mark+"-"+key.frame, "-")))
		}
	}
	if len(t.left) > 0 {
		t.drawing.Notes = append(t.drawing.Notes, tongue.T("Left out, because they belong to no frame: %s.", listed(t.left)))
	}
	return len(t.Found) == 0
}

// listed lists a few names.
func listed(names []string) string {
	const most = 8
	out := []string{}
	for _, n := range names[:min(len(names), most)] {
		if n == "" {
			n = tongue.T("lines without a name")
		} else {
			n = fault.Name(n)
		}
		out = append(out, n)
	}
	text := strings.Join(out, ", ")
	if len(names) > most {
		text += tongue.T(" and %d more", len(names)-most)
	}
	return text
}

// ground puts the base line at height 0: the mark for it or, without one, the
// lowest point of the planking.
func (t *tracing) ground() {
	frames := t.drawing.Hull.Frames
	marked := 0
	for _, f := range frames {
		if t.has(BaseMark, f.Name) || t.has(BaseMark, "") {
			marked++
		}
	}
	if marked > 0 {
		for _, f := range frames {
			if marked < len(frames) && !t.has(BaseMark, f.Name) {
				t.Add(t.found[f.Name].Line, f.Name, "draw one base line for all, or one for each", "it has no base line, but another frame has")
			}
		}
		return
	}
	low := math.Inf(1)
	for _, f := range frames {
		for _, p := range f.Points {
			low = min(low, p[2])
		}
	}
	for i := range frames {
		for j := range frames[i].Points {
			frames[i].Points[j][2] -= low
		}
	}
	for i := range t.drawing.Halves {
		t.drawing.Halves[i].Z -= low
	}
}

// has reports whether there is a mark of this kind for a frame, or for all.
func (t *tracing) has(mark, of string) bool {
	key := partKey{mark, of}
	return len(t.chains[key]) > 0 || len(t.dots[key]) > 0
}

// marksOf gives the lines and points of a mark for the frame or, failing that,
// for all.
func (t *tracing) marksOf(mark, frame string) (lines []chain, dots []mgl64.Vec2) {
	key := partKey{mark, frame}
	if !t.has(mark, frame) {
		key.frame = ""
	}
	return t.chains[key], t.dots[key]
}

// level is where a mark lies along one axis: the mean of its points.
func (t *tracing) level(mark, frame string, axis int) (at float64, ok bool) {
	places := t.places(mark, frame, axis)
	for _, p := range places {
		at += p / float64(len(places))
	}
	return at, len(places) > 0
}

// places are where the lines and points of a mark lie along one axis.
func (t *tracing) places(mark, frame string, axis int) []float64 {
	lines, dots := t.marksOf(mark, frame)
	var out []float64
	for _, l := range lines {
		b := boxOf(l.pts)
		out = append(out, [2]float64{b.x0 + b.x1, b.y0 + b.y1}[axis]/2)
	}
	for _, q := range dots {
		out = append(out, q[axis])
	}
	return out
}

// straight notes a centre line or base line that cannot serve as one: several that lie
// apart, or one that leans.
func (t *tracing) straight(name string, span float64) bool {
	for axis, m := range []struct{ mark, upright string }{{CentreMark, "upright"}, {BaseMark, "level"}} {
		places := t.places(m.mark, name, axis)
		if len(places) > 1 && slices.Max(places)-slices.Min(places) > leanShare*span {
			t.Add(t.found[name].Line, name, tongue.T("keep one, or name that of each frame F %s-F", m.mark), "%d lines are named %s, and they lie up to %s mm apart", len(places), m.mark, fault.Figure(math.Round(100*(slices.Max(places)-slices.Min(places)))/100))
			return false
		}
		lines, _ := t.marksOf(m.mark, name)
		for _, l := range lines {
			d := l.pts[len(l.pts)-1].Sub(l.pts[0])
			off, long := math.Abs(d[axis]), math.Abs(d[1-axis])
			if min(off, long) > leanShare*max(off, long) && d.Len() > leanShare*span {
				t.Add(l.line, name, tongue.T("turn the drawing until it is %s", m.upright), "the line named %s leans by %.1f degrees", m.mark, math.Atan2(min(off, long), max(off, long))*180/math.Pi)
				return false
			}
		}
	}
	return true
}

// frame makes one frame from its outline.
func (t *tracing) frame(name string) (fr hull.Frame, line int, ok bool) {
	chains := t.chains[partKey{"", name}]
	if len(chains) == 0 {
		t.Add(0, name, "draw its outline under its name", "it has marks but no outline")
		return fr, 0, false
	}
	line = chains[0].line
	if !fault.Seemly(name) {
		t.Add(line, "", "use letters and figures", "the name of a frame is too long or has invisible characters")
		return fr, line, false
	}
	centre, ok := t.level(CentreMark, name, 0)
	if !ok {
		if centre, ok = ownCentre(chains); !ok {
			t.Add(line, name, "draw the centre line and name it centre", "half an outline does not show the centre line")
			return fr, line, false
		}
	}
	if !t.straight(name, spanOf(chains)) {
		return fr, line, false
	}
	if chains, ok = t.mend(name, chains, centre); !ok {
		return fr, line, false
	}
	if len(chains) > 2 {
		t.Add(line, name, "join its ends, or rename the other lines", "its outline is in %d parts that do not meet", len(chains))
		return fr, line, false
	}
	base, _ := t.level(BaseMark, name, 1)
	origin := mgl64.Vec2{centre, base}
	var sides []chain
	used := map[int]bool{}
	for _, side := range []float64{1, -1} {
		run, of, ok := t.side(name, chains, origin, side)
		if !ok {
			return fr, line, false
		}
		if of >= 0 {
			sides = append(sides, run)
			used[of] = true
		}
	}
	if len(used) > 0 && !t.onlyOutline(name, chains, used) {
		return fr, line, false
	}
	if len(sides) == 2 {
		t.drawing.Halves = append(t.drawing.Halves, halvesOf(name, &sides[0], &sides[1]))
		if t.half != BothHalves {
			sides = sides[t.half-RightHalf:][:1]
		}
	}
	if len(sides) == 0 {
		t.Add(line, name, "check the centre line and the marks", "none of its outline lies beside the centre line")
		return fr, line, false
	}
	t.sides[name] = sides
	return t.framed(name, sides), line, true
}

// framed makes the frame from one half of its outline, or from both.
func (t *tracing) framed(name string, sides []chain) hull.Frame {
	var other *chain
	if len(sides) > 1 {
		other = &sides[1]
	}
	fr := chosen(&sides[0], other)
	fr.Name = name
	for j := range fr.Points {
		p := &fr.Points[j]
		p[0], p[1] = t.found[name].X, max(p[1], 0)
	}
	return fr
}

// ownCentre is the middle of an outline that is symmetrical to a hundredth of
// its breadth.
func ownCentre(chains []chain) (float64, bool) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range chains {
		for _, q := range c.pts {
			low, high = min(low, q[0]), max(high, q[0])
		}
	}
	centre, worst := (low+high)/2, 0.0
	for _, c := range chains {
		step := max(len(c.pts)/100, 1)
		for i := 0; i < len(c.pts); i += step {
			q := mgl64.Vec2{2*centre - c.pts[i][0], c.pts[i][1]}
			best := math.Inf(1)
			for k := range chains {
				_, away := chains[k].nearest(q)
				best = min(best, away)
			}
			worst = max(worst, best)
		}
	}
	return centre, worst <= (high-low)/100
}

// side gives what is to be planked on one side of a frame, from the upper limit
// down, y outwards from the centre line, and the index of its chain; -1 where
// the outline has no such side.
func (t *tracing) side(name string, chains []chain, origin mgl64.Vec2, side float64) (run chain, of int, ok bool) {
	var best, both float64
	var own chain
	of = -1
	for i, c := range chains {
		m := c.moved(origin, side)
		reach, other := m.reach(1), m.reach(-1)
		both = max(both, reach, other)
		if reach > best {
			best, own, of = reach, m, i
		}
	}
	if !(best > halfAsWide*both) {
		return run, -1, true
	}
	upper, okU := t.limit(UpperMark, name, &own, origin, side)
	lower, okL := t.limit(RabbetMark, name, &own, origin, side)
	if !okU || !okL {
		return run, of, false
	}
	n := place(len(own.pts) - 1)
	if own.closed {
		switch {
		case upper < 0 || lower < 0:
			t.Add(own.line, name, "draw short lines named upper and rabbet across it, where the planking begins and ends; for pieces to cut, add --level", "its outline is closed and does not show the limits of the planking")
			return run, of, false
		default:
			a, b := own.between(upper, lower), own.between(lower, upper)
			if b = b.turned(); b.outwards() > a.outwards() {
				a = b
			}
			sound := t.sound(name, &a)
			return a, of, sound
		}
	}
	upper, lower, okE := t.ends(&own, upper, lower, n)
	if !okE {
		return run, of, false
	}
	if upper > lower {
		run = own.between(lower, upper)
		run = run.turned()
	} else {
		run = own.between(upper, lower)
	}
	sound := t.sound(name, &run) && t.plain(name, &run)
	return run, of, sound
}

// ends gives the limits of an open outline that has no marks for them (-1): its
// higher end on this side, and the point where it meets the centre line, or its
// other end.
func (t *tracing) ends(c *chain, upper, lower, n place) (place, place, bool) {
	first, last := c.pts[0], c.pts[len(c.pts)-1]
	if lower < 0 {
		low := math.Inf(1)
		for _, p := range c.crossings([]mgl64.Vec2{{0, -2 * farthest}, {0, 2 * farthest}}, &t.close) {
			if z := c.at(p)[1]; z < low {
				lower, low = p, z
			}
		}
	}
	whole := first[0] >= -meeting && last[0] >= -meeting
	if lower >= 0 && !(lower > 0 && lower < n) {
		whole = true // it ends on the centre line
	}
	if lower < 0 {
		lower = 0
		if (upper < 0 && first[1] > last[1]) || (upper >= 0 && c.at(upper).Sub(first).Len() < c.at(upper).Sub(last).Len()) {
			lower = n
		}
	}
	if upper < 0 {
		switch {
		case lower == 0:
			upper = n
		case lower == n:
			upper = 0
		case whole && first[1] > last[1]:
			upper = 0
		case whole:
			upper = n
		case first[0] > 0:
			upper = 0
		default:
			upper = n
		}
	}
	return upper, lower, true
}

// limit is the place at which a mark crosses the outline on this side; -1 where
// there is no such mark. Of several crossings it is the outermost.
func (t *tracing) limit(mark, name string, c *chain, origin mgl64.Vec2, side float64) (at place, ok bool) {
	lines, dots := t.marksOf(mark, name)
	if len(lines) == 0 && len(dots) == 0 {
		return -1, true
	}
	find := func(mirror float64) place {
		best, reach := place(-1), -meeting
		for i := range lines {
			m := lines[i].moved(origin, side*mirror)
			for _, p := range c.crossings(m.pts, &t.close) {
				if y := c.at(p)[0]; y >= reach {
					best, reach = p, y
				}
			}
		}
		for _, d := range dots {
			q := d.Sub(origin)
			q[0] *= side * mirror
			p, away := c.nearest(q)
			if y := c.at(p)[0]; y >= reach && away < c.length()/20 {
				best, reach = p, y
			}
		}
		return best
	}
	if at = find(1); at < 0 {
		at = find(-1) // marked only on the other half
	}
	if at < 0 {
		t.Add(c.line, name, "draw it across the outline", "the mark %s does not meet its outline", mark)
		return at, false
	}
	return at, true
}

// sound notes a side that is too short to be the side of a frame.
func (t *tracing) sound(name string, c *chain) bool {
	if len(c.pts) < 2 || c.length() < hull.PoleGirth {
		t.Add(c.line, name, "check where the marks of upper and rabbet cross it", "none of its outline lies between the upper limit and the rabbet")
		return false
	}
	if c.pts[0][1] < c.pts[len(c.pts)-1][1] {
		t.Add(c.line, name, "check the marks, and that the drawing stands upright", "its upper limit lies below its rabbet")
		return false
	}
	return true
}

// plain notes a side that turns in over a deck or a rail at its upper end, or up into
// a keel slot at its lower one, where no mark ends the planking before that.
func (t *tracing) plain(name string, c *chain) bool {
	const turn = math.Pi / 4
	n, length, reach := len(c.pts), c.length(), c.reach(1)
	high, low := 0, 0
	for i, q := range c.pts {
		if q[1] > c.pts[high][1]+meeting {
			high = i
		}
		if q[1] < c.pts[low][1]-meeting {
			low = i
		}
	}
	cornered := func(from, to int) bool {
		for i := max(from, 1); i <= min(to, n-2); i++ {
			if c.corner[i] && turnAt(c.pts[i-1], c.pts[i], c.pts[i+1]) > turn {
				return true
			}
		}
		return false
	}
	first, last := c.pts[0], c.pts[n-1]
	inboard := 0 // up to where the outline comes from the centre line, or from near it, along the deck
	for inboard < n-1 && c.pts[inboard+1][0] > c.pts[inboard][0] && first[0] < reach/20 {
		inboard++
	}
	switch {
	case t.has(UpperMark, name) || t.has(UpperMark, ""):
	case c.pts[high][1]-first[1] > gapShare*length && cornered(1, high+1), inboard > 0 && cornered(1, inboard+1):
		t.Add(c.line, name, "draw a short line across it where the planking begins, and name it upper", "its outline runs on inboard at its upper end, as over a deck or a rail")
		return false
	}
	if !t.has(RabbetMark, name) && !t.has(RabbetMark, "") && last[1]-c.pts[low][1] > gapShare*length && cornered(low-1, n) {
		t.Add(c.line, name, "draw a short line across it where the planking ends, and name it rabbet", "its outline turns up again at its lower end, as into the slot of a keel")
		return false
	}
	return true
}

// moved is the chain seen from the given origin, with its first axis pointing
// outwards on the given side.
func (c *chain) moved(origin mgl64.Vec2, side float64) chain {
	out := *c
	out.pts = make([]mgl64.Vec2, len(c.pts))
	for i, q := range c.pts {
		q = q.Sub(origin)
		out.pts[i] = mgl64.Vec2{side * q[0], q[1]}
	}
	return out
}

// reach is how far the chain extends to one side.
func (c *chain) reach(side float64) float64 {
	most := 0.0
	for _, q := range c.pts {
		most = max(most, side*q[0])
	}
	return most
}

// outwards is the mean distance of the chain from the centre line.
func (c *chain) outwards() float64 {
	sum := 0.0
	for i := 1; i < len(c.pts); i++ {
		sum += (c.pts[i][0] + c.pts[i-1][0]) / 2 * c.pts[i].Sub(c.pts[i-1]).Len()
	}
	return sum / max(c.length(), 1e-9)
}

// smooth divides the chain at its corners.
func (c *chain) smooth() []chain {
	var out []chain
	from := 0
	for i := 1; i < len(c.pts); i++ {
		if i == len(c.pts)-1 || c.corner[i] {
			out = append(out, chain{pts: c.pts[from : i+1]})
			from = i
		}
	}
	return out
}

// chosen picks the points of a frame from one side, or from the mean of two:
// closer together where it turns, with corners kept.
func chosen(one, two *chain) hull.Frame {
	var fr hull.Frame
	parts := one.smooth()
	var others []chain
	if two != nil {
		if others = two.smooth(); len(others) != len(parts) {
			parts, others = []chain{*one}, []chain{*two} // the corners of one do not match those of the other
		}
	}
	whole, total := one.length(), 0.0
	for i := range parts {
		total += parts[i].weight(whole)
	}
	scale := min(1, mostChosen/max(total, 1e-9))
	scale = max(scale, fewestChosen/max(total, 1e-9))
	for i := range parts {
		n := max(int(math.Ceil(parts[i].weight(whole)*scale)), 3)
		shares := parts[i].shares(n, whole)
		for k, s := range shares {
			if k == 0 && i > 0 {
				fr.Knuckles = append(fr.Knuckles, len(fr.Points)-1)
				continue
			}
			q := parts[i].atShare(s)
			if others != nil {
				q = q.Add(others[i].atShare(s)).Mul(0.5)
			}
			fr.Points = append(fr.Points, mgl64.Vec3{0, q[0], q[1]})
		}
	}
	return fr
}

// weight is how many points a smooth part is given.
func (c *chain) weight(whole float64) float64 {
	sum := lengthApart * c.length() / whole
	for i := 1; i+1 < len(c.pts); i++ {
		sum += turnAt(c.pts[i-1], c.pts[i], c.pts[i+1]) / turnApart
	}
	return sum
}

// shares are n+1 places along a smooth part, as shares of its length, with
// equal weight from each to the next.
func (c *chain) shares(n int, whole float64) []float64 {
	m := len(c.pts)
	at, sum := make([]float64, m), make([]float64, m) // length and weight up to each point
	for i := 1; i < m; i++ {
		d := c.pts[i].Sub(c.pts[i-1]).Len()
		at[i], sum[i] = at[i-1]+d, sum[i-1]+lengthApart*d/whole
		for _, k := range []int{i - 1, i} { // half of the turn at either end
			if k > 0 && k+1 < m {
				sum[i] += turnAt(c.pts[k-1], c.pts[k], c.pts[k+1]) / turnApart / 2
			}
		}
	}
	out := []float64{0}
	i := 1
	for k := 1; k < n; k++ {
		want := sum[m-1] * float64(k) / float64(n)
		for i < m-1 && sum[i] < want {
			i++
		}
		t := (want - sum[i-1]) / max(sum[i]-sum[i-1], 1e-12)
		out = append(out, (at[i-1]+(at[i]-at[i-1])*min(max(t, 0), 1))/at[m-1])
	}
	return append(out, 1)
}

// atShare is the point at a share of the length.
func (c *chain) atShare(share float64) mgl64.Vec2 {
	want := share * c.length()
	for i := 1; i < len(c.pts); i++ {
		d := c.pts[i].Sub(c.pts[i-1]).Len()
		if want <= d && d > 0 {
			return c.pts[i-1].Add(c.pts[i].Sub(c.pts[i-1]).Mul(want / d))
		}
		want -= d
	}
	return c.pts[len(c.pts)-1]
}
