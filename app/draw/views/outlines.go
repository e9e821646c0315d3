package views

import (
	"math"
	"strconv"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/drawing"
)

// Outlines shows what was found in a drawing of the frames: outlines in full
// lines with the names of their frames, the marks of centre line, base line,
// limits and stations each in its own dashes, and unused lines dotted. The
// chosen line is thick, on a ground of its own, with its name beside it.
type Outlines struct {
	Drawing draw.Drawing

	lines [][]draw.Point
	shown []bool
	names []written
}

// written is where a name stands, given by the middle of its foot.
type written struct {
	at   draw.Point
	wide float64
}

// outlinePens are the pens of lines that are not outlines of frames, in the
// order of the legend.
var outlinePens = []struct {
	mark, name string
	pen        draw.Pen
}{
	{drawing.WaterlineMark, tongue.Mark("waterline"), framePen},
	{drawing.ButtockMark, tongue.Mark("buttock"), draw.Pen{Width: 1.2, Dash: []float64{14, 3}}},
	{drawing.OriginMark, "x 0", draw.Pen{Width: 1.2, Dash: []float64{3, 3}}},
	{drawing.CentreMark, tongue.Mark("centre line"), draw.Pen{Width: 1.2, Dash: []float64{12, 3, 2, 3}}},
	{drawing.BaseMark, tongue.Mark("base line"), draw.Pen{Width: 1.2, Dash: []float64{8, 3}}},
	{drawing.UpperMark, tongue.Mark("upper limit"), draw.Pen{Width: 1.6, Dash: []float64{4, 2}}},
	{drawing.RabbetMark, tongue.Mark("rabbet"), draw.Pen{Width: 1.6, Dash: []float64{2, 2}}},
	{drawing.StationMark, tongue.Mark("station"), draw.Pen{Width: 1.2, Dash: []float64{6, 2, 2, 2, 2, 2}}},
	{drawing.Unused, tongue.Mark("not used"), draw.Pen{Width: 0.8, Dash: []float64{1, 3}}},
}

// Sizes of text and marks.
const (
	outlineMargin = 22
	outlineHead   = 44 // at the top, for names one above another
	outlineText   = 11
	letter        = 6.5 // mean width of a letter
	mostNamed     = 60  // frames; more names would overlap
)

// Draw makes the drawing in a view of w x h of the lines that are shown, all of
// them where show is nil; chosen is an index, or -1.
func (v *Outlines) Draw(outlines []drawing.Outline, show func(i int) bool, chosen int, w, h float64) {
	d := &v.Drawing
	d.Reset()
	v.shown, v.names = v.shown[:0], v.names[:0]
	for i := range outlines {
		v.shown = append(v.shown, show == nil || show(i) || i == chosen)
	}
	v.layOut(outlines, w, h-legendHeight)
	if chosen >= 0 && chosen < len(outlines) {
		d.Line(draw.ChosenSoft, draw.Pen{Width: 11}, v.lines[chosen]...)
	}
	frames := 0
	for i := range outlines {
		if outlines[i].Mark == "" {
			frames++
		}
		if v.shown[i] && i != chosen {
			v.line(&outlines[i], i)
		}
	}
	for i := range outlines {
		if v.shown[i] && i != chosen && frames <= mostNamed {
			v.name(&outlines[i], i, draw.Faint, w)
		}
	}
	if chosen >= 0 && chosen < len(outlines) {
		v.choose(&outlines[chosen], chosen, w)
	}
	v.legend(outlines, w, h)
}

func (v *Outlines) layOut(outlines []drawing.Outline, w, h float64) {
	xs, ys := empty(), empty()
	for i := range outlines {
		for _, p := range outlines[i].Points {
			if v.shown[i] {
				xs, ys = xs.with(p[0]), ys.with(p[1])
			}
		}
	}
	const margin = outlineMargin
	scale := math.Max(math.Min((w-2*margin)/xs.length(), (h-margin-outlineHead)/ys.length()), 1e-6)
	x, y := xs.axis(margin, w-2*margin, scale), ys.axis(margin, h-margin-outlineHead, scale)
	v.lines = v.lines[:0]
	for i := range outlines {
		var pts []draw.Point
		for _, p := range outlines[i].Points {
			pts = append(pts, draw.Pt(x.At(p[0]), h-y.At(p[1])))
		}
		v.lines = append(v.lines, pts)
	}
}

// pen is the role and pen of a line.
func (v *Outlines) pen(o *drawing.Outline) (draw.Role, draw.Pen) {
	for _, p := range outlinePens {
		switch {
		case p.mark != o.Mark:
		case o.Mark == drawing.Unused:
			return draw.Faint, p.pen
		case o.IsLine():
			return draw.Ink, p.pen
		default:
			return draw.BandInk, p.pen
		}
	}
	return draw.Ink, framePen
}

