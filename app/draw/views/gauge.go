package views

import (
	"math"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Gauge is the strip below the profile, on the same axis along x. For the
// chosen strake, or the strakes beside the chosen band line, it shows the width
// needed against the stock, and the edge-set.
type Gauge struct {
	X       Axis
	Units   Units
	Bench   *BenchWidths      // of the chosen strake; nil for none
	Strip   *loft.StripBeside // of the chosen line; nil for none
	Drawing draw.Drawing
}

// noEdgeSet is shown in place of the edge-set.
const noEdgeSet = "Edge-set is not known: it needs the hull's shape, and this hull has only girths."

// gaugeEdge is the room at the left edge for the numbers of the scales.
const gaugeEdge = 46.0

// track is one of the strip's two diagrams: a vertical scale in a view's rows.
type track struct {
	top, bottom float64
	span        span
}

func (t track) at(v float64) float64 {
	return t.bottom - (v-t.span.lo)/t.span.length()*(t.bottom-t.top)
}

// Draw makes the drawing of a planking in a view of w x h.
func (v *Gauge) Draw(k *loft.Planking, c Choice, w, h float64) {
	v.Drawing.Reset()
	l := k.Layers[c.Layer]
	v.frames(k, c, h)
	switch {
	case c.Strake >= 0 && c.Strake < len(l.Strakes):
		v.strake(k, l, c, w, h)
	case c.Line >= 0 && c.Line < len(l.Lines)-2:
		v.line(k, l, c, w, h)
	default:
		v.Drawing.Text(draw.Pt(w/2, h/2), tongue.T("Choose a strake or a band line to see its width and edge-set along the hull."), draw.Faint, labelSize+1, draw.Centre)
	}
}

func (v *Gauge) frames(k *loft.Planking, c Choice, h float64) {
	for f := range k.Plan.Hull.Frames {
		x := v.X.At(GuideX(k, c, f))
		if f == c.Frame {
			v.Drawing.Line(draw.Chosen, dotPen, draw.Pt(x, 0), draw.Pt(x, h))
		} else {
			v.Drawing.Line(draw.Grid, hairPen, draw.Pt(x, 0), draw.Pt(x, h))
		}
	}
}

// tracks divides the view's height between widths and edge-set.
func tracks(h float64) (width, edge track) {
	const head = 16.0
	mid := math.Round(h * 0.58)
	return track{top: head, bottom: mid - 4}, track{top: mid + head, bottom: h - 5}
}

// strake draws the widths and the edge-set of one strake.
func (v *Gauge) strake(k *loft.Planking, l *loft.Layer, c Choice, w, h float64) {
	wide, edge := tracks(h)
	s := l.Strakes[c.Strake]
	wide.span = widthSpan(s)
	head := tongue.T("Strake %s: width to cut (%s) against the strip as laid (dashed); triangles down taper, up gap", s.ID, v.Units.Name())
	if v.Bench != nil {
		wide.span = v.Bench.within(wide.span)
		head = tongue.T("Strake %s: width to cut (%s) as planned (full), and as the bench asks for it %s (dots, squares, numbers); strip as laid (dashed)", s.ID, v.Units.Name(), v.Bench.Where)
	}
	v.fit(l, s, wide)
	v.pitch(l, s, wide)
	v.widths(l, s, wide, curvePen)
	v.scale(wide, func(x float64) string { return v.Units.Number(x) })
	v.numbers(l, s, wide)
	if v.Bench != nil {
		v.bench(l, s, wide)
	}
	v.heading(wide.top, head)
	if k.Plan.Hull.Shapeless() {
		v.heading(edge.top, tongue.T(noEdgeSet))
		return
	}
	xs, sets := edgeSet(s.Centre, s.From, s.To)
	v.edgeSet(edge, w, xs, sets)
	v.heading(edge.top, tongue.T("Edge-set of its middle (1/m, up is towards the %s); at most %.2f %% of strain at its edges",
		limitName(k, true), 100*s.Making.Edge.Figure))
}

// leastForOffs is the least height with room for a row of numbers.
const leastForOffs = 105.0

// line draws the strakes above and below a band line, and its own edge-set.
func (v *Gauge) line(k *loft.Planking, l *loft.Layer, c Choice, w, h float64) {
	strip, row := shownStrip(v.Strip, c), labelSize+2
	if strip == nil || h < leastForOffs {
		strip, row = nil, 0
	}
	wide, edge := tracks(h - row)
	above, below := beside(l, c.Line)
	b := l.Lines[c.Line+1]
	if above != nil && below != nil {
		wide.span = widthSpan(above)
		other := widthSpan(below)
		wide.span = wide.span.with(other.lo).with(other.hi)
		v.fit(l, above, wide)
		v.pitch(l, above, wide)
		v.widths(l, above, wide, curvePen)
		v.widths(l, below, wide, secondPen)
		v.scale(wide, func(x float64) string { return v.Units.Number(x) })
		v.heading(wide.top, tongue.T("Band line %d: width to cut (%s) of %s above it (full) and %s below (short dashes); strip as laid (long dashes)", c.Line+1, v.Units.Name(), above.ID, below.ID))
	}
	if k.Plan.Hull.Shapeless() {
		v.heading(edge.top, tongue.T(noEdgeSet))
		return
	}
	xs, sets := edgeSet(b.Line, 0, len(b.P)-1)
	v.edgeSet(edge, w, xs, sets)
	text := tongue.T("Edge-set of the line (1/m, up is towards the %s)", limitName(k, true))
	if off, frame := loft.Farthest(l.BattenOff(b)); frame >= 0 {
		text += tongue.T("; a thin batten falls %s at frame %s", v.Units.LieOff(off), k.Plan.Hull.Frames[frame].Name)
	}
	if strip != nil {
		v.offs(k, strip, c, h-3)
		text += tongue.T("; +: how far under it this strip settles")
	}
	v.heading(edge.top, text)
}

// beside gives the strakes above and below a band line of the plan.
func beside(l *loft.Layer, line int) (above, below *loft.Strake) {
	for _, s := range l.Strakes {
		switch s.Band {
		case line + 1:
			above = s
		case line + 2:
			if below == nil {
				below = s
			}
		}
	}
	return above, below
}

func limitName(k *loft.Planking, upper bool) string {
	name := k.Plan.Hull.Limits.Lower
	if upper {
		name = k.Plan.Hull.Limits.Upper
	}
	if name == "" {
		if upper {
			return tongue.T("upper limit")
		}
		return tongue.T("lower limit")
	}
	return hull.LimitWord(name)
}

// widthSpan is the range of a strake's widths and strips, with room around.
func widthSpan(s *loft.Strake) span {
	out := empty()
	for _, c := range s.At {
		if c.Laid {
			out = out.with(c.WidthCut).with(c.Pitch)
		}
	}
	if out.lo > out.hi {
		out = span{0, 1}
	}
	room := math.Max(0.15*(out.hi-out.lo), 0.1)
	return span{out.lo - room, out.hi + room}
}

// xOf is the view x of a strake at a frame.
func (v *Gauge) xOf(l *loft.Layer, s *loft.Strake, f int) float64 {
	return v.X.At(s.Centre.P[l.Surface.FrameStation(f)].X())
}

// fit lays grounds between width and strip: where it tapers, and where it leaves
// a gap.
func (v *Gauge) fit(l *loft.Layer, s *loft.Strake, t track) {
	for f := 0; f+1 < len(s.At); f++ {
		a, b := s.At[f], s.At[f+1]
		if !a.Laid || !b.Laid {
			continue
		}
		x0, x1 := v.xOf(l, s, f), v.xOf(l, s, f+1)
		da, db := a.WidthCut-a.Pitch, b.WidthCut-b.Pitch
		if da*db < 0 {
			cut := da / (da - db)
			xm, wm := x0+(x1-x0)*cut, a.WidthCut+(b.WidthCut-a.WidthCut)*cut
			v.ground(t, x0, xm, a.WidthCut, wm, a.Pitch, wm, da)
			v.ground(t, xm, x1, wm, b.WidthCut, wm, b.Pitch, db)
			continue
		}
		v.ground(t, x0, x1, a.WidthCut, b.WidthCut, a.Pitch, b.Pitch, da+db)
	}
}

// ground fills between width and strip from one position to another. It is hatched as
// well, closely where the strip leaves a gap, since not everybody can see so pale a
// ground.
func (v *Gauge) ground(t track, x0, x1, w0, w1, p0, p1, over float64) {
	role, ink, apart := draw.TaperSoft, draw.TaperInk, 8.0
	if over > 0 {
		role, ink, apart = draw.GapSoft, draw.GapInk, 4.0
	}
	v.Drawing.Area(role, draw.Pt(x0, t.at(w0)), draw.Pt(x1, t.at(w1)), draw.Pt(x1, t.at(p1)), draw.Pt(x0, t.at(p0)))
	for x := math.Ceil(min(x0, x1)/apart) * apart; x < max(x0, x1); x += apart {
		part := (x - x0) / (x1 - x0)
		v.Drawing.Line(ink, hairPen, draw.Pt(x, t.at(w0+(w1-w0)*part)), draw.Pt(x, t.at(p0+(p1-p0)*part)))
	}
}

func (v *Gauge) pitch(l *loft.Layer, s *loft.Strake, t track) {
	pts := make([]draw.Point, len(s.At))
	for f, c := range s.At {
		pts[f] = v.knot(l, s, f, c.Laid, t.at(c.Pitch))
	}
	v.Drawing.Line(draw.Ink, stockPen, pts...)
}

func (v *Gauge) widths(l *loft.Layer, s *loft.Strake, t track, pen draw.Pen) {
	pts := make([]draw.Point, len(s.At))
	for f, c := range s.At {
		pts[f] = v.knot(l, s, f, c.Laid, t.at(c.WidthCut))
	}
	v.Drawing.Line(draw.BandInk, pen, pts...)
}

// knot is a point of a curve, or a break in it where the strake is not laid.
func (v *Gauge) knot(l *loft.Layer, s *loft.Strake, f int, laid bool, y float64) draw.Point {
	if !laid {
		return draw.Pt(math.NaN(), math.NaN())
	}
	return draw.Pt(v.xOf(l, s, f), y)
}

// numbers marks what to do at each frame and writes the width where there is
// room for it.
func (v *Gauge) numbers(l *loft.Layer, s *loft.Strake, t track) {
	last := math.Inf(-1)
	for f, c := range s.At {
		if !c.Laid {
			continue
		}
		x, y := v.xOf(l, s, f), t.at(c.WidthCut)
		switch c.Action {
		case loft.Taper:
			v.Drawing.Mark(draw.Pt(x, y), draw.Down, 8, draw.TaperInk)
		case loft.Gap:
			v.Drawing.Mark(draw.Pt(x, y), draw.Up, 8, draw.GapInk)
		default:
			v.Drawing.Mark(draw.Pt(x, y), draw.Disc, 5, draw.BandInk)
		}
		if x-last < 36 || v.Bench != nil {
			continue
		}
		last = x
		below := y + 15
		if below > t.bottom+2 || c.WidthCut > c.Pitch && y-7 > t.top+8 {
			below = y - 7
		}
		v.Drawing.Text(draw.Pt(x, below), v.Units.Number(c.WidthCut), draw.Ink, labelSize-1, draw.Centre)
	}
}

// edgeSet gives the x in mm and the edge-set in 1/m along a line, positive
// upwards.
func edgeSet(line *loft.Line, from, to int) (xs, sets []float64) {
	for i := from; i <= to && i < len(line.P); i++ {
		xs = append(xs, line.P[i].X())
		sets = append(sets, -hull.Curvature(line.EdgeSet[i]).PerMetre())
	}
	return xs, sets
}

// leastEdgeSet is the least range of the edge-set's scale in 1/m: a line that
// lies by itself should look straight, not like noise.
const leastEdgeSet = 0.1

func (v *Gauge) edgeSet(t track, w float64, xs, sets []float64) {
	t.span = span{-leastEdgeSet, leastEdgeSet}
	for _, s := range sets {
		if !math.IsNaN(s) {
			t.span = t.span.with(s * 1.1)
		}
	}
	v.Drawing.Line(draw.Faint, hairPen, draw.Pt(gaugeEdge, t.at(0)), draw.Pt(w, t.at(0)))
	pts := make([]draw.Point, len(xs))
	for i, x := range xs {
		pts[i] = draw.Pt(v.X.At(x), t.at(sets[i]))
	}
	v.Drawing.Line(draw.EdgeSet, curvePen, pts...)
	v.scale(t, func(x float64) string { return tongue.T("%+.2f", x) })
}

// scale writes the ends of a track's scale at its left edge.
func (v *Gauge) scale(t track, number func(float64) string) {
	v.Drawing.Rect(draw.Paper, draw.Pt(0, t.top-1), draw.Pt(gaugeEdge-4, t.bottom+1))
	v.Drawing.Line(draw.Faint, hairPen, draw.Pt(gaugeEdge-4, t.top), draw.Pt(gaugeEdge-4, t.bottom))
	v.Drawing.Text(draw.Pt(gaugeEdge-7, t.top+8), number(t.span.hi), draw.Faint, labelSize-1, draw.Right)
	if t.bottom-t.top >= 8+labelSize { // otherwise one number would cover the other
		v.Drawing.Text(draw.Pt(gaugeEdge-7, t.bottom), number(t.span.lo), draw.Faint, labelSize-1, draw.Right)
	}
}

func (v *Gauge) heading(top float64, text string) {
	v.Drawing.Text(draw.Pt(8, top-4), text, draw.Ink, labelSize, draw.Left)
}
