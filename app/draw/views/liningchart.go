package views

import (
	"math"
	"strconv"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
)

// LiningMark is one way to line off on a LiningChart.
type LiningMark struct {
	Name   string  // short: its number, or "now"
	Waste  float64 // wood lost, mm²
	Forced float64 // forced edge-set, mm
	Ends   int     // drops and wedges
}

// LiningChart compares ways to line off: the wood lost to the right, the forced
// edge-set upwards, or the drops and wedges where no edge-set is known. A way with
// more drops and wedges has a larger mark.
type LiningChart struct {
	Units     Units
	Shapeless bool
	Drawing   draw.Drawing

	at []draw.Point
}

// The margins of the chart.
const (
	liningLeft   = 52.0
	liningRight  = 24.0
	liningTop    = 30.0
	liningBottom = 30.0
	liningTap    = 16.0 // view pixels from a mark within which a tap selects it
)

// Draw makes the drawing of some ways in a view of w x h; chosen is the index of
// one of them, or -1. The last is the plan as it is.
func (v *LiningChart) Draw(marks []LiningMark, chosen int, w, h float64) {
	d := &v.Drawing
	d.Reset()
	v.at = v.at[:0]
	if len(marks) == 0 {
		return
	}
	x, y := empty(), empty()
	for _, m := range marks {
		x, y = x.with(m.Waste), y.with(v.up(m))
	}
	x, y = x.within(), y.within()
	right, foot := w-liningRight, h-liningBottom
	px := func(mm2 float64) float64 { return liningLeft + (mm2-x.lo)/x.length()*(right-liningLeft) }
	py := func(up float64) float64 { return foot - (up-y.lo)/y.length()*(foot-liningTop) }
	head := tongue.T("Up: forced edge-set (%s); to the right: wood lost; larger marks: more drops and wedges", v.Units.Name())
	if v.Shapeless {
		head = tongue.T("Up: drops and wedges; to the right: wood lost")
	}
	d.Text(draw.Pt(8, 14), head, draw.Ink, labelSize, draw.Left)
	for _, f := range []float64{0, 0.5, 1} {
		a, b := x.lo+f*x.length(), y.lo+f*y.length()
		d.Line(draw.Grid, hairPen, draw.Pt(px(a), liningTop), draw.Pt(px(a), foot))
		d.Line(draw.Grid, hairPen, draw.Pt(liningLeft, py(b)), draw.Pt(right, py(b)))
		align := draw.Centre
		if f == 1 {
			align = draw.Right
		}
		d.Text(draw.Pt(px(a), foot+15), v.Units.Area(max(a, 0)), draw.Faint, labelSize-1, align)
		d.Text(draw.Pt(liningLeft-5, py(b)+4), v.tick(b), draw.Faint, labelSize-1, draw.Right)
	}
	for i := len(marks) - 1; i >= 0; i-- { // the first are drawn on top
		v.at = append(v.at, draw.Pt(px(marks[i].Waste), py(v.up(marks[i]))))
	}
	for i := range marks {
		j := len(marks) - 1 - i
		v.mark(marks[j], v.at[i], j == chosen, j == len(marks)-1)
	}
	for i, at := range v.at {
		m := marks[len(marks)-1-i]
		y := at.Y - m.size()/2 - 5
		if y < liningTop+4 || v.crowded(draw.Pt(at.X, y-4), i) {
			y = at.Y + m.size()/2 + 12
		}
		d.Text(draw.Pt(at.X, y), m.Name, draw.Ink, labelSize+1, draw.Centre)
	}
}

// crowded reports whether another mark lies where a name would stand.
func (v *LiningChart) crowded(p draw.Point, own int) bool {
	for i, at := range v.at {
		if i != own && math.Hypot(p.X-at.X, p.Y-at.Y) < liningTap*0.8 {
			return true
		}
	}
	return false
}

// up is the figure of a way on the upright axis.
func (v *LiningChart) up(m LiningMark) float64 {
	if v.Shapeless {
		return float64(m.Ends)
	}
	return m.Forced
}

// tick words a figure of the upright axis.
func (v *LiningChart) tick(up float64) string {
	if v.Shapeless {
		return strconv.FormatFloat(max(up, 0), 'f', 0, 64)
	}
	return v.Units.Number(max(up, 0))
}

// within is a span with a margin at either end, and of some length.
func (s span) within() span {
	room := max(0.12*(s.hi-s.lo), 0.02*math.Abs(s.hi), 1e-3)
	return span{s.lo - room, s.hi + room}
}

// size is the size of a way's mark.
func (m *LiningMark) size() float64 { return 9 + 2*math.Sqrt(float64(min(m.Ends, 40))) }

// mark draws one way; that of the plan as it is is hollow.
func (v *LiningChart) mark(m LiningMark, at draw.Point, chosen, now bool) {
	d := &v.Drawing
	role, shape := draw.BandInk, draw.Disc
	if now {
		role, shape = draw.Faint, draw.Ring
	}
	if chosen {
		role = draw.Chosen
		d.Mark(at, draw.Ring, m.size()+7, draw.Chosen)
	}
	d.Mark(at, shape, m.size(), role)
}

// WayAt is the index of the way whose mark is nearest to a point of the view, or
// -1 if none is near.
func (v *LiningChart) WayAt(p draw.Point) int {
	best, near := -1, liningTap
	for i, at := range v.at {
		if d := math.Hypot(p.X-at.X, p.Y-at.Y); d <= near { // of two that coincide the upper, which comes later
			best, near = len(v.at)-1-i, d
		}
	}
	return best
}
