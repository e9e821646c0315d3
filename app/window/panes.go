package window

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/export"
	"github.com/strakewright/strakewright/app/window/boards"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/assets/tongue"
)

// pane is a part of the window that can be put away, or have all the room.
type pane struct {
	name   string
	object fyne.CanvasObject
	board  *boards.Board // that can be kept as a picture; nil for none
}

// panes are all of them, with the splits around them from the outermost inwards.
type panes struct {
	list   []pane
	splits []*container.Split
	before []bool // those in sight before one was given all the room; nil while none is
}

// show has some panes in sight, and a split while anything in it is. Of none at all it
// does nothing.
func (p *panes) show(shown []bool) {
	some := false
	for _, on := range shown {
		some = some || on
	}
	if !some {
		return
	}
	for i, q := range p.list {
		put(q.object, shown[i])
	}
	for i := len(p.splits) - 1; i >= 0; i-- {
		s := p.splits[i]
		put(s, s.Leading.Visible() || s.Trailing.Visible())
	}
	p.splits[0].Refresh()
}

// put shows or hides an object.
func put(o fyne.CanvasObject, shown bool) {
	if shown {
		o.Show()
	} else {
		o.Hide()
	}
}

// shown tells which are in sight.
func (p *panes) shown() []bool {
	out := make([]bool, len(p.list))
	for i, q := range p.list {
		out[i] = q.object.Visible()
	}
	return out
}

// toggle puts a pane away, or back.
func (p *panes) toggle(i int) {
	p.before = nil
	now := p.shown()
	now[i] = !now[i]
	p.show(now)
}

// enlarge gives a pane all the room, or, where it has it, gives the others theirs back.
func (p *panes) enlarge(i int) {
	if was := p.before; p.alone(i) {
		p.before = nil
		p.show(was)
		return
	}
	if p.before == nil {
		p.before = p.shown()
	}
	alone := make([]bool, len(p.list))
	alone[i] = true
	p.show(alone)
}

// hullPane is the lofted hull's place among the panes.
const hullPane = 3

// alone tells whether a pane has all the room.
func (p *panes) alone(i int) bool { return p.before != nil && p.list[i].object.Visible() }

// all shows all of them.
func (p *panes) all() {
	p.before = nil
	every := make([]bool, len(p.list))
	for i := range every {
		every[i] = true
	}
	p.show(every)
}

// paneItems are the items of the menu about panes.
func (w *mainWindow) paneItems() []*fyne.MenuItem {
	p := &w.panes
	enlarge, put, keep := within(tongue.T("Enlarge one pane")), within(tongue.T("Panes in sight")), within(tongue.T("Save a view as a picture"))
	for i, q := range p.list {
		enlarge.ChildMenu.Items = append(enlarge.ChildMenu.Items,
			plain(q.name, fyne.KeyName(fmt.Sprint(i+1)), func() { w.changePanes(func() { p.enlarge(i) }) }))
		put.ChildMenu.Items = append(put.ChildMenu.Items, plain(q.name, "", func() { w.changePanes(func() { p.toggle(i) }) }))
		if q.board != nil {
			keep.ChildMenu.Items = append(keep.ChildMenu.Items, plain(q.name+"…", "", func() { w.keepPicture(q) }))
		}
	}
	w.paneChecks = put.ChildMenu.Items
	enlarge.Disabled, put.Disabled, keep.Disabled = false, false, false
	w.checkPanes()
	return []*fyne.MenuItem{enlarge, put, plain(tongue.T("Show all panes"), fyne.Key0, func() { w.changePanes(p.all) }), keep}
}

// changePanes changes what is in sight, and has the menu say so.
func (w *mainWindow) changePanes(f func()) {
	f()
	w.TellFull(w.panes.alone(hullPane))
	w.checkPanes()
	w.MainMenu().Refresh()
}

func (w *mainWindow) checkPanes() {
	for i, on := range w.panes.shown() {
		w.paneChecks[i].Checked = on
	}
}

// itemsOf are what the menu of a drawing offers for its pane.
func (w *mainWindow) itemsOf(b desk.Board) []*fyne.MenuItem {
	for i, q := range w.panes.list {
		if q.board == nil || desk.Board(q.board) != b {
			continue
		}
		name := tongue.T("Give this pane the whole window")
		if w.panes.before != nil {
			name = tongue.T("Show the other panes again")
		}
		return []*fyne.MenuItem{
			fyne.NewMenuItem(name, func() { w.changePanes(func() { w.panes.enlarge(i) }) }),
			fyne.NewMenuItem(tongue.T("Save this view as a picture…"), func() { w.keepPicture(q) }),
		}
	}
	return nil
}

