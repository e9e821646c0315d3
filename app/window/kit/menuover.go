package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// MenuOver gives an object a menu on a right click.
type MenuOver struct {
	widget.BaseWidget
	content fyne.CanvasObject
	menu    func(at fyne.Position) *fyne.Menu // at a place of the window; nil for none
}

// NewMenuOver gives one to an object.
func NewMenuOver(content fyne.CanvasObject, menu func(at fyne.Position) *fyne.Menu) *MenuOver {
	m := &MenuOver{content: content, menu: menu}
	m.ExtendBaseWidget(m)
	if t, ok := content.(*Table); ok {
		t.menu = m.open
	}
	return m
}

// CreateRenderer gives Fyne the object.
func (m *MenuOver) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(m.content) }

// TappedSecondary opens the menu.
func (m *MenuOver) TappedSecondary(e *fyne.PointEvent) { m.open(e.AbsolutePosition) }

func (m *MenuOver) open(at fyne.Position) {
	menu, c := m.menu(at), fyne.CurrentApp().Driver().CanvasForObject(m)
	if menu != nil && c != nil {
		widget.ShowPopUpMenuAtPosition(menu, c, at)
	}
}

// keyMenu is the key that opens the menu of what is chosen, as a right click does.
const keyMenu = desktop.KeyMenu

// middleOf is the place of the window where an object has its middle.
func middleOf(o fyne.CanvasObject) fyne.Position {
	s := o.Size()
	return fyne.CurrentApp().Driver().AbsolutePositionForObject(o).AddXY(s.Width/2, s.Height/2)
}

// CellAt gives the cell of a table at a place of the window, among those that stand
// there; row or column −1 is a head's. Where one is scrolled under another that stays, it
// is the latter. ok is false where there is none.
func CellAt(cells map[fyne.CanvasObject]widget.TableCellID, at fyne.Position) (id widget.TableCellID, ok bool) {
	d := fyne.CurrentApp().Driver()
	for o, of := range cells {
		if low := d.AbsolutePositionForObject(o); o.Visible() && !low.IsZero() &&
			at.X >= low.X && at.Y >= low.Y && at.X < low.X+o.Size().Width && at.Y < low.Y+o.Size().Height &&
			(!ok || of.Col < id.Col || of.Col == id.Col && of.Row < id.Row) {
			id, ok = of, true
		}
	}
	return id, ok
}
