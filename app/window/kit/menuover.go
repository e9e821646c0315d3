package kit

import (
	"fyne.io/fyne/v2"
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
	return m
}

// CreateRenderer gives Fyne the object.
func (m *MenuOver) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(m.content) }

// TappedSecondary opens the menu.
func (m *MenuOver) TappedSecondary(e *fyne.PointEvent) {
	menu, c := m.menu(e.AbsolutePosition), fyne.CurrentApp().Driver().CanvasForObject(m)
	if menu != nil && c != nil {
		widget.ShowPopUpMenuAtPosition(menu, c, e.AbsolutePosition)
	}
}

// CellAt gives the cell of a table at a place of the window, among those that stand
// there; row or column −1 is a head's. ok is false where there is none.
func CellAt(cells map[fyne.CanvasObject]widget.TableCellID, at fyne.Position) (id widget.TableCellID, ok bool) {
	d := fyne.CurrentApp().Driver()
	for o, of := range cells {
		if low := d.AbsolutePositionForObject(o); o.Visible() && !low.IsZero() &&
			at.X >= low.X && at.Y >= low.Y && at.X < low.X+o.Size().Width && at.Y < low.Y+o.Size().Height {
			return of, true
		}
	}
	return id, false
}
