package window

import (
	"image"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"strakewright/app/draw"
	"strakewright/app/draw/views"
	"strakewright/app/scene"
	"strakewright/loft"
)

// hullView is the lofted hull, turned by dragging.
type hullView struct {
	desk    *desk
	board   *board
	render  scene.Renderer
	scene   *scene.Scene
	of      *loft.Layer // what the scene was made of
	choice  views.Choice
	tinting scene.Tinting
	tinted  scene.Tinting
	cam     scene.Camera
	fitted  bool
	scale   float64
	w, h    int
	turned  bool
	key     *canvas.Text
}

// A first look from off the bow, a little above.
const firstYaw, firstPitch = -0.55, 0.34

// turnPerUnit is how far a drag by one of the board's units turns the hull, rad.
const turnPerUnit = 0.008

// hullFrom is what the view of the hull is made from.
type hullFrom struct {
	shownThere
	tinting scene.Tinting
	cam     scene.Camera
	fitted  bool
}

func (v *hullView) from() any { return hullFrom{v.desk.shownThere(), v.tinting, v.cam, v.fitted} }

func (v *hullView) solid() bool { return true }

func (v *hullView) paint(w, h int, scale float64) image.Image {
	v.makeScene()
	if !v.fitted || w != v.w || h != v.h {
		yaw, pitch := firstYaw, firstPitch
		if v.turned {
			yaw, pitch = v.cam.Yaw, v.cam.Pitch
		}
		v.cam = scene.Facing(v.scene, yaw, pitch).Fit(v.scene, w, h)
		v.fitted, v.w, v.h = true, w, h
	}
	v.scale = scale
	pal := &scene.Light
	if v.desk.dark {
		pal = &scene.Dark
	}
	return v.render.Render(v.scene, v.cam, pal, w, h)
}

// tintings tell what the colours of the hull mean.
var tintings = map[scene.Tinting]string{
	scene.ByEdgeSet: "Edge-set: orange up, blue down; full at 0.3 %",
	scene.ByFit:     "Fit: blue tapers, orange gapes; full at ¼ strip",
	scene.Bare:      "",
}

// object gives the board with the key to its colours.
func (v *hullView) object() fyne.CanvasObject {
	v.key = canvas.NewText("", nil)
	v.key.TextSize = 10.5
	v.showKey()
	v.desk.lazy = append(v.desk.lazy, v.showKey)
	return container.NewStack(v.board, container.NewBorder(nil, v.key, nil, nil))
}

func (v *hullView) showKey() {
	text, ink := tintings[v.tinting], v.desk.palette().Colour(draw.Ink)
	if v.desk.shapeless() {
		text = "Fit: triangles down taper, up gape"
	}
	if v.key.Text != text || v.key.Color != color.Color(ink) {
		v.key.Text, v.key.Color = text, ink
		v.key.Refresh()
	}
}

// makeScene makes the scene anew where the planking or the choice is another.
func (v *hullView) makeScene() {
	l, c := v.desk.layer(), v.desk.choice
	if v.scene != nil && v.of == l && v.choice == c && v.tinted == v.tinting {
		return
	}
	line := -1
	if c.Line >= 0 {
		line = c.Line + 1
	}
	v.scene = scene.Hull(l, scene.Look{Both: true, Tinting: v.tinting, Strake: c.Strake, Line: line, Frame: c.Frame})
	v.of, v.choice, v.tinted = l, c, v.tinting
}

func (v *hullView) at(p draw.Point) (scene.Tag, bool) {
	return v.render.Pick(int(p.X*v.scale), int(p.Y*v.scale))
}

func (v *hullView) press(draw.Point) bool { return false }

func (v *hullView) tap(p draw.Point) {
	if t, ok := v.at(p); ok {
		v.desk.pick(-1, int(t.Strake), int(t.Frame))
	}
}

func (v *hullView) drag(_ draw.Point, dx, dy float64) {
	v.turned = true
	v.cam = v.cam.Turned(-dx*turnPerUnit, dy*turnPerUnit)
	v.board.Refresh()
}

func (v *hullView) release() {}

func (v *hullView) hover(p draw.Point) string {
	t, ok := v.at(p)
	l := v.desk.layer()
	if !ok || int(t.Strake) >= len(l.Strakes) || int(t.Frame) >= len(l.Girths) {
		return ""
	}
	return "Frame " + v.desk.frameName(int(t.Frame)) + ": " + v.desk.strakeText(l.Strakes[t.Strake], int(t.Frame))
}

func (v *hullView) wheel(p draw.Point, by float64) {
	v.cam = v.cam.Zoomed(by, p.X*v.scale, p.Y*v.scale, v.w, v.h)
	v.board.Refresh()
}

func (v *hullView) fit() {
	v.fitted, v.turned = false, false
	v.board.Refresh()
}

func (v *hullView) menu(draw.Point) *fyne.Menu {
	item := func(text string, t scene.Tinting) *fyne.MenuItem {
		m := fyne.NewMenuItem(text, func() {
			v.tinting = t
			v.showKey()
			v.board.Refresh()
		})
		m.Checked = v.tinting == t
		return m
	}
	return fyne.NewMenu("",
		item("Colour by edge-set (blue bent down, orange up)", scene.ByEdgeSet),
		item("Colour by fit (blue tapers, orange gapes)", scene.ByFit),
		item("Bare wood", scene.Bare),
		fyne.NewMenuItemSeparator(),
		fyne.NewMenuItem("Show the whole hull", v.fit))
}
