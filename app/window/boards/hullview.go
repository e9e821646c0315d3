package boards

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/scene"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
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
	strip   *strip
	labels  draw.Drawing // over a strip that is laid over the frames
	paper   kit.Sheet    // what these are rendered with
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
	strip   stripShown
}

func (v *hullView) from() any {
	return hullFrom{v.desk.ShownThere(), v.tinting, v.cam, v.fitted, v.strip.shown()}
}

func (v *hullView) turn() any { return v }

// behind gives the drawing of the hull as a job, since the hull takes as long as
// all else: its scene is made anew, and drawn to a second set of buffers. A view
// that is to be fitted first is drawn at once.
func (v *hullView) behind(w, h int) *job {
	if !v.fitted || w != v.w || h != v.h || v.strip.shown().on {
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
		if k := v.made.strip; k.from != nil {
			pitch = pitchTo(k.from)
		}
		if v.turned {
			yaw, pitch = v.cam.Yaw, v.cam.Pitch
		}
		v.cam = scene.Facing(v.made.scene, yaw, pitch).Fit(v.made.scene, w, h)
		v.fitted, v.w, v.h = true, w, h
	}
	v.scale = scale
	img := v.render.Render(v.made.scene, v.cam, v.palette(), w, h)
	if v.made.strip.on {
		v.annotate(img, v.made.strip, scale)
	}
	return img
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
	bar := newStripBar(v.strip)
	v.desk.Lazy = append(v.desk.Lazy, bar.show)
	v.strip.named = v.showKey
	bar.around = container.NewBorder(nil, bar.whole, nil, nil, container.NewStack(v.board, container.NewBorder(bar.offer, v.key, nil, nil)))
	return bar.around
}

func (v *hullView) showKey() {
	text, ink := tintings[v.tinting], v.desk.Palette().Colour(draw.Ink)
	if v.desk.Shapeless() {
		text = "Fit: triangles down taper, up gape"
	}
	if v.strip.on {
		text = "● held; arrows: N on the strip; hatched: off the frames, " + v.desk.Units.Name()
	}
	if v.key.Text != text || v.key.Color != color.Color(ink) {
		v.key.Text, v.key.Color = text, ink
		v.key.Refresh()
	}
}

// hullScene is the scene of a layer, and what it is made of.
type hullScene struct {
	of       *loft.Layer
	choice   views.Choice
	tinting  scene.Tinting
	strip    stripShown   // over the bare frames, in place of the planking
	side     float64      // on which the strip is laid
	outlines views.Curves // of the frames
	bare     *scene.Scene // these; nil till they are made
	notes    []scene.Note // what is to be told of the strip
	scene    *scene.Scene // nil till it is made
}

// pitchTo is how far above the eye should be, rad, to see a strip: half the way from
// the usual look to square before its outer face, from where it would hide how far it
// stands off.
func pitchTo(s *loft.Sprung) float64 {
	up := 0.0
	for _, n := range s.Normals {
		up += n.Z()
	}
	return (firstPitch + math.Asin(up/float64(len(s.Normals)))) / 2
}

// wanted is the scene that shows how things stand: the one there is, or one that
// is to be made.
func (v *hullView) wanted() *hullScene {
	s := hullScene{of: v.desk.Layer(), choice: v.desk.Choice, tinting: v.tinting, strip: v.strip.shown()}
	if s.strip.on {
		s.side = v.cam.Side()
		if !v.fitted && !v.turned {
			s.side = scene.Camera{Yaw: firstYaw}.Side()
		}
		if s.outlines = v.desk.WholeCurves(); s.outlines == nil {
			s.outlines = v.desk.FrameCurves()
		}
	}
	m := v.made
	if m == nil || m.of != s.of || m.choice != s.choice || m.strip.along != s.strip.along {
		return &s
	}
	if m.tinting == s.tinting && m.strip == s.strip && m.side == s.side {
		return m
	}
	s.bare = m.bare
	return &s
}

func (s *hullScene) make() {
	switch {
	case s.scene != nil:
		return
	case s.strip.on:
		s.overFrames()
		return
	}
	line := -1
	if s.choice.Line >= 0 {
		line = s.choice.Line + 1
	}
	s.scene = scene.Hull(s.of, scene.Look{Both: true, Tinting: s.tinting, Strake: s.choice.Strake, Line: line, Frame: s.choice.Frame})
}

// overFrames makes the scene of the strip over the bare frames, which are made once.
func (s *hullScene) overFrames() {
	if s.bare == nil {
		s.bare = scene.Frames(s.of, s.outlines, s.choice.Frame, s.strip.along)
	}
	var strip *scene.Strip
	if s.strip.from != nil {
		k := scene.StripBetween(s.strip.sp, s.strip.from, s.strip.to, s.strip.part)
		strip = &k
	}
	s.scene, s.notes = s.bare.WithStrip(strip, s.side, s.strip.hardest)
}

func (v *hullView) at(p draw.Point) (scene.Tag, bool) {
	return v.render.Pick(int(p.X*v.scale), int(p.Y*v.scale))
}

func (v *hullView) press(draw.Point) bool { return false }

func (v *hullView) tap(p draw.Point) {
	t, ok := v.at(p)
	switch {
	case ok && v.strip.on:
		v.strip.toggle(int(t.Frame))
	case ok:
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
	if k := v.strip.shown(); k.on {
		return v.stripAt(k, t, ok)
	}
	if !ok || int(t.Strake) >= len(l.Strakes) || int(t.Frame) >= len(l.Girths) {
		return ""
	}
	if t.Strake == scene.NoStrake {
		return "Frame " + v.desk.FrameName(int(t.Frame)) + ": a wedge"
	}
	return "Frame " + v.desk.FrameName(int(t.Frame)) + ": " + v.desk.StrakeText(l.Strakes[t.Strake], int(t.Frame))
}

// stripAt tells of the strip at the frame that lies under the pointer.
func (v *hullView) stripAt(k stripShown, t scene.Tag, ok bool) string {
	if !ok || !k.rests() || int(t.Frame) < k.sp.First || int(t.Frame) > k.sp.Last {
		return ""
	}
	return answer.StripOver(v.desk.Layer(), k.sp, &k.from.At[int(t.Frame)-k.sp.First], v.desk.Units)
}

func (v *hullView) wheel(p draw.Point, by float64) {
	v.cam = v.cam.Zoomed(by, p.X*v.scale, p.Y*v.scale, v.w, v.h)
	v.board.Refresh()
}

func (v *hullView) fit() {
	v.fitted, v.turned = false, false
	v.board.Refresh()
}

// refit shows the whole again from where the eye is.
func (v *hullView) refit() { v.fitted = false }

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
