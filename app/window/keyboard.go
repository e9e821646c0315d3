package window

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// windowKeys are those that work wherever the focus is, beside those of the menus.
var windowKeys = []kit.KeyUse{
	{Keys: tongue.Mark("Alt, F10"), Does: tongue.Mark("opens the menus: Left and Right go through them, Up and Down through one, Return chooses an item, Escape closes them")},
	{Keys: tongue.Mark("Shift+F6"), Does: tongue.Mark("the pane before")},
}

// stepPane gives the keys to the next of the panes in sight, or to the one before.
func (w *mainWindow) stepPane(by int) {
	if w.Canvas().Overlays().Top() != nil {
		return
	}
	var shown []fyne.CanvasObject
	for _, q := range w.panes.list {
		if q.object.Visible() {
			shown = append(shown, q.object)
		}
	}
	at := slices.IndexFunc(shown, w.hasFocus)
	if at < 0 && by < 0 {
		at = 0
	}
	w.focusPane(shown[(at+by+len(shown))%len(shown)])
}

// focusPane gives the keys to a pane: to its drawing, or to what stands first in it.
func (w *mainWindow) focusPane(o fyne.CanvasObject) {
	if o == w.Hull {
		w.Canvas().Focus(w.HullBoard)
		return
	}
	kit.FocusWithin(w.Canvas(), o)
}

// hasFocus tells whether what has the keys stands within an object.
func (w *mainWindow) hasFocus(in fyne.CanvasObject) bool {
	f, ok := w.Canvas().Focused().(fyne.CanvasObject)
	return ok && kit.Path(in, f) != nil
}

// stepTab goes to the next tab, or the one before, of the group that has the keys; from a
// drawing, of the tables. Tabs within a tab come in their turn.
func (w *mainWindow) stepTab(by int) {
	if w.Canvas().Overlays().Top() != nil {
		return
	}
	group := w.panel.tabs
	if w.tables.Visible() && (w.hasFocus(w.panes.splits[1]) || !group.Visible()) {
		group = w.tables
	}
	if !group.Visible() {
		return
	}
	if !stepIn(group, by) {
		enter(group, by)
	}
	kit.FocusWithin(w.Canvas(), group.Selected().Content)
}

// stepIn goes a tab on within a group and those in its tabs, and tells whether there was
// one.
func stepIn(group *container.AppTabs, by int) bool {
	if below := tabsIn(group); below != nil && stepIn(below, by) {
		return true
	}
	to := group.SelectedIndex() + by
	if to < 0 || to >= len(group.Items) {
		return false
	}
	group.SelectIndex(to)
	if below := tabsIn(group); below != nil {
		enter(below, by)
	}
	return true
}

// enter goes to the first tab of a group, or from behind to its last.
func enter(group *container.AppTabs, by int) {
	to := 0
	if by < 0 {
		to = len(group.Items) - 1
	}
	group.SelectIndex(to)
	if below := tabsIn(group); below != nil {
		enter(below, by)
	}
}

// tabsIn gives the group within the tab of a group that is shown, nil for none.
func tabsIn(group *container.AppTabs) *container.AppTabs {
	found, _ := kit.FirstWithin(group.Selected().Content, func(o fyne.CanvasObject) bool {
		_, ok := o.(*container.AppTabs)
		return ok
	}).(*container.AppTabs)
	return found
}
