package tracing

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/trace"
)

// How far, in the board's own units, a click reaches.
const (
	snapReach  = 9.0
	pointReach = 8.0
	stillClick = 4.0 // moved less, a press is a click
)

// How near and how far the picture can be looked at: board units to a pixel
// of it.
const (
	leastZoom = 0.01
	mostZoom  = 60.0
)

// traceBoard shows the picture, square and level once it has its scale, and
// takes the clicks.
type traceBoard struct {
	widget.BaseWidget
	tr     *tracer
	raster *canvas.Raster
	cross  [4]*canvas.Line // two light ones, and thinner dark ones over them

	// the view: what lies in the middle, in mm (y up) or, before there is a
	// scale, in pixels of the picture (y down), and board units to one of these
	middle trace.Point
	zoom   float64
	fitted fyne.Size // the board's size when the whole was last shown; zero to show it again

	ground *image.RGBA // the picture as drawn last, with the view it is drawn in
	drawn  traceView
	over   *image.RGBA // what lies over it
	shown  *image.RGBA
	d      draw.Drawing
	lens   traceLens

	shift, space bool
	press        *pressing
	hover        fyne.Position
	inside       bool
}

// traceView is all that the picture's look depends on.
type traceView struct {
	picture *trace.Picture
	back    trace.Homography
	w, h    int
	dark    bool
}

func newTraceBoard(tr *tracer) *traceBoard {
	b := &traceBoard{tr: tr, zoom: 1}
	b.raster = canvas.NewRaster(b.paint)
	for i := range b.cross {
		b.cross[i] = canvas.NewLine(draw.Light.Colour(draw.Chosen))
		b.cross[i].StrokeWidth = 1
		if i < 2 {
			b.cross[i].StrokeColor = color.NRGBA{255, 255, 255, 110}
			b.cross[i].StrokeWidth = 3
		}
		b.cross[i].Hide()
	}
	b.ExtendBaseWidget(b)
	return b
}

// CreateRenderer gives Fyne what to show.
func (b *traceBoard) CreateRenderer() fyne.WidgetRenderer { return &traceRenderer{b} }

// MinSize is the least size at which the board is of use.
func (b *traceBoard) MinSize() fyne.Size { return fyne.NewSize(300, 240) }

// traceRenderer lays the crosshair over the raster.
type traceRenderer struct{ b *traceBoard }

func (r *traceRenderer) Layout(s fyne.Size) { r.b.raster.Resize(s) }
func (r *traceRenderer) MinSize() fyne.Size { return r.b.MinSize() }
func (r *traceRenderer) Refresh()           { r.b.raster.Refresh() }
func (r *traceRenderer) Destroy()           {}
func (r *traceRenderer) Objects() []fyne.CanvasObject {
	all := []fyne.CanvasObject{r.b.raster}
	for _, l := range r.b.cross {
		all = append(all, l)
	}
	return all
}

