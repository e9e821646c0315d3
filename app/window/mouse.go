package window

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// MouseDown chooses, or takes hold of a handle.
func (b *board) MouseDown(e *desktop.MouseEvent) {
	b.focus()
	if e.Button == desktop.MouseButtonPrimary {
		b.down, b.dragged = true, false
		b.held = b.view.press(point(e.Position))
	}
}

// MouseUp lets go of what was taken hold of.
func (b *board) MouseUp(e *desktop.MouseEvent) {
	if e.Button != desktop.MouseButtonPrimary || !b.down {
		return
	}
	b.down = false
	if !b.dragged && !b.held {
		b.view.tap(point(e.Position))
	}
	b.view.release()
}

// Dragged moves what is held, or the paper.
func (b *board) Dragged(e *fyne.DragEvent) {
	b.dragged = true
	b.desk.frames.given(e.AbsolutePosition)
	b.view.drag(point(e.Position), float64(e.Dragged.DX), float64(e.Dragged.DY))
}

// DragEnd lets go of what was taken hold of.
func (b *board) DragEnd() {
	b.down = false
	b.view.release()
}

// MouseIn begins to tell what lies under the pointer.
func (b *board) MouseIn(e *desktop.MouseEvent) { b.MouseMoved(e) }

// MouseMoved tells what lies under the pointer.
func (b *board) MouseMoved(e *desktop.MouseEvent) {
	if b.desk.grip != nil {
		return
	}
	if text := b.view.hover(point(e.Position)); text != "" {
		b.desk.status(text)
	}
}

// MouseOut is here for Fyne's sake: the last status stays to be read.
func (b *board) MouseOut() {}

// Scrolled zooms about the pointer.
func (b *board) Scrolled(e *fyne.ScrollEvent) {
	b.view.wheel(point(e.Position), math.Pow(1.0015, float64(e.Scrolled.DY)*4))
}

// DoubleTapped shows the whole again.
func (b *board) DoubleTapped(*fyne.PointEvent) { b.view.fit() }

// TappedSecondary opens the menu of what lies under the pointer.
func (b *board) TappedSecondary(e *fyne.PointEvent) {
	m := b.view.menu(point(e.Position))
	c := fyne.CurrentApp().Driver().CanvasForObject(b)
	if m == nil || c == nil {
		return
	}
	widget.ShowPopUpMenuAtPosition(m, c, e.AbsolutePosition)
}

func (b *board) focus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(b); c != nil {
		c.Focus(b)
	}
}
