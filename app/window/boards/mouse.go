package boards

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/window/kit"
)

// MouseDown chooses, or takes hold of a handle.
func (b *Board) MouseDown(e *desktop.MouseEvent) {
	b.focus()
	b.desk.Round = e.Modifier&fyne.KeyModifierControl != 0
	if e.Button == desktop.MouseButtonPrimary {
		b.down, b.dragged = true, false
		b.held = b.view.press(kit.Point(e.Position))
	}
}

// MouseUp lets go of what was taken hold of.
func (b *Board) MouseUp(e *desktop.MouseEvent) {
	if e.Button != desktop.MouseButtonPrimary || !b.down {
		return
	}
	b.down = false
	if !b.dragged && !b.held {
		b.view.tap(kit.Point(e.Position))
	}
	b.view.release()
}

// Dragged moves what is held, or the paper.
func (b *Board) Dragged(e *fyne.DragEvent) {
	b.dragged = true
	b.desk.Frames.Given(e.AbsolutePosition)
	b.view.drag(kit.Point(e.Position), float64(e.Dragged.DX), float64(e.Dragged.DY))
}

// DragEnd lets go of what was taken hold of.
func (b *Board) DragEnd() {
	b.down = false
	b.view.release()
}

// MouseIn begins to tell what lies under the pointer.
func (b *Board) MouseIn(e *desktop.MouseEvent) { b.MouseMoved(e) }

// MouseMoved tells what lies under the pointer.
func (b *Board) MouseMoved(e *desktop.MouseEvent) {
	if b.desk.Grip != nil {
		return
	}
	if text := b.view.hover(kit.Point(e.Position)); text != "" {
		b.desk.Status(text)
	}
}

// MouseOut is here for Fyne's sake: the last status stays to be read.
func (b *Board) MouseOut() {}

// Scrolled zooms about the pointer.
func (b *Board) Scrolled(e *fyne.ScrollEvent) {
	b.view.wheel(kit.Point(e.Position), math.Pow(1.0015, float64(e.Scrolled.DY)*4))
}

// DoubleTapped shows the whole again.
func (b *Board) DoubleTapped(*fyne.PointEvent) { b.view.fit() }

// TappedSecondary opens the menu of what lies under the pointer.
func (b *Board) TappedSecondary(e *fyne.PointEvent) {
	b.showMenu(b.view.menu(kit.Point(e.Position)), e.AbsolutePosition)
}

// showMenu opens a menu, with what can be done with the board's pane.
func (b *Board) showMenu(m *fyne.Menu, at fyne.Position) {
	c := fyne.CurrentApp().Driver().CanvasForObject(b)
	if c == nil {
		return
	}
	if m == nil {
		m = fyne.NewMenu("")
	} else {
		m.Items = append(m.Items, fyne.NewMenuItemSeparator())
	}
	m.Items = append(m.Items, b.desk.PaneItems(b)...)
	widget.ShowPopUpMenuAtPosition(m, c, at)
}

func (b *Board) focus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(b); c != nil {
		c.Focus(b)
	}
}
