package boards

import (
	"image"
	"image/color"
	"math"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/scene"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
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
	key     *canvas.Text

	prospect scene.Prospect // from where it is looked at, unless moved
	turned   bool           // the builder has said from where
	moved    bool           // it has been turned by hand since
	turning  bool           // and is being turned now: it is drawn coarse
	settles  *time.Timer    // it is drawn fine again after the last turn of the wheel
	isFull   bool           // it has the whole board
	full     func(bool)     // gives that to it
	look     *lookBar
	bar      *mapBar
	strip    *strip
	labels   draw.Drawing // over a strip that is laid over the frames
	paper    kit.Sheet    // what these are rendered with
}

// firstPitch is how far above the hull the eye is at first, rad.
const firstPitch = 0.36

// finest is the most pixels for which the hull is drawn fine: where there are more they
// are so small that the eye does not miss it.
const finestPixels = 3e6

// settling is how long after a turn of the wheel the hull is drawn fine again.
const settling = 150 * time.Millisecond

// turnPerUnit is how far a drag by one of the board's units turns the hull, rad.
const turnPerUnit = 0.008

// hullFrom is what the view of the hull is made from.
type hullFrom struct {
	desk.ShownThere
	tinting scene.Tinting
	cam     scene.Camera
	fitted  bool
	coarse  bool
	strip   stripShown
}

func (v *hullView) from() any {
	return hullFrom{v.desk.ShownThere(), v.tinting, v.cam, v.fitted, v.coarse(), v.strip.shown()}
}

// coarse tells whether the hull is drawn with fewer pixels, since something moves.
func (v *hullView) coarse() bool { return v.turning || v.desk.Grip != nil || v.strip.moving() }

// readied gives a renderer as it is to draw a view of w x h pixels.
func (v *hullView) readied(r *scene.Renderer, w, h int, scale float64) *scene.Renderer {
	r.Scale, r.Fine = scale, !v.coarse() && w*h <= finestPixels
	return r
}

func (v *hullView) turn() any { return v }

// behind gives the drawing of the hull as a job, since the hull takes as long as
// all else: its scene is made anew, and drawn to a second set of buffers. A view
// that is to be fitted first is drawn at once.
func (v *hullView) behind(w, h int) *job {
	if !v.fitted || w != v.w || h != v.h || v.strip.shown().on {
		return nil
	}
	made, cam, pal, back := v.wanted(), v.cam, v.palette(), v.readied(v.back, w, h, v.scale)
	var img *image.RGBA
	return &job{
		make: func() {
			made.make()
			img = back.Render(made.scene, cam, pal, w, h)
		},
		show: func() image.Image {
			v.made = made
			v.render, v.back = back, v.render
			v.letter(img, v.scale)
			return img
		},
	}
}

func (v *hullView) paint(w, h int, scale float64) image.Image {
	v.made = v.wanted()
	v.made.make()
	if !v.fitted || w != v.w || h != v.h {
		v.cam = v.camera(w, h)
		v.fitted, v.w, v.h = true, w, h
	}
	v.scale = scale
	img := v.readied(v.render, w, h, scale).Render(v.made.scene, v.cam, v.palette(), w, h)
	v.letter(img, scale)
	return img
}

// letter writes on the picture of the hull what is told there.
func (v *hullView) letter(img *image.RGBA, scale float64) {
	switch {
	case v.made.strip.on:
		v.annotate(img, v.made.strip, scale)
	case v.made.tinting != scene.Bare:
		v.labels.Reset()
		v.figures(&v.labels, scale)
		v.paper.Over(img, v.desk.Look, &v.labels, scale)
	}
}

func (v *hullView) palette() *scene.Palette {
	if v.desk.Dark {
		return &scene.Dark
	}
	return &scene.Light
}

// object gives the board with its buttons, and the key to what it shows.
func (v *hullView) object() fyne.CanvasObject {
	v.key = canvas.NewText("", nil)
	v.key.TextSize = barText
	v.look, v.bar = newLookBar(v), newMapBar(v)
	bar := newStripBar(v.strip)
	v.desk.Lazy = append(v.desk.Lazy, v.follow, bar.show)
	v.strip.named = v.follow
	v.follow()
	over := container.NewBorder(nil, container.NewBorder(nil, nil, v.key, bar.offer), nil, nil)
	bar.around = container.NewBorder(v.look.object, container.NewVBox(v.desk.Repainted(v.bar.raster), bar.whole), nil, nil, container.NewStack(v.board, over))
	return bar.around
}

// follow brings what stands round the hull up to date.
func (v *hullView) follow() {
	if v.desk.Shapeless() {
		v.leaveFull()
	}
	v.showKey()
	v.look.show()
	v.bar.show()
}

