package kit

import (
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Table is a table through whose cells the arrow keys go; Home and End go along a row,
// the page keys down the rows, and Return or Space chooses the cell. Where a cell is chosen
// as soon as the keys are at it, Return has a figure entered there.
type Table struct {
	widget.Table
	OnSelected func(widget.TableCellID)

	// CreateHeader and UpdateHeader make heads and fill them, as those of cells do.
	CreateHeader func() fyne.CanvasObject
	UpdateHeader func(widget.TableCellID, fyne.CanvasObject)

	OnHead  func(at fyne.Position) bool // takes a click at a place of the window that is none of a cell's; nil for none
	Follows bool                        // a cell is chosen as soon as the keys are at it
	ring    ring
	at      widget.TableCellID // the cell that the keys are at
	focused bool               // the keys act here
	cells   cellRing
	menu    func(at fyne.Position) // opens the menu of a place of the window, nil for none
	atCell  fyne.CanvasObject      // what stands in the cell that the keys are at, nil while it is out of sight
	tapped  tap                    // the click before
	onEnter Entering               // nil where no figures are entered
	in      *Notices               // of the window in which they are
	places  places
}

// Entering has a figure entered in a cell, which began with what was typed.
type Entering func(id widget.TableCellID, cell fyne.CanvasObject, first string)

// tap is a click on a cell.
type tap struct {
	on      widget.TableCellID
	when    time.Time
	unshown bool // what it does is not on the screen yet
}

// Enters has figures entered in the cells of a table that stands in a window.
func (t *Table) Enters(n *Notices, enter Entering) { t.in, t.onEnter = n, enter }

// NewCellTable makes a table of so many rows and columns.
func NewCellTable(length func() (rows, cols int), create func() fyne.CanvasObject, update func(widget.TableCellID, fyne.CanvasObject)) *Table {
	t := &Table{}
	t.Length = length
	t.CreateCell = func() fyne.CanvasObject { return framed(create()) }
	t.UpdateCell = func(id widget.TableCellID, o fyne.CanvasObject) {
		cell := o.(*fyne.Container)
		update(id, madeOf(cell))
		t.keep(id, cell)
		t.mark(id, cell)
	}
	t.Table.CreateHeader = func() fyne.CanvasObject { return framed(t.CreateHeader()) }
	t.Table.UpdateHeader = func(id widget.TableCellID, o fyne.CanvasObject) {
		head := o.(*fyne.Container)
		t.UpdateHeader(id, madeOf(head))
		t.keep(id, head)
		t.settle(id)
	}
	t.Table.OnSelected = func(id widget.TableCellID) {
		t.Put(id)
		if t.OnSelected != nil {
			t.OnSelected(id)
		}
	}
	t.ExtendBaseWidget(t)
	return t
}

// isCell tells whether a container is a cell of ours, in which the ring has its place.
func isCell(c *fyne.Container) bool {
	_, ok := c.Layout.(*Cell)
	return ok
}

// mark draws the ring around the cell that the keys are at.
func (t *Table) mark(id widget.TableCellID, cell *fyne.Container) {
	here := t.focused && id == t.at
	t.cells.around(cell, here)
	if here {
		t.atCell = cell
	} else if t.atCell == fyne.CanvasObject(cell) {
		t.atCell = nil
	}
}

// CreateRenderer is called by Fyne.
func (t *Table) CreateRenderer() fyne.WidgetRenderer {
	t.ExtendBaseWidget(t)
	t.HideSeparators = t.StickyColumnCount > 0
	r := t.Table.CreateRenderer()
	t.lay(r.Objects())
	return &tableRenderer{ringed{r, &t.ring}, t}
}

// Within secondClick a click is the second of two, as desktops have it. It counts from
// when the first can be seen to have done something, which may take a slow screen longer:
// drawing begins within drawnSoon, and nothing else is done until it has ended.
const secondClick, drawnSoon = 500 * time.Millisecond, 40 * time.Millisecond

// Tapped chooses the cell there, and takes the keys: the toolkit's own table does not
// know that it is a part of this one. A second click soon after on the same cell has a
// figure entered there; the toolkit's own double clicks would have every click wait.
func (t *Table) Tapped(e *fyne.PointEvent) {
	if t.OnHead != nil && t.OnHead(e.AbsolutePosition) {
		return
	}
	t.Table.Tapped(e)
	if c := fyne.CurrentApp().Driver().CanvasForObject(t); c != nil {
		c.Focus(t)
	}
	if before := t.tapped; before.on == t.at && !before.when.IsZero() && (before.unshown || time.Since(before.when) <= secondClick) {
		t.tapped = tap{}
		t.enter("")
		return
	}
	t.tapped = tap{on: t.at, when: time.Now()}
	if t.in != nil && t.in.After != nil {
		t.tapped.unshown = true
		t.in.After(drawnSoon, func() { t.tapped.when, t.tapped.unshown = time.Now(), false })
	}
}

// enter has a figure entered in the cell that the keys are at.
func (t *Table) enter(first string) bool {
	if t.onEnter == nil {
		return false
	}
	t.Reveal(t.at)
	t.RefreshItem(t.at)
	if t.atCell != nil {
		t.onEnter(t.at, t.atCell, first)
	}
	return true
}

// figureRunes are those with which a figure begins.
const figureRunes = "0123456789.,"

// TypedRune begins a figure in the cell that the keys are at.
func (t *Table) TypedRune(r rune) {
	if strings.ContainsRune(figureRunes, r) {
		t.enter(string(r))
	}
}

// FocusGained shows that the keys act here.
func (t *Table) FocusGained() {
	t.focused = true
	t.ring.gained(t)
	t.RefreshItem(t.at)
}

// FocusLost shows that they do not.
func (t *Table) FocusLost() {
	t.focused = false
	t.ring.lost()
	t.RefreshItem(t.at)
}

// Put has the keys be at a cell, without choosing it.
func (t *Table) Put(id widget.TableCellID) {
	if id != t.tapped.on {
		t.tapped = tap{} // a click on what was chosen before is not its second
	}
	before := t.at
	t.at = id
	if t.focused && before != id {
		t.RefreshItem(before)
		t.RefreshItem(id)
	}
}

// Reveal brings a cell into sight, with a neighbour to each side where there is room.
// Going up, the toolkit stops a head's height short (v2.7.1, Table.ScrollTo), so that it is
// sent a row further.
func (t *Table) Reveal(id widget.TableCellID) {
	rows, cols := t.Length()
	t.ScrollTo(widget.TableCellID{Row: min(id.Row+1, rows-1), Col: min(id.Col+1, cols-1)})
	t.ScrollTo(widget.TableCellID{Row: max(id.Row-2, 0), Col: max(id.Col-1, t.StickyColumnCount)})
	if id.Row < 2 {
		t.ScrollToTop()
	}
	if id.Col < t.StickyColumnCount+2 {
		t.ScrollToLeading()
	}
	t.ScrollTo(id) // where there is no room for the neighbours
}

// TypedKey goes to another cell, or chooses the one that the keys are at.
func (t *Table) TypedKey(e *fyne.KeyEvent) {
	rows, cols := t.Length()
	if rows == 0 || cols == 0 {
		HandOn(e, t)
		return
	}
	to := t.at
	if col, goes := stepped(e.Name, t.at.Col, cols, 0, fyne.KeyLeft, fyne.KeyRight); goes && e.Name != fyne.KeyPageUp && e.Name != fyne.KeyPageDown {
		to.Col = col
	} else if row, goes := stepped(e.Name, t.at.Row, rows, pageOf(t.Size().Height, t.CreateCell), fyne.KeyUp, fyne.KeyDown); goes {
		to.Row = row
	} else {
		t.act(e)
		return
	}
	t.Put(to)
	t.Reveal(to)
	if t.Follows {
		t.choose()
	}
}

// act takes the keys that go nowhere.
func (t *Table) act(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		if !t.Follows || !t.enter("") { // else it is chosen already
			t.choose()
		}
	case fyne.KeySpace:
		t.choose()
	case fyne.KeyF2:
		if !t.enter("") {
			HandOn(e, t)
		}
	case keyMenu:
		if t.menu != nil && t.atCell != nil {
			t.menu(middleOf(t.atCell))
		}
	default:
		HandOn(e, t)
	}
}

// choose chooses the cell that the keys are at.
func (t *Table) choose() {
	if t.OnSelected != nil {
		t.OnSelected(t.at)
	}
}

// NewTable is a table under headings, its columns so wide: rows gives what is in
// it, bold tells which row stands out, and chosen is told of a row that is clicked.
func NewTable(headings []string, widths []float32, rows func() [][]string, bold func(row int) bool, chosen func(row int)) *Table {
	t := NewCellTable(func() (int, int) { return len(rows()), len(headings) },
		func() fyne.CanvasObject { return widget.NewLabel("") },
		func(id widget.TableCellID, o fyne.CanvasObject) {
			l := o.(*widget.Label)
			l.Truncation = fyne.TextTruncateEllipsis
			if id.Row < len(rows()) {
				l.TextStyle.Bold = bold(id.Row)
				SetText(l, rows()[id.Row][id.Col])
			}
		})
	t.ShowHeaderRow = true
	t.CreateHeader = func() fyne.CanvasObject {
		return widget.NewLabelWithStyle("", fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
	}
	t.UpdateHeader = func(id widget.TableCellID, o fyne.CanvasObject) {
		if id.Col >= 0 {
			SetText(o.(*widget.Label), headings[id.Col])
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
