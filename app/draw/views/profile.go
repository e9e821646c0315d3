package views

import (
	"math"
	"slices"
	"unicode/utf8"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Profile is the view square abeam: x to the right, z up.
type Profile struct {
	X       Axis
	Z       float64 // mm of height at the view's upper edge
	Drawing draw.Drawing
	Handles []Handle
	Limits  []Handle // the handles of the limits
	Whole   Curves   // the frames beyond the limits too; nil to leave that out

	Strip *loft.StripBeside // drawn beside its line while that is chosen; nil for none
	Told  string            // how the strip lies, beside the line's chosen handle; "" for nothing
	March []loft.March      // strips marched out into the bands, shown in place of the strakes; nil for none

	layer *loft.Layer
	// between places a line from one station to another.
	between func(line *loft.Line, from, to int) []draw.Point
	seams   [][]draw.Point
	limits  [2][]draw.Point // upper and lower
	wedges  [][]draw.Point  // outlines
	nibs    [][]draw.Point
	lines   [][]draw.Point // [band line of the plan][station]
	frames  [][]draw.Point
	room    []draw.Point
}

// headRoom is the strip at the top of the profile for the frames' names.
const headRoom = 21.0

// footRoom is what is left free under the hull.
const footRoom = 16.0

// FitProfile gives the axis along x and the height at the upper edge that show
// the whole hull in a view of w x h.
func FitProfile(curves Curves, w, h float64) (x Axis, z float64) {
	xs, zs := empty(), empty()
	for _, c := range curves {
		for _, p := range c {
			xs, zs = xs.with(p.X()), zs.with(p.Z())
		}
	}
	const margin = gaugeEdge + 10
	scale := math.Min((w-2*margin)/xs.length(), (h-headRoom-footRoom)/zs.length())
	scale = math.Max(scale, 1e-3)
	x = xs.axis(margin, w-2*margin, scale)
	spare := (h - headRoom - footRoom - zs.length()*scale) / 2
	return x, zs.hi + (headRoom+spare)/scale
}

// Place gives a point of the hull in the view.
func (v *Profile) Place(p mgl64.Vec3) draw.Point {
	return draw.Pt(v.X.At(p.X()), (v.Z-p.Z())*v.X.Scale)
}

// Draw makes the drawing of a planking.
func (v *Profile) Draw(k *loft.Planking, curves Curves, c Choice, w, h float64) {
	l := k.Layers[c.Layer]
	v.layOut(k, l, c, curves)
	d := &v.Drawing
	d.Reset()
	for f := range v.Whole {
		d.Line(draw.Faint, beyondPen, v.placed(v.Whole[f])...)
	}
	v.drawFrames(k, c, h)
	v.drawUnplanked(k, h-6)
	v.drawStrake(c)
	if v.March == nil {
		v.hatchModes()
		v.drawSeams()
	}
	v.drawMarch(l, w, h)
	v.drawLimits(c)
	drawBandLines(d, k.Plan.Layers[c.Layer].Lines, v.lines, c)
	v.drawStrip(c, w, h)
	v.drawRunouts(l)
	drawLimitHandles(d, v.Limits, c)
	drawHandles(d, v.Handles, c)
	v.tellStrip(c, w, h)
	v.nameFrames(k, c, w)
	v.drawEnds(k, w, h)
	if v.March == nil {
		modeLegend(d, l, legendLeft, h-6, w-2*legendLeft-v.stripRoom(c))
	}
}

// layOut places everything that can be pointed at.
func (v *Profile) layOut(k *loft.Planking, l *loft.Layer, c Choice, curves Curves) {
	v.room = v.room[:0]
	v.lines, v.frames = v.lines[:0], v.frames[:0]
	v.laySeams(l, func(line *loft.Line, from, to int) []draw.Point { return v.placed(line.P[from : to+1]) })
	for _, b := range l.Lines[1 : len(l.Lines)-1] {
		v.lines = append(v.lines, v.placed(b.P))
	}
	for _, f := range curves {
		v.frames = append(v.frames, v.placed(f))
	}
	v.Handles = handlesOf(k, c.Layer, func(_ int, p mgl64.Vec3) draw.Point { return v.Place(p) }, v.Handles[:0])
	v.Limits = limitHandles(k, c.Layer, func(_ int, p mgl64.Vec3, _ Limit) draw.Point { return v.Place(p) }, v.Limits[:0])
}

func (v *Profile) placed(pts []mgl64.Vec3) []draw.Point {
	n := len(v.room)
	for _, p := range pts {
		v.room = append(v.room, v.Place(p))
	}
	return v.room[n:len(v.room):len(v.room)]
}

func (v *Profile) drawFrames(k *loft.Planking, c Choice, h float64) {
	d := &v.Drawing
	from, to := k.Plan.Hull.Planked()
	for f, pts := range v.frames {
		role, pen := draw.Grid, hairPen
		if f == c.Frame {
			role, pen = draw.Chosen, dotPen
		}
		for _, g := range guides(pts, v.X.At(GuideX(k, c, f)), h) {
			d.Line(role, pen, g...)
		}
		switch {
		case f == c.Frame:
			d.Line(draw.Chosen, heavier(framePen), pts...)
		case f >= from && f <= to:
			d.Line(draw.FrameInk, framePen, pts...)
		default:
			d.Line(draw.Faint, beyondPen, pts...)
		}
	}
}

// nameFrames names the frames along the upper edge. Where the hull was moved up into their
// room they stand on paper of their own, so that no line runs through them.
func (v *Profile) nameFrames(k *loft.Planking, c Choice, w float64) {
	d := &v.Drawing
	frames := k.Plan.Hull.Frames
	top := math.Inf(1)
	for _, pts := range slices.Concat(v.frames, v.limits[:]) {
		for _, p := range pts {
			top = math.Min(top, p.Y)
		}
	}
	if top < headRoom-2 {
		d.Rect(draw.Paper, draw.Pt(0, 0), draw.Pt(w, headRoom-3))
		d.Line(draw.Grid, hairPen, draw.Pt(0, headRoom-3), draw.Pt(w, headRoom-3))
	}
	last, taken, takenHalf := math.Inf(-1), math.Inf(1), 0.0 // where the name before ends; where the chosen one stands
	if c.Frame >= 0 && c.Frame < len(frames) {
		taken, takenHalf = v.frames[c.Frame][0].X, nameHalf(frames[c.Frame].Name)
	}
	for f, pts := range v.frames {
		x, name := pts[0].X, frames[f].Name
		if f == c.Frame {
			d.Text(draw.Pt(x, 13), name, draw.Chosen, labelSize+2, draw.Centre)
			last = x + takenHalf
			continue
		}
		half := nameHalf(name)
		if x-half > last+6 && math.Abs(x-taken) > half+takenHalf+6.5 {
			d.Text(draw.Pt(x, 13), name, draw.Faint, labelSize, draw.Centre)
			last = x + half
		}
	}
}

// nameHalf is half the room of a frame's name, in the view.
func nameHalf(name string) float64 { return 3.5 * float64(utf8.RuneCountInString(name)) }

// drawUnplanked says, at y of the view, where no strake is laid at either end of
// the hull, if there is room for it.
func (v *Profile) drawUnplanked(k *loft.Planking, y float64) {
	frames := k.Plan.Hull.Frames
	from, to := k.Plan.Hull.Planked()
	for _, end := range [][2]int{{0, from}, {to, len(frames) - 1}} {
		a, b := v.X.At(frames[end[0]].X()), v.X.At(frames[end[1]].X())
		for _, text := range []string{tongue.T("not planked: filler blocks"), tongue.T("not planked")} {
			if b-a > 6.2*float64(len(text)) {
				v.Drawing.Text(draw.Pt((a+b)/2, y), text, draw.Faint, labelSize, draw.Centre)
				break
			}
		}
	}
}

// laySeams places what strakes, wedges and nibs show: lines from one station to
// another.
func (v *Profile) laySeams(l *loft.Layer, placed func(line *loft.Line, from, to int) []draw.Point) {
	v.layer, v.between = l, placed
	v.seams, v.wedges, v.nibs = v.seams[:0], v.wedges[:0], v.nibs[:0]
	for _, s := range l.SeamRuns() {
		v.seams = append(v.seams, placed(s.Line, s.From, s.To))
	}
	last := len(l.Surface.Stations()) - 1
	v.limits = [2][]draw.Point{placed(l.Lines[0].Line, 0, last), placed(l.Lines[len(l.Lines)-1].Line, 0, last)}
	for _, w := range l.Wedges {
		from, to := l.Surface.FrameStation(w.Laid.First), l.Surface.FrameStation(w.Laid.Last)
		v.wedges = append(v.wedges, around(placed(w.Laid.Upper, from, to), placed(w.Laid.Lower, from, to)))
	}
	for _, d := range l.Drops {
		st, at := l.Strakes[d.At], l.Surface.FrameStation(d.From)
		v.nibs = append(v.nibs, slices.Concat(placed(st.Upper, at, at), placed(st.Lower, at, at)))
	}
}

// around runs along one edge and back along the other.
func around(upper, lower []draw.Point) []draw.Point {
	out := slices.Clone(upper)
	for i := len(lower) - 1; i >= 0; i-- {
		out = append(out, lower[i])
	}
	return out
}

// drawSeams draws the seams, with the wedges in them and the nibs in which strakes
// end.
func (v *Profile) drawSeams() {
	for _, w := range v.wedges {
		v.Drawing.Area(draw.GapSoft, w...)
	}
	for _, s := range v.seams {
		v.Drawing.Line(draw.Seam, seamPen, s...)
	}
	for _, n := range v.nibs {
		v.Drawing.Line(draw.Seam, heavier(seamPen), n...)
	}
}

// edges places both edges of a strake, as many points each; nil where it is laid
// nowhere.
func (v *Profile) edges(strake int) (upper, lower []draw.Point) {
	u, l := v.layer.Edges(strake)
	for i := range u {
		upper = append(upper, v.between(u[i].Line, u[i].Station, u[i].Station)...)
		lower = append(lower, v.between(l[i].Line, l[i].Station, l[i].Station)...)
	}
	return upper, lower
}

// drawStrake lays a ground under the chosen strake.
func (v *Profile) drawStrake(c Choice) {
	if c.Strake < 0 || c.Strake >= len(v.layer.Strakes) {
		return
	}
	upper, lower := v.edges(c.Strake)
	for i := 0; i+1 < len(upper); i++ {
		v.Drawing.Area(draw.ChosenSoft, upper[i], upper[i+1], lower[i+1], lower[i])
	}
	v.Drawing.Line(draw.Chosen, heavier(seamPen), upper...)
	v.Drawing.Line(draw.Chosen, heavier(seamPen), lower...)
}

// drawLimits draws both limits, the chosen one heavier.
func (v *Profile) drawLimits(c Choice) {
	for i, limit := range []Limit{UpperLimit, LowerLimit} {
		if limit == c.Limit {
			v.Drawing.Line(draw.Chosen, heavier(limitPen), v.limits[i]...)
		} else {
			v.Drawing.Line(draw.Limit, limitPen, v.limits[i]...)
		}
	}
}

// HandleAt gives the handle at a point, of a line or of a limit.
func (v *Profile) HandleAt(p draw.Point, c Choice) (Handle, bool) {
	return handleAt(v.Handles, v.Limits, p, c)
}

// drawBandLines draws each line in the pen of its manner.
func drawBandLines(d *draw.Drawing, lines []hull.BandLine, placed [][]draw.Point, c Choice) {
	for n, pts := range placed {
		pen, role := drawnPen, draw.BandInk
		switch lines[n].LineType {
		case hull.Free:
			pen = freePen
		case hull.Least:
			pen = leastPen
		}
		if n == c.Line {
			pen, role = heavier(pen), draw.Chosen
		}
		d.Line(role, pen, pts...)
	}
}

// drawRunouts marks where free lines leave the planked region.
func (v *Profile) drawRunouts(l *loft.Layer) {
	for n := range v.lines {
		for _, r := range l.Lines[n+1].Runouts {
			v.Drawing.Mark(v.lines[n][l.Surface.FrameStation(r.Frame)], draw.Cross, 9, draw.Warning)
		}
	}
}

// drawEnds says which end is the bow.
func (v *Profile) drawEnds(k *loft.Planking, w, h float64) {
	left, right := tongue.T("stern"), tongue.T("bow")
	if k.Plan.Hull.Bow == hull.BowFirst {
		left, right = right, left
	}
	v.Drawing.Text(draw.Pt(6, h-6), left, draw.Faint, labelSize, draw.Left)
	v.Drawing.Text(draw.Pt(w-6, h-6), right, draw.Faint, labelSize, draw.Right)
}

// StrakeAt gives the strake at a point, or -1.
func (v *Profile) StrakeAt(p draw.Point) int {
	if v.layer == nil {
		return -1
	}
	for k := range v.layer.Strakes {
		u, l := v.edges(k)
		for i := 0; i+1 < len(u); i++ {
			if inQuad(p, u[i], u[i+1], l[i+1], l[i]) {
				return k
			}
		}
	}
	return -1
}

// LineAt gives the band line at a point, or -1.
func (v *Profile) LineAt(p draw.Point) int { return nearestLine(v.lines, p) }

// FrameAt gives the frame nearest to a point along x.
func (v *Profile) FrameAt(p draw.Point) int {
	best, least := -1, math.Inf(1)
	for f, pts := range v.frames {
		if d := toLine(p, pts); d < least {
			best, least = f, d
		}
	}
	return best
}

// lineReach is how near the pointer must come to a line to choose it.
const lineReach = 4.0

func nearestLine(lines [][]draw.Point, p draw.Point) int {
	best, least := -1, lineReach
	for n, pts := range lines {
		if d := toLine(p, pts); d < least {
			best, least = n, d
		}
	}
	return best
}
