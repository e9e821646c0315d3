package window

import (
	"log"
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"
	fyneapp "fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/boards"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/photo"
	"github.com/strakewright/strakewright/app/window/settings"
	"github.com/strakewright/strakewright/app/window/stock"
	"github.com/strakewright/strakewright/app/window/tracing"
	"github.com/strakewright/strakewright/app/window/welcome"
	"github.com/strakewright/strakewright/assets"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/source"
	"github.com/strakewright/strakewright/hull/visible"
)

// The name of the program, and the size at which its window opens.
const (
	name                  = "Strakewright"
	openWidth, openHeight = 1280, 760
)

// mainWindow is the drawing board.
type mainWindow struct {
	fyne.Window
	desk *desk.Desk
	*boards.Drawings
	shapes                         *container.Split   // body plan and hull
	splits                         []*container.Split // panel and board; long and low; profile and gauge; shapes and tables; body plan and hull
	panes                          panes
	shown                          bool
	paneChecks                     []*fyne.MenuItem
	room                           *room
	flat                           bool // it stands as for a hull without a shape
	table                          *strakeTable
	stock                          *stock.Panel
	tables                         *container.AppTabs // the strake table, and the panel of the wood
	panel                          *panel
	status                         *widget.Label
	undo, redo                     *stepsButton
	undoItem, redoItem, removeItem *fyne.MenuItem // greyed while there is nothing for them
	undoListItem, redoListItem     *fyne.MenuItem // all steps
	recentItem                     *fyne.MenuItem // the files opened last
	title                          *widget.Label
	probe                          *probe
	tracing                        *tracing.Tracings
	photos                         *photo.Photos
	welcome                        *welcome.Page
	guide                          *welcome.Guide
	body                           fyne.CanvasObject // all but the welcome page
	help                           helpBeside
}

// Run opens the window on a session and returns when it is closed.
func Run(s *app.Session) error { return runThen(s, func(*desk.Desk) {}) }

// RunWelcome opens the window on a session with the welcome page before it, unless the
// builder no longer wants that, and returns when the window is closed.
func RunWelcome(s *app.Session) error {
	return run(s, func(w *mainWindow) {
		if w.welcome.Wanted() {
			w.welcome.Show()
		}
	}, func(*desk.Desk) {})
}

// RunOnPicture opens the window on a session, and beside it the one in which the
// picture at a path is traced, and returns when the window is closed. What a crash
// left of the session comes first.
func RunOnPicture(s *app.Session, path string) error {
	return runThen(s, func(d *desk.Desk) {
		if trace.IsPDF(path) { // something is asked about it
			afterOffer(d, func() { load(d, path) })
			return
		}
		load(d, path)
	})
}

// RunOnSource opens the window on a session made of the hull source at a path, and
// tells there what the builder should know of it, or asks which of its sheets is meant;
// it returns when the window is closed. What a crash left of the session comes first.
func RunOnSource(s *app.Session, path string, c *source.Checked) error {
	return runThen(s, func(d *desk.Desk) {
		afterOffer(d, func() {
			if len(c.Sheets) > 1 {
				askSheet(d, path, c.Sheets)
				return
			}
			tellRead(d, path, c)
		})
	})
}

// RunOnDrawing opens the window on a session, and in it the dialog about the
// drawing of frames, or the mesh, at a path, and returns when the window is closed. What a crash
// left of the session comes first.
func RunOnDrawing(s *app.Session, path string, c *source.Checked) error {
	return runThen(s, func(d *desk.Desk) { lookAt(d, path, c) })
}

// RunInPlaceOf opens the window on a session in place of a file that could not be
// opened, says why, and returns when the window is closed.
func RunInPlaceOf(s *app.Session, path string, why error) error {
	return runThen(s, func(d *desk.Desk) { refused(d, path, why) })
}

// runThen opens the window on a session and does more once it stands there.
func runThen(s *app.Session, more func(*desk.Desk)) error {
	return run(s, func(*mainWindow) {}, more)
}