// keepPicture asks for a file, and writes a view there as it stands.
func (w *mainWindow) keepPicture(q pane) {
	d := w.desk
	d.Settle()
	drawing, paint, width, height := q.board.Drawn()
	p := export.Picture{Title: d.Session.Title() + ", " + q.name, Stamp: export.StampOf(d.Session.Plan(), d.Session.Date()), Drawing: drawing, Paint: paint, Width: width, Height: height}
	ending := ".svg"
	if drawing == nil || q.board == w.HullBoard {
		ending = ".png" // as it is on the screen; of the hull the others have its lines alone
	}
	d.AskFileName(tongue.T("Save the view as a picture: .svg, .pdf or .png"), d.FileName()+" "+q.name+ending, func(path string, replace bool) error {
		write, err := p.Writer(path)
		if err != nil {
			return err
		}
		if _, err := app.WriteFile(path, replace, write); err != nil {
			return err
		}
		d.Status(tongue.T("Picture written to %s", path))
		return nil
	})
}

// task is a layout of the window for a part of the work: where its splits stand, and
// which tab stands at the left. The panel of the wood is shown where there is buying.
// Where the lofted hull gets little room, the body plan leaves it enough for its row of
// buttons in a window of 1366 units.
type task struct {
	name                          string
	all, board, long, low, shapes float64
	tab                           int
	buying                        bool
	figure                        figure
}

// The tabs of the panel at the left.
const (
	lineTab = iota
	bandsTab
	woodTab
	benchTab
)

var tasks = []task{
	{name: tongue.Mark("Line off"), all: 0.2, board: 0.56, long: 0.62, low: lowAt, shapes: shapesAt, tab: lineTab},
	{name: tongue.Mark("Read the widths"), all: 0.2, board: 0.44, long: 0.42, low: 0.31, shapes: 0.37, tab: bandsTab},
	{name: tongue.Mark("Buy the wood"), all: 0.2, board: 0.3, long: 0.55, low: 0.31, shapes: 0.36, tab: woodTab, buying: true},
	{name: tongue.Mark("Work at the bench"), all: 0.24, board: 0.42, long: 0.5, low: 0.42, shapes: shapesAt, tab: benchTab, figure: benchWidth},
}

// layOutFor lays the window out for a task.
func (w *mainWindow) layOutFor(t task) {
	w.changePanes(w.panes.all)
	w.panel.tabs.SelectIndex(t.tab)
	table := 0
	if t.buying {
		table = 1
	}
	w.tables.SelectIndex(table)
	if !t.buying {
		w.table.pick.SetSelectedIndex(int(t.figure))
	}
	w.room.give(t.buying, w.room.strip)
	w.setSplits([]float64{t.all, t.board, t.long, t.low, t.shapes})
}

// setSplits puts the splits where they are to stand; while the panel of the wood or a
// strip has more room, from when that is given back.
func (w *mainWindow) setSplits(at []float64) {
	w.splits[0].SetOffset(at[0])
	w.splits[2].SetOffset(at[2])
	shapes := at[4]
	if w.flat {
		shapes = w.splits[4].Offset
	}
	w.room.set(at[3], at[1], shapes)
}

// atSplits tells where they stand, and will again when room that was given is back.
func (w *mainWindow) atSplits() []float64 {
	low, board, shapes := w.room.usual()
	if w.flat {
		shapes = shapesAt
	}
	return []float64{w.splits[0].Offset, board, w.splits[2].Offset, low, shapes}
}

// taskItems are the layouts to choose from.
func (w *mainWindow) taskItems() []*fyne.MenuItem {
	var items []*fyne.MenuItem
	for _, t := range tasks {
		items = append(items, fyne.NewMenuItem(tongue.T(t.name), func() { w.layOutFor(t) }))
	}
	return items
}

// chooseTask offers the layouts under their button.
func (w *mainWindow) chooseTask(under fyne.CanvasObject) {
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(under)
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", w.taskItems()...), w.Canvas(), at.AddXY(0, under.Size().Height))
}

// What is kept of the window from one run to the next.
const (
	sizeKey   = "window.size"
	splitsKey = "window.splits"
)

// keepPlace keeps the window's size, and where its splits stand.
func (w *mainWindow) keepPlace() {
	p := w.desk.App.Preferences()
	if s := w.Canvas().Size(); !w.FullScreen() {
		p.SetFloatList(sizeKey, []float64{float64(s.Width), float64(s.Height)})
	}
	p.SetFloatList(splitsKey, w.atSplits())
	w.keepHelp()
}

// recallPlace opens the window as it was left.
func (w *mainWindow) recallPlace() {
	p := w.desk.App.Preferences()
	size := fyne.NewSize(openWidth, openHeight)
	if s := p.FloatList(sizeKey); len(s) == 2 && s[0] >= leastSide && s[1] >= leastSide && s[0] <= mostSide && s[1] <= mostSide {
		size = fyne.NewSize(float32(s[0]), float32(s[1]))
	}
	w.Resize(size)
	at := p.FloatList(splitsKey)
	if len(at) != len(w.splits) {
		return
	}
	for _, v := range at {
		if !(v > 0 && v < 1) {
			return
		}
	}
	for i, v := range at {
		w.splits[i].Offset = v // SetOffset would lay it out
	}
}

// Between these a size that was kept is believed.
const leastSide, mostSide = 300, 16000
