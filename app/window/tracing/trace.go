package tracing

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source"
)

// traceTool is what a click on the picture does.
type traceTool uint8

const (
	traceClicks  traceTool = iota // puts the next point of the frame
	traceScale                    // takes the two points of known distance
	traceCorners                  // takes the four corners of the known rectangle
	traceCentre                   // puts the centre line there
	traceBase                     // puts the base line there
)

// tracer is the window in which frames are traced off a picture. It is used
// on the main goroutine alone.
type tracer struct {
	*kit.Background // of this window, not of the board
	*kit.Look
	main  *desk.Desk // the board's
	units views.Units
	t     *trace.Trace
	board *traceBoard
	panel *tracePanel
	left  fyne.CanvasObject // what stands beside the board
	lens  bool              // a magnifier shows what lies about the pointer

	keeper *trace.Keeper
	noted  int // the count of changes as last noted for keeping

	tool   traceTool
	picked []trace.Point // clicked for the tool at hand
	snap   bool
	follow bool                                      // lines are followed between clicks
	trail  follows                                   // what leads to the pointer
	near   nearest                                   // what the pointer was last drawn to
	known  struct{ distance, width, height float64 } // mm
	lie    trace.Lie

	foot   *widget.Label
	keptAt int // the count of changes as last handed over or written
	closed func()
}

// The size at which the window opens.
const firstWidth, firstHeight = 1280, 760

// Tracings is where pictures are traced beside a board.
type Tracings struct {
	Main *desk.Desk
	open *tracer // nil while no picture is traced
}

// Show opens the window for tracing, or brings it up.
func (ts *Tracings) Show() *tracer {
	if ts.open == nil {
		ts.open = newTracer(ts.Main)
		ts.open.closed = func() { ts.open = nil }
		ts.Main.Win.SetOnClosed(func() {
			if ts.open != nil {
				ts.open.end()
			}
		})
	}
	if ts.open.units != ts.Main.Units {
		ts.open.furnish()
	}
	ts.open.Win.Show()
	ts.open.Win.RequestFocus()
	return ts.open
}

// Holds asks, before the board closes, about a tracing that would be lost;
// then closes it and goes on. It is false where nothing would be.
func (ts *Tracings) Holds(then func()) bool {
	if ts.open == nil {
		return false
	}
	ts.open.leave(then)
	return true
}

// Keep has what is traced written where it is kept.
func (ts *Tracings) Keep() {
	if ts.open != nil {
		ts.open.keeper.Flush()
	}
}

func newTracer(main *desk.Desk) *tracer {
	tr := &tracer{Background: kit.NewBackground(main.Life, main.App.NewWindow(tongue.T("%s: trace a picture", main.Win.Title()))), Look: main.Look, main: main, t: trace.New(), snap: true, follow: true, lens: true, closed: func() {}}
	tr.keeper = trace.NewKeeper("")
	tr.known.distance, tr.known.width, tr.known.height = 100, 100, 100
	tr.OnMain = main.OnMain
	tr.foot = widget.NewLabel("")
	tr.foot.Truncation = fyne.TextTruncateEllipsis
	tr.Status = tr.foot.SetText
	tr.board = newTraceBoard(tr)
	tr.furnish()
	tr.Win.SetMainMenu(tr.menu())
	tr.Win.SetPadded(false)
	tr.Win.Resize(fyne.NewSize(firstWidth, firstHeight))
	tr.Win.SetCloseIntercept(func() { tr.leave(func() {}) })
	tr.Win.SetOnDropped(func(_ fyne.Position, files []fyne.URI) {
		if len(files) > 0 && tr.Win.Canvas().Overlays().Top() == nil {
			tr.OpenAt(files[0].Path())
		}
	})
	c := tr.Win.Canvas()
	c.AddShortcut(&fyne.ShortcutUndo{}, func(fyne.Shortcut) { tr.undo() })
	c.AddShortcut(&fyne.ShortcutRedo{}, func(fyne.Shortcut) { tr.redo() })
	c.AddShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift},
		func(fyne.Shortcut) { tr.redo() })
	c.SetOnTypedKey(tr.typed)
	tr.changed()
	tr.say(tr.next())
	return tr
}

// furnish fills the window, in the units of the board.
func (tr *tracer) furnish() {
	tr.units = tr.main.Units
	tr.panel = newTracePanel(tr)
	tr.left = container.NewBorder(nil, tr.panel.finish(), nil, nil, tr.panel.content())
	tr.Win.SetContent(tr.WithTips(container.NewBorder(nil, tr.foot, tr.left, nil, tr.board)))
	tr.changed()
}

