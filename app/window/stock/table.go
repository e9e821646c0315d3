package stock

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
)

// figureTable is a table of text whose headings show how their figures are
// reckoned. A chosen row is marked with a sign and bold.
type figureTable struct {
	desk   *desk.Desk
	table  *widget.Table
	heads  []string
	keys   []string // of the figures; empty where there is nothing to reckon
	rows   [][]string
	chosen int
	pick   func(row int) // nil where no row can be chosen
}

func newFigureTable(d *desk.Desk, heads, keys []string, pick func(int)) *figureTable {
	f := &figureTable{desk: d, heads: heads, keys: keys, chosen: -1, pick: pick}
	f.table = widget.NewTable(func() (int, int) { return len(f.rows), len(f.heads) }, func() fyne.CanvasObject {
		return widget.NewLabelWithStyle("0.00", fyne.TextAlignCenter, fyne.TextStyle{Monospace: true})
	}, f.cell)
	f.table.ShowHeaderRow = true
	f.table.CreateHeader = func() fyne.CanvasObject {
		b := kit.NewButton("", nil)
		b.Importance = widget.LowImportance
		return container.NewStack(b)
	}
	f.table.UpdateHeader = f.header
	f.table.OnSelected = func(id widget.TableCellID) {
		f.table.UnselectAll()
		if f.pick != nil && id.Row >= 0 && id.Row < len(f.rows) {
			f.chosen = id.Row
			f.pick(id.Row)
			f.table.Refresh()
		}
	}
	f.widths()
	return f
}

// longCell is how many letters are too many to be read in the middle.
const longCell = 30

func (f *figureTable) cell(id widget.TableCellID, o fyne.CanvasObject) {
	l := o.(*widget.Label)
	text := ""
	if id.Row < len(f.rows) && id.Col < len(f.rows[id.Row]) {
		text = f.rows[id.Row][id.Col]
	}
	bold := f.pick != nil && id.Row == f.chosen
	if bold && id.Col == 0 {
		text = "▸ " + text
	}
	align := fyne.TextAlignCenter
	if len(text) > longCell {
		align = fyne.TextAlignLeading
	}
	if l.Text != text || l.TextStyle.Bold != bold || l.Alignment != align {
		l.TextStyle.Bold, l.Alignment = bold, align
		l.SetText(text)
	}
}

func (f *figureTable) header(id widget.TableCellID, o fyne.CanvasObject) {
	b := o.(*fyne.Container).Objects[0].(*kit.Button)
	if id.Col < 0 || id.Col >= len(f.heads) {
		return
	}
	key := f.keys[id.Col]
	b.OnTapped = func() { formula(f.desk, key) }
	b.SetText(f.head(id.Col))
}

// head is a heading; a question mark tells that it shows a formula.
func (f *figureTable) head(col int) string {
	if f.keys[col] == "" {
		return f.heads[col]
	}
	return f.heads[col] + " ?"
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
