package drawing

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
)

// A drawing of lines shows only the waterlines and buttocks of a hull: curves in the
// half-breadth plan, each at a height, and in the sheer plan, each at a half-breadth.
// Frames are taken where these cross a station. Nothing is invented between the curves: a
// frame has the points that the curves give, and ends where they or the limits end.
const (
	fewestCrossed = 4    // points that a frame needs
	gridShare     = 1e-3 // of its length: within this a line is a level of the other plan, not a curve
	evenStations  = 20   // taken where none are given
	nearShare     = 0.01 // of a frame's size: within this a buttock's point repeats a waterline's
	narrowShare   = 0.08 // of the greatest half-breadth: up to this an end of the hull is an end curve
	oddShare      = 20   // of heights to half-breadths or the reverse: beyond this a scale is wrong
)

// planLine is a curve in a plan: points along the hull, with the half-breadth from
// the centre line or the height above the base line.
type planLine struct {
	at     float64 // height of a waterline, half-breadth of a buttock
	name   string  // as shown to the builder
	line   int     // in the file
	siding float64
	unit   bool // its name gives the unit
	chains []chain
}

// lined takes a hull off waterlines and buttocks.
type lined struct {
	*tracing
	how           Lines
	scale         float64
	at            *Stations
	waters, butts []*planLine  // by increasing height and half-breadth
	grids         []*planLine  // levels of waterlines in the sheer plan and of buttocks in the half-breadth plan, as drawn
	upper, rabbet [2]*planLine // in the half-breadth plan and the sheer plan
	zero          [2]mgl64.Vec2
	low, high     float64 // ends of the curves
	widest        float64
	gap           []string // bridged
	told          lineNotes
}

const (
	inBreadth = 0
	inHeight  = 1
)

// linesHull makes the hull from a drawing of waterlines and buttocks, and notes what
// was found.
func linesHull(ctx context.Context, d *Drawing, how Options, f *fault.List) {
	l := &lined{tracing: tracingOf(ctx, d, how, f), how: how.lines(), at: how.Stations}
	l.lines = true
	l.scale = how.Scale()
	l.gather(l.scale)
	if l.stopped() || len(f.Found) > 0 {
		return
	}
	l.join()
	if l.stopped() || len(f.Found) > 0 {
		return
	}
	l.scaleNotes(how)
	for _, step := range []func(){l.curves, l.place, l.straighten, l.order, l.agree, l.span, l.hull} {
		if step(); l.stopped() || len(f.Found) > 0 {
			return
		}
	}
	l.tell()
	d.Hull.CheckIn(hull.Places{Line: func(int, int) int { return 0 }, Unit: tongue.T("check the unit and the scale of the drawing")}, f)
}

// gather sorts the lines, scaled, by what they are.
func (l *lined) gather(scale float64) {
	for i := range l.drawing.Outlines {
		o := l.drawing.Outlines[i]
		switch {
		case o.isFrame():
			l.leave(o.Called())
			continue
		case o.IsLine() && o.Placed:
			o.Frame = fault.Figure(o.X)
		case o.IsLine():
			o.Frame = fmt.Sprint("#", i)
		case o.Mark == StationMark && o.Frame == "":
			l.leave(o.Called())
			continue
		}
		l.sort(&o, scale)
	}
}

// titled is a line's name for the builder.
func titled(o *Outline) string {
	if o.Placed {
		return o.Title()
	}
	if name := o.Called(); name != "" {
		return o.Mark + " " + fault.Name(name)
	}
	return tongue.T("a %s without a name", o.Mark)
}