// crosshair puts the crosshair at a place, or away.
func (b *traceBoard) crosshair(at fyne.Position, on bool) {
	b.hover, b.inside = at, on
	s := b.Size()
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

// current gives the picture at hand, nil for none.
func (b *traceBoard) current() *trace.Ground {
	if i := b.tr.t.Ground(); i >= 0 {
		return &b.tr.t.Grounds()[i]
	}
	return nil
}

// world is the map from the picture to what the view is reckoned in, and back.
func (b *traceBoard) world() (to, back trace.Homography, up float64) {
	if g := b.current(); g != nil && g.Calibration.Set() {
		return g.Calibration.ToMM, g.Calibration.ToPix, -1
	}
	return trace.Identity(), trace.Identity(), 1
}

// toBoard is the map from the picture to the board.
func (b *traceBoard) toBoard() trace.Homography {
	to, _, up := b.world()
	s := b.Size()
	look := trace.Homography{b.zoom, 0, float64(s.Width)/2 - b.zoom*b.middle.X, 0, up * b.zoom, float64(s.Height)/2 - up*b.zoom*b.middle.Y, 0, 0, 1}
	return look.After(to)
}

// toPicture is the map back.
func (b *traceBoard) toPicture() trace.Homography {
	_, back, up := b.world()
	s := b.Size()
	look := trace.Homography{1 / b.zoom, 0, b.middle.X - float64(s.Width)/2/b.zoom, 0, up / b.zoom, b.middle.Y - up*float64(s.Height)/2/b.zoom, 0, 0, 1}
	return back.After(look)
}

// at gives the place of the picture under a place of the board.
func (b *traceBoard) at(p fyne.Position) (trace.Point, bool) {
	return b.toPicture().Apply(trace.Pt(float64(p.X), float64(p.Y)))
}

// on gives the place on the board of a place of the picture; one beyond the
// horizon has none.
func (b *traceBoard) on(p trace.Point) draw.Point {
	q, _ := b.toBoard().Apply(p) // NaN draws nothing
	return draw.Pt(q.X, q.Y)
}

// pixels is how many pixels of the picture lie in so many board units about a
// place of it.
func (b *traceBoard) pixels(units float64, at trace.Point) float64 {
	const step = 0.5
	p, q := b.on(at), b.on(trace.Pt(at.X+step, at.Y))
	d := math.Hypot(q.X-p.X, q.Y-p.Y) / step
	if !(d > 1e-6) {
		return units
	}
	return units / d
}

// fit shows the whole picture, or of one seen aslant what lies about the
// corners that set it.
func (b *traceBoard) fit() {
	b.fitted = fyne.Size{}
	b.changed()
}

// ready shows the whole where that is wanted and the board has a size.
func (b *traceBoard) ready() {
	s := b.Size()
	g := b.current()
	if g == nil || s.Width < 2 || s.Height < 2 || b.fitted != (fyne.Size{}) {
		return
	}
	b.fitted = s
	to, _, _ := b.world()
	w, h := g.Picture.Size()
	low, high := bounds(to, []trace.Point{{X: 0, Y: 0}, {X: float64(w), Y: 0}, {X: float64(w), Y: float64(h)}, {X: 0, Y: float64(h)}})
	if pts := g.Calibration.Points; len(pts) == 4 {
		l, u := bounds(to, pts)
		dx, dy := 2*(u.X-l.X), 2*(u.Y-l.Y)
		if !(high.X-low.X < 5*dx) || !(high.Y-low.Y < 5*dy) {
			low, high = trace.Pt(l.X-dx, l.Y-dy), trace.Pt(u.X+dx, u.Y+dy)
		}
	}
	b.middle = trace.Pt((low.X+high.X)/2, (low.Y+high.Y)/2)
	b.zoom = 0.97 * min(float64(s.Width)/(high.X-low.X), float64(s.Height)/(high.Y-low.Y))
}

// bounds gives the least and greatest of mapped points; without bound where
// one lies beyond the horizon.
func bounds(m trace.Homography, pts []trace.Point) (low, high trace.Point) {
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
func (b *traceBoard) pan(dx, dy float64) {
	_, _, up := b.world()
	b.middle = trace.Pt(b.middle.X-dx/b.zoom, b.middle.Y-up*dy/b.zoom)
	b.changed()
}

// zoomBy makes the picture so many times as large about a place of the board.
func (b *traceBoard) zoomBy(p fyne.Position, by float64) {
	at, ok := b.at(p)
	if b.current() == nil || !ok {
		return
	}
	one := b.pixels(b.zoom, at) / b.zoom // pixels to a board unit now
	if 1/one*by > mostZoom || 1/one*by < leastZoom {
		return
	}
	s := b.Size()
	_, _, up := b.world()
	dx, dy := float64(p.X-s.Width/2), float64(p.Y-s.Height/2)
	b.middle = trace.Pt(b.middle.X+dx/b.zoom*(1-1/by), b.middle.Y+up*dy/b.zoom*(1-1/by))
	b.zoom *= by
	b.changed()
}

// changed has the board drawn anew with the next frame of the screen.
func (b *traceBoard) changed() { b.raster.Refresh() }
