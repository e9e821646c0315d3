package desk

import (
	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
)

// Aim turns the pointer's place into a girth on the frame of the handle held:
// of a limit's handle, on the whole frame.
func (d *Desk) Aim(p draw.Point, place func(frame int, q mgl64.Vec3) draw.Point) {
	g := d.Grip
	if g == nil {
		return
	}
	if g.Limit != views.NoLimit {
		d.aimLimit(p, place)
		return
	}
	d.Move(d.DownAt(g.Frame, p, place))
}

// Pick chooses the line at hand, or else the strake, with the frame beside it.
func (d *Desk) Pick(line, strake, frame int) {
	c := d.Choice
	if frame >= 0 {
		c = c.WithFrame(frame)
	}
	switch {
	case line >= 0:
		c = c.WithLine(line)
	case strake >= 0:
		c = c.WithStrake(strake)
	}
	d.Choose(c)
}