func (v *hullView) showKey() {
	text, ink := "", v.desk.Palette().Colour(draw.Ink)
	if v.desk.Shapeless() {
		text = tongue.T("Fit: triangles down taper, up gap")
	}
	if v.strip.on {
		text = tongue.T("● held; arrows: N on the strip; hatched: off the frames, %s", v.desk.Units.Name())
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
	whole    views.Curves // the frames beyond the limits too; nil where there is nothing beyond
	built    *scene.Scene // what the planking lies on; nil till it is made
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
	s := hullScene{of: v.desk.Layer(), choice: v.desk.Choice, tinting: v.tinting, strip: v.strip.shown(), whole: v.desk.WholeCurves()}
	if s.strip.on {
		s.side = v.cam.Side()
		if !v.fitted && !v.turned {
			s.side = scene.Camera{}.Side()
		}
		if s.outlines = s.whole; s.outlines == nil {
			s.outlines = v.desk.FrameCurves()
		}
	}
	m := v.made
	if m != nil && m.of.Surface == s.of.Surface && sameCurves(m.whole, s.whole) {
		s.built = m.built
	}
	if m == nil || m.of != s.of || m.choice != s.choice || m.strip.along != s.strip.along {
		return &s
	}
	if m.tinting == s.tinting && m.strip == s.strip && m.side == s.side {
		return m
	}
	s.bare = m.bare
	return &s
}

// sameCurves tells whether two are the same ones.
func sameCurves(a, b views.Curves) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
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
	if s.built == nil {
		s.built = scene.Structure(s.of, s.whole)
	}
	s.scene = scene.Hull(s.of, scene.Look{Both: true, Tinting: s.tinting, Strake: s.choice.Strake, Line: line, Frame: s.choice.Frame, Built: s.built})
}

// overFrames makes the scene of the strip over the bare frames, which are made once.
func (s *hullScene) overFrames() {
	if s.bare == nil {
		s.bare = scene.Frames(s.of, s.outlines, s.choice.Frame, s.strip.along).WithBackbone(s.of, s.outlines)
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
		v.desk.Pick(-1, max(int(t.Strake), scene.NoStrake), int(t.Frame))
	}
}

func (v *hullView) drag(_ draw.Point, dx, dy float64) {
	v.turned, v.moved, v.turning = true, true, true
	v.cam = v.cam.Turned(-dx*turnPerUnit, dy*turnPerUnit)
	v.board.Refresh()
}

// release has the hull drawn fine again.
func (v *hullView) release() {
	if v.turning {
		v.turning = false
		v.board.Refresh()
	}
}

func (v *hullView) hover(p draw.Point) string {
	t, ok := v.at(p)
	l := v.desk.Layer()
	if k := v.strip.shown(); k.on {
		return v.stripAt(k, t, ok)
	}
	if !ok || int(t.Strake) >= len(l.Strakes) || int(t.Frame) >= len(l.Girths) {
		return ""
	}
	switch t.Strake {
	case scene.Built:
		return tongue.T("Frame %s: keel, posts and frames are drawn in usual proportions, not measured", v.desk.FrameName(int(t.Frame)))
	case scene.NoStrake:
		return tongue.T("Frame %s: a wedge", v.desk.FrameName(int(t.Frame)))
	}
	return tongue.T("Frame %s: %s", v.desk.FrameName(int(t.Frame)), v.desk.StrakeText(l.Strakes[t.Strake], int(t.Frame)))
}

// stripAt tells of the strip at the frame that lies under the pointer.
func (v *hullView) stripAt(k stripShown, t scene.Tag, ok bool) string {
	if !ok || !k.rests() || int(t.Frame) < k.sp.First || int(t.Frame) > k.sp.Last {
		return ""
	}
	return answer.StripOver(v.desk.Layer(), k.sp, &k.from.At[int(t.Frame)-k.sp.First], v.desk.Units)
}

func (v *hullView) wheel(p draw.Point, by float64) {
	v.turned, v.turning = true, true
	v.cam = v.cam.Zoomed(by, p.X*v.scale, p.Y*v.scale, v.w, v.h)
	v.board.Refresh()
	if v.settles != nil {
		v.settles.Stop()
	}
	v.settles = time.AfterFunc(settling, func() {
		v.desk.OnMain(func() {
			if !v.desk.Gone {
				v.release()
			}
		})
	})
}

// fit shows the whole as it was shown first.
func (v *hullView) fit() {
	v.prospect, v.fitted, v.turned, v.moved = scene.OffTheBow, false, false, false
	v.board.Refresh()
}

// refit shows the whole again from where the eye is.
func (v *hullView) refit() { v.fitted = false }
