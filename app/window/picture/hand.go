package picture

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"

	"github.com/strakewright/strakewright/app/trace"
)

// How far, in the board's own units, a click reaches.
const (
	SnapReach  = 9.0 // for a line to be drawn to
	PointReach = 8.0 // for a point to take hold of
)

// Hand is what a board does under mouse and keys. What is dragged and not held
// moves the picture.
type Hand interface {
	Grasp(at fyne.Position) bool          // takes hold of a point there; false for none
	Drag(to fyne.Position, free bool)     // moves what is held; free leaves the snap out
	Drop(at fyne.Position, free bool)     // lets go of what was dragged
	Click(e *desktop.MouseEvent, p Press) // was pressed and let go of without a drag
	Pointed(at fyne.Position)             // the pointer is there, and nothing is dragged
}

// Press is a button held down on a board.
type Press struct {
	Button   desktop.MouseButton
	Free     bool // without the snap
	Held     bool // it took hold of a point
	Dragged  bool
	at, last fyne.Position // where it went down, and was last
}

// Pressed is the button held down on the board; nil for none.
func (b *View) Pressed() *Press { return b.press }

// Forget forgets the button held down, and tells whether there was one.
func (b *View) Forget() bool {
	if b.press == nil {
		return false
	}
	b.press = nil
	b.Changed()
	return true
}

// Cursor is a cross.
func (b *View) Cursor() desktop.Cursor { return desktop.CrosshairCursor }

// MouseDown takes hold of a point, or of the picture.
func (b *View) MouseDown(e *desktop.MouseEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(b.host); c != nil {
		c.Focus(b.host)
	}
	b.press = &Press{Button: e.Button, at: e.Position, last: e.Position, Free: b.Shift || e.Modifier&fyne.KeyModifierShift != 0}
	b.press.Held = e.Button == desktop.MouseButtonPrimary && !b.space && b.host.Grasp(e.Position)
}

// Dragged moves what is held: a point, or the picture.
func (b *View) Dragged(e *fyne.DragEvent) { b.draggedTo(e.Position) }

func (b *View) draggedTo(p fyne.Position) {
	h := b.press
	if h == nil || !h.Dragged && math.Hypot(float64(p.X-h.at.X), float64(p.Y-h.at.Y)) < stillClick {
		return
	}
	h.Dragged = true
	b.crosshair(p, true)
	if h.Held {
		b.host.Drag(p, h.Free)
	} else {
		b.pan(float64(p.X-h.last.X), float64(p.Y-h.last.Y))
	}
	h.last = p
}

// DragEnd is here for Fyne's sake: the button tells when it comes up.
func (b *View) DragEnd() { b.letGo() }

// MouseUp lets go of what is held; without a drag it was a click.
func (b *View) MouseUp(e *desktop.MouseEvent) {
	h := b.press
	if h == nil || e.Button != h.Button {
		return
	}
	if h.Dragged {
		b.letGo()
		return
	}
	b.press = nil
	if h.Button == desktop.MouseButtonSecondary || h.Button == desktop.MouseButtonPrimary && !b.space {
		b.host.Click(e, *h)
	}
}

func (b *View) letGo() {
	h := b.press
	b.press = nil
	if h != nil && h.Dragged && h.Held {
		b.host.Drop(h.last, h.Free)
	}
}

// MouseIn begins to follow the pointer.
func (b *View) MouseIn(e *desktop.MouseEvent) { b.MouseMoved(e) }

// MouseMoved follows the pointer; Fyne tells of a drag with the right button by it
// as well.
func (b *View) MouseMoved(e *desktop.MouseEvent) {
	b.crosshair(e.Position, true)
	if h := b.press; h != nil && h.Button == desktop.MouseButtonSecondary && e.Button&desktop.MouseButtonSecondary != 0 {
		b.draggedTo(e.Position)
		return
	}
	b.host.Pointed(e.Position)
	b.Changed() // the place a click would be drawn to follows, and the magnifier
}

// MouseOut puts the crosshair away.
func (b *View) MouseOut() {
	b.crosshair(b.Hover, false)
	b.Changed()
}

// Scrolled zooms about the pointer.
func (b *View) Scrolled(e *fyne.ScrollEvent) {
	b.zoomBy(e.Position, math.Pow(1.0015, float64(e.Scrolled.DY)*4))
}

// FocusGained shows that the keys act here, and forgets keys whose release the board was
// not told.
func (b *View) FocusGained() {
	b.Shift, b.space = false, false
	b.ring.StrokeColor = theme.Color(theme.ColorNamePrimary)
	b.ring.Show()
	b.ring.Refresh()
}

// FocusLost shows that they do not, and forgets the keys held.
func (b *View) FocusLost() {
	b.Shift, b.space = false, false
	b.ring.Hide()
}

// KeyDown notes whether Shift or the space bar is held.
func (b *View) KeyDown(e *fyne.KeyEvent) { b.key(e.Name, true) }

// KeyUp notes whether they are let go of.
func (b *View) KeyUp(e *fyne.KeyEvent) { b.key(e.Name, false) }

func (b *View) key(k fyne.KeyName, down bool) {
	switch k {
	case desktop.KeyShiftLeft, desktop.KeyShiftRight:
		b.Shift = down
		b.Changed()
	case fyne.KeySpace:
		b.space = down
	}
}

// Arrow is by how many pixels of the picture an arrow key moves a point; false for
// any other key.
func Arrow(k fyne.KeyName) (dx, dy float64, ok bool) {
	switch k {
	case fyne.KeyLeft:
		return -1, 0, true
	case fyne.KeyRight:
		return 1, 0, true
	case fyne.KeyUp:
		return 0, -1, true
	case fyne.KeyDown:
		return 0, 1, true
	}
	return 0, 0, false
}

// Near tells how far, in board units, a place of the picture lies from one of the
// board, where that is within PointReach.
func (b *View) Near(p fyne.Position, at trace.Point) (away float64, ok bool) {
	q := b.On(at)
	away = math.Hypot(q.X-float64(p.X), q.Y-float64(p.Y))
	return away, away <= PointReach
}

// Point puts the crosshair on a place of the picture.
func (b *View) Point(at trace.Point) {
	q := b.On(at)
	b.crosshair(fyne.NewPos(float32(q.X), float32(q.Y)), true)
}
