package picture

import (
	"image"
	"image/color"
	stddraw "image/draw"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/kit"
)

// How near and how far the picture can be looked at: board units to a pixel
// of it.
const (
	leastZoom = 0.01
	mostZoom  = 60.0
)

// ringWidth is that of the ring around what has the keys.
const ringWidth = 2

// stillClick is how far, in board units, a press may move and still be a click.
const stillClick = 4.0

// Host is the board that shows a picture.
type Host interface {
	fyne.Widget
	fyne.Draggable
	fyne.Scrollable
	desktop.Mouseable
	desktop.Hoverable
	desktop.Keyable
	desktop.Cursorable
	Hand
	Current() *trace.Picture // nil for none
	// World is the map from the picture to what the view is reckoned in, and back;
	// up is −1 where that has y upwards.
	World() (to, back trace.Homography, up float64)
	// Whole narrows what is shown as the whole, from its least to its greatest.
	Whole(low, high trace.Point) (trace.Point, trace.Point)
	Draw(d *draw.Drawing) // over the picture, in board units
	// DrawLens draws what lies over the picture in the magnifier.
	DrawLens(d *draw.Drawing, on func(trace.Point) draw.Point)
	Magnifies() bool
	Look() *kit.Look
	Repaint(fyne.CanvasObject) // has it made anew with the window's next frame
}

// View is how a picture lies on its board. It is used on the main goroutine alone.
type View struct {
	host   Host
	raster *canvas.Raster
	cross  [4]*canvas.Line   // two light ones, and thinner dark ones over them
	ring   *canvas.Rectangle // around the board while it has the keys

	// the view: what lies in the middle, in what it is reckoned in, and board units
	// to one of these
	middle trace.Point
	zoom   float64
	fitted fyne.Size // the board's size when the whole was last shown; zero to show it again

	ground *image.RGBA // the picture as drawn last, with the view it is drawn in
	drawn  drawnView
	over   *image.RGBA // what lies over it
	shown  *image.RGBA
	d      draw.Drawing
	lens   lens

	Hover  fyne.Position
	Inside bool   // the pointer is on the board
	Shift  bool   // is held
	space  bool   // is held
	press  *Press // nil for none
}

// drawnView is all that the picture's look depends on.
type drawnView struct {
	picture *trace.Picture
	back    trace.Homography
	w, h    int
	dark    bool
}

// NewView is that of a board.
func NewView(host Host) *View {
	b := &View{host: host, zoom: 1}
	b.raster = canvas.NewRaster(b.Paint)
	b.ring = canvas.NewRectangle(color.Transparent)
	b.ring.StrokeWidth = ringWidth
	b.ring.Hide()
	for i := range b.cross {
		b.cross[i] = canvas.NewLine(draw.Light.Colour(draw.Chosen))
		b.cross[i].StrokeWidth = 1
		if i < 2 {
			b.cross[i].StrokeColor = color.NRGBA{255, 255, 255, 110}
			b.cross[i].StrokeWidth = 3
		}
		b.cross[i].Hide()
	}
	return b
}

// Renderer gives Fyne what to show: the crosshair over the raster.
func (b *View) Renderer() fyne.WidgetRenderer { return &viewRenderer{b} }

type viewRenderer struct{ b *View }

func (r *viewRenderer) Layout(s fyne.Size) {
	r.b.raster.Resize(s)
	r.b.ring.Move(fyne.NewPos(1, 1))
	r.b.ring.Resize(s.SubtractWidthHeight(2, 2))
	r.b.Changed()
}
func (r *viewRenderer) MinSize() fyne.Size { return r.b.host.MinSize() }
func (r *viewRenderer) Refresh()           { r.b.Changed() }
func (r *viewRenderer) Destroy()           {}
func (r *viewRenderer) Objects() []fyne.CanvasObject {
	all := []fyne.CanvasObject{r.b.raster}
	for _, l := range r.b.cross {
		all = append(all, l)
	}
	return append(all, r.b.ring)
}

