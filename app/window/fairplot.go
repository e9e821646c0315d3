package window

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"strakewright/app/draw"
)

// plot shows a drawing in a dialog, and tells where it is tapped.
type plot struct {
	widget.BaseWidget
	look   *look
	make   func(w, h float64) *draw.Drawing
	tapped func(draw.Point)
	raster *canvas.Raster
	paper  sheet
	least  fyne.Size
}

var _ fyne.Tappable = (*plot)(nil)

func newPlot(l *look, least fyne.Size, draws func(w, h float64) *draw.Drawing, tapped func(draw.Point)) *plot {
	p := &plot{look: l, make: draws, tapped: tapped, least: least}
	p.raster = canvas.NewRaster(p.paint)
	p.ExtendBaseWidget(p)
	return p
}

// CreateRenderer gives Fyne the raster to show.
func (p *plot) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.raster) }

// MinSize is the least size at which the drawing is of use.
func (p *plot) MinSize() fyne.Size { return p.least }

// Refresh has the drawing made anew.
func (p *plot) Refresh() { p.raster.Refresh() }

// Tapped tells where.
func (p *plot) Tapped(e *fyne.PointEvent) { p.tapped(point(e.Position)) }

func (p *plot) paint(w, h int) image.Image {
	scale := 1.0
	if bw := float64(p.Size().Width); bw > 0 {
		scale = float64(w) / bw
	}
	return p.paper.render(p.look, p.make(float64(w)/scale, float64(h)/scale), w, h, scale)
}
