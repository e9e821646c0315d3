package window

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"strakewright/app"
	"strakewright/app/trace"
	"strakewright/hull"
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
	desk  *desk // of this window, not of the board: only for its dialogs, units and colours
	main  *desk
	win   fyne.Window
	t     *trace.Trace
	board *traceBoard
	panel *tracePanel

	tool   traceTool
	picked []trace.Point // clicked for the tool at hand
	snap   bool
	known  struct{ distance, width, height float64 } // mm
	way    trace.Way

	foot   *widget.Label
	keptAt int // the count of changes as last handed over or written
	closed func()
}

// trace opens the window for tracing, or brings it up.
func (w *Window) trace() *tracer {
	if w.tracing == nil {
		w.tracing = newTracer(w.desk)
		w.tracing.closed = func() { w.tracing = nil }
		w.SetOnClosed(func() {
			if w.tracing != nil {
				w.tracing.end()
			}
		})
	}
	w.tracing.win.Show()
	w.tracing.win.RequestFocus()
	return w.tracing
}

// holds asks, before the board closes, about a tracing that would be lost;
// then closes it and goes on. It is false where nothing would be.
func (tr *tracer) holds(then func()) bool {
	if tr == nil {
		return false
	}
	tr.leave(then)
	return true
}

func newTracer(main *desk) *tracer {
	tr := &tracer{main: main, win: main.app.NewWindow(name + ": trace a picture"), t: trace.New(), snap: true, closed: func() {}}
	tr.known.distance, tr.known.width, tr.known.height = 100, 100, 100
	tr.desk = &desk{app: main.app, win: tr.win, s: main.s, units: main.units, dark: main.dark, onMain: main.onMain, pixels: main.pixels}
	tr.desk.say = func(text string) { showSentence(text, tr.win) }
	tr.foot = widget.NewLabel("")
	tr.foot.Truncation = fyne.TextTruncateEllipsis
	tr.desk.status = tr.foot.SetText
	tr.board = newTraceBoard(tr)
	tr.panel = newTracePanel(tr)

	side := container.NewVScroll(container.New(layout.NewCustomPaddedLayout(0, 0, 0, 10), tr.panel.content()))
	side.SetMinSize(fyne.NewSize(340, 200))
	left := container.NewBorder(nil, tr.panel.finish(), nil, nil, side)
	tr.win.SetContent(container.NewBorder(nil, tr.foot, left, nil, tr.board))
	tr.win.SetPadded(false)
	tr.win.Resize(fyne.NewSize(openWidth, openHeight))
	tr.win.SetCloseIntercept(func() { tr.leave(func() {}) })
	c := tr.win.Canvas()
	c.AddShortcut(&fyne.ShortcutUndo{}, func(fyne.Shortcut) { tr.undo() })
	c.AddShortcut(&fyne.ShortcutRedo{}, func(fyne.Shortcut) { tr.redo() })
	c.AddShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift},
		func(fyne.Shortcut) { tr.redo() })
	c.SetOnTypedKey(tr.typed)
	tr.changed()
	tr.say(tr.next())
	return tr
}

// typed takes the keys that no widget has.
func (tr *tracer) typed(e *fyne.KeyEvent) {
	if top, ok := tr.win.Canvas().Overlays().Top().(*widget.PopUp); ok {
		if e.Name == fyne.KeyEscape && !tr.desk.working {
			top.Hide()
		}
		return
	}
	tr.board.TypedKey(e)
}

// say tells something in the foot of the window.
func (tr *tracer) say(text string) { tr.foot.SetText(text) }

// next tells what is to be done next.
func (tr *tracer) next() string {
	switch tr.tool {
	case traceScale:
		first := [2][2]string{{"the left", "the right"}, {"the lower", "the upper"}}[tr.way][min(len(tr.picked), 1)]
		return fmt.Sprintf("Click %s of two points that are %s apart on the model.", first, tr.desk.units.Length(tr.known.distance))
	case traceCorners:
		return fmt.Sprintf("Click the %s corner of the rectangle, as it truly lies.", [...]string{"upper left", "upper right", "lower right", "lower left"}[min(len(tr.picked), 3)])
	case traceCentre:
		return "Click any point of the centre line (for a stem or stern in a side view: of the upright at x = 0)."
	case traceBase:
		return "Click any point of the base line, from which heights are read."
	}
	t := tr.t
	d := t.Lines()
	switch {
	case t.Ground() < 0:
		return "Open a scan or a photo: PNG, JPEG, or a page of a PDF."
	case !t.Grounds()[t.Ground()].Calibration.Set():
		return "Set the scale, by two points or four corners."
	case !d.HasCentre:
		return "Set the centre line."
	case !d.HasBase:
		return "Set the base line."
	case t.Frame() < 0:
		return "Add a frame, and click along it from the upper limit down to the rabbet."
	}
	return fmt.Sprintf("Click along frame %s from the upper limit down to the rabbet; drag a point to move it; right click for more.", t.Frames()[t.Frame()].Name)
}

