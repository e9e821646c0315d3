package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// CellEntryTitle is the title of what a figure is typed in over a cell of a table.
const CellEntryTitle = "Enter a figure"

// Of the field over a cell: how wide it is at least, and what is said under it.
const cellFieldWidth, cellSaidWidth = 96, 300

// cellEntry is a field over a cell. Return has what is typed taken, and Escape or a press
// elsewhere leaves it.
type cellEntry struct {
	field *Field
	said  *widget.Label // what is asked for, or what is wrong with what was typed
	popUp *widget.PopUp
	at    fyne.Position
	wide  float32
}

// EnterOver opens a field over a cell, with what stands there or, where that is not empty,
// what was typed first; asks says what is asked for. What is typed is taken by a function:
// while that gives an error the field stays, and the error stands under it.
func (n *Notices) EnterOver(cell fyne.CanvasObject, stands, first, asks string, take func(text string) error) {
	e := &cellEntry{field: NewField(), said: widget.NewLabel(asks), at: fyne.CurrentApp().Driver().AbsolutePositionForObject(cell)}
	e.said.Wrapping = fyne.TextWrapWord
	e.wide = max(cell.Size().Width, cellFieldWidth)
	e.field.SetText(stands)
	e.field.OnSubmitted = func(text string) {
		if err := take(text); err != nil {
			e.wrong(Sentence(err))
			return
		}
		e.popUp.Hide()
	}
	e.popUp = widget.NewPopUp(n.withTips(CellEntryTitle, container.NewVBox(e.field, e.said)), n.Win.Canvas())
	e.show()
	n.Win.Canvas().Focus(e.field)
	if first != "" {
		e.field.SetText(first)
		e.field.CursorColumn = len([]rune(first))
		e.field.Refresh()
		return
	}
	e.field.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// show puts the field over its cell, with what is said under it.
func (e *cellEntry) show() {
	e.said.Resize(fyne.NewSize(max(e.wide, cellSaidWidth), e.said.MinSize().Height))
	e.popUp.Resize(fyne.NewSize(max(e.wide, cellSaidWidth), e.popUp.MinSize().Height))
	e.popUp.ShowAtPosition(e.at)
	e.popUp.Resize(fyne.NewSize(max(e.wide, cellSaidWidth), e.popUp.MinSize().Height)) // its lines are broken by now
}

// wrong says what is wrong with what was typed, which stays.
func (e *cellEntry) wrong(text string) {
	e.said.Importance = widget.DangerImportance
	e.said.SetText("! " + text)
	e.show()
	e.field.TypedShortcut(&fyne.ShortcutSelectAll{})
}
