package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Select is a list to choose one of: Space, Up and Down open it, Left and Right go
// through it, and Escape leaves it with the dialog around it.
type Select struct {
	widget.Select
	ring ring
}

// NewSelect makes one; f is told of what is chosen.
func NewSelect(options []string, f func(string)) *Select {
	s := &Select{}
	s.Options, s.OnChanged = options, f
	s.ExtendBaseWidget(s)
	return s
}

// CreateRenderer is called by Fyne.
func (s *Select) CreateRenderer() fyne.WidgetRenderer {
	s.ExtendBaseWidget(s)
	return &ringed{s.Select.CreateRenderer(), &s.ring}
}

// FocusGained shows that the keys act here.
func (s *Select) FocusGained() {
	s.ring.gained(s)
	s.Select.FocusGained()
}

// FocusLost shows that they do not.
func (s *Select) FocusLost() {
	s.ring.lost()
	s.Select.FocusLost()
}

// TypedKey takes a key.
func (s *Select) TypedKey(e *fyne.KeyEvent) {
	s.Select.TypedKey(e)
	HandOn(e, s)
}

// Check is a mark that is set or not: Space or Return changes it, and Escape leaves it
// with the dialog around it.
type Check struct {
	widget.Check
	ring ring
}

// NewCheck makes one that is not set; f is told of its changes.
func NewCheck(name string, f func(bool)) *Check {
	c := &Check{}
	c.Text, c.OnChanged = name, f
	c.ExtendBaseWidget(c)
	return c
}

// CreateRenderer is called by Fyne.
func (c *Check) CreateRenderer() fyne.WidgetRenderer {
	c.ExtendBaseWidget(c)
	return &ringed{c.Check.CreateRenderer(), &c.ring}
}

// FocusGained shows that the keys act here.
func (c *Check) FocusGained() {
	if !c.Disabled() {
		c.ring.gained(c)
	}
	c.Check.FocusGained()
}

// FocusLost shows that they do not.
func (c *Check) FocusLost() {
	c.ring.lost()
	c.Check.FocusLost()
}

// TypedKey takes a key. Space comes as a character.
func (c *Check) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		c.TypedRune(' ')
	default:
		HandOn(e, c)
	}
}
