package stock

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// figureTable is a table of text whose headings show how their figures are
// reckoned. A chosen row is marked with a sign and bold.
type figureTable struct {
	desk   *desk.Desk
	table  *kit.Table
	heads  []string
	keys   []string      // of the figures; empty where there is nothing to reckon
	shown  *kit.MenuOver // the table with its menu
	rows   [][]string
	chosen int
	pick   func(row int) // nil where no row can be chosen

	sorted  int  // the column that the rows stand in order of; −1 as they were given
	falling bool // the greatest first
	order   []int
	cells   map[fyne.CanvasObject]widget.TableCellID // what each was filled for last
}

func newFigureTable(d *desk.Desk, heads, keys []string, pick func(int)) *figureTable {
	f := &figureTable{desk: d, heads: heads, keys: keys, chosen: -1, pick: pick, sorted: -1, cells: map[fyne.CanvasObject]widget.TableCellID{}}
	f.table = kit.NewCellTable(func() (int, int) { return len(f.rows), len(f.heads) }, func() fyne.CanvasObject {
		return widget.NewLabelWithStyle("0.00", fyne.TextAlignCenter, fyne.TextStyle{Monospace: true})
	}, f.cell)
	f.table.ShowHeaderRow = true
	f.table.CreateHeader = func() fyne.CanvasObject {
		b := d.Button("", tongue.T("Sorts the rows by this; a question mark shows how it is reckoned"), nil)
		b.Importance = widget.LowImportance
		return container.NewStack(b)
	}
	f.table.UpdateHeader = f.header
	f.table.OnSelected = func(id widget.TableCellID) {
		f.table.UnselectAll()
		if f.pick != nil && id.Row >= 0 && id.Row < len(f.rows) {
			f.chosen = f.order[id.Row]
			f.pick(f.chosen)
			f.table.Refresh()
		}
	}
	f.widths()
	f.shown = kit.NewMenuOver(f.table, f.menuAt)
	return f
}

// at is which of its rows stands in a row of the table; −1 for none.
func (f *figureTable) at(row int) int {
	if row >= 0 && row < len(f.order) {
		return f.order[row]
	}
	return -1
}

// longCell is how many letters are too many to be read in the middle.
const longCell = 30

func (f *figureTable) cell(id widget.TableCellID, o fyne.CanvasObject) {
	l := o.(*widget.Label)
	f.cells[o] = id
	text, row := "", f.at(id.Row)
	if row >= 0 && id.Col < len(f.rows[row]) {
		text = f.rows[row][id.Col]
	}
	bold := f.pick != nil && row >= 0 && row == f.chosen
	if bold && id.Col == 0 {
		text = "▸ " + text
	}
	align := fyne.TextAlignCenter
	if len(text) > longCell {
		align = fyne.TextAlignLeading
	}
	if l.TextStyle.Bold != bold || l.Alignment != align {
		l.TextStyle.Bold, l.Alignment = bold, align
		l.Refresh()
	}
	kit.SetText(l, text)
}

func (f *figureTable) header(id widget.TableCellID, o fyne.CanvasObject) {
	f.cells[o] = id
	b := o.(*fyne.Container).Objects[0].(*kit.Button)
	if id.Col < 0 || id.Col >= len(f.heads) {
		return
	}
	key := f.keys[id.Col]
	b.OnTapped = func() { formula(f.desk, key) }
	b.SetText(f.head(id.Col))
}

// head is a heading; a question mark tells that it shows a formula, an arrow that the
// rows stand in order of it.
func (f *figureTable) head(col int) string {
	text := f.heads[col]
	if f.keys[col] != "" {
		text += " ?"
	}
	switch {
	case f.sorted != col:
		return text
	case f.falling:
		return text + " ▾"
	}
	return text + " ▴"
}

// set shows other rows.
func (f *figureTable) set(rows [][]string) {
	if slices.EqualFunc(rows, f.rows, slices.Equal[[]string]) {
		return
	}
	f.rows = rows
	if f.chosen >= len(rows) {
		f.chosen = -1
	}
	f.arrange()
}

// arrange puts the rows in order.
func (f *figureTable) arrange() {
	f.order = orderOf(f.rows, f.sorted, f.falling)
	f.widths()
	f.table.Refresh()
}

// widths makes every column as wide as its widest text.
func (f *figureTable) widths() {
	size := theme.TextSize()
	for col := range f.heads {
		w := fyne.MeasureText(f.head(col), size, fyne.TextStyle{Bold: true}).Width + 14
		for _, r := range f.rows {
			text := r[col]
			if col == 0 && f.pick != nil {
				text = "▸ " + text
			}
			w = fyne.Max(w, fyne.MeasureText(text, size, fyne.TextStyle{Monospace: true, Bold: true}).Width+14)
		}
		f.table.SetColumnWidth(col, w)
	}
}
