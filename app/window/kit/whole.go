package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// RefreshWhole draws an object anew with all that it holds.
func RefreshWhole(o fyne.CanvasObject) {
	for _, held := range heldBy(o) {
		if held != nil {
			RefreshWhole(held)
		}
	}
	if s, ok := o.(*Select); ok && !s.Disabled() {
		s.Disable() // for the toolkit leaves an icon as it was drawn while it is the same one (iconRenderer.Refresh)
		s.Enable()
	}
	o.Refresh()
}

// heldBy is what an object holds, as far as it can hold tabs.
func heldBy(o fyne.CanvasObject) []fyne.CanvasObject {
	switch o := o.(type) {
	case *fyne.Container:
		return o.Objects
	case *container.Scroll:
		return []fyne.CanvasObject{o.Content}
	case *container.Split:
		return []fyne.CanvasObject{o.Leading, o.Trailing}
	case *container.AppTabs:
		var out []fyne.CanvasObject
		for _, tab := range o.Items {
			out = append(out, tab.Content)
		}
		return out
	case *Table: // which fills its cells, and leaves what stands in them already
		var out []fyne.CanvasObject
		for _, col := range o.places.cells {
			for _, cell := range col {
				out = append(out, cell)
			}
		}
		return out
	case *TabTips:
		return []fyne.CanvasObject{o.Tabs}
	case *MenuOver:
		return []fyne.CanvasObject{o.content}
	case *Tip:
		return []fyne.CanvasObject{o.Content}
	case *Veil:
		return []fyne.CanvasObject{o.Content}
	}
	return nil
}
