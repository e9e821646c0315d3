package boards

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"github.com/strakewright/strakewright/app/draw"
)

// The arrow keys move the chosen handle so far, mm.
const (
	fineNudge   = 0.1
	coarseNudge = 1.0
)

// FocusGained shows that the keys act here.
func (b *Board) FocusGained() {
	b.shift = false
	b.inkRing()
	b.ring.Show()
}

// FocusLost forgets the keys held, whose release it will not be told of.
func (b *Board) FocusLost() {
	b.shift, b.desk.Round = false, false
	b.ring.Hide()
}

// inkRing gives the ring of the focus the colour that it has on this ground.
func (b *Board) inkRing() {
	if ink := color.Color(b.desk.Palette().Colour(draw.TaperInk)); b.ring.StrokeColor != ink {
		b.ring.StrokeColor = ink
		b.ring.Refresh()
	}
}

// TypedRune takes the keys of the views that the hull can be looked at from.
func (b *Board) TypedRune(r rune) { b.typed(r) }

// KeyDown notes whether Shift is held, and has a drag keep to round figures while Ctrl is.
func (b *Board) KeyDown(e *fyne.KeyEvent) { b.holds(e.Name, true) }

// KeyUp notes that they are let go.
func (b *Board) KeyUp(e *fyne.KeyEvent) { b.holds(e.Name, false) }

func (b *Board) holds(key fyne.KeyName, down bool) {
	switch key {
	case desktop.KeyShiftLeft, desktop.KeyShiftRight:
		b.shift = down
	case desktop.KeyControlLeft, desktop.KeyControlRight:
		b.desk.Round = down
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
	case fyne.KeyF11:
		if c := b.desk.Win.Canvas(); c.OnTypedKey() != nil {
			c.OnTypedKey()(e)
		}
	}
}
