package window

import (
	"fmt"
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/fairing"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/paper"
	"github.com/strakewright/strakewright/app/window/settings"
)

// plain is an item of a menu, with its key where it has one.
func plain(name string, key fyne.KeyName, f func()) *fyne.MenuItem {
	return keyed(name, key, fyne.KeyModifierShortcutDefault, f)
}

// keyed is an item of a menu with a key and what is held with it.
func keyed(name string, key fyne.KeyName, with fyne.KeyModifier, f func()) *fyne.MenuItem {
	m := fyne.NewMenuItem(name, f)
	if key != "" {
		m.Shortcut = &desktop.CustomShortcut{KeyName: key, Modifier: with}
	}
	return m
}

// within is an item that opens others.
func within(name string, items ...*fyne.MenuItem) *fyne.MenuItem {
	m := fyne.NewMenuItem(name, nil)
	m.ChildMenu = fyne.NewMenu("", items...)
	m.Disabled = len(items) == 0
	return m
}

// menu is the window's menu; its shortcuts work wherever the focus is.
func (w *mainWindow) menu() *fyne.MainMenu {
	d := w.desk
	w.undoItem, w.redoItem = plain("Undo", "", d.Undo), plain("Redo", "", d.Redo)
	w.undoListItem, w.redoListItem = within("Undo back to"), within("Redo up to")
	w.removeItem = plain("Remove the band line", "", func() { settings.RemoveLine(d) })
	w.recentItem = within("Open recent")
	w.showRecent()
	d.Remembered = func() {
		w.showRecent()
		w.MainMenu().Refresh()
	}
	quit := plain("Close", fyne.KeyW, w.close)
	quit.IsQuit = true
	return fyne.NewMainMenu(
		fyne.NewMenu("Plan",
			plain("Open…", fyne.KeyO, func() { open(d) }),
			w.recentItem,
			plain("Open the demo plan", "", func() { openDemo(d) }),
			plain("Trace a picture…", fyne.KeyT, func() { w.tracing.Show() }),
			plain("Save", fyne.KeyS, func() { d.Save(func() {}) }),
			keyed("Save as…", fyne.KeyS, fyne.KeyModifierShortcutDefault|fyne.KeyModifierShift, func() { d.SaveAs(func() {}) }),
			plain("Export the strake table…", fyne.KeyE, func() { exportTable(d) }),
			plain("Fair the frames…", "", func() { fairing.Open(d) }),
			plain("Full-size paper…", fyne.KeyP, func() { paper.Open(d) }),
			fyne.NewMenuItemSeparator(), quit),
		w.inFront(fyne.NewMenu("Edit", w.undoItem, w.redoItem, w.undoListItem, w.redoListItem, fyne.NewMenuItemSeparator(),
			plain("Copy the chosen strake's row", "", w.table.copyChosen),
			keyed("Copy the strake table", fyne.KeyC, fyne.KeyModifierShortcutDefault|fyne.KeyModifierShift, w.table.copyAll),
			within("Sort the strakes by", w.table.sortItems()...))),
		w.inFront(fyne.NewMenu("Planking",
			plain("Add a band line", "", func() { settings.AddLine(d) }),
			w.removeItem,
			plain("Lay all lines…", fyne.KeyL, func() { settings.LayLines(d) }),
			plain("March out from the free strips", "", func() { w.panel.showLine(); d.ShowMarch(!d.Marching()) }),
			plain("Compare strips…", fyne.KeyK, d.CompareWidths),
			plain("Limits…", "", func() { settings.SetLimits(d) }),
			plain("Rules of thumb…", "", func() { settings.SetRules(d) }),
			plain("Add a layer", "", func() { settings.AddLayer(d) }))),
		fyne.NewMenu("View", w.viewItems()...),
		fyne.NewMenu("Help", append(w.helpItems(),
			plain("Welcome page", "", w.welcome.Show),
			plain("A task of one minute", "", w.beginTask),
			plain("Show the hints again", "", w.guide.Again))...),
	)
}

// viewItems are the items about what is seen.
func (w *mainWindow) viewItems() []*fyne.MenuItem {
	d := w.desk
	items := []*fyne.MenuItem{
		plain("Show the whole", "", func() {
			for _, v := range d.Boards {
				v.Fit()
			}
		}),
		within("Layout", w.taskItems()...),
	}
	items = append(items, w.paneItems()...)
	return append(items,
		keyed("Next tab", fyne.KeyTab, fyne.KeyModifierControl, func() { w.stepTab(1) }),
		keyed("Tab before", fyne.KeyTab, fyne.KeyModifierControl|fyne.KeyModifierShift, func() { w.stepTab(-1) }),
		keyed("Next pane", fyne.KeyF6, 0, func() { w.stepPane(1) }),
		keyed("Full screen", fyne.KeyF11, 0, w.switchFullScreen), // which a widget that has the keys hands on
		fyne.NewMenuItemSeparator(),
		plain("Millimetres or inches", "", d.SwitchUnits),
		plain("Light or dark", fyne.KeyD, d.SwitchLight))
}

