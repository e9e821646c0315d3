package kit

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/assets/tongue"
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
	e := &cellEntry{field: NewField(), said: NewLabel(asks), at: fyne.CurrentApp().Driver().AbsolutePositionForObject(cell)}
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
	e.popUp = widget.NewPopUp(n.withTips(tongue.T(CellEntryTitle), container.NewVBox(e.field, e.said)), n.Win.Canvas())
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

// EnterLength opens a field over a cell, as EnterOver does, for a length of which so much
// stands there, mm, or nothing where that is not a number; what is asked for is a phrase.
// A length that was changed is given to a function in mm.
func (n *Notices) EnterLength(cell fyne.CanvasObject, u namedUnits, standing float64, first, asks string, take func(mm float64) error) {
	stands := ""
	if !math.IsNaN(standing) {
		stands = tongue.Figure(u.Number(standing))
	}
	n.EnterOver(cell, stands, first, tongue.T("%s (%s). Return enters it, Escape cancels.", asks, u.Name()), func(text string) error {
		if text == stands {
			return nil
		}
		v, err := ParseNumber(text)
		if err != nil {
			return err
		}
		return take(u.ToMM(v))
	})
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
