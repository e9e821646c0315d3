package kit

import (
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// TipButton is a button that says in the status line what it does while the
// pointer is on it.
type TipButton struct {
	widget.Button
	Tip  string
	tell func(string)
}

// Button makes a button with its tip.
func (n *Notices) Button(name, tip string, f func()) *TipButton {
	b := &TipButton{Tip: tip, tell: func(s string) { n.Status(s) }}
	b.Text, b.OnTapped = name, f
	b.ExtendBaseWidget(b)
	return b
}

// MouseIn tells what the button does.
func (b *TipButton) MouseIn(e *desktop.MouseEvent) {
	b.Button.MouseIn(e)
	b.tell(b.Tip)
}