// run opens the window on a session, does something before it is shown, and more once
// it stands there.
func run(s *app.Session, first func(*mainWindow), more func(*desk.Desk)) error {
	log.SetOutput(&toolkitLog{out: os.Stderr})
	started := sparing()
	withoutEmoji()
	settingsAway()
	if err := speak(); err != nil {
		return err
	}
	a := fyneapp.NewWithID("strakewright")
	w, err := opened(a, s)
	if err != nil {
		return err
	}
	// After the start, so that a second window comes to lie upon this one.
	a.Lifecycle().SetOnStarted(func() { w.desk.Later(func() { more(w.desk) }) })
	w.guide.Hint()
	first(w)
	stop := w.keepAtEnd()
	defer stop()
	w.Show() // has painted the whole window when it returns
	w.probe.painted()
	started()
	a.Run()
	w.leave()
	return nil
}

// opened is the window of a session, not yet shown. The error tells that the
// theme's font cannot be read.
func opened(a fyne.App, s *app.Session) (*mainWindow, error) {
	w, err := made(a, s)
	if err != nil {
		return nil, err
	}
	w.desk.MarkOpen()
	w.desk.ShowUnkept(s.AutosaveError())
	w.desk.Later(w.desk.OfferRecovery)
	return w, nil
}

// made is a new window that has told nobody that its plan is open.
func made(a fyne.App, s *app.Session) (*mainWindow, error) {
	pixels, err := draw.NewPixels(theme.DefaultTextFont().Content())
	if err != nil {
		return nil, err
	}
	d := desk.New(a, &kit.Look{Pixels: pixels}, s)
	a.Settings().SetTheme(kit.NewTheme(d.Recall()))
	w := &mainWindow{Window: a.NewWindow(name), desk: d, tracing: &tracing.Tracings{Main: d}, photos: &photo.Photos{Main: d}}
	d.Win = w.Window
	w.SetIcon(fyne.NewStaticResource("strakewright.svg", assets.Icon()))
	d.Picture = func(path string) { w.tracing.Show().OpenAt(path) }
	d.Photo = w.photos.Show
	d.Help = w.helpIn
	w.build()
	w.SetMainMenu(w.menu())
	w.shortcuts()
	w.SetPadded(false)
	w.recallPlace()
	w.SetCloseIntercept(w.close)
	w.SetOnDropped(func(_ fyne.Position, files []fyne.URI) { dropped(d, files) })
	w.probe = newProbe(w, os.Getenv("STRAKEWRIGHT_PROBE"))
	d.Frames = desk.NewFrameLog(d, os.Getenv("STRAKEWRIGHT_FRAMES"))
	d.Lazy = append(d.Lazy, w.sync, w.probe.write, w.photos.Follow)
	w.Long.Placed, w.BodyPlan.Placed = w.probe.write, w.probe.write
	d.Refresh()
	return w, nil
}

// close asks about changes before the window goes.
func (w *mainWindow) close() {
	if w.tracing.Holds(w.close) || w.photos.Holds(w.close) {
		return
	}
	w.desk.AskFirst(tongue.In("before", "close"), func() {
		w.keepPlace()
		w.desk.Leave()
		w.desk.Mark.LetGo()
		w.desk.Session.Close()
		w.Close()
	})
}

