package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// NewTable is a table under headings, its columns so wide: rows gives what is in
// it, bold tells which row stands out, and chosen is told of a row that is clicked.
func NewTable(headings []string, widths []float32, rows func() [][]string, bold func(row int) bool, chosen func(row int)) *widget.Table {
	t := widget.NewTable(func() (int, int) { return len(rows()), len(headings) },
		func() fyne.CanvasObject { return widget.NewLabel("") },
		func(id widget.TableCellID, o fyne.CanvasObject) {
			l := o.(*widget.Label)
			l.Truncation = fyne.TextTruncateEllipsis
			if id.Row < len(rows()) {
				l.TextStyle.Bold = bold(id.Row)
				l.SetText(rows()[id.Row][id.Col])
			}
		})
	t.ShowHeaderRow = true
	t.CreateHeader = func() fyne.CanvasObject {
		return widget.NewLabelWithStyle("", fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
	}
	t.UpdateHeader = func(id widget.TableCellID, o fyne.CanvasObject) {
		if id.Col >= 0 {
			o.(*widget.Label).SetText(headings[id.Col])
		}
	}
	for i, w := range widths {
		t.SetColumnWidth(i, w)
	}
	t.OnSelected = func(id widget.TableCellID) {
		t.UnselectAll()
		if id.Row >= 0 && id.Row < len(rows()) {
			chosen(id.Row)
		}
	}
	return t
}
