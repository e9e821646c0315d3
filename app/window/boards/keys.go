package boards

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/settings"
)

// Keys are those that act on a drawing while it has the focus.
var Keys = []kit.KeyUse{
	{Keys: "Left, Right", Does: "the handle on the next frame"},
	{Keys: "Page Up, Page Down", Does: "the next band line or limit above or below"},
	{Keys: "Up, Down", Does: "moves the chosen handle by 0.1 mm, with Shift by 1 mm"},
	{Keys: "Return, Menu", Does: "the menu of what is chosen"},
	{Keys: "Home", Does: "shows the whole"},
	{Keys: "Escape", Does: "puts back what is being dragged"},
}

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
	if !b.down {
		b.desk.TellChosen()
	}
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
	case fyne.KeyPageUp:
		b.desk.StepLine(-1)
	case fyne.KeyPageDown:
		b.desk.StepLine(1)
	case fyne.KeyReturn, fyne.KeyEnter, desktop.KeyMenu:
		b.openMenu()
	default:
		kit.HandOn(e, b)
	}
}

// openMenu opens the menu of what is chosen, in the middle of the board.
func (b *Board) openMenu() {
	s := b.Size()
	b.showMenu(settings.BoardMenu(b.desk), fyne.CurrentApp().Driver().AbsolutePositionForObject(b).AddXY(s.Width/2, s.Height/2))
}
