package window

import (
	"os"

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
	"github.com/strakewright/strakewright/app/window/fairing"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/paper"
	"github.com/strakewright/strakewright/app/window/photo"
	"github.com/strakewright/strakewright/app/window/settings"
	"github.com/strakewright/strakewright/app/window/stock"
	"github.com/strakewright/strakewright/app/window/tracing"
	"github.com/strakewright/strakewright/hull/source"
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
	shapes                         *container.Split // body plan and hull
	flat                           bool             // it stands as for a hull without a shape
	table                          *strakeTable
	stock                          *stock.Panel
	tables                         *container.AppTabs // the strake table, and the panel of the wood
	panel                          *panel
	status                         *widget.Label
	undo                           *widget.Button
	redo                           *widget.Button
	undoItem, redoItem, removeItem *fyne.MenuItem // greyed while there is nothing for them
	title                          *widget.Label
	probe                          *probe
	tracing                        *tracing.Tracings
	photos                         *photo.Photos
}

// Run opens the window on a session and returns when it is closed.
func Run(s *app.Session) error { return runThen(s, func(*desk.Desk) {}) }

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
	started := sparing()
	withoutEmoji()
	a := fyneapp.NewWithID("strakewright")
	w, err := opened(a, s)
	if err != nil {
		return err
	}
	// After the start, so that a second window comes to lie upon this one.
	a.Lifecycle().SetOnStarted(func() { w.desk.Later(func() { more(w.desk) }) })
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
	a.Settings().SetTheme(kit.NewTheme(false))
	pixels, err := draw.NewPixels(theme.DefaultTextFont().Content())
	if err != nil {
		return nil, err
	}
	d := desk.New(a, &kit.Look{Pixels: pixels}, s)
	w := &mainWindow{Window: a.NewWindow(name), desk: d, tracing: &tracing.Tracings{Main: d}, photos: &photo.Photos{Main: d}}
	d.Win = w.Window
	d.Picture = func(path string) { w.tracing.Show().OpenAt(path) }
	d.Photo = w.photos.Show
	w.build()
	w.SetMainMenu(w.menu())
	w.shortcuts()
	w.SetPadded(false)
	w.Resize(fyne.NewSize(openWidth, openHeight))
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
	w.desk.AskFirst("close", func() {
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
	w.tables = container.NewAppTabs(container.NewTabItem("Strakes", w.table.object()), container.NewTabItem("Stock", kit.Veiled(stockLeast, w.stock.Object())))
	low := kit.Split(container.NewHSplit(w.shapes, w.tables), 0.56)
	board := kit.Split(container.NewVSplit(long, low), 0.55)
	w.roomFor(low, board)
	middle := container.NewStack(board)
	w.OnFull(func(full bool) {
		if full {
			w.shapes.Trailing = container.NewStack()
			middle.Objects = []fyne.CanvasObject{w.Hull}
		} else {
			w.shapes.Trailing = w.Hull
			middle.Objects = []fyne.CanvasObject{board}
		}
		middle.Refresh()
		w.shapes.Refresh()
	})
	all := kit.Split(container.NewHSplit(w.panel.tabs, middle), 0.2)
	w.SetContent(container.NewBorder(w.bar(), w.foot(), nil, nil, all))
}

// roomFor gives the panel of the wood more room than the table while it is
// shown: it holds more than one table. The lofted hull has more while a strip is laid
// over its frames.
func (w *mainWindow) roomFor(low, board *container.Split) {
	r := &room{low: low, board: board, shapes: w.shapes}
	d := w.desk
	w.stock.Shown = func() bool { return w.tables.SelectedIndex() == 1 }
	w.table.inSight = func() bool { return w.tables.SelectedIndex() == 0 }
	w.tables.OnSelected = func(*container.TabItem) {
		r.give(w.stock.Shown(), r.strip)
		w.table.sync()
		w.stock.Sync()
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
	low, board, shapes := r.was[0], r.was[1], r.was[2]
	if stock {
		low, board = min(0.26, low), min(0.28, board)
	}
	if strip {
		board, shapes = min(0.34, board), min(0.16, shapes)
		if !stock {
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
	w.undo = widget.NewButtonWithIcon("Undo", theme.ContentUndoIcon(), d.Undo)
	w.redo = widget.NewButtonWithIcon("Redo", theme.ContentRedoIcon(), d.Redo)
	w.title = widget.NewLabelWithStyle("", fyne.TextAlignTrailing, fyne.TextStyle{Bold: true})
	w.title.Truncation = fyne.TextTruncateEllipsis
	left := container.NewHBox(
		widget.NewButtonWithIcon("Open", theme.FolderOpenIcon(), func() { open(d) }),
		widget.NewButtonWithIcon("Save", theme.DocumentSaveIcon(), func() { d.Save(func() {}) }),
		widget.NewSeparator(), w.undo, w.redo, widget.NewSeparator(),
		d.Button("Lay all lines…", "Searches for band lines in whole strips, and shows the ways there are", func() { settings.LayLines(d) }),
		d.Button("Compare strips…", "Lays the layer in strips of several widths, thicknesses and woods", d.CompareWidths),
		widget.NewSeparator(),
		d.Button("mm / in", "Shows lengths in millimetres or in inches", d.SwitchUnits),
		d.Button("Light / dark", "Draws dark on light, or light on dark", d.SwitchLight),
		widget.NewButtonWithIcon("Help", theme.HelpIcon(), func() { help(d) }),
	)
	return container.NewBorder(nil, nil, left, nil, w.title)
}

// foot is the status line.
func (w *mainWindow) foot() fyne.CanvasObject {
	w.status = widget.NewLabel("Point at a frame to read it; drag a handle of a band line to move it.")
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
		title += " (not saved)"
	}
	kit.SetText(w.title, title)
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

// shortcuts gives the keys that work wherever the focus is.
func (w *mainWindow) shortcuts() {
	d, c := w.desk, w.Canvas()
	c.SetOnTypedKey(w.typed)
	c.AddShortcut(&fyne.ShortcutUndo{}, func(fyne.Shortcut) { d.Undo() })
	c.AddShortcut(&fyne.ShortcutRedo{}, func(fyne.Shortcut) { d.Redo() })
	c.AddShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift},
		func(fyne.Shortcut) { d.Redo() })
}

// typed takes the keys that no widget has: those of a dialog, and Escape, which
// stops a strip that is pressed on, or puts a drag back. No other key acts on anything
// that has not the focus.
func (w *mainWindow) typed(e *fyne.KeyEvent) {
	if !w.desk.DialogKey(e) && e.Name == fyne.KeyEscape {
		w.Long.TypedKey(e)
	}
}

// menu is the window's menu; its shortcuts work wherever the focus is.
func (w *mainWindow) menu() *fyne.MainMenu {
	d := w.desk
	item := func(name string, key fyne.KeyName, f func()) *fyne.MenuItem {
		m := fyne.NewMenuItem(name, f)
		if key != "" {
			m.Shortcut = &desktop.CustomShortcut{KeyName: key, Modifier: fyne.KeyModifierShortcutDefault}
		}
		return m
	}
	w.undoItem, w.redoItem = item("Undo", "", d.Undo), item("Redo", "", d.Redo)
	w.removeItem = item("Remove the band line", "", func() { settings.RemoveLine(d) })
	quit := fyne.NewMenuItem("Close", w.close)
	quit.IsQuit = true
	return fyne.NewMainMenu(
		fyne.NewMenu("Plan",
			item("Open…", fyne.KeyO, func() { open(d) }),
			item("Open the demo plan", "", func() { openDemo(d) }),
			item("Trace a picture…", fyne.KeyT, func() { w.tracing.Show() }),
			item("Save", fyne.KeyS, func() { d.Save(func() {}) }),
			item("Save as…", "", func() { d.SaveAs(func() {}) }),
			item("Export the strake table…", fyne.KeyE, func() { export(d) }),
			item("Fair the frames…", "", func() { fairing.Open(d) }),
			item("Full-size paper…", fyne.KeyP, func() { paper.Open(d) }),
			fyne.NewMenuItemSeparator(), quit),
		fyne.NewMenu("Edit", w.undoItem, w.redoItem),
		fyne.NewMenu("Planking",
			item("Add a band line", "", func() { settings.AddLine(d) }),
			w.removeItem,
			item("Lay all lines…", fyne.KeyL, func() { settings.LayLines(d) }),
			item("March out from the free strips", "", func() { w.panel.showLine(); d.ShowMarch(!d.Marching()) }),
			item("Compare strips…", fyne.KeyW, d.CompareWidths),
			item("Limits…", "", func() { settings.SetLimits(d) }),
			item("Rules of thumb…", "", func() { settings.SetRules(d) }),
			item("Add a layer", "", func() { settings.AddLayer(d) })),
		fyne.NewMenu("View",
			item("Show the whole", "", func() {
				for _, v := range d.Boards {
					v.Fit()
				}
			}),
			item("Millimetres or inches", "", d.SwitchUnits),
			item("Light or dark", fyne.KeyD, d.SwitchLight)),
		fyne.NewMenu("Help", item("How to use the board", "", func() { help(d) })),
	)
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
const shapesAt, shapesFlat = 0.42, 0.0
