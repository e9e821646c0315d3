package kit

import (
	"slices"

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

// leaveBy hands the keys that a field or button has no use for to the window: Escape,
// so that it leaves the dialog around it, and those of the menus.
func leaveBy(e *fyne.KeyEvent, field fyne.CanvasObject) {
	HandOn(e, fyne.CurrentApp().Driver().CanvasForObject(field), fyne.KeyEscape)
}

// HandOn hands a key to a window, which has no use for it where the focus is: F1 and F11,
// and some more.
func HandOn(e *fyne.KeyEvent, c fyne.Canvas, more ...fyne.KeyName) {
	if c != nil && c.OnTypedKey() != nil && slices.Contains(append(more, fyne.KeyF1, fyne.KeyF11), e.Name) {
		c.OnTypedKey()(e)
	}
}

// Field is an entry that Escape leaves with the dialog around it.
type Field struct{ widget.Entry }

// NewField makes an empty one.
func NewField() *Field {
	f := &Field{}
	f.ExtendBaseWidget(f)
	return f
}

// TypedKey takes a key.
func (f *Field) TypedKey(e *fyne.KeyEvent) {
	f.Entry.TypedKey(e)
	leaveBy(e, f)
}

// FieldOfChoice is an entry with a list to choose from, that Escape leaves with
// the dialog around it.
type FieldOfChoice struct{ widget.SelectEntry }

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
	leaveBy(e, f)
}
