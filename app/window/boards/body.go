package boards

import (
	"image"
	"slices"

	"fyne.io/fyne/v2"
	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
)

// bodyView is the body plan.
type bodyView struct {
	desk   *desk.Desk
	v      views.Body
	paper  kit.Sheet
	board  *Board
	fitted bool
	room   room // that the whole was fitted into
}

// bodyFrom is what the body plan is made from.
type bodyFrom struct {
	desk.ShownThere
	mid, z, scale float64
	fitted        bool
}

func (v *bodyView) from() any {
	return bodyFrom{v.desk.ShownThere(), v.v.Mid, v.v.Z, v.v.Scale, v.fitted}
}

func (v *bodyView) turn() any { return v }

func (v *bodyView) behind(int, int) *job { return nil }

func (v *bodyView) paint(w, h int, scale float64) image.Image {
	v.layOut(float64(w)/scale, float64(h)/scale)
	return v.paper.Render(v.desk.Look, &v.v.Drawing, w, h, scale)
}

func (v *bodyView) layOut(w, h float64) {
	if !v.fitted || v.room.other(w, h) {
		v.v.Mid, v.v.Z, v.v.Scale = views.FitBody(slices.Concat(v.desk.FrameCurves(), v.desk.WholeCurves()), w, h)
		v.fitted, v.room = true, room{w, h}
	}
	v.v.Whole, v.v.Strip = v.desk.WholeCurves(), v.desk.Strip()
	v.v.Draw(v.desk.Planking(), v.desk.FrameCurves(), v.desk.Choice, w, h)
}

func (v *bodyView) current() {
	w, h := v.board.size()
	v.layOut(w, h)
}

func (v *bodyView) place(f int, p mgl64.Vec3) draw.Point { return v.v.Place(f, p) }

func (v *bodyView) press(p draw.Point) bool {
	v.current()
	return grasp(v.desk, &v.v, p)
}

// tap picks what lies at a point: frames cross each other here, so that the
// strake is the one on the nearest frame.
func (v *bodyView) tap(p draw.Point) {
	f := v.v.FrameAt(p)
	if f < 0 {
		return
	}
	v.desk.Pick(v.v.LineAt(p), desk.StrakeAt(v.desk.Layer(), f, v.desk.DownAt(f, p, v.place)), f)
}

func (v *bodyView) drag(p draw.Point, dx, dy float64) {
	if v.desk.Grip != nil {
		v.desk.Aim(p, v.place)
		return
	}
	v.v.Mid += dx
	v.v.Z += dy / v.v.Scale
	v.board.Refresh()
}

func (v *bodyView) release() { v.desk.LetGo() }

func (v *bodyView) hover(p draw.Point) string {
	return placeOn(v.desk, v.v.FrameAt(p), func(f int) float64 { return v.desk.DownAt(f, p, v.place) })
}

func (v *bodyView) wheel(p draw.Point, by float64) {
	y, z := (p.X-v.v.Mid)/v.v.Scale, v.v.Z-p.Y/v.v.Scale
	v.v.Scale = max(1e-3, min(v.v.Scale*by, 1e4))
	v.v.Mid, v.v.Z = p.X-y*v.v.Scale, z+p.Y/v.v.Scale
	v.board.Refresh()
}

func (v *bodyView) fit() {
	v.fitted = false
	v.board.Refresh()
}

func (v *bodyView) menu(p draw.Point) *fyne.Menu {
	v.current()
	return menuAt(v.desk, &v.v, p, v.tap)
}
