package windowtest

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
)

// Keyboard types at a window as the toolkit's driver for screens does (v2.7.1,
// internal/driver/glfw, processKeyPressed): Tab goes on, what is held with a key makes it
// a shortcut of the menus, of what has the focus or of the window, and all other keys go
// to what has the focus or else to the window. The menu bar is that driver's own.
type Keyboard struct{ Win fyne.Window }

// Press types a key with what is held.
func (k Keyboard) Press(key fyne.KeyName, held ...fyne.KeyModifier) {
	var with fyne.KeyModifier
	for _, m := range held {
		with |= m
	}
	c := k.Win.Canvas()
	if key == fyne.KeyTab && with&^fyne.KeyModifierShift == 0 {
		if t, ok := c.Focused().(fyne.Tabbable); !ok || !t.AcceptsTab() {
			if with == 0 {
				c.FocusNext()
			} else {
				c.FocusPrevious()
			}
			return
		}
	}
	if with&^fyne.KeyModifierShift != 0 {
		k.shortcut(key, with)
		return
	}
	if f := c.Focused(); f != nil {
		f.TypedKey(&fyne.KeyEvent{Name: key})
	} else if c.OnTypedKey() != nil {
		c.OnTypedKey()(&fyne.KeyEvent{Name: key})
	}
}

// shortcut has the menus take a shortcut, or else what has the focus, or else the window.
func (k Keyboard) shortcut(key fyne.KeyName, with fyne.KeyModifier) {
	var s fyne.Shortcut = &desktop.CustomShortcut{KeyName: key, Modifier: with}
	switch {
	case with != fyne.KeyModifierShortcutDefault:
	case key == fyne.KeyZ:
		s = &fyne.ShortcutUndo{}
	case key == fyne.KeyY:
		s = &fyne.ShortcutRedo{}
	case key == fyne.KeyA:
		s = &fyne.ShortcutSelectAll{}
	}
	if menus := k.Win.MainMenu(); menus != nil {
		for _, m := range menus.Items {
			if taken(m, s) {
				return
			}
		}
	}
	if f, ok := k.Win.Canvas().Focused().(fyne.Shortcutable); ok {
		f.TypedShortcut(s)
		return
	}
	if c, ok := k.Win.Canvas().(fyne.Shortcutable); ok {
		c.TypedShortcut(s)
	}
}

// taken tells whether a menu has an item of a shortcut, and does it.
func taken(m *fyne.Menu, s fyne.Shortcut) bool {
	for _, it := range m.Items {
		if it.Shortcut != nil && it.Shortcut.ShortcutName() == s.ShortcutName() && it.Action != nil {
			it.Action()
			return true
		}
		if it.ChildMenu != nil && taken(it.ChildMenu, s) {
			return true
		}
	}
	return false
}

// Type types a text, in the place of what stands in the field that has the focus.
func (k Keyboard) Type(text string) {
	k.Press(fyne.KeyA, fyne.KeyModifierShortcutDefault)
	for _, r := range text {
		k.Win.Canvas().Focused().TypedRune(r)
	}
}

// Ringed tells whether an object shows a ring around itself, or one around a part of it.
func Ringed(o fyne.CanvasObject) bool {
	found := false
	Walk(o, func(o fyne.CanvasObject) {
		if r, ok := o.(*canvas.Rectangle); ok && r.Visible() && r.StrokeWidth >= 2 && sameColour(r.StrokeColor, theme.Color(theme.ColorNamePrimary)) {
			found = true
		}
	})
	return found
}

func sameColour(a, b color.Color) bool {
	return a != nil && color.NRGBAModel.Convert(a) == color.NRGBAModel.Convert(b)
}

// InSight tells whether an object lies within its window, whole or from its upper left
// corner on; the toolkit's driver for tests tells places some units off.
func InSight(w fyne.Window, o fyne.CanvasObject) bool {
	at, size := fyne.CurrentApp().Driver().AbsolutePositionForObject(o), w.Canvas().Size()
	return at.X >= -4 && at.Y >= -4 && at.X < size.Width && at.Y+fyne.Min(o.Size().Height, 20) <= size.Height
}