// build puts the views together: the panel at the left; profile over gauge
// strip; under them body plan, hull and table.
func (w *mainWindow) build() {
	d := w.desk
	w.Drawings = boards.New(d)
	w.table = newStrakeTable(d)
	w.panel = newPanel(d)
	w.panel.veil()

	long := kit.Split(container.NewVSplit(w.Long, w.Gauge), 0.6)
	w.shapes = kit.Split(container.NewHSplit(w.BodyPlan, w.Hull), shapesAt)
	w.stock = stock.New(d)
	w.tables = container.NewAppTabs(container.NewTabItem(tongue.T("Strakes"), w.table.object()), container.NewTabItem(tongue.T("Stock"), kit.Veiled(stockLeast, w.stock.Object())))
	tables := kit.TippedTabs(w.tables, tongue.T("Every strake on every frame: widths, edges and bevels"), tongue.T("Strips compared, mixed, bought and cut"))
	low := kit.Split(container.NewHSplit(w.shapes, tables), lowAt)
	board := kit.Split(container.NewVSplit(long, low), 0.55)
	w.roomFor(low, board)
	all := kit.Split(container.NewHSplit(w.panel.whole, board), 0.2)
	w.splits = []*container.Split{all, board, long, low, w.shapes}
	w.panes = panes{splits: w.splits, list: []pane{
		{tongue.T("profile"), w.Long, w.Long}, {tongue.T("gauge strip"), w.Gauge, w.Gauge}, {tongue.T("body plan"), w.BodyPlan, w.BodyPlan},
		{tongue.T("lofted hull"), w.Hull, w.HullBoard}, {tongue.T("tables"), w.tables, nil}, {tongue.T("settings"), w.panel.tabs, nil}}}
	d.PaneItems = w.itemsOf
	w.OnFull(func(full bool) {
		if full != w.panes.alone(hullPane) {
			w.changePanes(func() { w.panes.enlarge(hullPane) })
		}
	})
	w.guide = welcome.NewGuide(d)
	w.body = container.NewBorder(container.NewVBox(w.bar(), w.guide.Object()), w.foot(), nil, nil, w.withHelp(all))
	w.welcome = welcome.NewPage(d, w.Icon(), w.ways())
	w.SetContent(d.WithTips(container.NewStack(w.body, w.welcome.Object())))
}

// roomFor gives the panel of the wood more room than the table while it is
// shown: it holds more than one table. The lofted hull has more while a strip is laid
// over its frames.
func (w *mainWindow) roomFor(low, board *container.Split) {
	r := &room{low: low, board: board, shapes: w.shapes}
	w.room = r
	d := w.desk
	w.stock.Shown = func() bool { return w.tables.SelectedIndex() == 1 }
	w.table.inSight = func() bool { return w.tables.SelectedIndex() == 0 }
	w.tables.OnSelected = func(tab *container.TabItem) {
		r.give(w.stock.Shown(), r.strip)
		w.table.sync()
		w.stock.Sync()
		d.Shows(tab)
	}
	w.OnStrip(func(laid bool) { r.give(r.stock, laid) })
	d.StockRoom = func() { r.give(!r.stock, r.strip) }
	d.ShowStock = func() {
		w.tables.SelectIndex(1)
		r.give(true, r.strip)
		w.stock.Tabs.SelectIndex(0)
		w.stock.Sync()
	}
}

// room is what the views beside and above the table leave to it, and the body plan to
// the hull.
type room struct {
	low, board, shapes *container.Split
	was                [3]float64 // their offsets before more was given
	stock, strip       bool       // to whom more is given
}

// give gives more room to the panel of the wood and to the hull, or takes it back.
func (r *room) give(stock, strip bool) {
	if stock == r.stock && strip == r.strip {
		return
	}
	if !r.stock && !r.strip {
		r.was = [3]float64{r.low.Offset, r.board.Offset, r.shapes.Offset}
	}
	r.stock, r.strip = stock, strip
	r.share()
}

// usual is where the splits stand while no more is given.
func (r *room) usual() (low, board, shapes float64) {
	if r.stock || r.strip {
		return r.was[0], r.was[1], r.was[2]
	}
	return r.low.Offset, r.board.Offset, r.shapes.Offset
}

// set puts the splits elsewhere, from where more is given or not.
func (r *room) set(low, board, shapes float64) {
	r.was = [3]float64{low, board, shapes}
	r.share()
}

// share puts the splits where they leave the room that is given.
func (r *room) share() {
	low, board, shapes := r.was[0], r.was[1], r.was[2]
	if r.stock {
		low, board = min(0.26, low), min(0.28, board)
	}
	if r.strip {
		board, shapes = min(0.34, board), min(0.16, shapes)
		if !r.stock {
			low = max(0.66, low)
		}
	}
	r.low.SetOffset(low)
	r.board.SetOffset(board)
	r.shapes.SetOffset(shapes)
}

