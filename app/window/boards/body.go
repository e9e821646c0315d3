package boards

import (
	"image"
	"slices"

	"fyne.io/fyne/v2"
	"github.com/go-gl/mathgl/mgl64"

	"strakewright/app/draw"
	"strakewright/app/draw/views"
	"strakewright/app/window/desk"
	"strakewright/app/window/kit"
	"strakewright/app/window/settings"
)

// bodyView is the body plan.
type bodyView struct {
	desk   *desk.Desk
	V      views.Body
	paper  kit.Sheet
	Board  *Board
	fitted bool
	w, h   float64
}

// bodyFrom is what the body plan is made from.
type bodyFrom struct {
	desk.ShownThere
	mid, z, scale float64
	fitted        bool
}

func (v *bodyView) from() any {
	return bodyFrom{v.desk.ShownThere(), v.V.Mid, v.V.Z, v.V.Scale, v.fitted}
}

func (v *bodyView) turn() any { return v }

func (v *bodyView) behind(int, int) *job { return nil }

func (v *bodyView) paint(w, h int, scale float64) image.Image {
	v.layOut(float64(w)/scale, float64(h)/scale)
	return v.paper.Render(v.desk.Look, &v.V.Drawing, w, h, scale)
}

func (v *bodyView) layOut(w, h float64) {
	if !v.fitted || w != v.w || h != v.h {
		v.V.Mid, v.V.Z, v.V.Scale = views.FitBody(slices.Concat(v.desk.FrameCurves(), v.desk.WholeCurves()), w, h)
		v.fitted, v.w, v.h = true, w, h
	}
	v.V.Whole = v.desk.WholeCurves()
	v.V.Draw(v.desk.Planking(), v.desk.FrameCurves(), v.desk.Choice, w, h)
}

func (v *bodyView) Current() {
	w, h := v.Board.size()
	v.layOut(w, h)
}

func (v *bodyView) place(f int, p mgl64.Vec3) draw.Point { return v.V.Place(f, p) }

func (v *bodyView) press(p draw.Point) bool {
	v.Current()
	h, ok := v.V.HandleAt(p, v.desk.Choice)
	if ok {
		v.desk.Grasp(h)
	}
	return ok
}

// tap picks what lies at a point: frames cross each other here, so that the
// strake is the one on the nearest frame.
func (v *bodyView) tap(p draw.Point) {
	f := v.V.FrameAt(p)
	if f < 0 {
		return
	}
	v.desk.Pick(v.V.LineAt(p), desk.StrakeAt(v.desk.Layer(), f, v.desk.DownAt(f, p, v.place)), f)
}

func (v *bodyView) drag(p draw.Point, dx, dy float64) {
	if v.desk.Grip != nil {
		v.desk.Aim(p, v.place)
		return
	}
	v.V.Mid += dx
	v.V.Z += dy / v.V.Scale
	v.Board.Refresh()
}

func (v *bodyView) release() { v.desk.LetGo() }

func (v *bodyView) hover(p draw.Point) string {
	f := v.V.FrameAt(p)
	if f < 0 {
		return ""
	}
	return v.desk.Place(f, v.desk.DownAt(f, p, v.place))
}

func (v *bodyView) wheel(p draw.Point, by float64) {
	y, z := (p.X-v.V.Mid)/v.V.Scale, v.V.Z-p.Y/v.V.Scale
	v.V.Scale = max(1e-3, min(v.V.Scale*by, 1e4))
	v.V.Mid, v.V.Z = p.X-y*v.V.Scale, z+p.Y/v.V.Scale
	v.Board.Refresh()
}

func (v *bodyView) fit() {
	v.fitted = false
	v.Board.Refresh()
}

func (v *bodyView) menu(p draw.Point) *fyne.Menu {
	v.Current()
	h, ok := v.V.HandleAt(p, v.desk.Choice)
	return settings.MenuAt(v.desk, h, ok, func() { v.tap(p) })
}
