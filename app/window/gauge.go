package window

import (
	"image"
	"math"

	"fyne.io/fyne/v2"

	"strakewright/app/draw"
	"strakewright/app/draw/views"
	"strakewright/hull"
)

// gaugeView is the strip under the profile, on the same axis.
type gaugeView struct {
	desk  *desk
	axis  *lengthAxis
	v     views.Gauge
	paper sheet
}

// gaugeFrom is what the gauge strip is made from. The bench is reckoned anew when
// a drag is over.
type gaugeFrom struct {
	shownThere
	axis    lengthAxis
	side    hull.Side
	day     string
	dragged bool
}

func (v *gaugeView) from() any {
	b := v.desk.bench
	return gaugeFrom{v.desk.shownThere(), *v.axis, b.side, b.day, v.desk.grip != nil}
}

func (v *gaugeView) turn() any { return v.axis }

func (v *gaugeView) behind(int, int) *job { return nil }

func (v *gaugeView) paint(w, h int, scale float64) image.Image {
	v.v.X, v.v.Units, v.v.Bench = v.axis.Axis, v.desk.units, v.desk.bench.widths()
	v.v.Draw(v.desk.planking(), v.desk.choice, float64(w)/scale, float64(h)/scale)
	return v.paper.render(v.desk.look, &v.v.Drawing, w, h, scale)
}

// frameAt gives the frame nearest along x.
func (v *gaugeView) frameAt(p draw.Point) int {
	best, least := -1, math.Inf(1)
	for f := range v.desk.plan().Hull.Frames {
		if d := math.Abs(v.axis.At(views.GuideX(v.desk.planking(), v.desk.choice, f)) - p.X); d < least {
			best, least = f, d
		}
	}
	return best
}

func (v *gaugeView) press(draw.Point) bool { return false }

func (v *gaugeView) tap(p draw.Point) {
	if f := v.frameAt(p); f >= 0 {
		v.desk.choose(v.desk.choice.WithFrame(f))
	}
}

func (v *gaugeView) drag(_ draw.Point, dx, _ float64) {
	v.axis.Axis = v.axis.Moved(dx)
	v.desk.refresh()
}

func (v *gaugeView) release() {}

func (v *gaugeView) hover(p draw.Point) string {
	f, c, l := v.frameAt(p), v.desk.choice, v.desk.layer()
	switch {
	case f < 0:
		return ""
	case c.Strake >= 0:
		return "Frame " + v.desk.frameName(f) + ": " + v.desk.strakeText(l.Strakes[c.Strake], f) + v.desk.bench.at(l.Strakes[c.Strake], f)
	case v.desk.line() != nil:
		return v.desk.lineText(c.Line, f)
	}
	return ""
}

func (v *gaugeView) wheel(p draw.Point, by float64) {
	v.axis.Axis = v.axis.Zoomed(by, p.X)
	v.desk.refresh()
}

func (v *gaugeView) fit() {
	v.axis.fitted = false
	v.desk.refresh()
}

func (v *gaugeView) menu(draw.Point) *fyne.Menu { return nil }