func (v *Outlines) line(o *drawing.Outline, i int) {
	role, pen := v.pen(o)
	pts := v.lines[i]
	switch len(pts) {
	case 0:
	case 1:
		v.Drawing.Mark(pts[0], draw.Ring, 7, role)
	default:
		v.Drawing.Line(role, pen, pts...)
	}
}

// choose draws the chosen line over all others, with its ends and corners.
func (v *Outlines) choose(o *drawing.Outline, i int, w float64) {
	d, pts := &v.Drawing, v.lines[i]
	if len(pts) == 0 {
		return
	}
	if len(pts) == 1 {
		d.Mark(pts[0], draw.Ring, 14, draw.Chosen)
	} else {
		_, pen := v.pen(o)
		pen.Width += 1.6
		d.Line(draw.Chosen, pen, pts...)
	}
	for _, c := range o.Corners {
		d.Mark(pts[c], draw.Diamond, 7, draw.Chosen)
	}
	if !o.Closed && len(pts) > 1 {
		d.Mark(pts[0], draw.Disc, 6, draw.Chosen)
		d.Mark(pts[len(pts)-1], draw.Disc, 6, draw.Chosen)
	}
	v.name(o, i, draw.Chosen, w)
}

// name writes what a line is beside its upper end, on the nearer side.
func (v *Outlines) name(o *drawing.Outline, i int, role draw.Role, w float64) {
	text := o.Frame
	if o.IsLine() && o.Placed {
		text = strconv.FormatFloat(o.X, 'g', 6, 64)
	}
	if role == draw.Chosen {
		text = o.Title()
	}
	if text == "" || len(v.lines[i]) == 0 || (o.Mark != "" && !o.IsLine() && role != draw.Chosen) {
		return
	}
	at := v.lines[i][0]
	for _, p := range v.lines[i] {
		if p.Y < at.Y-0.5 {
			at = p
		}
	}
	align := draw.Left
	if at.X > w/2 {
		align = draw.Right
	}
	if role == draw.Chosen { // over anything written there, on a ground of its own
		at.Y = math.Max(at.Y-8, outlineText+4)
		wide := math.Copysign(letter*float64(len([]rune(text)))+8, w/2-at.X)
		v.Drawing.Rect(draw.Paper, draw.Pt(at.X-math.Copysign(4, wide), at.Y-outlineText-1), draw.Pt(at.X+wide, at.Y+4))
	} else {
		place, ok := v.free(draw.Pt(at.X, at.Y-4), text)
		if !ok {
			return
		}
		align, at = draw.Centre, place
	}
	v.Drawing.Text(at, text, role, outlineText, align)
}

// free is the nearest position above a point at which a name overlaps no other;
// false where there is none in view.
func (v *Outlines) free(at draw.Point, text string) (draw.Point, bool) {
	wide := letter*float64(len([]rune(text))) + 4
	for ; at.Y > outlineText; at.Y -= outlineText {
		taken := false
		for _, n := range v.names {
			taken = taken || (math.Abs(n.at.X-at.X) < (n.wide+wide)/2 && math.Abs(n.at.Y-at.Y) < outlineText)
		}
		if !taken {
			v.names = append(v.names, written{at, wide})
			return at, true
		}
	}
	return at, false
}

// legendHeight is the room at the foot for the legend.
const legendHeight = 20

// legend explains the dashes of the marks that are present.
func (v *Outlines) legend(outlines []drawing.Outline, w, h float64) {
	has := map[string]bool{}
	for i := range outlines {
		has[outlines[i].Mark] = has[outlines[i].Mark] || v.shown[i]
	}
	x, y := float64(outlineMargin), h-legendHeight/2
	sample := func(role draw.Role, pen draw.Pen, name string) {
		wide := 34 + 6*float64(len(name))
		if x+wide > w {
			return
		}
		v.Drawing.Line(role, pen, draw.Pt(x, y), draw.Pt(x+24, y))
		v.Drawing.Text(draw.Pt(x+28, y+4), name, draw.Faint, outlineText-1, draw.Left)
		x += wide + 8
	}
	if has[""] {
		sample(draw.Ink, framePen, tongue.T("frame"))
	}
	for _, p := range outlinePens {
		if has[p.mark] {
			o := drawing.Outline{Mark: p.mark}
			role, pen := v.pen(&o)
			sample(role, pen, tongue.T(p.name))
		}
	}
}

// At gives the shown outline nearest to a point, or -1 where none is near.
func (v *Outlines) At(p draw.Point) int {
	best, least := -1, 3*lineReach
	for i, pts := range v.lines {
		if !v.shown[i] {
			continue
		}
		d := toLine(p, pts)
		if len(pts) == 1 {
			d = math.Hypot(p.X-pts[0].X, p.Y-pts[0].Y)
		}
		if d < least {
			best, least = i, d
		}
	}
	return best
}
