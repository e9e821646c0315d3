package boards

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

// Between two frames the toolkit may have forgotten where a drawing stands, and then
// drops what Refresh and Resize of a raster ask for: the drawing stayed stretched.
func TestADrawingIsMadeAnewWhateverTheToolkitForgot(t *testing.T) {
	w := newBoards(t)
	w.seen()
	plot := kit.NewPlot(w.desk.Notices, w.desk.Look, fyne.NewSize(10, 10), func(float64, float64) *draw.Drawing { return &draw.Drawing{} }, nil)
	r := canvas.NewRaster(nil)
	framed := w.desk.Repainted(r)
	asked := windowtest.Forget(t, w.desk.Notices)
	for _, b := range []*Board{w.Long, w.Gauge, w.BodyPlan, w.hull.board} {
		b.Resize(b.Size().AddWidthHeight(-20, -10))
		assert.Contains(t, asked.For, fyne.CanvasObject(b.raster), "of another size")
		asked.For = nil
		b.view.fit()
		b.drawn = nil
		b.Refresh()
		assert.Contains(t, asked.For, fyne.CanvasObject(b.raster), "of something else")
	}
	asked.For = nil
	plot.Resize(fyne.NewSize(80, 60))
	assert.Len(t, asked.For, 1)
	framed.Resize(fyne.NewSize(80, 60))
	assert.Contains(t, asked.For, fyne.CanvasObject(r))
	asked.For = nil
	cell := w.desk.NewCell().(*fyne.Container)
	cell.Layout.(*kit.Cell).Fill("4.00", w.desk.Palette(), draw.ChosenSoft)
	assert.Len(t, asked.For, 1)
}