// crosshair puts the crosshair at a place, or away.
func (b *View) crosshair(at fyne.Position, on bool) {
	b.Hover, b.Inside = at, on
	s := b.host.Size()
	for i, l := range b.cross {
		l.Position1, l.Position2 = fyne.NewPos(0, at.Y), fyne.NewPos(s.Width, at.Y)
		if i%2 == 1 {
			l.Position1, l.Position2 = fyne.NewPos(at.X, 0), fyne.NewPos(at.X, s.Height)
		}
		if on {
			l.Show()
		} else {
			l.Hide()
		}
		l.Refresh()
	}
}

// toBoard is the map from the picture to the board.
func (b *View) toBoard() trace.Homography {
	to, _, up := b.host.World()
	s := b.host.Size()
	look := trace.Homography{b.zoom, 0, float64(s.Width)/2 - b.zoom*b.middle.X, 0, up * b.zoom, float64(s.Height)/2 - up*b.zoom*b.middle.Y, 0, 0, 1}
	return look.After(to)
}

// toPicture is the map back.
func (b *View) toPicture() trace.Homography {
	_, back, up := b.host.World()
	s := b.host.Size()
	look := trace.Homography{1 / b.zoom, 0, b.middle.X - float64(s.Width)/2/b.zoom, 0, up / b.zoom, b.middle.Y - up*float64(s.Height)/2/b.zoom, 0, 0, 1}
	return back.After(look)
}

// At gives the place of the picture under a place of the board.
func (b *View) At(p fyne.Position) (trace.Point, bool) {
	return b.toPicture().Apply(trace.Pt(float64(p.X), float64(p.Y)))
}

// On gives the place on the board of a place of the picture; one beyond the
// horizon has none.
func (b *View) On(p trace.Point) draw.Point {
	q, _ := b.toBoard().Apply(p) // NaN draws nothing
	return draw.Pt(q.X, q.Y)
}

// Pixels is how many pixels of the picture lie in so many board units about a
// place of it.
func (b *View) Pixels(units float64, at trace.Point) float64 {
	const step = 0.5
	p, q := b.On(at), b.On(trace.Pt(at.X+step, at.Y))
	d := math.Hypot(q.X-p.X, q.Y-p.Y) / step
	if !(d > 1e-6) {
		return units
	}
	return units / d
}

// Beside is the place so many pixels from another, as the picture lies on the board.
func (b *View) Beside(at trace.Point, dx, dy float64) (trace.Point, bool) {
	p, one := b.On(at), b.Pixels(1, at)
	return b.toPicture().Apply(trace.Pt(p.X+dx/one, p.Y+dy/one))
}

// Fit shows the whole picture.
func (b *View) Fit() {
	b.fitted = fyne.Size{}
	b.Changed()
}

// ready shows the whole where that is wanted and the board has a size.
func (b *View) ready() {
	s := b.host.Size()
	p := b.host.Current()
	if p == nil || s.Width < 2 || s.Height < 2 || b.fitted != (fyne.Size{}) {
		return
	}
	b.fitted = s
	to, _, _ := b.host.World()
	w, h := p.Size()
	low, high := b.host.Whole(Bounds(to, []trace.Point{{X: 0, Y: 0}, {X: float64(w), Y: 0}, {X: float64(w), Y: float64(h)}, {X: 0, Y: float64(h)}}))
	b.middle = trace.Pt((low.X+high.X)/2, (low.Y+high.Y)/2)
	b.zoom = 0.97 * min(float64(s.Width)/(high.X-low.X), float64(s.Height)/(high.Y-low.Y))
}

// Bounds gives the least and greatest of mapped points; without bound where
// one lies beyond the horizon.
func Bounds(m trace.Homography, pts []trace.Point) (low, high trace.Point) {
	low, high = trace.Pt(math.Inf(1), math.Inf(1)), trace.Pt(math.Inf(-1), math.Inf(-1))
	for _, p := range pts {
		q, ok := m.Apply(p)
		if !ok {
			return trace.Pt(math.Inf(-1), math.Inf(-1)), trace.Pt(math.Inf(1), math.Inf(1))
		}
		low, high = trace.Pt(min(low.X, q.X), min(low.Y, q.Y)), trace.Pt(max(high.X, q.X), max(high.Y, q.Y))
	}
	return low, high
}