// typed takes the keys that no widget has.
func (tr *tracer) typed(e *fyne.KeyEvent) {
	if !tr.windowKey(e.Name) && !tr.DialogKey(e) {
		tr.board.TypedKey(e)
	}
}

// windowKey does what a key does wherever the focus is, and tells whether it does anything.
func (tr *tracer) windowKey(key fyne.KeyName) bool {
	return kit.KeyAnywhere(key, tr.Win.Canvas(), func() { tr.main.Help(tr.Notices, "trace") }, tr.left, tr.board)
}

// menu is the window's menu, for the keys: all of it stands beside the picture too.
func (tr *tracer) menu() *fyne.MainMenu {
	item := func(name string, key fyne.KeyName, with fyne.KeyModifier, f func()) *fyne.MenuItem {
		m := fyne.NewMenuItem(name, f)
		if key != "" {
			m.Shortcut = kit.NewShortcut(key, with)
		}
		return m
	}
	const ctrl = fyne.KeyModifierShortcutDefault
	leave := item(tongue.T("Close"), fyne.KeyW, ctrl, func() { tr.leave(func() {}) })
	leave.IsQuit = true
	return fyne.NewMainMenu(
		fyne.NewMenu(tongue.T("Picture"), item(tongue.T("Open a picture…"), fyne.KeyO, ctrl, tr.openPicture), item(tongue.T("Save the points…"), fyne.KeyS, ctrl, tr.savePoints), item(tongue.T("Make the plan"), "", 0, tr.makePlan), leave),
		fyne.NewMenu(tongue.T("Edit"), item(tongue.T("Undo"), "", 0, tr.undo), item(tongue.T("Redo"), "", 0, tr.redo)),
		fyne.NewMenu(tongue.T("View"), item(tongue.T("Show the whole picture"), "", 0, tr.board.Fit), item(tongue.T("The other tab"), fyne.KeyTab, fyne.KeyModifierControl, tr.otherTab)))
}

// otherTab shows the other tab of the panel, and gives it the keys.
func (tr *tracer) otherTab() {
	if tr.Win.Canvas().Overlays().Top() != nil {
		return
	}
	tabs := tr.panel.tabs
	tabs.SelectIndex((tabs.SelectedIndex() + 1) % len(tabs.Items))
	kit.FocusWithin(tr.Win.Canvas(), tabs.Selected().Content)
}

// say tells something in the foot of the window.
func (tr *tracer) say(text string) { tr.foot.SetText(text) }

// What is to be clicked for the scale: of two points, by how they lie, and of four.
var (
	clickTwo = [2][2]string{
		{tongue.Mark("Click the left of two points that are %s apart on the model."), tongue.Mark("Click the right of two points that are %s apart on the model.")},
		{tongue.Mark("Click the lower of two points that are %s apart on the model."), tongue.Mark("Click the upper of two points that are %s apart on the model.")},
	}
	clickCorner = [4]string{
		tongue.Mark("Click the upper left corner of the rectangle, as it truly lies."),
		tongue.Mark("Click the upper right corner of the rectangle, as it truly lies."),
		tongue.Mark("Click the lower right corner of the rectangle, as it truly lies."),
		tongue.Mark("Click the lower left corner of the rectangle, as it truly lies."),
	}
)

// next tells what is to be done next.
func (tr *tracer) next() string {
	switch tr.tool {
	case traceScale:
		return tongue.T(clickTwo[tr.lie][min(len(tr.picked), 1)], tr.units.Length(tr.known.distance))
	case traceCorners:
		return tongue.T(clickCorner[min(len(tr.picked), 3)])
	case traceCentre:
		return tongue.T("Click any point of the centre line (for a stem or stern in a side view: of the upright at x = 0).")
	case traceBase:
		return tongue.T("Click any point of the base line, from which heights are read.")
	}
	t := tr.t
	d := t.Lines()
	switch {
	case t.Ground() < 0:
		return tongue.T("Open a scan or a photo: PNG, JPEG, or a page of a PDF.")
	case !t.Grounds()[t.Ground()].Calibration.Set():
		return tongue.T("Set the scale, by two points or four corners.")
	case !d.HasCentre:
		return tongue.T("Set the centre line.")
	case !d.HasBase:
		return tongue.T("Set the base line.")
	case t.Frame() < 0:
		name, _ := nextFrame(t.Frames())
		return tongue.T("Click the upper end of frame %s, then its lower end: the line between is followed.", name)
	}
	f := t.Frames()[t.Frame()]
	if t.Done() {
		name, _ := nextFrame(t.Frames())
		return tongue.T("Frame %s is traced to its end; its x is %s. Click the upper end of frame %s.", f.Name, tr.units.Length(f.X), name)
	}
	if len(f.Halves[0])+len(f.Halves[1]) == 0 {
		return tongue.T("Click the upper end of frame %s; its x is %s.", f.Name, tr.units.Length(f.X))
	}
	if _, err := t.Outline(t.Frame()); err != nil && len(f.Halves[0]) != 1 && len(f.Halves[1]) != 1 {
		return kit.Sentence(tongue.Errorf("frame %s cannot be used as it is: %w", f.Name, err))
	}
	return tongue.T("Click on along frame %s, down to its lower end; a click on the last point, or Enter, ends it anywhere. Drag a point to move it; right click for more.", f.Name)
}