// curves makes planLines of the waterlines and buttocks; where the name does not give
// it, at has yet to be found and is NaN.
func (l *lined) curves() {
	seen := map[partKey]bool{}
	for i := range l.drawing.Outlines {
		o := l.drawing.Outlines[i]
		if !o.IsLine() {
			continue
		}
		key := partKey{o.Mark, fmt.Sprint("#", i)}
		if o.Placed {
			key.frame = fault.Figure(o.X)
		}
		if seen[key] || len(l.chains[key]) == 0 {
			continue
		}
		seen[key] = true
		p := &planLine{at: o.X, name: titled(&o), line: o.Line, unit: unitTold.MatchString(o.Name)}
		if !o.Placed {
			p.at = math.NaN()
		}
		for _, c := range l.chains[key] {
			if flat, level := lies(&c); !flat {
				p.chains = append(p.chains, c)
			} else if o.Placed && level {
				l.grids = append(l.grids, &planLine{at: o.X, name: o.Mark, chains: []chain{c}})
			}
		}
		if len(p.chains) == 0 {
			continue
		}
		p.chains = l.whole(p.name, p.chains)
		if o.Mark == WaterlineMark {
			l.waters = append(l.waters, p)
		} else {
			l.butts = append(l.butts, p)
		}
	}
	if len(l.waters) > mostLines || len(l.butts) > mostLines {
		l.Add(0, "", "leave lines out", "there are more than %d waterlines or buttocks, the most that the program reads", mostLines)
		return
	}
	if n := len(l.waters) + len(l.butts); n < fewestLines {
		l.Add(0, "", "name each line by its height or half-breadth, as waterline-12.5 or buttock-20, or give the kind of drawing",
			"frames need several curved waterlines or buttocks, but the drawing has %s", []string{"none", tongue.T("only one")}[n])
	}
}

// lies reports whether a line is straight, and whether it is level.
func lies(c *chain) (flat, level bool) {
	a, b := c.pts[0], c.pts[len(c.pts)-1]
	d := b.Sub(a)
	if c.closed || !(d.Len() > 0) {
		return false, false
	}
	for _, q := range c.pts {
		w := q.Sub(a)
		if math.Abs(d[0]*w[1]-d[1]*w[0]) > gridShare*d.Dot(d) {
			return false, false
		}
	}
	return math.Abs(d[1]) <= leanShare*math.Abs(d[0]) || math.Abs(d[0]) <= leanShare*math.Abs(d[1]), math.Abs(d[1]) <= leanShare*math.Abs(d[0])
}

// whole bridges the gaps of a curve.
func (l *lined) whole(name string, chains []chain) []chain {
	whole, found := joinGaps(chains, math.NaN())
	for _, b := range found {
		l.gap = append(l.gap, tongue.T("%s (%s mm)", name, fault.Figure(math.Round(b.wide*100)/100)))
	}
	return whole
}

// viewOf is the plan in which a mark lies: as it says, or by where it is drawn.
func (l *lined) viewOf(key partKey, c *chain) (view int, ok bool) {
	switch key.frame {
	case BreadthView:
		return inBreadth, true
	case HeightView:
		return inHeight, true
	}
	mid := boxOf(c.pts)
	at := (mid.y0 + mid.y1) / 2
	in := func(lines []*planLine) bool {
		b := boxOfLines(lines)
		return at >= b.y0 && at <= b.y1
	}
	breadth, height := in(l.waters), in(l.butts)
	switch {
	case breadth == height && len(l.butts) > 0 && len(l.waters) > 0:
		l.Add(c.line, "", tongue.T("name it %s-breadth where it tells half-breadths, and %s-height where it tells heights", key.mark, key.mark), "the plan of the line %s is not clear", fault.Name(key.mark))
		return 0, false
	case breadth || (len(l.butts) == 0 && key.mark == UpperMark && at <= boxOfLines(l.waters).y1+spanOfLines(l.waters)/20):
		return inBreadth, true
	}
	return inHeight, true
}