// pan moves the picture by so many board units.
func (b *View) pan(dx, dy float64) {
	_, _, up := b.host.World()
	b.middle = trace.Pt(b.middle.X-dx/b.zoom, b.middle.Y-up*dy/b.zoom)
	b.Changed()
}

// zoomBy makes the picture so many times as large about a place of the board.
func (b *View) zoomBy(p fyne.Position, by float64) {
	at, ok := b.At(p)
	if b.host.Current() == nil || !ok {
		return
	}
	one := b.Pixels(b.zoom, at) / b.zoom // pixels to a board unit now
	if 1/one*by > mostZoom || 1/one*by < leastZoom {
		return
	}
	s := b.host.Size()
	_, _, up := b.host.World()
	dx, dy := float64(p.X-s.Width/2), float64(p.Y-s.Height/2)
	b.middle = trace.Pt(b.middle.X+dx/b.zoom*(1-1/by), b.middle.Y+up*dy/b.zoom*(1-1/by))
	b.zoom *= by
	b.Changed()
}

// keyZoom is how much a key zooms.
const keyZoom = 1.25

// ZoomKey zooms in for + and out for −; false for any other rune.
func (b *View) ZoomKey(r rune) bool {
	switch r {
	case '+', '=':
		b.zoomBy(b.about(), keyZoom)
	case '-':
		b.zoomBy(b.about(), 1/keyZoom)
	default:
		return false
	}
	return true
}

// about is the place that keys zoom about.
func (b *View) about() fyne.Position {
	if b.Inside {
		return b.Hover
	}
	return fyne.NewPos(b.host.Size().Width/2, b.host.Size().Height/2)
}

// Changed has the board drawn anew with the next frame of the screen.
func (b *View) Changed() { b.host.Repaint(b.raster) }

// Paint draws the picture and what lies over it; Fyne calls it when the screen is
// drawn.
func (b *View) Paint(w, h int) image.Image {
	w, h = max(w, 1), max(h, 1)
	b.ready()
	scale := 1.0
	if s := b.host.Size(); s.Width > 0 {
		scale = float64(w) / float64(s.Width)
	}
	if b.shown == nil || b.shown.Rect.Dx() != w || b.shown.Rect.Dy() != h {
		b.ground, b.over, b.shown = image.NewRGBA(image.Rect(0, 0, w, h)), image.NewRGBA(image.Rect(0, 0, w, h)), image.NewRGBA(image.Rect(0, 0, w, h))
		b.drawn = drawnView{}
	}
	b.paintGround(scale)
	b.d.Reset()
	b.host.Draw(&b.d)
	look := b.host.Look()
	clear := *look.Palette()
	if b.host.Current() != nil {
		clear = draw.Light // scans and photos are mostly light
	}
	clear[draw.Paper] = color.NRGBA{}
	look.Pixels.Render(b.over, &b.d, &clear, draw.View{Scale: scale})
	copy(b.shown.Pix, b.ground.Pix)
	stddraw.Draw(b.shown, b.shown.Rect, b.over, image.Point{}, stddraw.Over)
	b.paintLens(scale, &clear)
	return b.shown
}

// paintGround draws the picture, unless it is as it was.
func (b *View) paintGround(scale float64) {
	v := drawnView{w: b.ground.Rect.Dx(), h: b.ground.Rect.Dy(), dark: b.host.Look().Dark}
	p := b.host.Current()
	if p != nil {
		v.picture, v.back = p, b.toPicture().After(trace.Scaling(1/scale))
	}
	if v == b.drawn {
		return
	}
	b.drawn = v
	c := b.host.Look().Palette().Colour(draw.Grid)
	ground := color.RGBA{c.R, c.G, c.B, 255}
	if p == nil {
		stddraw.Draw(b.ground, b.ground.Rect, image.NewUniform(ground), image.Point{}, stddraw.Src)
		return
	}
	p.Draw(b.ground, v.back, ground)
}

// Label writes a word that shows on any ground.
func Label(d *draw.Drawing, at draw.Point, text string, role draw.Role) {
	const size = 13
	w := draw.TextWidth(text, size) + 4
	d.Rect(draw.Halo, draw.Pt(at.X-w/2-2, at.Y-size+1), draw.Pt(at.X+w/2+2, at.Y+4))
	d.Text(at, text, role, size, draw.Centre)
}