// changed brings the window up to date.
func (tr *tracer) changed() {
	if n := tr.t.Changes(); n != tr.noted {
		tr.noted = n
		tr.keeper.Note(tr.t)
	}
	tr.trail.drop()
	tr.board.Changed()
	tr.panel.Update()
}

// did follows a change, or tells why it could not be made.
func (tr *tracer) did(err error) bool {
	tr.changed()
	if err != nil {
		tr.Status(kit.Sentence(err))
		return false
	}
	tr.say(tr.next())
	return true
}

// take takes another tool in hand.
func (tr *tracer) take(tool traceTool) {
	tr.tool, tr.picked = tool, nil
	if tool != traceClicks && tr.t.Ground() < 0 {
		tr.tool = traceClicks
	}
	tr.changed()
	tr.say(tr.next())
}

// click does what a click on the picture does; free leaves the snap out.
func (tr *tracer) click(at trace.Point, free bool) {
	if tr.t.Ground() < 0 {
		tr.say(tr.next())
		return
	}
	raw := at
	at, snapped := tr.snapped(at, free)
	switch tr.tool {
	case traceCentre:
		err := tr.t.SetCentre(at)
		tr.goOn()
		tr.did(err)
	case traceBase:
		err := tr.t.SetBase(at)
		tr.goOn()
		tr.did(err)
	case traceScale, traceCorners:
		tr.pick(at)
	default:
		tr.mark(at, snapped, free, raw)
	}
}

// mark puts the next point of a frame; of a frame that is traced to its end, and
// where none is at hand, the first of the next.
func (tr *tracer) mark(at trace.Point, snapped, free bool, raw trace.Point) {
	var err error
	said := ""
	switch {
	case tr.begins():
		name, x := nextFrame(tr.t.Frames())
		tr.panel.tabs.SelectIndex(framesTab)
		err = tr.t.Begin(name, x, at, snapped)
	case !free && tr.canFollow():
		if f, ok := tr.followed(raw); ok {
			err = tr.t.Along(f)
			if f.Unsure {
				said = tongue.T("Lines run together there, and the last of it is a guess: look at it, or take it back and click between.")
			}
			break
		}
		said = tongue.T("No line clearly leads there: the point is joined by a smooth curve.")
		fallthrough
	default:
		err = tr.t.Click(at, snapped)
	}
	if !tr.did(err) {
		return
	}
	if !snapped && tr.snap && !free && said == "" && !tr.t.Done() {
		if last, _, ok := tr.t.Last(); ok && !last.Snapped {
			said = tongue.T("There is no clear outline there: the point stays where you clicked.")
		}
	}
	if said != "" {
		tr.say(said + " " + tr.next())
	}
}

// begins tells whether the next click begins a frame.
func (tr *tracer) begins() bool {
	g, ok := tr.ground()
	return tr.t.Done() || ok && tr.t.Frame() < 0 && g.Calibration.Set()
}

// finish says that the frame at hand is traced to its end.
func (tr *tracer) finish() {
	if f, ok := tr.frame(); ok && len(f.Halves[0])+len(f.Halves[1]) > 1 {
		tr.did(tr.t.Finish())
	}
}

// goOn takes the tool in hand that is wanted next, until frames can be clicked.
func (tr *tracer) goOn() {
	d := tr.t.Lines()
	tr.tool, tr.picked = traceClicks, nil
	switch g := tr.t.Ground(); {
	case g < 0 || !tr.t.Grounds()[g].Calibration.Set():
	case !d.HasCentre:
		tr.tool = traceCentre
	case !d.HasBase:
		tr.tool = traceBase
	default:
		tr.panel.tabs.SelectIndex(framesTab)
	}
}

