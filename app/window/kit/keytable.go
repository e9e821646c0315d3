package kit

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
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
		return "Return"
	case fyne.KeyEnter:
		return "Enter"
	case fyne.KeyBackspace:
		return "Backspace"
	}
	return string(n)
}

// ShortcutName is how keys pressed together are listed.
func ShortcutName(s *desktop.CustomShortcut) string {
	out := ""
	for _, m := range []struct {
		of   fyne.KeyModifier
		name string
	}{{fyne.KeyModifierControl, "Ctrl+"}, {fyne.KeyModifierSuper, "Super+"}, {fyne.KeyModifierAlt, "Alt+"}, {fyne.KeyModifierShift, "Shift+"}} {
		if s.Modifier&m.of != 0 {
			out += m.name
		}
	}
	return out + keyName(s.KeyName)
}
