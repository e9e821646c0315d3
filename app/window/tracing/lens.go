package tracing

import (
	"image"
	"image/color"
	stddraw "image/draw"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/trace"
)

// The magnifier, in board units.
const (
	lensSide  = 190.0
	lensEdge  = 10.0 // from the corner of the board
	lensTimes = 6.0  // so many times larger than the board shows it
	lensMost  = 12.0 // but at most so many to a pixel of the picture
	lensNeed  = 4.0  // and none once the board itself shows a pixel as large
)

// traceLens is the room for the magnifier.
type traceLens struct {
	over *image.RGBA
	d    draw.Drawing
}

// lensView tells where the magnifier lies and how much larger it shows; false
// where there is none.
func (b *traceBoard) lensView() (corner draw.Point, times float64, ok bool) {
	g := b.current()
	if g == nil || !b.tr.lens || !b.inside {
		return corner, 0, false
	}
	at, found := b.at(b.hover)
	s := b.Size()
	if !found || !g.Picture.Holds(at) || s.Width < 2*lensSide || s.Height < 2*lensSide {
		return corner, 0, false
	}
	shown := 1 / b.pixels(1, at) // board units to a pixel
	times = min(lensTimes, lensMost/shown)
	if shown >= lensNeed || times <= 1 {
		return corner, 0, false
	}
	corner = draw.Pt(float64(s.Width)-lensSide-lensEdge, lensEdge)
	if float64(b.hover.X) > corner.X-lensEdge && float64(b.hover.Y) < lensSide+2*lensEdge {
		corner.X = lensEdge // out of the pointer's way
	}
	return corner, times, true
}

// paintLens shows what lies about the pointer, and where a click would go.
func (b *traceBoard) paintLens(scale float64, pal *draw.Palette) {
	corner, times, ok := b.lensView()
	if !ok {
		return
	}
	side := int(lensSide * scale)
	if b.lens.over == nil || b.lens.over.Rect.Dx() != side {
		b.lens.over = image.NewRGBA(image.Rect(0, 0, side, side))
	}
	at := image.Pt(int(corner.X*scale), int(corner.Y*scale))
	place := image.Rectangle{Min: at, Max: at.Add(image.Pt(side, side))}
	view := b.shown.SubImage(place).(*image.RGBA)
	if view.Rect != place {
		return
	}
	x, y := float64(b.hover.X), float64(b.hover.Y)
	f := 1 / scale / times
	look := trace.Homography{f, 0, x - lensSide/2/times, 0, f, y - lensSide/2/times, 0, 0, 1}
	c := b.tr.Palette().Colour(draw.Grid)
	b.current().Picture.Draw(view, b.toPicture().After(look), color.RGBA{c.R, c.G, c.B, 255})
	b.drawLens(times)
	b.tr.Pixels.Render(b.lens.over, &b.lens.d, pal, draw.View{Scale: scale})
	stddraw.Draw(view, view.Rect, b.lens.over, image.Point{}, stddraw.Over)
}

// drawLens draws what lies over the picture in the magnifier.
func (b *traceBoard) drawLens(times float64) {
	d := &b.lens.d
	d.Reset()
	const mid, gap = lensSide / 2, 5.0
	on := func(p trace.Point) draw.Point {
		q := b.on(p)
		return draw.Pt(mid+(q.X-float64(b.hover.X))*times, mid+(q.Y-float64(b.hover.Y))*times)
	}
	for _, p := range b.tr.picked {
		d.Mark(on(p), draw.Cross, 12, draw.GapInk)
	}
	if f, ok := b.tr.frame(); ok && f.Ground == b.tr.t.Ground() && b.tr.tool == traceClicks {
		for _, marks := range f.Halves {
			for _, m := range marks {
				d.Mark(on(m.At), draw.Ring, 8, draw.Chosen)
			}
		}
	}
	for _, l := range [][2]draw.Point{
		{draw.Pt(0, mid), draw.Pt(mid-gap, mid)}, {draw.Pt(mid+gap, mid), draw.Pt(lensSide, mid)},
		{draw.Pt(mid, 0), draw.Pt(mid, mid-gap)}, {draw.Pt(mid, mid+gap), draw.Pt(mid, lensSide)},
	} {
		d.Line(draw.Halo, draw.Pen{Width: 3}, l[0], l[1])
		d.Line(draw.Chosen, draw.Pen{Width: 1}, l[0], l[1])
	}
	if at, ok := b.at(b.hover); ok && b.snaps() {
		if to, ok := b.tr.snapped(at, b.shift); ok {
			d.Mark(on(to), draw.Square, 9, draw.GapInk)
		}
	}
	d.Line(draw.Halo, draw.Pen{Width: 5}, draw.Pt(0, 0), draw.Pt(lensSide, 0), draw.Pt(lensSide, lensSide), draw.Pt(0, lensSide), draw.Pt(0, 0))
	d.Line(draw.Ink, draw.Pen{Width: 2}, draw.Pt(0, 0), draw.Pt(lensSide, 0), draw.Pt(lensSide, lensSide), draw.Pt(0, lensSide), draw.Pt(0, 0))
}
