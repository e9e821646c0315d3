package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// inner gives what stands within an object and can be seen, in the order in which Tab
// goes through it.
func inner(o fyne.CanvasObject) []fyne.CanvasObject {
	switch o := o.(type) {
	case *fyne.Container:
		return o.Objects
	case *container.Scroll:
		return []fyne.CanvasObject{o.Content}
	case *container.Split:
		return []fyne.CanvasObject{o.Leading, o.Trailing}
	case *container.AppTabs:
		if at := o.Selected(); at != nil {
			return []fyne.CanvasObject{at.Content}
		}
	case *Tip:
		return []fyne.CanvasObject{o.Content}
	case *FieldTip:
		return []fyne.CanvasObject{o.Content}
	case *TabTips:
		return []fyne.CanvasObject{o.Tabs}
	case *widget.PopUp:
		return []fyne.CanvasObject{o.Content}
	case *widget.Form:
		var out []fyne.CanvasObject
		for _, item := range o.Items {
			out = append(out, item.Widget)
		}
		return out
	case *Veil:
		return []fyne.CanvasObject{o.Content}
	case *MenuOver:
		return []fyne.CanvasObject{o.content}
	}
	return nil
}

// Path gives the objects from a root down to one within it, both included; nil where it
// is not to be seen there.
func Path(root, to fyne.CanvasObject) []fyne.CanvasObject {
	if root == nil || !root.Visible() {
		return nil
	}
	if root == to {
		return []fyne.CanvasObject{root}
	}
	for _, o := range inner(root) {
		if below := Path(o, to); below != nil {
			return append([]fyne.CanvasObject{root}, below...)
		}
	}
	return nil
}

// FirstWithin gives the first object within one, itself included, that can be seen and
// that a function takes; nil for none.
func FirstWithin(root fyne.CanvasObject, takes func(fyne.CanvasObject) bool) fyne.CanvasObject {
	if root == nil || !root.Visible() {
		return nil
	}
	if takes(root) {
		return root
	}
	for _, o := range inner(root) {
		if found := FirstWithin(o, takes); found != nil {
			return found
		}
	}
	return nil
}

// FocusWithin gives the keys to the first within an object that takes them.
func FocusWithin(c fyne.Canvas, root fyne.CanvasObject) {
	found := FirstWithin(root, func(o fyne.CanvasObject) bool {
		if d, ok := o.(fyne.Disableable); ok && d.Disabled() {
			return false
		}
		_, ok := o.(fyne.Focusable)
		return ok
	})
	if found != nil {
		c.Focus(found.(fyne.Focusable))
		return
	}
	c.Unfocus()
}

// reveal scrolls what an object stands in, until it is in sight.
func reveal(o fyne.CanvasObject) {
	d := fyne.CurrentApp().Driver()
	c := d.CanvasForObject(o)
	if c == nil {
		return
	}
	root := c.Content()
	if top := c.Overlays().Top(); top != nil {
		root = top
	}
	for _, above := range Path(root, o) {
		s, ok := above.(*container.Scroll)
		if !ok || s.Content == nil {
			continue
		}
		at := d.AbsolutePositionForObject(o).Subtract(d.AbsolutePositionForObject(s.Content))
		to := fyne.NewPos(inSight(at.X, o.Size().Width, s.Offset.X, s.Size().Width), inSight(at.Y, o.Size().Height, s.Offset.Y, s.Size().Height))
		if to != s.Offset {
			s.ScrollToOffset(to)
		}
	}
}

// inSight is where a scroll is to stand so that something in it is in sight: where it
// stands, or the least way from there; of what is too large, its beginning.
func inSight(at, size, offset, room float32) float32 {
	if at+size > offset+room {
		offset = at + size - room
	}
	return min(offset, at)
}
