package boards

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
func (b *Board) FocusGained() { b.shift = false }

// FocusLost forgets the Shift key, whose release it will not be told of.
func (b *Board) FocusLost() { b.shift = false }

// TypedRune is here for Fyne's sake.
func (b *Board) TypedRune(rune) {}

// KeyDown notes whether Shift is held.
func (b *Board) KeyDown(e *fyne.KeyEvent) {
	if e.Name == desktop.KeyShiftLeft || e.Name == desktop.KeyShiftRight {
		b.shift = true
	}
}

// KeyUp notes whether Shift is held.
func (b *Board) KeyUp(e *fyne.KeyEvent) {
	if e.Name == desktop.KeyShiftLeft || e.Name == desktop.KeyShiftRight {
		b.shift = false
	}
}

// TypedKey nudges the chosen handle, goes from frame to frame, or puts back a
// drag.
func (b *Board) TypedKey(e *fyne.KeyEvent) {
	if b.keyed(b, e.Name) {
		return
	}
	by := fineNudge
	if b.shift {
		by = coarseNudge
	}
	switch e.Name {
	case fyne.KeyEscape:
		b.desk.PutBack()
	case fyne.KeyUp:
		b.desk.Nudge(-by)
	case fyne.KeyDown:
		b.desk.Nudge(by)
	case fyne.KeyLeft:
		b.desk.Step(-1)
	case fyne.KeyRight:
		b.desk.Step(1)
	case fyne.KeyHome:
		b.view.fit()
	}
}
