package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// List is a list of rows through which the arrow keys go, choosing as they go; Home, End
// and the page keys go further, and Return or Space chooses again.
type List struct {
	widget.List
	OnSelected func(row int)
	ring       ring
	at         int  // the row that the keys are at
	focused    bool // the keys act here
	told       bool // a row is being chosen by other means than a click
	cells      cellRing
}

// NewList makes one of so many rows.
func NewList(length func() int, create func() fyne.CanvasObject, update func(row int, o fyne.CanvasObject)) *List {
	l := &List{}
	l.Length, l.CreateItem = length, func() fyne.CanvasObject { return container.NewStack(create()) }
	l.UpdateItem = func(row int, o fyne.CanvasObject) {
		update(row, o.(*fyne.Container).Objects[0])
		l.cells.around(o.(*fyne.Container), l.focused && row == l.at)
	}
	l.List.OnSelected = func(row int) {
		l.goTo(row)
		if c := fyne.CurrentApp().Driver().CanvasForObject(l); c != nil && !l.told {
			c.Focus(l) // the toolkit's own list does not know that it is a part of this one
		}
		if l.OnSelected != nil {
			l.OnSelected(row)
		}
	}
	l.ExtendBaseWidget(l)
	return l
}

// CreateRenderer is called by Fyne.
func (l *List) CreateRenderer() fyne.WidgetRenderer {
	l.ExtendBaseWidget(l)
	return &ringed{l.List.CreateRenderer(), &l.ring}
}

// FocusGained shows that the keys act here.
func (l *List) FocusGained() {
	l.focused = true
	l.ring.gained(l)
	l.RefreshItem(l.at)
}

// FocusLost shows that they do not.
func (l *List) FocusLost() {
	l.focused = false
	l.ring.lost()
	l.RefreshItem(l.at)
}

// Select chooses a row.
func (l *List) Select(row int) {
	was := l.told
	l.told = true
	l.List.Select(row)
	l.told = was
}

// goTo has the keys be at a row.
func (l *List) goTo(row int) {
	before := l.at
	l.at = row
	if l.focused && before != row {
		l.RefreshItem(before)
		l.RefreshItem(row)
	}
}

// TypedKey goes to another row.
func (l *List) TypedKey(e *fyne.KeyEvent) {
	rows, page := l.Length(), pageOf(l.Size().Height, l.CreateItem)
	to, goes := stepped(e.Name, l.at, rows, page, fyne.KeyUp, fyne.KeyDown)
	switch {
	case e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter || e.Name == fyne.KeySpace:
		l.Unselect(l.at)
		l.Select(l.at)
	case !goes:
		HandOn(e, l)
	case rows > 0 && to != l.at:
		l.Select(to)
	}
}

// pageOf is how many rows a page key goes past.
func pageOf(height float32, template func() fyne.CanvasObject) int {
	row := template().MinSize().Height + 2
	return max(int(height/row)-2, 1)
}

// stepped is where a key leads from one of n places; goes tells whether it is such a key.
func stepped(key fyne.KeyName, at, n, page int, less, more fyne.KeyName) (to int, goes bool) {
	switch key {
	case less:
		at--
	case more:
		at++
	case fyne.KeyHome:
		at = 0
	case fyne.KeyEnd:
		at = n - 1
	case fyne.KeyPageUp:
		at -= page
	case fyne.KeyPageDown:
		at += page
	default:
		return at, false
	}
	return max(min(at, n-1), 0), true
}

// cellRing is the ring around one cell of a list or a table. It stands in that cell
// alone: painting passes through all of them.
type cellRing struct {
	ring ring
	in   *fyne.Container // nil for none
}

// around puts it around a cell, or takes it away from there.
func (r *cellRing) around(cell *fyne.Container, on bool) {
	if on == (r.in == cell) {
		return
	}
	if r.in != nil {
		r.in.Remove(r.ring.line)
		r.in = nil
	}
	if on {
		r.ring.show()
		cell.Add(r.ring.line)
		r.in = cell
	}
}
