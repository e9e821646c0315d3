package boards

import (
	"image"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/scene"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/loft"
)

// hullView is the lofted hull, turned by dragging.
type hullView struct {
	desk    *desk.Desk
	board   *Board
	render  *scene.Renderer // of what is shown
	back    *scene.Renderer // what is not shown yet is drawn with
	made    *hullScene      // what is shown; nil before anything is
	tinting scene.Tinting
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
	desk.ShownThere
	tinting scene.Tinting
	cam     scene.Camera
	fitted  bool
}

func (v *hullView) from() any { return hullFrom{v.desk.ShownThere(), v.tinting, v.cam, v.fitted} }

func (v *hullView) turn() any { return v }

// behind gives the drawing of the hull as a job, since the hull takes as long as
// all else: its scene is made anew, and drawn to a second set of buffers. A view
// that is to be fitted first is drawn at once.
func (v *hullView) behind(w, h int) *job {
	if !v.fitted || w != v.w || h != v.h {
		return nil
	}
	made, cam, pal, back := v.wanted(), v.cam, v.palette(), v.back
	var img image.Image
	return &job{
		make: func() {
			made.make()
			img = back.Render(made.scene, cam, pal, w, h)
		},
		show: func() image.Image {
			v.made = made
			v.render, v.back = back, v.render
			return img
		},
	}
}

func (v *hullView) paint(w, h int, scale float64) image.Image {
	v.made = v.wanted()
	v.made.make()
	if !v.fitted || w != v.w || h != v.h {
		yaw, pitch := firstYaw, firstPitch
		if v.turned {
			yaw, pitch = v.cam.Yaw, v.cam.Pitch
		}
		v.cam = scene.Facing(v.made.scene, yaw, pitch).Fit(v.made.scene, w, h)
		v.fitted, v.w, v.h = true, w, h
	}
	v.scale = scale
	return v.render.Render(v.made.scene, v.cam, v.palette(), w, h)
}

func (v *hullView) palette() *scene.Palette {
	if v.desk.Dark {
		return &scene.Dark
	}
	return &scene.Light
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
	v.desk.Lazy = append(v.desk.Lazy, v.showKey)
	return container.NewStack(v.board, container.NewBorder(nil, v.key, nil, nil))
}

func (v *hullView) showKey() {
	text, ink := tintings[v.tinting], v.desk.Palette().Colour(draw.Ink)
	if v.desk.Shapeless() {
		text = "Fit: triangles down taper, up gape"
	}
	if v.key.Text != text || v.key.Color != color.Color(ink) {
		v.key.Text, v.key.Color = text, ink
		v.key.Refresh()
	}
}

// hullScene is the scene of a layer, and what it is made of.
type hullScene struct {
	of      *loft.Layer
	choice  views.Choice
	tinting scene.Tinting
	scene   *scene.Scene // nil till it is made
}

// wanted is the scene that shows how things stand: the one there is, or one that
// is to be made.
func (v *hullView) wanted() *hullScene {
	if l, c := v.desk.Layer(), v.desk.Choice; v.made == nil || v.made.of != l || v.made.choice != c || v.made.tinting != v.tinting {
		return &hullScene{of: l, choice: c, tinting: v.tinting}
	}
	return v.made
}

func (s *hullScene) make() {
	if s.scene != nil {
		return
	}
	line := -1
	if s.choice.Line >= 0 {
		line = s.choice.Line + 1
	}
	s.scene = scene.Hull(s.of, scene.Look{Both: true, Tinting: s.tinting, Strake: s.choice.Strake, Line: line, Frame: s.choice.Frame})
}

func (v *hullView) at(p draw.Point) (scene.Tag, bool) {
	return v.render.Pick(int(p.X*v.scale), int(p.Y*v.scale))
}

func (v *hullView) press(draw.Point) bool { return false }

func (v *hullView) tap(p draw.Point) {
	if t, ok := v.at(p); ok {
		v.desk.Pick(-1, int(t.Strake), int(t.Frame))
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
	l := v.desk.Layer()
	if !ok || int(t.Strake) >= len(l.Strakes) || int(t.Frame) >= len(l.Girths) {
		return ""
	}
	if t.Strake == scene.NoStrake {
		return "Frame " + v.desk.FrameName(int(t.Frame)) + ": a wedge"
	}
	return "Frame " + v.desk.FrameName(int(t.Frame)) + ": " + v.desk.StrakeText(l.Strakes[t.Strake], int(t.Frame))
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
