package stock

import (
	"cmp"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// orderOf gives the order of rows by what a column begins with: by its number, or as
// text where it begins with none; texts come last. Rows that are alike stay as they
// are, and so do all for the column −1.
func orderOf(rows [][]string, col int, falling bool) []int {
	order := make([]int, len(rows))
	for i := range order {
		order[i] = i
	}
	if col < 0 {
		return order
	}
	slices.SortStableFunc(order, func(i, j int) int {
		a, aIs := leading(rows[i][col])
		b, bIs := leading(rows[j][col])
		switch {
		case aIs != bIs && aIs:
			return -1
		case aIs != bIs:
			return 1
		}
		by := cmp.Compare(a, b)
		if by == 0 {
			by = cmp.Compare(rows[i][col], rows[j][col])
		}
		if falling {
			by = -by
		}
		return by
	})
	return order
}

// leading is the number that a text begins with; ok is false where it begins with none.
func leading(text string) (v float64, ok bool) {
	first, _, _ := strings.Cut(strings.TrimSpace(text), " ")
	v, err := kit.ParseNumber(first)
	return v, err == nil
}

// menuAt is the menu of the cell under the mouse.
func (f *figureTable) menuAt(at fyne.Position) *fyne.Menu {
	copyAll := fyne.NewMenuItem(tongue.T("Copy the table"), func() { f.copy(f.order) })
	copyAll.Disabled = len(f.rows) == 0
	items := []*fyne.MenuItem{copyAll}
	id, ok := kit.CellAt(f.cells, at)
	if !ok {
		return fyne.NewMenu("", items...)
	}
	if id.Row >= 0 && id.Row < len(f.order) {
		items = append([]*fyne.MenuItem{fyne.NewMenuItem(tongue.T("Copy this row"), func() { f.copy(f.order[id.Row : id.Row+1]) })}, items...)
	}
	items = append(items, fyne.NewMenuItemSeparator())
	return fyne.NewMenu("", append(items, f.sortItems(id)...)...)
}

// sortItems offer to put the rows in order of a column.
func (f *figureTable) sortItems(id widget.TableCellID) []*fyne.MenuItem {
	if id.Col < 0 || id.Col >= len(f.heads) {
		return nil
	}
	item := func(name string, col int, falling bool) *fyne.MenuItem {
		it := fyne.NewMenuItem(name, func() {
			f.sorted, f.falling = col, falling
			f.arrange()
		})
		it.Checked = f.sorted == col && (col < 0 || f.falling == falling)
		return it
	}
	return []*fyne.MenuItem{
		item(tongue.T("Sort by “%s”, least first", f.heads[id.Col]), id.Col, false),
		item(tongue.T("Sort by “%s”, greatest first", f.heads[id.Col]), id.Col, true),
		item(tongue.T("Do not sort"), -1, false),
	}
}

// copy puts rows under their heads on the clipboard, with a tab between cells.
func (f *figureTable) copy(rows []int) {
	lines := []string{strings.Join(f.heads, "\t")}
	for _, row := range rows {
		lines = append(lines, strings.Join(f.rows[row], "\t"))
	}
	f.desk.App.Clipboard().SetContent(strings.Join(lines, "\n") + "\n")
	f.desk.Status(tongue.T("Copied with the headings: %d of %d rows.", len(rows), len(f.rows)))
}
