package kit

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// Step is −1 while Shift is held, else 1.
func Step() int {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok && d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0 {
		return -1
	}
	return 1
}

// stepFocus gives the keys to what stands first in the next of some panes, or, of −1, in
// the one before; from none of them to the first. It does nothing while a dialog is shown.
func stepFocus(c fyne.Canvas, by int, panes ...fyne.CanvasObject) {
	if c.Overlays().Top() != nil {
		return
	}
	focused, _ := c.Focused().(fyne.CanvasObject)
	at := slices.IndexFunc(panes, func(o fyne.CanvasObject) bool { return focused != nil && Path(o, focused) != nil })
	if at < 0 && by < 0 {
		at = 0
	}
	FocusWithin(c, panes[(at+by+len(panes))%len(panes)])
}

// OpenMenuBar opens the first menu of a window, which Alt does as well. Where the system
// has a menu bar of its own for programs, its own keys open that.
func OpenMenuBar(c fyne.Canvas) {
	if m, ok := c.(interface{ ToggleMenu() }); ok {
		m.ToggleMenu()
	}
}

// KeyAnywhere does what a key does in a window beside the main one wherever its focus is:
// F1 for help, F6 for its next pane, F10 for its menu. It tells whether the key is one of
// these.
func KeyAnywhere(key fyne.KeyName, c fyne.Canvas, help func(), panes ...fyne.CanvasObject) bool {
	switch key {
	case fyne.KeyF1:
		help()
	case fyne.KeyF6:
		stepFocus(c, Step(), panes...)
	case fyne.KeyF10:
		OpenMenuBar(c)
	default:
		return false
	}
	return true
}
