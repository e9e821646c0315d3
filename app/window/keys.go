package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// The arrow keys move the chosen handle so far, mm.
const (
	fineNudge   = 0.1
	coarseNudge = 1.0
)

// FocusGained is here for Fyne's sake.
func (b *board) FocusGained() { b.shift = false }

// FocusLost forgets the Shift key, whose release it will not be told of.
func (b *board) FocusLost() { b.shift = false }

// TypedRune is here for Fyne's sake.
func (b *board) TypedRune(rune) {}

// KeyDown notes whether Shift is held.
func (b *board) KeyDown(e *fyne.KeyEvent) {
	if e.Name == desktop.KeyShiftLeft || e.Name == desktop.KeyShiftRight {
		b.shift = true
	}
}

// KeyUp notes whether Shift is held.
func (b *board) KeyUp(e *fyne.KeyEvent) {
	if e.Name == desktop.KeyShiftLeft || e.Name == desktop.KeyShiftRight {
		b.shift = false
	}
}

// TypedKey nudges the chosen handle, goes from frame to frame, or puts back a
// drag.
func (b *board) TypedKey(e *fyne.KeyEvent) {
	by := fineNudge
	if b.shift {
		by = coarseNudge
	}
	switch e.Name {
	case fyne.KeyEscape:
		b.desk.putBack()
	case fyne.KeyUp:
		b.desk.nudge(-by)
	case fyne.KeyDown:
		b.desk.nudge(by)
	case fyne.KeyLeft:
		b.desk.step(-1)
	case fyne.KeyRight:
		b.desk.step(1)
	case fyne.KeyHome:
		b.view.fit()
	}
}
