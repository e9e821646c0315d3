package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Question is a dialog with a button that does something and one that leaves it. Return
// presses the first from wherever the keys are, but on another button; Escape leaves.
type Question struct {
	*dialog.CustomDialog
	yes *Button
}

// Ask makes a question; do is what follows from its button called yes.
func (n *Notices) Ask(title, yes string, content fyne.CanvasObject, do func()) *Question {
	q := &Question{CustomDialog: n.NewDialog(title, content)}
	q.yes = NewButton(yes, func() {
		q.Hide()
		do()
	})
	q.yes.Importance = widget.HighImportance
	n.Explain(q.yes, tongue.T("%s (Return)", SentenceStart(yes)))
	q.SetButtons([]fyne.CanvasObject{n.Button(tongue.T("Cancel"), tongue.T("Leaves everything as it is (Escape)"), q.Hide), q.yes})
	return q
}

// Confirm does what the question is about, unless what was typed cannot be.
func (q *Question) Confirm() {
	if !q.yes.Disabled() {
		q.yes.OnTapped()
	}
}

// AskForm makes a question of several fields, as TippedField makes them: its button is grey while one of them
// refuses what is typed.
func (n *Notices) AskForm(title, yes string, items []*widget.FormItem, do func()) *Question {
	form := widget.NewForm(items...)
	q := n.Ask(title, yes, form, do)
	able := func(err error) { Able(err == nil, q.yes) }
	able(form.Validate())
	form.SetOnValidationChanged(able)
	for _, item := range items {
		if t, ok := item.Widget.(*FieldTip); ok {
			t.field.OnSubmitted = func(string) { q.Confirm() }
		}
	}
	return q
}

// Shown makes a dialog that only tells something.
func (n *Notices) Shown(title string, content fyne.CanvasObject) *dialog.CustomDialog {
	d := n.NewDialog(title, content)
	d.SetButtons([]fyne.CanvasObject{n.Button(tongue.T("Close"), tongue.T("Closes this (Escape)"), d.Hide)})
	return d
}

// NewDialog makes a dialog of some content, whose buttons are given to it.
func (n *Notices) NewDialog(title string, content fyne.CanvasObject) *dialog.CustomDialog {
	return dialog.NewCustomWithoutButtons(title, n.withTips(title, content), n.Win)
}
