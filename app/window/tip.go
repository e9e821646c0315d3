package window

import (
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// tipButton is a button that says in the status line what it does while the
// pointer is on it.
type tipButton struct {
	widget.Button
	tip  string
	tell func(string)
}

// button makes a button with its tip.
func (n *notices) button(name, tip string, f func()) *tipButton {
	b := &tipButton{tip: tip, tell: func(s string) { n.status(s) }}
	b.Text, b.OnTapped = name, f
	b.ExtendBaseWidget(b)
	return b
}

// MouseIn tells what the button does.
func (b *tipButton) MouseIn(e *desktop.MouseEvent) {
	b.Button.MouseIn(e)
	b.tell(b.tip)
}