func (w *mainWindow) switchFullScreen() { w.SetFullScreen(!w.FullScreen()) }

// showRecent lists the files opened or saved last.
func (w *mainWindow) showRecent() {
	d := w.desk
	var items []*fyne.MenuItem
	for _, path := range d.Recent() {
		items = append(items, fyne.NewMenuItem(filepath.Base(path)+"  –  "+filepath.Dir(path), func() { openRecent(d, path) }))
	}
	if len(items) > 0 {
		items = append(items, fyne.NewMenuItemSeparator(), fyne.NewMenuItem("Clear this list", d.ForgetFiles))
	}
	w.recentItem.ChildMenu.Items, w.recentItem.Disabled = items, len(items) == 0
}

// openRecent opens a file of those opened last, after asking about changes; one that is
// gone is dropped from them.
func openRecent(d *desk.Desk, path string) {
	if _, err := os.Stat(path); err != nil {
		d.ForgetFile(path)
		d.Say(filepath.Base(path) + " is no longer in " + filepath.Dir(path) + ", and is taken off the list.")
		return
	}
	d.AskFirst("open "+filepath.Base(path), func() { load(d, path) })
}

// stepsListed is how many steps a list shows.
const stepsListed = 15

// stepItems are items that go as far as each of some steps.
func stepItems(names []string, to func(n int)) []*fyne.MenuItem {
	var items []*fyne.MenuItem
	for i, name := range names[:min(len(names), stepsListed)] {
		items = append(items, fyne.NewMenuItem(fmt.Sprintf("%d  %s", i+1, name), func() { to(i + 1) }))
	}
	return items
}

// followSteps has the menu and the buttons name what would be undone and redone.
func (w *mainWindow) followSteps() {
	d := w.desk
	if d.Grip != nil {
		return // while something is dragged the menu waits
	}
	undo, redo := d.Session.Undoable(), d.Session.Redoable()
	d.Explain(&w.undo.Button, named("Takes back the last step", undo)+". A right click lists the steps before it")
	d.Explain(&w.redo.Button, named("Redoes the step undone last", redo)+". A right click lists those after it")
	others := false
	for _, of := range []struct {
		item, list *fyne.MenuItem
		verb       string
		names      []string
		to         func(int)
	}{{w.undoItem, w.undoListItem, "Undo", undo, d.UndoSteps}, {w.redoItem, w.redoListItem, "Redo", redo, d.RedoSteps}} {
		label := named(of.verb, of.names)
		same := label == of.item.Label && len(of.list.ChildMenu.Items) == min(len(of.names), stepsListed)
		others = others || !same
		if same {
			continue
		}
		of.item.Label = label
		of.list.ChildMenu.Items = stepItems(of.names, of.to)
		of.list.Disabled = len(of.names) == 0
	}
	if others {
		w.MainMenu().Refresh()
	}
}

// named is what an item does, with the step it does it to.
func named(verb string, steps []string) string {
	if len(steps) == 0 {
		return verb
	}
	return verb + ": " + steps[0]
}

// stepsButton is a button whose right click lists all steps that it can go.
type stepsButton struct {
	kit.Button
	list func() []*fyne.MenuItem
}

// newStepsButton makes one, of a name with a sign before it.
func newStepsButton(name string, icon fyne.Resource, do func(), list func() []*fyne.MenuItem) *stepsButton {
	b := &stepsButton{list: list}
	b.Text, b.Icon, b.OnTapped = name, icon, do
	b.ExtendBaseWidget(b)
	return b
}

// TappedSecondary lists the steps.
func (b *stepsButton) TappedSecondary(e *fyne.PointEvent) { b.showSteps(e.AbsolutePosition) }

func (b *stepsButton) showSteps(at fyne.Position) {
	items := b.list()
	if c := fyne.CurrentApp().Driver().CanvasForObject(b); c != nil && len(items) > 0 {
		widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), c, at)
	}
}

// TypedKey takes a key: the menu key lists the steps.
func (b *stepsButton) TypedKey(e *fyne.KeyEvent) {
	if e.Name == desktop.KeyMenu {
		b.showSteps(fyne.CurrentApp().Driver().AbsolutePositionForObject(b).AddXY(0, b.Size().Height))
		return
	}
	b.Button.TypedKey(e)
	kit.HandOn(e, b)
}