func boxOfLines(lines []*planLine) box {
	b := box{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
	for _, p := range lines {
		for i := range p.chains {
			c := boxOf(p.chains[i].pts)
			b = box{min(b.x0, c.x0), max(b.x1, c.x1), min(b.y0, c.y0), max(b.y1, c.y1)}
		}
	}
	return b
}

func spanOfLines(lines []*planLine) float64 {
	b := boxOfLines(lines)
	return b.y1 - b.y0
}

// place finds the limits in both plans, and each plan's centre line or base line and
// its x 0.
func (l *lined) place() {
	for _, key := range l.keys() {
		if key.mark != UpperMark && key.mark != RabbetMark {
			continue
		}
		chains := l.whole(key.mark, l.chains[key])
		view, ok := l.viewOf(key, &chains[0])
		if !ok {
			return
		}
		to := &l.upper
		if key.mark == RabbetMark {
			to = &l.rabbet
		}
		if to[view] != nil {
			l.Add(chains[0].line, "", "keep one of them in each plan", "two lines of the drawing are the %s in the same plan", key.mark)
			return
		}
		to[view] = &planLine{name: tongue.T("the %s", key.mark), line: chains[0].line, chains: chains}
		for _, o := range l.drawing.Outlines {
			if o.Mark == key.mark && o.Frame == key.frame {
				to[view].siding = max(to[view].siding, o.Siding)
			}
		}
	}
	for view, name := range []string{BreadthView, HeightView} {
		if u, ok := l.level(OriginMark, name, 0); ok {
			l.zero[view][0] = u
		}
	}
	if len(l.waters) > 0 || l.upper[inBreadth] != nil {
		l.centreLine()
	}
	if len(l.butts) > 0 || l.upper[inHeight] != nil || l.rabbet[inHeight] != nil || l.profiles() {
		l.baseLine()
	}
}

// profiles reports whether a stem or stern is seen from the side.
func (l *lined) profiles() bool {
	return slices.ContainsFunc(slices.Collect(maps.Values(l.found)), func(o Outline) bool { return o.Profile })
}

// levelLine is where a centre line or base line lies; it notes one that leans.
func (l *lined) levelLine(mark string, span float64) (at float64, ok bool) {
	lines, _ := l.marksOf(mark, "")
	for i := range lines {
		d := lines[i].pts[len(lines[i].pts)-1].Sub(lines[i].pts[0])
		if math.Abs(d[1]) > leanShare*math.Abs(d[0]) {
			l.Add(lines[i].line, "", "turn the drawing until the hull lies level", "the line named %s leans by %.1f degrees", mark, math.Atan2(math.Abs(d[1]), math.Abs(d[0]))*180/math.Pi)
		}
	}
	places := l.places(mark, "", 1)
	if len(places) > 1 && slices.Max(places)-slices.Min(places) > leanShare*span {
		l.Add(0, "", "keep one", "%d lines are named %s, and they lie up to %s mm apart", len(places), mark, fault.Figure(math.Round(100*(slices.Max(places)-slices.Min(places)))/100))
	}
	return l.level(mark, "", 1)
}

// centreLine finds the centre line of the half-breadth plan: as drawn, or the middle of
// waterlines drawn on both sides, or the straight edge of closed ones.
func (l *lined) centreLine() {
	lines := l.waters
	if len(lines) == 0 {
		lines = []*planLine{l.upper[inBreadth]}
	}
	if v, ok := l.levelLine(CentreMark, spanOfLines(lines)); ok {
		l.zero[inBreadth][1] = v
		return
	}
	var all []chain
	for _, p := range lines {
		all = append(all, p.chains...)
	}
	if v, ok := commonEdge(all); ok {
		l.zero[inBreadth][1] = v
		return
	}
	if v, ok := l.middleLine(all); ok {
		l.zero[inBreadth][1] = v
		l.note("The level line along the foot of the waterlines counts as the centre line.")
		return
	}
	turned := make([]chain, len(all)) // with the breadth along the first axis
	for i := range all {
		turned[i].pts = make([]mgl64.Vec2, len(all[i].pts))
		for k, q := range all[i].pts {
			turned[i].pts[k] = mgl64.Vec2{q[1], q[0]}
		}
	}
	v, ok := ownCentre(turned)
	if !ok {
		l.Add(0, "", "draw the centre line and name it centre", "half-breadths alone do not show the centre line")
	}
	l.zero[inBreadth][1] = v
}

// middleLine is a level line, with no other meaning, along which half waterlines lie on
// one side.
func (l *lined) middleLine(chains []chain) (at float64, ok bool) {
	b := boxOf(chains[0].pts)
	for i := range chains {
		c := boxOf(chains[i].pts)
		b = box{min(b.x0, c.x0), max(b.x1, c.x1), min(b.y0, c.y0), max(b.y1, c.y1)}
	}
	for i := range l.drawing.Outlines {
		o := &l.drawing.Outlines[i]
		if o.Frame != "" || o.Placed || (o.Mark != "" && !o.IsLine()) || len(o.Points) < 2 {
			continue
		}
		s := o.stroke(l.scale)
		c := s.chain()
		line := boxOf(c.pts)
		_, level := lies(&c)
		v, reach := (line.y0+line.y1)/2, b.y1-b.y0
		if level && v <= b.y0+2*meeting && v >= b.y0-narrowShare*reach && line.x1-line.x0 >= wholeShare*(b.x1-b.x0) && (!ok || v > at) {
			at, ok = v, true
		}
	}
	return at, ok
}

// commonEdge is the level edge that closed outlines have in common.
func commonEdge(chains []chain) (at float64, ok bool) {
	for i := range chains {
		c := &chains[i]
		if !c.closed {
			return 0, false
		}
		b, edge := boxOf(c.pts), math.NaN()
		for k := 1; k < len(c.pts); k++ {
			if d := c.pts[k].Sub(c.pts[k-1]); math.Abs(d[0]) > (b.x1-b.x0)*0.8 && math.Abs(d[1]) <= leanShare*(b.y1-b.y0) {
				edge = (c.pts[k][1] + c.pts[k-1][1]) / 2
			}
		}
		if i == 0 {
			at = edge
		}
		if !(math.Abs(edge-at) <= meeting) {
			return 0, false
		}
	}
	return at, len(chains) > 0
}

// baseLine finds the base line of the sheer plan: as drawn, or by the levels of named
// waterlines in it or, where nothing else gives heights, the lowest level drawn.
func (l *lined) baseLine() {
	all := slices.Clone(l.butts)
	for _, p := range []*planLine{l.upper[inHeight], l.rabbet[inHeight]} {
		if p != nil {
			all = append(all, p)
		}
	}
	v, ok := l.levelLine(BaseMark, spanOfLines(all))
	sum, n := 0.0, 0
	for _, g := range l.grids {
		if g.name == WaterlineMark && !l.inBreadthPlan(g) {
			sum += g.chains[0].pts[0][1] - g.at
			n++
		}
	}
	switch {
	case ok:
	case n > 0:
		v = sum / float64(n)
	case len(l.waters) > 0:
		l.Add(0, "", "draw the base line of the sheer plan and name it base", "the height 0 of the waterlines is missing in the sheer plan")
	default:
		v = boxOfLines(all).y0 + meeting
		l.note("There is no base line: heights count from the lowest line.")
	}
	l.zero[inHeight][1] = v
}

// note notes a sentence.
//
//tongue:says 0
func (l *lined) note(format string, args ...any) {
	l.drawing.Notes = append(l.drawing.Notes, tongue.T(format, args...))
}

// inBreadthPlan reports whether a level lies in the half-breadth plan.
func (l *lined) inBreadthPlan(g *planLine) bool {
	b, at := boxOfLines(l.waters), g.chains[0].pts[0][1]
	return len(l.waters) > 0 && at >= b.y0 && at <= b.y1
}

// straighten converts every curve to x, and half-breadth or height, and checks the
// scale against the levels drawn.
func (l *lined) straighten() {
	l.checkLevels()
	move := func(p *planLine, view int) {
		if p == nil {
			return
		}
		for i := range p.chains {
			c := p.chains[i]
			c.pts = slices.Clone(c.pts)
			for k := range c.pts {
				c.pts[k] = c.pts[k].Sub(l.zero[view])
			}
			p.chains[i] = c
		}
	}
	for _, p := range l.waters {
		move(p, inBreadth)
	}
	for _, p := range l.butts {
		move(p, inHeight)
	}
	for view := range l.zero {
		move(l.upper[view], view)
		move(l.rabbet[view], view)
	}
	for _, lines := range [][]*planLine{l.waters, l.butts} {
		if b := boxOfLines(lines); len(lines) > 0 && b.y1-b.y0 > b.x1-b.x0 {
			l.Add(lines[0].line, "", "turn the drawing until the hull lies level", "the lines reach farther up than along, as if the hull stood upright")
		}
	}
}

// checkLevels notes levels whose spacing disagrees with their names.
func (l *lined) checkLevels() {
	for _, mark := range []string{WaterlineMark, ButtockMark} {
		var of []*planLine
		for _, g := range l.grids {
			if g.name == mark && l.inBreadthPlan(g) == (mark == ButtockMark) {
				of = append(of, g)
			}
		}
		if len(of) < 2 {
			continue
		}
		slices.SortFunc(of, func(a, b *planLine) int { return cmp.Compare(a.at, b.at) })
		a, b := of[0], of[len(of)-1]
		drawn, told := math.Abs(b.chains[0].pts[0][1]-a.chains[0].pts[0][1]), b.at-a.at
		if told > 0 && math.Abs(drawn-told) > max(0.01*told, 4*meeting) {
			l.Add(0, "", "check the scales of the drawing and of the model, and the names, which give mm of the model", "%s %s and %s are drawn %s mm apart, but their names give %s mm", mark, fault.Figure(a.at), fault.Figure(b.at), fault.Figure(math.Round(drawn*100)/100), fault.Figure(told))
		}
	}
}

// order gives each curve its height or half-breadth, for a kind that is evenly spaced
// or unnamed.
func (l *lined) order() {
	l.waters = l.placed(l.waters, WaterlineMark, l.how.Waterlines)
	l.butts = l.placed(l.butts, ButtockMark, l.how.Buttocks)
	if len(l.Found) > 0 {
		return
	}
	for _, p := range l.waters {
		for i := range p.chains {
			b := boxOf(p.chains[i].pts)
			l.widest = max(l.widest, b.y1, -b.y0)
		}
	}
	if n := len(l.waters); n > 1 && len(l.Found) == 0 {
		if deep := l.waters[n-1].at - l.waters[0].at; deep > oddShare*l.widest || deep < l.widest/oddShare/2 {
			l.Add(0, "", "check the scales of the drawing and of the model, and the heights, which are mm of the model",
				"the waterlines lie over a height of %s mm, and their half-breadths come to %s mm", fault.Figure(deep), fault.Figure(math.Round(l.widest*100)/100))
		}
	}
}

// placed gives every curve of a kind its place, by name or by even spacing in order,
// and joins those with the same place.
func (l *lined) placed(lines []*planLine, mark string, even Even) []*planLine {
	if len(lines) == 0 {
		return lines
	}
	kind := map[string]string{WaterlineMark: "height", ButtockMark: "half-breadth"}[mark]
	untold := slices.IndexFunc(lines, func(p *planLine) bool { return math.IsNaN(p.at) })
	switch {
	case even.Every > 0:
		if lines = l.ranked(lines, mark, kind); lines == nil {
			return nil
		}
		for _, p := range lines {
			p.at = even.From + even.Every*p.at
			p.name = mark + " " + fault.Figure(p.at)
		}
	case untold >= 0:
		l.Add(lines[untold].line, "", tongue.T("name each by its %s, as %s-12.5, or give their even spacing and where it begins", kind, mark),
			"the %s of %s is missing", kind, lines[untold].name)
		return nil
	case numbered(lines):
		l.Add(lines[0].line, "", tongue.T("say how far apart they are and from where, or name each by its %s with its unit, as %s-3mm", kind, mark),
			"the %ss are numbered %s to %s, which tells their order and no %s", mark, fault.Figure(lines[0].at), fault.Figure(lines[len(lines)-1].at), kind)
		return nil
	}
	slices.SortStableFunc(lines, func(a, b *planLine) int { return cmp.Compare(a.at, b.at) })
	out := lines[:1]
	for _, p := range lines[1:] {
		if last := out[len(out)-1]; math.Abs(p.at-last.at) <= hull.Apart {
			last.chains = append(last.chains, p.chains...)
			continue
		}
		out = append(out, p)
	}
	return out
}

// numbered reports whether curves are numbered 0, 1, 2 and so on, or from 1, without a
// unit.
func numbered(lines []*planLine) bool {
	at := make([]float64, len(lines))
	for i, p := range lines {
		at[i] = p.at
	}
	slices.Sort(at)
	for i := range at {
		if lines[i].unit || at[i] != at[0]+float64(i) {
			return false
		}
	}
	return len(at) > 2 && (at[0] == 0 || at[0] == 1)
}

// ranked sets every curve's place to its rank, from 0: by the numbers in the names, or
// otherwise by which curve lies within which.
func (l *lined) ranked(lines []*planLine, mark, kind string) []*planLine {
	var told []float64
	for _, p := range lines {
		if math.IsNaN(p.at) {
			return l.nested(lines, mark, kind)
		}
		told = append(told, p.at)
	}
	slices.Sort(told)
	told = slices.Compact(told)
	for _, p := range lines {
		p.at = float64(slices.Index(told, p.at))
	}
	return lines
}

const (
	nestedPlaces = 240 // along the hull, at which curves are compared
	mostLines    = 200 // waterlines, and buttocks
)

// nested ranks curves by which lies outside which, on each side of the centre line.
func (l *lined) nested(lines []*planLine, mark, kind string) []*planLine {
	var sides [2][]*planLine
	for _, p := range lines {
		b := boxOfLines([]*planLine{p})
		side := 0
		if mark == WaterlineMark && b.y1 < -b.y0 {
			side = 1
		}
		sides[side] = append(sides[side], p)
	}
	if len(sides[0]) > 0 && len(sides[1]) > 0 && len(sides[0]) != len(sides[1]) {
		l.Add(0, "", tongue.T("name each by its %s", kind), "there are %d %ss on one side of the centre line and %d on the other", len(sides[0]), mark, len(sides[1]))
		return nil
	}
	at := map[*planLine][]float64{}
	whole := boxOfLines(lines)
	for _, p := range lines {
		if l.stopped() {
			return nil
		}
		for k := range nestedPlaces {
			at[p] = append(at[p], p.outermost(whole.x0+(whole.x1-whole.x0)*(float64(k)+0.5)/nestedPlaces, mark == ButtockMark))
		}
	}
	for _, side := range sides {
		for _, a := range side {
			rank := 0
			for _, b := range side {
				if a == b {
					continue
				}
				out, ok := outside(at[a], at[b])
				if !ok {
					l.Add(a.line, "", tongue.T("name each by its %s, as %s-12.5", kind, mark), "it does not show which of two %ss is the higher, for they cross or lie nowhere beside each other: %s and %s", mark, a.name, b.name)
					return nil
				}
				if out {
					rank++
				}
			}
			a.at = float64(rank)
		}
	}
	l.note("The %ss are ordered by how they lie within each other, the %s first: check the order.", mark, map[string]string{WaterlineMark: "narrowest", ButtockMark: "deepest"}[mark])
	return lines
}

// outermost is the half-breadth of a waterline at x, on either side, or the least height of
// a buttock; NaN where there is none.
func (p *planLine) outermost(x float64, height bool) float64 {
	v := p.values(x)
	switch {
	case len(v) == 0:
		return math.NaN()
	case height:
		return v[0]
	}
	return math.Max(math.Abs(v[0]), math.Abs(v[len(v)-1]))
}

// outside reports whether one curve lies farther out or higher than another wherever
// both exist, from their values at the same places; ok is false where that cannot be
// decided.
func outside(a, b []float64) (out, ok bool) {
	var more, less float64
	for k := range a {
		if d := a[k] - b[k]; !math.IsNaN(d) {
			more, less = max(more, d), max(less, -d)
		}
	}
	slack := max(meeting, 0.02*max(more, less))
	return more > less, (more > slack) != (less > slack)
}
