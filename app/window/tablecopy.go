package window

import (
	"strings"

	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/settings"
	"github.com/strakewright/strakewright/assets/tongue"
)

// line is a row of the table, as it is sorted, as text with a tab between cells, as spreadsheets take it
// from the clipboard; −1 is the row of heads.
func (t *strakeTable) line(row int) string {
	_, cols := t.size()
	cells := make([]string, 0, cols+1)
	for col := -1; col < cols; col++ {
		text := t.columnName(col)
		if row >= 0 {
			s := t.desk.Layer().Strakes[t.strakeAt(row)]
			if text = rowName(s); col >= 0 {
				frame, tells := t.columnOf(col)
				text, _ = t.told(s, frame, tells)
			}
		}
		cells = append(cells, strings.TrimSpace(text))
	}
	return strings.Join(cells, "\t")
}

// copyRows puts rows of the table, under its heads, on the clipboard.
func (t *strakeTable) copyRows(rows ...int) {
	lines := []string{t.line(-1)}
	for _, row := range rows {
		lines = append(lines, t.line(row))
	}
	t.desk.App.Clipboard().SetContent(strings.Join(lines, "\n") + "\n")
	t.desk.Status(tongue.Count(len(rows), "Copied, with the headings: %d row of “%s”.", "Copied, with the headings: %d rows of “%s”.", len(rows), t.pick.Selected))
}

// copyAll copies the whole table.
func (t *strakeTable) copyAll() {
	var rows []int
	for k := range t.desk.Layer().Strakes {
		rows = append(rows, k)
	}
	t.copyRows(rows...)
}

// copyChosen copies the chosen strake's row, or says that none is chosen.
func (t *strakeTable) copyChosen() {
	if k := t.desk.Choice.Strake; k >= 0 {
		t.copyRows(t.rowOf(k))
		return
	}
	t.desk.Status(tongue.T("Choose a strake first: its row is copied then."))
}

// menuAt is the menu of the cell under the mouse, whose strake and frame are chosen.
func (t *strakeTable) menuAt(at fyne.Position) *fyne.Menu {
	items := []*fyne.MenuItem{fyne.NewMenuItem(tongue.T("Copy the table"), t.copyAll), within(tongue.T("Sort the strakes by"), t.sortItems()...)}
	id, ok := kit.CellAt(t.filled, at)
	if !ok {
		id, ok = kit.CellAt(t.heads, at)
	}
	if ok && id.Row >= 0 && id.Row < len(t.desk.Layer().Strakes) {
		t.selected(id)
		items = append([]*fyne.MenuItem{fyne.NewMenuItem(tongue.T("Enter a figure…"), func() { t.table.TypedKey(&fyne.KeyEvent{Name: fyne.KeyF2}) }), fyne.NewMenuItem(tongue.T("Copy this row"), t.copyChosen)}, items...)
		items = append(items, fyne.NewMenuItemSeparator())
		items = append(items, settings.BoardMenu(t.desk).Items...)
	}
	return fyne.NewMenu("", items...)
}
