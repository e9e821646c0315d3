package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Pick is a text of any length that goes somewhere when it is clicked, or when Return
// or Space is pressed while it has the keys.
type Pick struct {
	widget.BaseWidget
	text   *widget.Label
	ground *canvas.Rectangle
	f      func()
}

// NewPick makes one that does f.
func NewPick(text string, f func()) *Pick {
	p := &Pick{text: Wrapped(text), ground: canvas.NewRectangle(nil), f: f}
	p.ground.CornerRadius = theme.SelectionRadiusSize()
	p.ground.StrokeWidth = 2
	p.ExtendBaseWidget(p)
	return p
}

// Text is what it says.
func (p *Pick) Text() string { return p.text.Text }

// CreateRenderer is called by Fyne.
func (p *Pick) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewStack(p.ground, p.text))
}

// Tapped goes there.
func (p *Pick) Tapped(*fyne.PointEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(p); c != nil {
		c.Focus(p)
	}
	p.f()
}

// Cursor shows that it can be clicked.
func (p *Pick) Cursor() desktop.Cursor { return desktop.PointerCursor }

// MouseIn lifts it off the ground.
func (p *Pick) MouseIn(*desktop.MouseEvent) {
	p.ground.FillColor = theme.Color(theme.ColorNameHover)
	p.ground.Refresh()
}

// MouseMoved is here for Fyne's sake.
func (p *Pick) MouseMoved(*desktop.MouseEvent) {}

// MouseOut lays it back.
func (p *Pick) MouseOut() {
	p.ground.FillColor = nil
	p.ground.Refresh()
}

// FocusGained draws a ring around it.
func (p *Pick) FocusGained() {
	p.ground.StrokeColor = theme.Color(theme.ColorNamePrimary)
	p.ground.Refresh()
}

// FocusLost takes the ring away.
func (p *Pick) FocusLost() {
	p.ground.StrokeColor = nil
	p.ground.Refresh()
}

// TypedRune is here for Fyne's sake.
func (p *Pick) TypedRune(rune) {}

// TypedKey goes there.
func (p *Pick) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		p.f()
	default:
		leaveBy(e, p)
	}
}