// pick takes a point for the scale, and sets it with the last one.
func (tr *tracer) pick(at trace.Point) {
	tr.picked = append(tr.picked, at)
	p := tr.picked
	var c trace.Calibration
	var err error
	switch {
	case tr.tool == traceScale && len(p) == 2:
		c, err = trace.ByTwo(p[0], p[1], tr.known.distance, tr.lie)
	case tr.tool == traceCorners && len(p) == 4:
		c, err = trace.ByFour([4]trace.Point(p), tr.known.width, tr.known.height)
	default:
		tr.did(nil)
		return
	}
	tr.tool, tr.picked = traceClicks, nil
	if err == nil {
		err = tr.t.Calibrate(c)
	}
	if err == nil {
		tr.goOn()
	}
	if tr.did(err) {
		tr.board.Fit()
	}
}

func (tr *tracer) undo() {
	if len(tr.picked) > 0 {
		tr.picked = tr.picked[:len(tr.picked)-1]
		tr.did(nil)
		return
	}
	before, had := tr.ground()
	lines := tr.t.Lines()
	what, ok := tr.t.Undo()
	if !ok {
		return
	}
	tr.tool = traceClicks
	if now, has := tr.ground(); had && has && now.Picture == before.Picture {
		tr.clickAgain(before.Calibration, now.Calibration, lines)
	}
	tr.changed()
	said := tongue.T("Undone: %s.", what)
	tr.refit(before)
	tr.say(said + " " + tr.next())
}

// refit shows the whole where the picture at hand is another, or lies
// otherwise, than before.
func (tr *tracer) refit(before trace.Ground) {
	if now, _ := tr.ground(); now.Picture != before.Picture || now.Calibration.ToMM != before.Calibration.ToMM {
		tr.board.Fit()
	}
}

// clickAgain takes the tool in hand whose last click was taken back, with the
// clicks before it.
func (tr *tracer) clickAgain(was, is trace.Calibration, lines trace.Datum) {
	now := tr.t.Lines()
	n := len(was.Points)
	switch {
	case was.Set() && was.ToMM != is.ToMM:
		tr.setKnown(was)
		tr.tool = traceScale
		if n == 4 {
			tr.tool = traceCorners
		}
		tr.picked = append([]trace.Point{}, was.Points[:n-1]...)
		tr.panel.tabs.SelectIndex(pictureTab)
	case lines.HasBase && !now.HasBase && now.HasCentre:
		tr.tool = traceBase
	case lines.HasCentre && !now.HasCentre && is.Set():
		tr.tool = traceCentre
	}
}

// setKnown shows what a scale was set by.
func (tr *tracer) setKnown(c trace.Calibration) {
	switch len(c.Points) {
	case 2:
		tr.known.distance, tr.lie = c.Known[0], c.Lie
		tr.panel.ways.SelectIndex(0)
	case 4:
		tr.known.width, tr.known.height = c.Known[0], c.Known[1]
		tr.panel.ways.SelectIndex(1)
	}
}

// ground is the picture at hand.
func (tr *tracer) ground() (trace.Ground, bool) {
	if i := tr.t.Ground(); i >= 0 {
		return tr.t.Grounds()[i], true
	}
	return trace.Ground{}, false
}

func (tr *tracer) redo() {
	before, _ := tr.ground()
	if what, ok := tr.t.Redo(); ok {
		tr.goOn()
		tr.changed()
		tr.refit(before)
		tr.say(tongue.T("Redone: %s.", what) + " " + tr.next())
	}
}

// nextFrame begins the next frame, unless the one at hand has no point yet.
func (tr *tracer) nextFrame() {
	if f, ok := tr.frame(); ok && len(f.Halves[0])+len(f.Halves[1]) == 0 {
		tr.say(tr.next())
		return
	}
	tr.addFrame()
}

// addFrame begins a frame, named and placed after the last one.
func (tr *tracer) addFrame() {
	tr.panel.tabs.SelectIndex(framesTab)
	tr.tool, tr.picked = traceClicks, nil
	name, x := nextFrame(tr.t.Frames())
	tr.did(tr.t.AddFrame(name, x))
}