// bar is the row of buttons for what is done often.
func (w *mainWindow) bar() fyne.CanvasObject {
	d := w.desk
	w.undo = newStepsButton(tongue.T("Undo"), theme.ContentUndoIcon(), d.Undo, func() []*fyne.MenuItem { return stepItems(d.Session.Undoable(), d.UndoSteps) })
	w.redo = newStepsButton(tongue.T("Redo"), theme.ContentRedoIcon(), d.Redo, func() []*fyne.MenuItem { return stepItems(d.Session.Redoable(), d.RedoSteps) })
	w.title = widget.NewLabelWithStyle("", fyne.TextAlignTrailing, fyne.TextStyle{Bold: true})
	w.title.Truncation = fyne.TextTruncateEllipsis
	layouts := d.Button(tongue.T("Layout ▾"), tongue.T("Lays the window out for a part of the work: lining off, reading widths, buying, the bench"), nil)
	layouts.OnTapped = func() { w.chooseTask(layouts) }
	openButton := d.Button(tongue.T("Open"), tongue.T("Opens a plan, or a hull from a table, a drawing or a picture (Ctrl+O)"), func() { open(d) })
	saveButton := d.Button(tongue.T("Save"), tongue.T("Saves the plan in its file (Ctrl+S)"), func() { d.Save(func() {}) })
	openButton.Icon, saveButton.Icon = theme.FolderOpenIcon(), theme.DocumentSaveIcon()
	left := container.NewHBox(
		openButton, saveButton,
		widget.NewSeparator(), w.undo, w.redo, widget.NewSeparator(),
		d.Button(tongue.T("Lay all lines…"), tongue.T("Searches for band lines in whole strips, and shows the ways there are"), func() { settings.LayLines(d) }),
		d.Button(tongue.T("Compare strips…"), tongue.T("Lays the layer in strips of several widths, thicknesses and woods"), d.CompareWidths),
		widget.NewSeparator(),
		d.Button("mm / in", tongue.T("Shows lengths in millimetres or in inches"), d.SwitchUnits),
		d.Button(tongue.T("Light / dark"), tongue.T("Draws dark on light, or light on dark"), d.SwitchLight),
		layouts,
		w.helpButton(),
	)
	return container.NewBorder(nil, nil, left, nil, w.title)
}

// foot is the status line.
func (w *mainWindow) foot() fyne.CanvasObject {
	w.status = widget.NewLabel(tongue.T("Point at a frame to read it; drag a handle of a band line to move it."))
	w.status.Truncation = fyne.TextTruncateEllipsis
	w.desk.Status = func(text string) { kit.SetText(w.status, text) }
	return container.NewBorder(w.unkept(), nil, nil, nil, container.New(layout.NewStackLayout(), w.status))
}

// sync brings up to date what is not a view.
func (w *mainWindow) sync() {
	d := w.desk
	w.girthRoom()
	_, undo := d.Session.CanUndo()
	_, redo := d.Session.CanRedo()
	kit.Able(undo, w.undo)
	kit.Able(redo, w.redo)
	w.greyItems(map[*fyne.MenuItem]bool{w.undoItem: !undo, w.redoItem: !redo, w.removeItem: d.Line() == nil})
	title := d.Session.Title()
	if d.Session.Changed() {
		title = tongue.T("%s (not saved)", title)
	}
	kit.SetText(w.title, title)
	w.followSteps()
	w.entitle()
}

// Show shows the window. It gets its title then: that which it is made with is the name
// by which desktops tell the program's windows (WM_CLASS), and stays.
func (w *mainWindow) Show() {
	w.Window.Show()
	w.shown = true
	w.entitle()
}

// entitle gives the window the title that tells of its file.
func (w *mainWindow) entitle() {
	if now := windowTitle(w.desk.Session); w.shown && now != w.Title() {
		w.SetTitle(now)
	}
}

// unsavedMark stands before the title of a window whose plan has changes that are not
// in its file.
const unsavedMark = "• "

// windowTitle tells the plan's file, or the plan where it has none, and whether it has
// changes that are not saved.
func windowTitle(s *app.Session) string {
	mark, file := "", s.Title()
	if path := s.Path(); path != "" {
		file = filepath.Base(path)
	}
	if s.Changed() {
		mark = unsavedMark
	}
	return mark + visible.Text(file) + kit.TitleDash + name
}

