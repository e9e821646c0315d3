package views

import (
	"math"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
)

// StockLane is one kind of strip on a WidthChart: the width that its strakes
// need at every frame. Lengths in mm; NaN where no strake is laid.
type StockLane struct {
	Name              string
	Stock             float64 // width of the strip
	X                 []float64
	Least, Mean, Most []float64
}

// WidthChart compares kinds of strip, side by side on one scale: the width
// needed along the hull against the strip.
type WidthChart struct {
	Units   Units
	Drawing draw.Drawing
}

// The least room that lanes take, and the margins.
const (
	leastLane  = 120.0
	wideChart  = 700.0 // has room for the long heading
	laneEdge   = 40.0
	laneTop    = 34.0
	laneBottom = 18.0
	laneGap    = 8.0
)

// Draw makes the drawing of some lanes in a view of w x h; chosen is the index
// of one of them, or -1. If there is not room for all side by side, those
// around the chosen one are drawn.
func (v *WidthChart) Draw(lanes []StockLane, chosen int, w, h float64) {
	d := &v.Drawing
	d.Reset()
	if len(lanes) == 0 {
		d.Text(draw.Pt(w/2, h/2), tongue.T("Nothing laid yet."), draw.Faint, labelSize, draw.Centre)
		return
	}
	s := empty()
	for _, l := range lanes {
		s = s.with(l.Stock)
		for i := range l.Least {
			if !math.IsNaN(l.Least[i]) {
				s = s.with(l.Least[i]).with(l.Most[i])
			}
		}
	}
	room := 0.08 * s.length()
	t := track{top: laneTop, bottom: h - laneBottom, span: span{s.lo - room, s.hi + room}}
	first, shown := lanesShown(len(lanes), chosen, w)
	head := tongue.T("Width needed along the hull (%s); broken line: the strip", v.Units.Name())
	if w > wideChart {
		head = tongue.T("Width needed along the hull (%s), narrowest to widest strake; thin line: their mean; broken line: the strip; blue tapers, orange gaps", v.Units.Name())
	}
	d.Text(draw.Pt(8, 13), head, draw.Ink, labelSize, draw.Left)
	for _, y := range []float64{s.lo, s.hi} {
		d.Text(draw.Pt(laneEdge-4, t.at(y)+4), v.Units.Number(y), draw.Faint, labelSize-1, draw.Right)
	}
	pitch := (w - laneEdge) / float64(shown)
	for i := range shown {
		v.lane(lanes[first+i], t, laneEdge+pitch*float64(i), pitch-laneGap, first+i == chosen)
	}
}

// lanesShown says for which lanes there is room: the first, and how many.
func lanesShown(lanes, chosen int, w float64) (first, shown int) {
	shown = max(min(int((w-laneEdge)/leastLane), lanes), 1)
	first = min(max(chosen-shown/2, 0), lanes-shown)
	return first, shown
}

// lane draws one kind: a strake narrower than the strip tapers, a wider one
// leaves a gap.
func (v *WidthChart) lane(l StockLane, t track, left, room float64, chosen bool) {
	d := &v.Drawing
	ink, pen := draw.Ink, stockPen
	if chosen {
		ink, pen = draw.Chosen, heavier(stockPen)
		d.Rect(draw.ChosenSoft, draw.Pt(left, t.top), draw.Pt(left+room, t.bottom))
	}
	d.Line(draw.Faint, hairPen, draw.Pt(left, t.bottom), draw.Pt(left+room, t.bottom))
	n := len(l.X)
	if n < 2 {
		return
	}
	x := func(i int) float64 { return left + (l.X[i]-l.X[0])/math.Max(l.X[n-1]-l.X[0], 1e-9)*room }
	below, above := make([]float64, n), make([]float64, n)
	mean := make([]draw.Point, n)
	for i := range n {
		below[i], above[i] = math.Min(l.Most[i], l.Stock), math.Max(l.Least[i], l.Stock)
		mean[i] = draw.Pt(x(i), t.at(l.Mean[i]))
	}
	for i := 0; i+1 < n; i++ {
		v.ground(draw.TaperSoft, t, x(i), x(i+1), [2]float64{math.Min(l.Least[i], l.Stock), below[i]}, [2]float64{math.Min(l.Least[i+1], l.Stock), below[i+1]})
		v.ground(draw.GapSoft, t, x(i), x(i+1), [2]float64{above[i], math.Max(l.Most[i], l.Stock)}, [2]float64{above[i+1], math.Max(l.Most[i+1], l.Stock)})
	}
	for _, edge := range [][]float64{l.Least, l.Most} {
		pts := make([]draw.Point, n)
		for i := range n {
			pts[i] = draw.Pt(x(i), t.at(edge[i]))
		}
		d.Line(draw.BandInk, curvePen, pts...)
	}
	d.Line(draw.BandInk, hairPen, mean...)
	d.Line(ink, pen, draw.Pt(left, t.at(l.Stock)), draw.Pt(left+room, t.at(l.Stock)))
	name := l.Name
	if chosen {
		name = "> " + name
	}
	d.Text(draw.Pt(left+room/2, t.top-5), name, ink, labelSize, draw.Centre)
	v.ends(l, t, left, room)
}

func (v *WidthChart) ground(role draw.Role, t track, x0, x1 float64, a, b [2]float64) {
	if a[1] > a[0] || b[1] > b[0] {
		v.Drawing.Area(role, draw.Pt(x0, t.at(a[0])), draw.Pt(x1, t.at(b[0])), draw.Pt(x1, t.at(b[1])), draw.Pt(x0, t.at(a[1])))
	}
}

// ends writes what the chart means below a lane.
func (v *WidthChart) ends(l StockLane, t track, left, room float64) {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range l.Least {
		if !math.IsNaN(l.Least[i]) {
			low, high = math.Min(low, l.Least[i]), math.Max(high, l.Most[i])
		}
	}
	v.Drawing.Text(draw.Pt(left+room/2, t.bottom+13), tongue.T("%s to %s", v.Units.Number(low), v.Units.Number(high)), draw.Faint, labelSize-1, draw.Centre)
}
