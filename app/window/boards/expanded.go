package boards

import (
	"image"

	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// expandedView is the expanded planking, in place of the profile on the axis
// along x that the gauge strip shares, or, with an axis of its own, in place of
// the lofted hull: there it tells how the strakes fit.
type expandedView struct {
	desk  *desk.Desk
	axis  *lengthAxis
	fits  bool
	v     views.Expanded
	paper kit.Sheet
	top   float64
	board *Board
	room  room // that the whole was fitted into
}

func (v *expandedView) from() any { return profileFrom{v.desk.ShownThere(), *v.axis, v.top} }

func (v *expandedView) turn() any { return v.axis }

func (v *expandedView) behind(int, int) *job { return nil }

func (v *expandedView) paint(w, h int, scale float64) image.Image {
	v.layOut(float64(w)/scale, float64(h)/scale)
	return v.paper.Render(v.desk.Look, &v.v.Drawing, w, h, scale)
}

func (v *expandedView) layOut(w, h float64) {
	if !v.axis.fitted || v.room.other(w, h) {
		v.axis.Axis, v.top = views.FitExpanded(v.desk.Planking(), v.desk.Layer(), w, h)
		v.axis.fitted, v.room = true, room{w, h}
		v.desk.Later(v.desk.GaugeRefresh)
	}
	v.v.X, v.v.Top, v.v.Fit = v.axis.Axis, v.top, v.fits
	v.v.Draw(v.desk.Planking(), v.desk.Choice, w, h)
}

// current has the drawing made where the screen has not yet asked for it.
func (v *expandedView) current() {
	w, h := v.board.size()
	v.layOut(w, h)
}

func (v *expandedView) press(p draw.Point) bool {
	v.current()
	return grasp(v.desk, &v.v, p)
}

func (v *expandedView) tap(p draw.Point) {
	v.desk.Pick(v.v.LineAt(p), v.v.StrakeAt(p), v.v.FrameAt(p))
}

func (v *expandedView) drag(p draw.Point, dx, dy float64) {
	if g := v.desk.Grip; g != nil {
		v.current()
		if g.Limit == views.NoLimit {
			v.desk.Move(v.v.Below(g.Frame, p))
		} else {
			v.desk.MoveLimit(v.v.Down(p))
		}
		return
	}
	v.axis.Axis = v.axis.Moved(dx)
	v.top -= dy / v.axis.Scale
	v.desk.Refresh()
}

func (v *expandedView) release() { v.desk.LetGo() }

func (v *expandedView) hover(p draw.Point) string {
	return placeOn(v.desk, v.v.FrameAt(p), func(f int) float64 { return v.desk.OnFrame(f, v.v.Below(f, p)) })
}

func (v *expandedView) wheel(p draw.Point, by float64) {
	keep := v.top + p.Y/v.axis.Scale
	v.axis.Axis = v.axis.Zoomed(by, p.X)
	v.top = keep - p.Y/v.axis.Scale
	v.desk.Refresh()
}

func (v *expandedView) fit() {
	v.axis.fitted = false
	v.desk.Refresh()
}

func (v *expandedView) menu(p draw.Point) *fyne.Menu {
	v.current()
	return menuAt(v.desk, &v.v, p, v.tap)
}

// noBodyView says why there is no body plan.
type noBodyView struct {
	desk  *desk.Desk
	d     draw.Drawing
	paper kit.Sheet
}

// The size of its lettering, and how wide that is at the most.
const noBodySize, noBodyWide = 11.5, 120.0

func (v *noBodyView) paint(w, h int, scale float64) image.Image {
	v.d.Reset()
	x, y := float64(w)/scale/2, float64(h)/scale/2
	lines := draw.Wrap(tongue.T("No body plan: of this hull only the girths are known, not the shape of its frames."), noBodySize, min(2*x-16, noBodyWide))
	for i, line := range lines {
		v.d.Text(draw.Pt(x, y+(float64(i)-float64(len(lines)-1)/2)*16), line, draw.Faint, noBodySize, draw.Centre)
	}
	return v.paper.Render(v.desk.Look, &v.d, w, h, scale)
}

func (v *noBodyView) from() any { return v.desk.Dark }

func (v *noBodyView) turn() any { return v }

func (v *noBodyView) behind(int, int) *job { return nil }

func (v *noBodyView) press(draw.Point) bool { return false }

func (v *noBodyView) tap(draw.Point) {}

func (v *noBodyView) drag(draw.Point, float64, float64) {}

func (v *noBodyView) release() {}

func (v *noBodyView) hover(draw.Point) string { return "" }

func (v *noBodyView) wheel(draw.Point, float64) {}

func (v *noBodyView) fit() {}

func (v *noBodyView) menu(draw.Point) *fyne.Menu { return nil }

// eitherView is a view of the hull's shape where that is known, and else another.
type eitherView struct {
	desk          *desk.Desk
	shape, girths view
}

func (v eitherView) now() view {
	if v.desk.Shapeless() {
		return v.girths
	}
	return v.shape
}

func (v eitherView) paint(w, h int, scale float64) image.Image { return v.now().paint(w, h, scale) }

func (v eitherView) from() any { return v.now().from() }

func (v eitherView) turn() any { return v.now().turn() }

func (v eitherView) behind(w, h int) *job { return v.now().behind(w, h) }

func (v eitherView) press(p draw.Point) bool { return v.now().press(p) }

func (v eitherView) tap(p draw.Point) { v.now().tap(p) }

func (v eitherView) drag(p draw.Point, dx, dy float64) { v.now().drag(p, dx, dy) }

func (v eitherView) release() { v.now().release() }

func (v eitherView) hover(p draw.Point) string { return v.now().hover(p) }

func (v eitherView) wheel(p draw.Point, by float64) { v.now().wheel(p, by) }

func (v eitherView) menu(p draw.Point) *fyne.Menu { return v.now().menu(p) }

// fit has both shown whole: another plan may have come in between.
func (v eitherView) fit() {
	v.shape.fit()
	v.girths.fit()
}
