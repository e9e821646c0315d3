package desk

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// aimLimit turns the pointer's place into one on the whole frame.
func (d *Desk) aimLimit(p draw.Point, place func(frame int, q mgl64.Vec3) draw.Point) {
	g, lines := d.Grip, d.wholeLines()
	if lines == nil {
		return
	}
	nearest := func(p draw.Point) float64 {
		return lines.Nearest(g.Frame, func(q mgl64.Vec3) (x, y float64) {
			at := place(g.Frame, q)
			return at.X, at.Y
		}, p.X, p.Y)
	}
	if math.IsNaN(g.slip) {
		// An outer layer's limit is drawn off the frame, and the frame may be seen
		// end on: what counts is how far the pointer goes from where it took hold.
		g.slip = d.limitPlace(g.Limit, g.Frame) - nearest(g.from)
	}
	d.MoveLimit(nearest(p) + g.slip)
}

// MoveLimit takes the limit held to a girth below the first point of its frame.
func (d *Desk) MoveLimit(at float64) {
	g := d.Grip
	if g == nil {
		return
	}
	d.tryTo(g, d.WithinFrame(g.Limit, g.Frame, d.round(d.setIn(g.Limit, g.Frame, at))))
}

// nudgeLimit moves the chosen limit at the chosen frame by mm, downwards positive.
func (d *Desk) nudgeLimit(mm float64) {
	l, f := d.Choice.Limit, d.Choice.Frame
	if first, last := d.Layer().Surface.Planked(); f < first || f > last {
		d.Status(tongue.T("Frame %s is not planked.", d.FrameName(f)))
		return
	}
	in := d.WithinFrame(l, f, d.setIn(l, f, d.limitPlace(l, f)+mm))
	if d.Edit(tongue.T("nudge the %s at frame %s", d.LimitName(l), d.FrameName(f)), edit.MoveLimit(l, d.FrameName(f), in)) {
		d.Status(d.LimitText(l, f))
	}
}
