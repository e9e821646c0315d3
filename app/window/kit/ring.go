package kit

import (
	"image/color"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
)

// ring is the ring around what has the keys. The toolkit marks most of its widgets by a
// change of their ground alone, too faint to be seen at a glance. The zero value is one
// that was never shown.
type ring struct{ line *canvas.Rectangle }

// ringWidth is that of its stroke.
const ringWidth = 2

// ringColour is the colour of all rings.
const ringColour = theme.ColorNamePrimary

// show shows it, in the colour that it has on this ground.
func (r *ring) show() {
	if r.line == nil {
		r.line = canvas.NewRectangle(color.Transparent)
		r.line.StrokeWidth = ringWidth
		r.line.CornerRadius = theme.InputRadiusSize()
	}
	r.line.StrokeColor = theme.Color(ringColour)
	r.line.Show()
}

// gained shows it around a widget that got the keys, and brings that into sight.
func (r *ring) gained(o fyne.CanvasObject) {
	r.show()
	r.line.Resize(o.Size())
	reveal(o)
}

// lost takes it away.
func (r *ring) lost() {
	if r.line != nil {
		r.line.Hide()
	}
}

// shown tells whether it is shown.
func (r *ring) shown() bool { return r.line != nil && r.line.Visible() }

// ringed is a widget's renderer with a ring over it.
type ringed struct {
	fyne.WidgetRenderer
	ring *ring
}

// Objects are those of the widget, and the ring while it is shown.
func (r *ringed) Objects() []fyne.CanvasObject {
	o := r.WidgetRenderer.Objects()
	if !r.ring.shown() {
		return o
	}
	return append(slices.Clone(o), r.ring.line)
}

// Layout gives the ring the widget's size.
func (r *ringed) Layout(s fyne.Size) {
	r.WidgetRenderer.Layout(s)
	if r.ring.line != nil {
		r.ring.line.Resize(s)
	}
}

// Refresh draws it in the colours of now.
func (r *ringed) Refresh() {
	if r.ring.shown() {
		r.ring.show()
	}
	r.WidgetRenderer.Refresh()
}
