package kit

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/draw"
)

// Plot shows a drawing in a dialog, and tells where it is tapped.
type Plot struct {
	widget.BaseWidget
	look   *Look
	in     *Notices
	make   func(w, h float64) *draw.Drawing
	tapped func(draw.Point)
	raster *canvas.Raster
	paper  Sheet
	least  fyne.Size
}

var _ fyne.Tappable = (*Plot)(nil)

// NewPlot shows what draws makes for a room of w x h in a window, and tells tapped where it is tapped.
func NewPlot(n *Notices, l *Look, least fyne.Size, draws func(w, h float64) *draw.Drawing, tapped func(draw.Point)) *Plot {
	p := &Plot{look: l, in: n, make: draws, tapped: tapped, least: least}
	p.raster = canvas.NewRaster(p.Paint)
	p.ExtendBaseWidget(p)
	return p
}

// CreateRenderer gives Fyne the raster to show.
func (p *Plot) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.raster) }

// MinSize is the least size at which the drawing is of use.
func (p *Plot) MinSize() fyne.Size { return p.least }

// Refresh has the drawing made anew.
func (p *Plot) Refresh() { p.in.Repaint(p.raster) }

// Resize gives the drawing its size.
func (p *Plot) Resize(s fyne.Size) {
	p.BaseWidget.Resize(s)
	p.Refresh()
}

// Tapped tells where.
func (p *Plot) Tapped(e *fyne.PointEvent) { p.tapped(Point(e.Position)) }

func (p *Plot) Paint(w, h int) image.Image {
	scale := 1.0
	if bw := float64(p.Size().Width); bw > 0 {
		scale = float64(w) / bw
	}
	return p.paper.Render(p.look, p.make(float64(w)/scale, float64(h)/scale), w, h, scale)
}