// nextFrame gives a name and an x, mm, that go on from the frames there are.
func nextFrame(frames []trace.Frame) (string, float64) {
	taken := map[string]bool{}
	var xs []float64
	last := ""
	for _, f := range frames {
		taken[f.Name] = true
		if !f.IsEnd() {
			last, xs = f.Name, append(xs, f.X)
		}
	}
	x, n := 0.0, len(xs)
	switch {
	case n > 1:
		x = 2*xs[n-1] - xs[n-2]
	case n == 1:
		x = xs[0] + 20
	}
	next := following(last)
	for taken[next] {
		next = following(next)
	}
	return next, x
}

// following gives the name after a name: the next number or letter.
func following(name string) string {
	if name == "" {
		return "A"
	}
	if head := strings.TrimRight(name, "0123456789"); head != name {
		n := 0
		if _, err := fmt.Sscan(strings.TrimPrefix(name, head), &n); err == nil {
			return fmt.Sprint(head, n+1)
		}
	}
	r := []rune(name)
	if l := r[len(r)-1]; (l >= 'A' && l < 'Z') || (l >= 'a' && l < 'z') {
		r[len(r)-1]++
		return string(r)
	}
	return name + "1"
}

// lost tells whether closing would lose what is traced.
func (tr *tracer) lost() bool {
	return !tr.t.Empty() && tr.t.Changes() != tr.keptAt
}

// leave closes the window, after asking about what would be lost, and goes on.
func (tr *tracer) leave(then func()) {
	end := func() {
		tr.end()
		then()
	}
	tr.keeper.Flush()
	if !tr.lost() {
		end()
		return
	}
	text := tongue.T("The frames you have traced are in no plan and no file yet.")
	switch err := tr.keeper.Err(); {
	case err != nil:
		text += "\n" + tongue.T("They could not be kept beside the picture: %s", kit.Sentence(err))
	case tr.keeper.Path() != "":
		text = tongue.T("The frames you have traced are in no plan yet. They are kept in\n%s\nand come back when you open the picture again.", tr.keeper.Path())
	}
	tr.Win.RequestFocus()
	tr.Confirm(tongue.T("Leave the tracing?"), text, tongue.T("Leave them"), end)
}

func (tr *tracer) end() {
	tr.keeper.Flush()
	tr.Background.Leave()
	tr.closed()
	tr.Win.SetCloseIntercept(nil)
	tr.Win.Close()
}

// makePlan hands the hull over as a new plan.
func (tr *tracer) makePlan() {
	h, ok := tr.hull()
	if !ok {
		return
	}
	tr.say(tongue.T("The main window first asks what to do with the plan open there."))
	tr.main.Win.RequestFocus()
	tr.main.AskFirst(tongue.T("put the traced hull in its place"), func() {
		s, err := app.FromHull(tr.main.Life, tr.title(), *h)
		if err != nil {
			tr.Notices.Say(kit.Sentence(err))
			return
		}
		tr.keptAt = tr.t.Changes()
		tr.main.Replace(s)
		tr.main.Status(tongue.Count(len(h.Frames), "The traced hull is here as a new plan, with %d frame. It is not saved yet.", "The traced hull is here as a new plan, with %d frames. It is not saved yet.", len(h.Frames)))
		tr.say(tongue.T("The traced hull is in the main window as a new plan. You can go on tracing."))
	})
}

// savePoints asks for a file and writes the points there.
func (tr *tracer) savePoints() {
	h, ok := tr.hull()
	if !ok {
		return
	}
	tr.AskPath(tongue.T("Save the points as"), filepath.Join(tr.main.Folder(), tr.title()+" points.csv"), func(path string, replace bool) error {
		lost, err := app.WriteFile(path, replace, func(w io.Writer) error { return source.WritePoints(w, h) })
		if err != nil {
			return err
		}
		tr.keptAt = tr.t.Changes()
		tr.say(tongue.T("Points written to %s", path))
		tr.Tell(lost)
		return nil
	})
}

// title names the plan after the picture.
func (tr *tracer) title() string {
	name := tr.t.Grounds()[0].Picture.Name
	if i := strings.LastIndex(name, "."); i > 0 {
		name = name[:i]
	}
	return name
}

// hull gives the hull traced, or shows every fault of it.
func (tr *tracer) hull() (*hull.Hull, bool) {
	if tr.t.Empty() {
		tr.Notices.Say(tongue.T("No frame is traced yet.") + " " + tr.next())
		return nil, false
	}
	h, faults := tr.t.Hull()
	if len(faults) == 0 {
		return h, true
	}
	var told []string
	for _, f := range faults {
		told = append(told, kit.Sentence(f))
	}
	tr.ShowSentences(tongue.T("The hull cannot be taken yet"), told)
	return nil, false
}