// changed brings the window up to date.
func (tr *tracer) changed() {
	tr.desk.s = tr.main.s
	tr.board.changed()
	tr.panel.update()
}

// did follows a change, or tells why it could not be made.
func (tr *tracer) did(err error) bool {
	tr.changed()
	if err != nil {
		tr.desk.status(sentence(err))
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
	switch tr.tool {
	case traceCentre:
		tr.tool = traceClicks
		tr.did(tr.t.SetCentre(at))
	case traceBase:
		tr.tool = traceClicks
		tr.did(tr.t.SetBase(at))
	case traceScale, traceCorners:
		tr.pick(at)
	default:
		at, snapped := tr.snapped(at, free)
		if tr.did(tr.t.Click(at, snapped)) && !snapped && tr.snap && !free {
			tr.say("No outline is clear there: the point stays where you clicked. " + tr.next())
		}
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
		c, err = trace.ByTwo(p[0], p[1], tr.known.distance, tr.way)
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
	if tr.did(err) {
		tr.board.fit()
	}
}

// snapped draws a place to the outline, if that is wanted and clear.
func (tr *tracer) snapped(at trace.Point, free bool) (trace.Point, bool) {
	if !tr.snap || free || tr.t.Ground() < 0 {
		return at, false
	}
	return tr.t.Grounds()[tr.t.Ground()].Picture.Snap(at, tr.board.pixels(snapReach, at))
}

func (tr *tracer) undo() {
	if len(tr.picked) > 0 {
		tr.picked = tr.picked[:len(tr.picked)-1]
		tr.did(nil)
		return
	}
	if what, ok := tr.t.Undo(); ok {
		tr.tool = traceClicks
		tr.changed()
		tr.say("Taken back: " + what)
	}
}

func (tr *tracer) redo() {
	if what, ok := tr.t.Redo(); ok {
		tr.tool, tr.picked = traceClicks, nil
		tr.changed()
		tr.say("Made again: " + what)
	}
}

// addFrame begins a frame, named and placed after the last one.
func (tr *tracer) addFrame() {
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
	if !tr.lost() {
		end()
		return
	}
	tr.win.RequestFocus()
	tr.desk.confirm("Leave the tracing?", "The frames you have traced are in no plan and no file yet.", "Leave them", end)
}

func (tr *tracer) end() {
	tr.desk.gone = true
	tr.closed()
	tr.win.SetCloseIntercept(nil)
	tr.win.Close()
}

// makePlan hands the hull over as a new plan.
func (tr *tracer) makePlan() {
	h, ok := tr.hull()
	if !ok {
		return
	}
	tr.say("The board asks first what becomes of the plan at hand.")
	tr.main.win.RequestFocus()
	tr.main.askFirst("put the traced hull in its place", func() {
		s, err := app.FromHull(tr.title(), *h)
		if err != nil {
			tr.desk.say(sentence(err))
			return
		}
		tr.keptAt = tr.t.Changes()
		tr.main.replace(s)
		tr.main.status(fmt.Sprintf("The traced hull is here as a new plan, with %d frames. It is not saved yet.", len(h.Frames)))
		tr.say("The traced hull is on the board as a new plan. You can go on tracing.")
	})
}

// savePoints asks for a file and writes the points there.
func (tr *tracer) savePoints() {
	h, ok := tr.hull()
	if !ok {
		return
	}
	tr.desk.askPath("Save the points as", tr.title()+" points.csv", func(path string, replace bool) error {
		if !replace {
			if _, err := os.Lstat(path); err == nil {
				return fs.ErrExist
			}
		}
		if err := hull.ReplaceFile(path, func(w io.Writer) error { return hull.WritePoints(w, h) }); err != nil {
			return err
		}
		tr.keptAt = tr.t.Changes()
		tr.say("Points written to " + path)
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
		tr.desk.say(sentence(errors.New("no frame is traced yet; " + strings.ToLower(tr.next()[:1]) + tr.next()[1:])))
		return nil, false
	}
	h, faults := tr.t.Hull()
	if len(faults) == 0 {
		return h, true
	}
	var told []string
	for _, f := range faults {
		told = append(told, sentence(f))
	}
	showSentences("The hull cannot be taken yet", told, tr.win)
	return nil, false
}

// showSentences shows several sentences, one a paragraph.
func showSentences(title string, told []string, w fyne.Window) {
	box := container.NewVBox()
	for _, s := range told {
		l := widget.NewLabel(s)
		l.Wrapping = fyne.TextWrapWord
		box.Add(l)
	}
	shown := dialog.NewCustom(title, "Close", container.NewVScroll(box), w)
	shown.Resize(fyne.NewSize(520, min(420, 130+40*float32(len(told)))))
	shown.Show()
}