// greyItems greys items of the menu, or gives them back.
func (w *mainWindow) greyItems(grey map[*fyne.MenuItem]bool) {
	others := false
	for item, on := range grey {
		others = others || item.Disabled != on
		item.Disabled = on
	}
	if others {
		w.MainMenu().Refresh()
	}
}

// shortcuts gives the keys that work wherever the focus is, beside those of the menus.
func (w *mainWindow) shortcuts() {
	c := w.Canvas()
	c.SetOnTypedKey(w.typed)
	for _, s := range w.stepKeys() {
		c.AddShortcut(s.keys, func(fyne.Shortcut) { s.do() })
	}
}

// stepKey is a key that goes a step back or on.
type stepKey struct {
	keys  fyne.Shortcut
	shown string
	does  string
	do    func()
}

// stepKeys are the keys of Undo and Redo. The menu's items have none: what they are called
// changes with each step.
func (w *mainWindow) stepKeys() []stepKey {
	d := w.desk
	again := &desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift}
	return []stepKey{
		{&fyne.ShortcutUndo{}, kit.ShortcutName(&desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: fyne.KeyModifierShortcutDefault}), tongue.T("Undo"), d.Undo},
		{&fyne.ShortcutRedo{}, kit.ShortcutName(&desktop.CustomShortcut{KeyName: fyne.KeyY, Modifier: fyne.KeyModifierShortcutDefault}), tongue.T("Redo"), d.Redo},
		{again, kit.ShortcutName(again), tongue.T("Redo"), d.Redo},
	}
}

// typed takes the keys that no widget has: those of the menus without Ctrl, those of the
// window and of a dialog, and Escape, which leaves the welcome page, stops a strip that is
// pressed on, or puts a drag back. No other key acts on anything that has not the focus.
func (w *mainWindow) typed(e *fyne.KeyEvent) {
	if item := w.itemOf(e.Name); item != nil {
		item.Action()
		return
	}
	switch {
	case e.Name == fyne.KeyEscape && w.welcome.Shown() && w.Canvas().Overlays().Top() == nil:
		w.welcome.Hide()
	case w.desk.DialogKey(e):
	case e.Name == fyne.KeyEscape:
		w.Long.TypedKey(e)
	case e.Name == fyne.KeyF6:
		w.stepPane(kit.Step())
	case e.Name == fyne.KeyF10:
		kit.OpenMenuBar(w.Canvas())
	}
}

// itemOf is the item of the menus that a key without Ctrl or Shift is of; nil for none.
func (w *mainWindow) itemOf(name fyne.KeyName) (found *fyne.MenuItem) {
	w.eachItem(func(_ string, m *fyne.MenuItem) {
		if s := kit.ShortcutOf(m); s != nil && s.Modifier == 0 && s.KeyName == name {
			found = m
		}
	})
	return found
}

// eachItem goes through the items of all menus, each with the name of its menu.
func (w *mainWindow) eachItem(f func(of string, m *fyne.MenuItem)) {
	var through func(of string, items []*fyne.MenuItem)
	through = func(of string, items []*fyne.MenuItem) {
		for _, m := range items {
			f(of, m)
			if m.ChildMenu != nil {
				through(m.Label, m.ChildMenu.Items)
			}
		}
	}
	for _, menu := range w.MainMenu().Items {
		through(menu.Label, menu.Items)
	}
}

// girthRoom gives the room of the body plan to the planking where there is none,
// and takes it back.
func (w *mainWindow) girthRoom() {
	if flat := w.desk.Shapeless(); flat != w.flat {
		w.flat = flat
		at := shapesAt
		if flat {
			at = shapesFlat
		}
		w.shapes.SetOffset(at)
	}
}

// Where the hull begins beside the body plan, and beside what stands for it.
const shapesAt, shapesFlat = 0.5, 0.0

// lowAt is where the tables begin beside body plan and hull.
const lowAt = 0.56
