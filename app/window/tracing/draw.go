package tracing

import (
	"cmp"
	"image"
	"image/color"
	stddraw "image/draw"
	"math"
	"slices"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/trace"
)

// paint draws the picture and what is traced on it; Fyne calls it when the
// screen is drawn.
func (b *traceBoard) paint(w, h int) image.Image {
	w, h = max(w, 1), max(h, 1)
	b.ready()
	scale := 1.0
	if s := b.Size(); s.Width > 0 {
		scale = float64(w) / float64(s.Width)
	}
	if b.shown == nil || b.shown.Rect.Dx() != w || b.shown.Rect.Dy() != h {
		b.ground, b.over, b.shown = image.NewRGBA(image.Rect(0, 0, w, h)), image.NewRGBA(image.Rect(0, 0, w, h)), image.NewRGBA(image.Rect(0, 0, w, h))
		b.drawn = traceView{}
	}
	b.paintGround(scale)
	b.d.Reset()
	b.draw()
	clear := *b.tr.Palette()
	if b.current() != nil {
		clear = draw.Light // scans and photos are mostly light
	}
	clear[draw.Paper] = color.NRGBA{}
	b.tr.Pixels.Render(b.over, &b.d, &clear, draw.View{Scale: scale})
	copy(b.shown.Pix, b.ground.Pix)
	stddraw.Draw(b.shown, b.shown.Rect, b.over, image.Point{}, stddraw.Over)
	b.paintLens(scale, &clear)
	return b.shown
}

// paintGround draws the picture, unless it is as it was.
func (b *traceBoard) paintGround(scale float64) {
	v := traceView{w: b.ground.Rect.Dx(), h: b.ground.Rect.Dy(), dark: b.tr.Dark}
	g := b.current()
	if g != nil {
		v.picture, v.back = g.Picture, b.toPicture().After(trace.Scaling(1/scale))
	}
	if v == b.drawn {
		return
	}
	b.drawn = v
	c := b.tr.Palette().Colour(draw.Grid)
	ground := color.RGBA{c.R, c.G, c.B, 255}
	if g == nil {
		stddraw.Draw(b.ground, b.ground.Rect, image.NewUniform(ground), image.Point{}, stddraw.Src)
		return
	}
	g.Picture.Draw(b.ground, v.back, ground)
}

// draw draws what lies over the picture, in board units.
func (b *traceBoard) draw() {
	t := b.tr.t
	g := b.current()
	if g == nil {
		s := b.Size()
		b.d.Text(draw.Pt(float64(s.Width)/2, float64(s.Height)/2), "Open a picture of the frames", draw.Faint, 16, draw.Centre)
		return
	}
	b.drawDatum(g)
	b.drawScale(g)
	for i, f := range t.Frames() {
		if f.Ground == t.Ground() && i != t.Frame() {
			b.drawFrame(f, false)
		}
	}
	if f, ok := b.tr.frame(); ok && f.Ground == t.Ground() {
		b.drawFrame(f, true)
	}
	b.drawPicked()
	b.drawSnap(g)
	b.drawLegend()
}

// drawLegend tells the marks apart.
func (b *traceBoard) drawLegend() {
	h := float64(b.Size().Height)
	b.d.Rect(draw.Halo, draw.Pt(8, h-30), draw.Pt(290, h-8))
	x := 20.0
	for _, m := range []struct {
		shape draw.Shape
		text  string
		wide  float64
	}{{draw.Disc, "on the outline", 102}, {draw.Ring, "by hand", 72}, {draw.Diamond, "knuckle", 60}} {
		b.d.Mark(draw.Pt(x, h-19), m.shape, 9, draw.Chosen)
		b.d.Text(draw.Pt(x+9, h-15), m.text, draw.Ink, 12, draw.Left)
		x += m.wide
	}
	b.drawKeys()
}

// drawKeys tells of the keys and of the wheel, where there is room.
func (b *traceBoard) drawKeys() {
	const size = 12
	const keys = "wheel: zoom · right drag: move · Home: the whole · Enter: next frame · K: knuckle · arrows: by a pixel"
	s := b.Size()
	w := draw.TextWidth(keys, size)*1.05 + 16 // it is reckoned by mean letters
	if h := float64(s.Height); 300+w < float64(s.Width) {
		b.d.Rect(draw.Halo, draw.Pt(298, h-30), draw.Pt(298+w, h-8))
		b.d.Text(draw.Pt(306, h-15), keys, draw.Ink, size, draw.Left)
	}
}

// haloed draws a line that shows on any ground.
func (b *traceBoard) haloed(role draw.Role, width float64, dash []float64, pts ...draw.Point) {
	b.d.Line(draw.Halo, draw.Pen{Width: width + 2.4}, pts...)
	b.d.Line(role, draw.Pen{Width: width, Dash: dash}, pts...)
}

// striped draws a line dark and light in turn: it shows on any ground, and
// hides no more of it than it must.
func (b *traceBoard) striped(dash []float64, pts ...draw.Point) {
	b.d.Line(draw.Halo, draw.Pen{Width: 1.2}, pts...)
	b.d.Line(draw.Limit, draw.Pen{Width: 1.2, Dash: dash}, pts...)
}

