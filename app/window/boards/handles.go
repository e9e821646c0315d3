package boards

import (
	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/settings"
)

// handled is a drawing with handles.
type handled interface {
	HandleAt(p draw.Point, c views.Choice) (views.Handle, bool)
}

// grasp takes hold of the handle at a point, and tells whether there is one.
func grasp(d *desk.Desk, v handled, p draw.Point) bool {
	h, ok := v.HandleAt(p, d.Choice)
	if ok {
		d.Grasp(h)
	}
	return ok
}

// menuAt is the menu of the handle at a point, or of what a tap there chooses.
func menuAt(d *desk.Desk, v handled, p draw.Point, tap func(draw.Point)) *fyne.Menu {
	h, ok := v.HandleAt(p, d.Choice)
	return settings.MenuAt(d, h, ok, func() { tap(p) })
}

// placeOn tells what lies on a frame, so much girth down; nothing where there is
// no frame.
func placeOn(d *desk.Desk, frame int, down func(frame int) float64) string {
	if frame < 0 {
		return ""
	}
	return d.Place(frame, down(frame))
}
