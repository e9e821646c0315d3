package kit

import "fyne.io/fyne/v2"

// RefreshWhole draws an object anew with all that can be seen within it, what stands in
// the cells of tables too: a table fills them, and leaves what is in them already.
func RefreshWhole(o fyne.CanvasObject) {
	for _, held := range inner(o) {
		if held != nil {
			RefreshWhole(held)
		}
	}
	switch o := o.(type) {
	case *Table:
		for _, column := range o.places.cells {
			for _, cell := range column {
				cell.Refresh()
			}
		}
	case *Select:
		if !o.Disabled() {
			o.Disable() // for the toolkit leaves an icon as it was drawn while it is the same one (iconRenderer.Refresh)
			o.Enable()
		}
	}
	o.Refresh()
}
