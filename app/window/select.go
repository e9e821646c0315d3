package window

import (
	"github.com/go-gl/mathgl/mgl64"

	"strakewright/app/draw"
	"strakewright/app/draw/views"
)

// aim turns the pointer's place into a girth on the frame of the handle held:
// of a limit's handle, on the whole frame.
func (d *desk) aim(p draw.Point, place func(frame int, q mgl64.Vec3) draw.Point) {
	g := d.grip
	if g == nil {
		return
	}
	if g.limit != views.NoLimit {
		d.aimLimit(p, place)
		return
	}
	d.move(d.downAt(g.frame, p, place))
}

// pick chooses the line at hand, or else the strake, with the frame beside it.
func (d *desk) pick(line, strake, frame int) {
	c := d.choice
	if frame >= 0 {
		c = c.WithFrame(frame)
	}
	switch {
	case line >= 0:
		c = c.WithLine(line)
	case strake >= 0:
		c = c.WithStrake(strake)
	}
	d.choose(c)
}