// label writes a word that shows on any ground.
func (b *traceBoard) label(at draw.Point, text string, role draw.Role) {
	const size = 13
	w := draw.TextWidth(text, size) + 4
	b.d.Rect(draw.Halo, draw.Pt(at.X-w/2-2, at.Y-size+1), draw.Pt(at.X+w/2+2, at.Y+4))
	b.d.Text(at, text, role, size, draw.Centre)
}

// drawDatum draws the centre and the base line through the whole picture.
func (b *traceBoard) drawDatum(g *trace.Ground) {
	c := g.Calibration
	if !c.Set() {
		return
	}
	d := b.tr.t.Lines()
	s := b.Size()
	dash := []float64{14, 4, 3, 4}
	if d.HasCentre {
		x := b.on(d.Centre).X
		b.striped(dash, draw.Pt(x, 0), draw.Pt(x, float64(s.Height)))
		b.label(draw.Pt(x, 16), "centre line", draw.Limit)
	}
	if d.HasBase {
		y := b.on(d.Base).Y
		b.striped(dash, draw.Pt(0, y), draw.Pt(float64(s.Width), y))
		b.label(draw.Pt(40, y-4), "base line", draw.Limit)
	}
}

// drawScale draws the points that set the scale.
func (b *traceBoard) drawScale(g *trace.Ground) {
	if b.tr.tool == traceScale || b.tr.tool == traceCorners {
		return
	}
	var pts []draw.Point
	for _, p := range g.Calibration.Points {
		pts = append(pts, b.on(p))
	}
	if len(pts) == 4 {
		pts = append(pts, pts[0])
	}
	b.haloed(draw.TaperInk, 1, []float64{2, 4}, pts...)
	for _, p := range pts {
		b.d.Mark(p, draw.Cross, 9, draw.TaperInk)
	}
}

// drawPicked draws the points clicked for the tool at hand.
func (b *traceBoard) drawPicked() {
	var pts []draw.Point
	for _, p := range b.tr.picked {
		pts = append(pts, b.on(p))
	}
	if b.inside && len(pts) > 0 {
		pts = append(pts, draw.Pt(float64(b.hover.X), float64(b.hover.Y)))
	}
	b.haloed(draw.GapInk, 1.4, nil, pts...)
	for i, p := range pts {
		if i < len(b.tr.picked) {
			b.d.Mark(p, draw.Cross, 12, draw.GapInk)
		}
	}
}

// drawFrame draws a frame as far as it is traced.
func (b *traceBoard) drawFrame(f trace.Frame, chosen bool) {
	role, width, halo := draw.TaperInk, 1.2, 0.8
	if chosen {
		role, width, halo = draw.Chosen, 2.0, 1.4
	}
	for h, marks := range f.Halves {
		var pts []draw.Point
		for i, m := range marks {
			if p := b.press; chosen && p != nil && p.dragged && p.i == i && p.half == h {
				m.At, m.Snapped = p.place, p.snapped
			}
			pts = append(pts, b.on(m.At))
		}
		if len(pts) == 0 {
			continue
		}
		line := smoothed(pts, marks)
		b.d.Line(draw.Halo, draw.Pen{Width: width + halo}, line...)
		b.d.Line(role, draw.Pen{Width: width}, line...)
		for i, p := range pts {
			shape, size := draw.Ring, 8.0
			switch {
			case marks[i].Knuckle:
				shape, size = draw.Diamond, 11
			case marks[i].Snapped:
				shape = draw.Disc
			}
			switch {
			case chosen:
				b.d.Mark(p, shape, size, role)
			case marks[i].Knuckle:
				b.d.Mark(p, shape, 8, role)
			}
		}
		top := slices.MinFunc(pts, func(p, q draw.Point) int { return cmp.Compare(p.Y, q.Y) })
		b.label(draw.Pt(top.X, top.Y-10), f.Name, role)
	}
}

// smoothed runs a curve through the points of a frame on the board, with its
// corners.
func smoothed(pts []draw.Point, marks []trace.Mark) []draw.Point {
	var at []trace.Point
	var knuckles []int
	for i, p := range pts {
		at = append(at, trace.Pt(p.X, p.Y))
		if marks[i].Knuckle && i > 0 && i+1 < len(pts) {
			knuckles = append(knuckles, i)
		}
	}
	var out []draw.Point
	for _, p := range trace.Through(at, knuckles) {
		out = append(out, draw.Pt(p.X, p.Y))
	}
	return out
}

// snaps tells whether it is shown where a click would be drawn to.
func (b *traceBoard) snaps() bool {
	return b.inside && b.press == nil && (b.tr.tool != traceClicks || b.tr.t.Frame() >= 0)
}

// drawSnap shows where a click would be drawn to.
func (b *traceBoard) drawSnap(g *trace.Ground) {
	if !b.snaps() {
		return
	}
	if at, ok := b.at(b.hover); ok && g.Picture.Holds(at) {
		if to, ok := b.tr.snapped(at, b.shift); ok {
			p := b.on(to)
			b.d.Mark(p, draw.Square, 7, draw.GapInk)
			if d := math.Hypot(p.X-float64(b.hover.X), p.Y-float64(b.hover.Y)); d > 3 {
				b.d.Line(draw.GapInk, draw.Pen{Width: 1}, draw.Pt(float64(b.hover.X), float64(b.hover.Y)), p)
			}
		}
	}
}
