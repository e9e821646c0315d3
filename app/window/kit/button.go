package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Button is a button that Return presses too where it has the keys, that Escape leaves
// with the dialog around it, and that may say what it does while the pointer is on it: in
// the status line, and beside the pointer when that rests.
type Button struct {
	widget.Button
	Tip  string
	in   *Notices      // that tell it; nil for none
	at   fyne.Position // of the pointer, in the window
	ring ring
}

// NewButton makes a button without a tip.
func NewButton(name string, f func()) *Button { return NewButtonWithIcon(name, nil, f) }

// NewButtonWithIcon makes a button with a sign before its name.
func NewButtonWithIcon(name string, icon fyne.Resource, f func()) *Button {
	b := &Button{}
	b.Text, b.Icon, b.OnTapped = name, icon, f
	b.ExtendBaseWidget(b)
	return b
}

// Button makes a button with its tip.
func (n *Notices) Button(name, tip string, f func()) *Button {
	b := NewButton(name, f)
	n.Explain(b, tip)
	return b
}

// Explain gives a button its tip.
func (n *Notices) Explain(b *Button, tip string) {
	b.Tip, b.in = tip, n
}

// CreateRenderer is called by Fyne.
func (b *Button) CreateRenderer() fyne.WidgetRenderer {
	return &ringed{b.Button.CreateRenderer(), &b.ring}
}

// FocusGained shows that the keys act here.
func (b *Button) FocusGained() {
	b.ring.gained(b)
	b.Button.FocusGained()
}

// FocusLost shows that they do not.
func (b *Button) FocusLost() {
	b.ring.lost()
	b.Button.FocusLost()
}

// MouseIn tells what the button does.
func (b *Button) MouseIn(e *desktop.MouseEvent) {
	b.Button.MouseIn(e)
	if b.in != nil && b.Tip != "" {
		b.in.Status(b.Tip)
		b.at = e.AbsolutePosition
		b.in.host().over(b.Tip, b.at)
	}
}

// MouseMoved has the tip go, and come when the pointer rests again.
func (b *Button) MouseMoved(e *desktop.MouseEvent) {
	b.Button.MouseMoved(e)
	if b.in != nil && b.Tip != "" && e.AbsolutePosition != b.at {
		b.at = e.AbsolutePosition
		b.in.host().over(b.Tip, b.at)
	}
}

// MouseOut has the tip go.
func (b *Button) MouseOut() {
	b.Button.MouseOut()
	b.leaveTip()
}

// MouseDown has the tip go.
func (b *Button) MouseDown(*desktop.MouseEvent) { b.leaveTip() }

// MouseUp is here for Fyne's sake.
func (b *Button) MouseUp(*desktop.MouseEvent) {}

func (b *Button) leaveTip() {
	if b.in != nil {
		b.in.host().leave()
	}
}

// TypedKey takes a key.
func (b *Button) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		b.Tapped(&fyne.PointEvent{})
	default:
		b.Button.TypedKey(e)
		HandOn(e, b)
	}
}
