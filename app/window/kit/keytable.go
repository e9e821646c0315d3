package kit

import (
	"runtime"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Key is a key, or several, with what they do: the same table binds them and lists them.
type Key struct {
	Names []fyne.KeyName
	Runes string // characters, of which it lists the first where Shown is empty
	Shown string // how the list names them; empty for the names themselves
	Does  string
	Press func(fyne.KeyName) bool // does it; false where the key is for others now
	Type  func(rune)
}

// Keys are those of one part of the window.
type Keys []Key

// KeysOf are keys with the name of what has them.
type KeysOf struct {
	Of   string
	Keys Keys
}

// Press does what a key does, and tells whether it did anything.
func (k Keys) Press(name fyne.KeyName) bool {
	for _, key := range k {
		for _, n := range key.Names {
			if n == name && key.Press(name) {
				return true
			}
		}
	}
	return false
}

// Type does what a character does, and tells whether there is such a one.
func (k Keys) Type(r rune) bool {
	for _, key := range k {
		if strings.ContainsRune(key.Runes, r) {
			key.Type(r)
			return true
		}
	}
	return false
}

// List is a list of them in Markdown.
func (k Keys) List() string {
	var b strings.Builder
	for _, key := range k {
		b.WriteString(KeyLine(key.shown(), key.Does))
	}
	return b.String()
}

// KeyLine is the line of a list that tells of a key.
func KeyLine(shown, does string) string { return "- **" + shown + "**  " + does + "\n" }

func (k Key) shown() string {
	if k.Shown != "" {
		return k.Shown
	}
	var out []string
	for _, n := range k.Names {
		out = append(out, keyName(n))
	}
	if k.Runes != "" {
		out = append(out, strings.ToUpper(string([]rune(k.Runes)[:1])))
	}
	return strings.Join(out, ", ")
}

// keyName is what stands on a key.
func keyName(n fyne.KeyName) string {
	switch n {
	case fyne.KeyReturn:
		return tongue.In("key", "Return")
	case fyne.KeyEnter:
		return tongue.In("key", "Enter")
	case fyne.KeyBackspace:
		return tongue.In("key", "Backspace")
	case fyne.KeyDelete:
		return tongue.In("key", "Delete")
	case fyne.KeyEscape:
		return tongue.In("key", "Escape")
	case fyne.KeySpace:
		return tongue.In("key", "Space")
	case fyne.KeyHome:
		return tongue.In("key", "Home")
	case fyne.KeyEnd:
		return tongue.In("key", "End")
	case fyne.KeyPageUp:
		return tongue.In("key", "Page Up")
	case fyne.KeyPageDown:
		return tongue.In("key", "Page Down")
	case fyne.KeyUp:
		return tongue.In("key", "Up")
	case fyne.KeyDown:
		return tongue.In("key", "Down")
	case fyne.KeyLeft:
		return tongue.In("key", "Left")
	case fyne.KeyRight:
		return tongue.In("key", "Right")
	case desktop.KeyMenu:
		return tongue.In("key", "Menu")
	}
	return string(n)
}

// saidShortcut is a shortcut that menus show in the reader's language: the toolkit knows
// the names of keys in English alone. It tells shortcuts apart by ShortcutName, which is
// that of the keys themselves.
type saidShortcut struct{ *desktop.CustomShortcut }

// Key is the whole of what is shown.
func (s saidShortcut) Key() fyne.KeyName { return fyne.KeyName(ShortcutName(s.CustomShortcut)) }

// Mod is nothing, since Key shows it.
func (s saidShortcut) Mod() fyne.KeyModifier { return 0 }

// NewShortcut is a key of a menu's item, with what is held with it.
func NewShortcut(key fyne.KeyName, with fyne.KeyModifier) fyne.Shortcut {
	s := &desktop.CustomShortcut{KeyName: key, Modifier: with}
	if tongue.Language() == tongue.Languages()[0] || runtime.GOOS == "darwin" { // whose menus show signs
		return s
	}
	return saidShortcut{s}
}

// ShortcutOf gives the keys of a menu's item; nil for none.
func ShortcutOf(m *fyne.MenuItem) *desktop.CustomShortcut {
	switch s := m.Shortcut.(type) {
	case *desktop.CustomShortcut:
		return s
	case saidShortcut:
		return s.CustomShortcut
	}
	return nil
}

// ShortcutName is how keys pressed together are listed.
func ShortcutName(s *desktop.CustomShortcut) string {
	out := ""
	for _, m := range []struct {
		of   fyne.KeyModifier
		name string
	}{{fyne.KeyModifierControl, tongue.T("Ctrl+")}, {fyne.KeyModifierSuper, tongue.T("Super+")}, {fyne.KeyModifierAlt, tongue.T("Alt+")}, {fyne.KeyModifierShift, tongue.T("Shift+")}} {
		if s.Modifier&m.of != 0 {
			out += m.name
		}
	}
	return out + keyName(s.KeyName)
}
