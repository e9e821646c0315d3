package boards

import (
	"image"
	"math"

	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// gaugeView is the strip under the profile, on the same axis.
type gaugeView struct {
	desk  *desk.Desk
	axis  *lengthAxis
	v     views.Gauge
	paper kit.Sheet
}

// gaugeFrom is what the gauge strip is made from. The bench is reckoned anew when
// a drag is over.
type gaugeFrom struct {
	desk.ShownThere
	axis    lengthAxis
	side    hull.Side
	day     string
	dragged bool
}

func (v *gaugeView) from() any {
	b := v.desk.Bench
	return gaugeFrom{v.desk.ShownThere(), *v.axis, b.Side, b.Day, v.desk.Grip != nil}
}

func (v *gaugeView) turn() any { return v.axis }

func (v *gaugeView) behind(int, int) *job { return nil }

func (v *gaugeView) paint(w, h int, scale float64) image.Image {
	v.v.X, v.v.Units, v.v.Bench, v.v.Strip = v.axis.Axis, v.desk.Units, v.desk.Bench.Widths(), v.desk.Strip()
	v.v.Draw(v.desk.Planking(), v.desk.Choice, float64(w)/scale, float64(h)/scale)
	return v.paper.Render(v.desk.Look, &v.v.Drawing, w, h, scale)
}

// frameAt gives the frame nearest along x.
func (v *gaugeView) frameAt(p draw.Point) int {
	best, least := -1, math.Inf(1)
	for f := range v.desk.Plan().Hull.Frames {
		if d := math.Abs(v.axis.At(views.GuideX(v.desk.Planking(), v.desk.Choice, f)) - p.X); d < least {
			best, least = f, d
		}
	}
	return best
}

func (v *gaugeView) press(draw.Point) bool { return false }

func (v *gaugeView) tap(p draw.Point) {
	if f := v.frameAt(p); f >= 0 {
		v.desk.Choose(v.desk.Choice.WithFrame(f))
	}
}

func (v *gaugeView) drag(_ draw.Point, dx, _ float64) {
	v.axis.Axis = v.axis.Moved(dx)
	v.desk.Refresh()
}

func (v *gaugeView) release() {}

func (v *gaugeView) hover(p draw.Point) string {
	f, c, l := v.frameAt(p), v.desk.Choice, v.desk.Layer()
	switch {
	case f < 0:
		return ""
	case c.Strake >= 0:
		return tongue.T("Frame %s: %s", v.desk.FrameName(f), v.desk.StrakeText(l.Strakes[c.Strake], f)+v.desk.Bench.At(l.Strakes[c.Strake], f))
	case v.desk.Line() != nil:
		return v.desk.LineText(c.Line, f)
	}
	return ""
}

func (v *gaugeView) wheel(p draw.Point, by float64) {
	v.axis.Axis = v.axis.Zoomed(by, p.X)
	v.desk.Refresh()
}

func (v *gaugeView) fit() {
	v.axis.fitted = false
	v.desk.Refresh()
}

func (v *gaugeView) menu(draw.Point) *fyne.Menu { return nil }
