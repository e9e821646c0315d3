package boards

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/settings"
	"github.com/strakewright/strakewright/assets/tongue"
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

// keys are what every board does by key.
func (b *Board) keys() kit.Keys {
	nudge := func(k fyne.KeyName) bool {
		by := fineNudge
		if b.shift {
			by = coarseNudge
		}
		if k == fyne.KeyUp {
			by = -by
		}
		b.desk.Nudge(by)
		return true
	}
	step := func(k fyne.KeyName) bool {
		by := 1
		if k == fyne.KeyLeft {
			by = -1
		}
		b.desk.Step(by)
		return true
	}
	line := func(k fyne.KeyName) bool {
		by := 1
		if k == fyne.KeyPageUp {
			by = -1
		}
		b.desk.StepLine(by)
		return true
	}
	return kit.Keys{
		{Names: []fyne.KeyName{fyne.KeyUp, fyne.KeyDown}, Does: tongue.T("moves the chosen handle by 0.1 mm, with Shift by 1 mm"), Press: nudge},
		{Names: []fyne.KeyName{fyne.KeyLeft, fyne.KeyRight}, Does: tongue.T("goes to the handle on the next frame"), Press: step},
		{Names: []fyne.KeyName{fyne.KeyPageUp, fyne.KeyPageDown}, Does: tongue.T("goes to the next band line or limit above or below"), Press: line},
		{Names: []fyne.KeyName{fyne.KeyReturn, fyne.KeyEnter, desktop.KeyMenu}, Does: tongue.T("opens the menu of what is chosen"), Press: func(fyne.KeyName) bool { b.openMenu(); return true }},
		{Names: []fyne.KeyName{fyne.KeyHome}, Does: tongue.T("shows the whole"), Press: func(fyne.KeyName) bool { b.view.fit(); return true }},
		{Names: []fyne.KeyName{fyne.KeyEscape}, Does: tongue.T("puts back the handle that is being dragged"), Press: func(fyne.KeyName) bool { b.desk.PutBack(); return true }},
	}
}

// Keys are the keys of the drawings.
func (w *Drawings) Keys() []kit.KeysOf {
	return []kit.KeysOf{
		{Of: tongue.T("On the drawings"), Keys: w.Long.keys()},
		{Of: tongue.T("On the lofted hull"), Keys: w.hull.keys()},
		{Of: tongue.T("On the lofted hull, while a strip is laid over the frames"), Keys: w.hull.strip.keys()},
	}
}

// TypedKey does what a key does here; what it has no use for may be the window's.
func (b *Board) TypedKey(e *fyne.KeyEvent) {
	if !b.keyed(b, e.Name) && !b.keys().Press(e.Name) {
		kit.HandOn(e, b)
	}
}

// openMenu opens the menu of what is chosen, in the middle of the board.
func (b *Board) openMenu() {
	s := b.Size()
	b.showMenu(settings.BoardMenu(b.desk), fyne.CurrentApp().Driver().AbsolutePositionForObject(b).AddXY(s.Width/2, s.Height/2))
}
