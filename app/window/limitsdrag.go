package window

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"strakewright/app/draw"
)

// aimLimit turns the pointer's place into one on the whole frame.
func (d *desk) aimLimit(p draw.Point, place func(frame int, q mgl64.Vec3) draw.Point) {
	g := d.grip
	nearest := func(p draw.Point) float64 {
		return d.wholeLines().Nearest(g.frame, func(q mgl64.Vec3) (x, y float64) {
			at := place(g.frame, q)
			return at.X, at.Y
		}, p.X, p.Y)
	}
	if math.IsNaN(g.slip) {
		// An outer layer's limit is drawn off the frame, and the frame may be seen
		// end on: what counts is how far the pointer goes from where it took hold.
		g.slip = d.limitPlace(g.limit, g.frame) - nearest(g.from)
	}
	d.moveLimit(nearest(p) + g.slip)
}

// moveLimit takes the limit held to a girth below the first point of its frame.
func (d *desk) moveLimit(at float64) {
	g := d.grip
	if g == nil {
		return
	}
	d.tryTo(g, d.withinFrame(g.limit, g.frame, d.setIn(g.limit, g.frame, at)))
}

// nudgeLimit moves the chosen limit at the chosen frame by mm, downwards positive.
func (d *desk) nudgeLimit(mm float64) {
	l, f := d.choice.Limit, d.choice.Frame
	if first, last := d.layer().Surface.Planked(); f < first || f > last {
		d.status(fmt.Sprintf("Frame %s is not planked.", d.frameName(f)))
		return
	}
	in := d.withinFrame(l, f, d.setIn(l, f, d.limitPlace(l, f)+mm))
	if d.edit(fmt.Sprintf("nudge the %s at frame %s", d.limitName(l), d.frameName(f)), moveLimit(l, d.frameName(f), in)) {
		d.status(d.limitText(l, f))
	}
}
