package tracing

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/picture"
)

// stillAgain is how far, in the board's own units, the second of two clicks on one
// place may lie from the first.
const stillAgain = 4.0

// traceBoard shows the picture, square and level once it has its scale, and
// takes the clicks.
type traceBoard struct {
	widget.BaseWidget
	*picture.View // in mm, y up, or, before there is a scale, in pixels of the picture, y down
	tr            *tracer
	d             *draw.Drawing // that which lies over the picture, while it is drawn

	half, i int         // the point of the frame that is pressed on; i is −1 for none
	place   trace.Point // where that is dragged to
	snapped bool
	clicked fyne.Position // where the last click was,
	count   int           // and the count of changes after it
}

func newTraceBoard(tr *tracer) *traceBoard {
	b := &traceBoard{tr: tr}
	b.View = picture.NewView(b)
	b.ExtendBaseWidget(b)
	return b
}

// CreateRenderer gives Fyne what to show.
func (b *traceBoard) CreateRenderer() fyne.WidgetRenderer { return b.Renderer() }

// MinSize is the least size at which the board is of use.
func (b *traceBoard) MinSize() fyne.Size { return fyne.NewSize(300, 240) }

// Look is how the window looks.
func (b *traceBoard) Look() *kit.Look { return b.tr.Look }

// Repaint has a drawing made anew with the window's next frame.
func (b *traceBoard) Repaint(o fyne.CanvasObject) { b.tr.Repaint(o) }

// Magnifies tells whether a magnifier is wanted.
func (b *traceBoard) Magnifies() bool { return b.tr.lens }

// current gives the picture at hand with its calibration, nil for none.
func (b *traceBoard) current() *trace.Ground {
	if i := b.tr.t.Ground(); i >= 0 {
		return &b.tr.t.Grounds()[i]
	}
	return nil
}

// Current gives the picture at hand, nil for none.
func (b *traceBoard) Current() *trace.Picture {
	if g := b.current(); g != nil {
		return g.Picture
	}
	return nil
}

// World is the map from the picture to what the view is reckoned in, and back.
func (b *traceBoard) World() (to, back trace.Homography, up float64) {
	if g := b.current(); g != nil && g.Calibration.Set() {
		return g.Calibration.ToMM, g.Calibration.ToPix, -1
	}
	return trace.Identity(), trace.Identity(), 1
}

// Whole is the whole picture, or of one seen aslant what lies about the corners
// that set it.
func (b *traceBoard) Whole(low, high trace.Point) (trace.Point, trace.Point) {
	pts := b.current().Calibration.Points
	if len(pts) != 4 {
		return low, high
	}
	to, _, _ := b.World()
	l, u := picture.Bounds(to, pts)
	dx, dy := 2*(u.X-l.X), 2*(u.Y-l.Y)
	if high.X-low.X < 5*dx && high.Y-low.Y < 5*dy {
		return low, high
	}
	return trace.Pt(l.X-dx, l.Y-dy), trace.Pt(u.X+dx, u.Y+dy)
}
