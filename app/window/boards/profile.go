package boards

import (
	"image"
	"slices"

	"fyne.io/fyne/v2"
	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/hull"
)

// profileView is the view square abeam. It rules the axis along x that the
// gauge strip shares.
type profileView struct {
	desk  *desk.Desk
	axis  *lengthAxis
	v     views.Profile
	paper kit.Sheet
	z     float64
	board *Board
	room  room // that the whole was fitted into
}

// lengthAxis is the axis along x that profile and gauge strip share.
type lengthAxis struct {
	views.Axis
	fitted bool
}

// profileFrom is what the profile is made from.
type profileFrom struct {
	desk.ShownThere
	axis lengthAxis
	z    float64
}

func (v *profileView) from() any { return profileFrom{v.desk.ShownThere(), *v.axis, v.z} }

func (v *profileView) turn() any { return v.axis }

func (v *profileView) behind(int, int) *job { return nil }

func (v *profileView) paint(w, h int, scale float64) image.Image {
	v.layOut(float64(w)/scale, float64(h)/scale)
	return v.paper.Render(v.desk.Look, &v.v.Drawing, w, h, scale)
}

// layOut makes the drawing for a view of w x h.
func (v *profileView) layOut(w, h float64) {
	if !v.axis.fitted || v.room.other(w, h) {
		v.axis.Axis, v.z = views.FitProfile(slices.Concat(v.desk.FrameCurves(), v.desk.WholeCurves()), w, h)
		v.axis.fitted = true
		v.room = room{w, h}
		v.desk.Later(v.desk.GaugeRefresh)
	}
	v.v.X, v.v.Z, v.v.Whole, v.v.Strip = v.axis.Axis, v.z, v.desk.WholeCurves(), v.desk.Strip()
	v.v.Told, v.v.March = "", nil
	if b, line := v.v.Strip, v.desk.Line(); b != nil && (line.LineType != hull.Free || line.Follows == hull.StripItself) {
		// A free line that follows a thin batten lies unstressed as that does: how far the
		// strip is from it the panel tells.
		v.v.Told = answer.StripVerdict(b, v.desk.FrameName, v.desk.Units)
	}
	if m := v.desk.Marched(); m != nil {
		v.v.March = m.Ways
	}
	v.v.Draw(v.desk.Planking(), v.desk.FrameCurves(), v.desk.Choice, w, h)
}

// current has the drawing made where the screen has not yet asked for it.
func (v *profileView) current() {
	w, h := v.board.size()
	v.layOut(w, h)
}

func (v *profileView) place(_ int, p mgl64.Vec3) draw.Point { return v.v.Place(p) }

func (v *profileView) press(p draw.Point) bool {
	v.current()
	return grasp(v.desk, &v.v, p)
}

func (v *profileView) tap(p draw.Point) {
	v.desk.Pick(v.v.LineAt(p), v.v.StrakeAt(p), v.v.FrameAt(p))
}

func (v *profileView) drag(p draw.Point, dx, dy float64) {
	if v.desk.Grip != nil {
		v.desk.Aim(p, v.place)
		return
	}
	v.axis.Axis = v.axis.Moved(dx)
	v.z += dy / v.axis.Scale
	v.desk.Refresh()
}

func (v *profileView) release() { v.desk.LetGo() }

func (v *profileView) hover(p draw.Point) string {
	return placeOn(v.desk, v.v.FrameAt(p), func(f int) float64 { return v.desk.DownAt(f, p, v.place) })
}

func (v *profileView) wheel(p draw.Point, by float64) {
	keep := v.z - p.Y/v.axis.Scale
	v.axis.Axis = v.axis.Zoomed(by, p.X)
	v.z = keep + p.Y/v.axis.Scale
	v.desk.Refresh()
}

func (v *profileView) fit() {
	v.axis.fitted = false
	v.desk.Refresh()
}

func (v *profileView) menu(p draw.Point) *fyne.Menu {
	v.current()
	return menuAt(v.desk, &v.v, p, v.tap)
}
