package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// DialogKey has a key act on the dialog on top: Escape leaves it, Return presses
// the button that stands out in it, or its only one. It tells whether there is a
// dialog, in which case the key is for nothing else. While long work shows its
// progress, neither key ends that.
func (b *Background) DialogKey(e *fyne.KeyEvent) bool {
	top, ok := b.Win.Canvas().Overlays().Top().(*widget.PopUp)
	if !ok || b.Working {
		return ok
	}
	switch e.Name {
	case fyne.KeyEscape:
		top.Hide()
	case fyne.KeyReturn, fyne.KeyEnter:
		if main := mainButton(top.Content); main != nil {
			main.Tapped(&fyne.PointEvent{})
		}
	}
	return true
}

// mainButton is the button of a dialog that stands out, or else its only one; nil
// where there are several.
func mainButton(o fyne.CanvasObject) *widget.Button {
	var all, high []*widget.Button
	for _, b := range buttonsIn(o) {
		all = append(all, b)
		if b.Importance == widget.HighImportance {
			high = append(high, b)
		}
	}
	switch {
	case len(high) == 1:
		return high[0]
	case len(high) == 0 && len(all) == 1:
		return all[0]
	}
	return nil
}

// buttonsIn gives the buttons in sight, but none of what scrolls.
func buttonsIn(o fyne.CanvasObject) (out []*widget.Button) {
	if !o.Visible() {
		return nil
	}
	switch o := o.(type) {
	case *widget.Button:
		out = append(out, o)
	case *Button:
		out = append(out, &o.Button)
	case *fyne.Container:
		for _, c := range o.Objects {
			out = append(out, buttonsIn(c)...)
		}
	}
	return out
}

// HandOn hands the keys that a widget has no use for to its window: Escape, so that it
// leaves the dialog around it, and the function keys.
func HandOn(e *fyne.KeyEvent, widget fyne.CanvasObject) {
	if !forWindow(e.Name) {
		return
	}
	c := fyne.CurrentApp().Driver().CanvasForObject(widget)
	if c != nil && c.OnTypedKey() != nil {
		c.OnTypedKey()(e)
	}
}

// forWindow tells whether a key is for the window wherever the focus is.
func forWindow(key fyne.KeyName) bool {
	return key == fyne.KeyEscape || len(key) > 1 && key[0] == 'F' && key[1] >= '1' && key[1] <= '9'
}

// Field is an entry that Escape leaves with the dialog around it.
type Field struct {
	widget.Entry
	ring ring
}

// NewField makes an empty one.
func NewField() *Field {
	f := &Field{}
	f.ExtendBaseWidget(f)
	return f
}

// TypedKey takes a key.
func (f *Field) TypedKey(e *fyne.KeyEvent) {
	f.Entry.TypedKey(e)
	HandOn(e, f)
}

// CreateRenderer is called by Fyne.
func (f *Field) CreateRenderer() fyne.WidgetRenderer {
	f.ExtendBaseWidget(f)
	return &ringed{f.Entry.CreateRenderer(), &f.ring}
}

// FocusGained shows that the keys act here.
func (f *Field) FocusGained() {
	f.ring.gained(f)
	f.Entry.FocusGained()
}

// FocusLost shows that they do not.
func (f *Field) FocusLost() {
	f.ring.lost()
	f.Entry.FocusLost()
}

// FieldOfChoice is an entry with a list to choose from, that Escape leaves with
// the dialog around it.
type FieldOfChoice struct {
	widget.SelectEntry
	ring ring
}

// NewFieldOfChoice makes an empty one.
func NewFieldOfChoice() *FieldOfChoice {
	f := &FieldOfChoice{}
	f.ExtendBaseWidget(f)
	f.Wrapping = fyne.TextWrap(fyne.TextTruncateClip)
	return f
}

// TypedKey takes a key.
func (f *FieldOfChoice) TypedKey(e *fyne.KeyEvent) {
	f.SelectEntry.TypedKey(e)
	HandOn(e, f)
}

// CreateRenderer is called by Fyne.
func (f *FieldOfChoice) CreateRenderer() fyne.WidgetRenderer {
	f.ExtendBaseWidget(f)
	return &ringed{f.SelectEntry.CreateRenderer(), &f.ring}
}

// FocusGained shows that the keys act here.
func (f *FieldOfChoice) FocusGained() {
	f.ring.gained(f)
	f.SelectEntry.FocusGained()
}

// FocusLost shows that they do not.
func (f *FieldOfChoice) FocusLost() {
	f.ring.lost()
	f.SelectEntry.FocusLost()
}
