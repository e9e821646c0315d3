package picture

import (
	"image"
	"image/color"
	stddraw "image/draw"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/trace"
)

// LensSide is how long a side of the magnifier is, in board units.
const LensSide = 190.0

// More of the magnifier, in board units.
const (
	lensEdge  = 10.0 // from the corner of the board
	lensTimes = 6.0  // so many times larger than the board shows it
	lensMost  = 12.0 // but at most so many to a pixel of the picture
	lensNeed  = 4.0  // and none once the board itself shows a pixel as large
)

// lens is the room for the magnifier.
type lens struct {
	over *image.RGBA
	d    draw.Drawing
}

// Lens is the upper left corner of the magnifier on the board; false where there is
// none.
func (b *View) Lens() (corner draw.Point, ok bool) {
	corner, _, ok = b.lensView()
	return corner, ok
}

// lensView tells where the magnifier lies and how much larger it shows; false
// where there is none.
func (b *View) lensView() (corner draw.Point, times float64, ok bool) {
	p := b.host.Current()
	if p == nil || !b.host.Magnifies() || !b.Inside {
		return corner, 0, false
	}
	at, found := b.At(b.Hover)
	s := b.host.Size()
	if !found || !p.Holds(at) || s.Width < 2*LensSide || s.Height < 2*LensSide {
		return corner, 0, false
	}
	shown := 1 / b.Pixels(1, at) // board units to a pixel
	times = min(lensTimes, lensMost/shown)
	if shown >= lensNeed || times <= 1 {
		return corner, 0, false
	}
	corner = draw.Pt(float64(s.Width)-LensSide-lensEdge, lensEdge)
	if float64(b.Hover.X) > corner.X-lensEdge && float64(b.Hover.Y) < LensSide+2*lensEdge {
		corner.X = lensEdge // out of the pointer's way
	}
	return corner, times, true
}

// paintLens shows what lies about the pointer, and where a click would go.
func (b *View) paintLens(scale float64, pal *draw.Palette) {
	corner, times, ok := b.lensView()
	if !ok {
		return
	}
	side := int(LensSide * scale)
	if b.lens.over == nil || b.lens.over.Rect.Dx() != side {
		b.lens.over = image.NewRGBA(image.Rect(0, 0, side, side))
	}
	at := image.Pt(int(corner.X*scale), int(corner.Y*scale))
	place := image.Rectangle{Min: at, Max: at.Add(image.Pt(side, side))}
	view := b.shown.SubImage(place).(*image.RGBA)
	if view.Rect != place {
		return
	}
	x, y := float64(b.Hover.X), float64(b.Hover.Y)
	f := 1 / scale / times
	look := trace.Homography{f, 0, x - LensSide/2/times, 0, f, y - LensSide/2/times, 0, 0, 1}
	c := b.host.Look().Palette().Colour(draw.Grid)
	b.host.Current().Draw(view, b.toPicture().After(look), color.RGBA{c.R, c.G, c.B, 255})
	b.drawLens(times)
	b.host.Look().Pixels.Render(b.lens.over, &b.lens.d, pal, draw.View{Scale: scale})
	stddraw.Draw(view, view.Rect, b.lens.over, image.Point{}, stddraw.Over)
}

// drawLens draws what lies over the picture in the magnifier.
func (b *View) drawLens(times float64) {
	d := &b.lens.d
	d.Reset()
	const mid, gap = LensSide / 2, 5.0
	b.host.DrawLens(d, func(p trace.Point) draw.Point {
		q := b.On(p)
		return draw.Pt(mid+(q.X-float64(b.Hover.X))*times, mid+(q.Y-float64(b.Hover.Y))*times)
	})
	for _, l := range [][2]draw.Point{
		{draw.Pt(0, mid), draw.Pt(mid-gap, mid)}, {draw.Pt(mid+gap, mid), draw.Pt(LensSide, mid)},
		{draw.Pt(mid, 0), draw.Pt(mid, mid-gap)}, {draw.Pt(mid, mid+gap), draw.Pt(mid, LensSide)},
	} {
		d.Line(draw.Halo, draw.Pen{Width: 3}, l[0], l[1])
		d.Line(draw.Chosen, draw.Pen{Width: 1}, l[0], l[1])
	}
	d.Line(draw.Halo, draw.Pen{Width: 5}, draw.Pt(0, 0), draw.Pt(LensSide, 0), draw.Pt(LensSide, LensSide), draw.Pt(0, LensSide), draw.Pt(0, 0))
	d.Line(draw.Ink, draw.Pen{Width: 2}, draw.Pt(0, 0), draw.Pt(LensSide, 0), draw.Pt(LensSide, LensSide), draw.Pt(0, LensSide), draw.Pt(0, 0))
}
