package window

import (
	"bytes"
	"flag"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/boards"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
)

// TestAnyActionsAreTakenBack does anything that mouse, keys and menus can do, in any
// order, amid drags and dialogs too. After each action the plan is one that can be read
// again; at the end undo leads back to the first plan, byte for byte, and redo to the
// last. How much is done can be told by -rapid.checks and -rapid.steps: without that it
// is little.
func TestAnyActionsAreTakenBack(t *testing.T) {
	unlessTold(t, map[string]string{"rapid.checks": "1", "rapid.steps": "25"})
	done := 0
	rapid.Check(t, func(rt *rapid.T) {
		t.Setenv("HOME", t.TempDir())
		t.Chdir(t.TempDir()) // where a dialog about files begins: no run meets what another saved
		host := &passing{TB: t}
		defer host.end()
		m := &anyActions{w: newWindow(host), count: &done}
		m.begin(rt)
		rt.Repeat(map[string]func(*rapid.T){
			"":         m.holds,
			"drag":     m.counted(m.drag),
			"let go":   m.counted(m.letGo),
			"click":    m.counted(m.click),
			"scroll":   m.counted(m.scroll),
			"key":      m.counted(m.key),
			"menu":     m.counted(m.menu),
			"widget":   m.counted(m.poke),
			"undo":     m.counted(m.undo),
			"nudge":    m.counted(m.nudge),
			"dialog":   m.counted(m.leaveDialog),
			"elements": m.counted(m.poke), // twice as often as the others
		})
		m.takesAllBack(rt)
	})
	t.Logf("%d actions", done)
}

// unlessTold gives flags of go test a value, unless the command line does.
func unlessTold(t *testing.T, values map[string]string) {
	flag.Visit(func(f *flag.Flag) { delete(values, f.Name) })
	for name, value := range values {
		f := flag.Lookup(name)
		require.NotNil(t, f, name)
		was := f.Value.String()
		require.NoError(t, f.Value.Set(value))
		t.Cleanup(func() { _ = f.Value.Set(was) })
	}
}

// passing is a test within another, whose cleanups run when it ends.
type passing struct {
	testing.TB
	last []func()
}

func (p *passing) Cleanup(f func()) { p.last = append(p.last, f) }

func (p *passing) TempDir() string {
	dir, err := os.MkdirTemp(p.TB.TempDir(), "")
	require.NoError(p, err)
	return dir
}

func (p *passing) end() {
	for _, f := range slices.Backward(p.last) {
		f()
	}
}

// anyActions is a window in which anything is done.
type anyActions struct {
	w       *mainWindow
	count   *int
	session *app.Session // whose first plan is known
	first   []byte
	looked  *hull.Plan // the plan that was read again last
	from    draw.Point // where what is held was taken hold of
	held    *boards.Board
}

// begin notes the plan as it is at first, and every other as it is opened: what opens one
// may make a step in it at once, as the task of a minute does.
func (m *anyActions) begin(t *rapid.T) {
	note := func() {
		if m.w.desk.Session != m.session {
			m.session = m.w.desk.Session
			m.first = m.written(t)
		}
	}
	show := m.w.desk.ShowUnkept
	m.w.desk.ShowUnkept = func(why error) { // which the desk calls as it takes another
		note()
		show(why)
	}
	note()
}

func (m *anyActions) written(t *rapid.T) []byte {
	var b bytes.Buffer
	if err := m.w.desk.Plan().Write(&b); err != nil {
		t.Fatalf("the plan could not be read again: %v", err)
	}
	return b.Bytes()
}

func (m *anyActions) counted(action func(*rapid.T)) func(*rapid.T) {
	return func(t *rapid.T) {
		action(t)
		*m.count++
		m.posted()
	}
}

// posted does what work in the background has come to.
func (m *anyActions) posted() {
	for {
		select {
		case f := <-windowtest.Posted:
			f()
		default:
			return
		}
	}
}

// holds is so after each action.
func (m *anyActions) holds(t *rapid.T) {
	require.Same(t, m.session, m.w.desk.Session, "the plan was noted as it was opened")
	if m.w.desk.Plan() == m.looked {
		return
	}
	m.looked = m.w.desk.Plan()
	text := m.written(t)
	again, err := hull.ReadPlan(bytes.NewReader(text), "plan")
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, again.Write(&b))
	require.Equal(t, string(text), b.String())
}

// takesAllBack goes back to the first plan, and on to the last.
func (m *anyActions) takesAllBack(t *rapid.T) {
	for c := m.w.Canvas(); c.Overlays().Top() != nil; {
		c.Overlays().Remove(c.Overlays().Top())
	}
	d := m.w.desk
	d.Settle()
	m.posted()
	m.holds(t)
	last := m.written(t)
	steps := len(d.Session.Undoable())
	d.UndoSteps(steps)
	if now := m.written(t); !bytes.Equal(m.first, now) {
		t.Fatalf("undo does not lead to the first plan of %s, of the steps %q:\n%s\nbut to\n%s", d.Session.Title(), d.Session.Redoable(), m.first, now)
	}
	d.RedoSteps(steps)
	require.Equal(t, string(last), string(m.written(t)), "redo leads to the last plan")
	m.w.Canvas().Capture()
}

// covered tells whether a dialog or a menu lies over the views.
func (m *anyActions) covered() bool { return m.w.Canvas().Overlays().Top() != nil }

func pixels(t *rapid.T, name string, most int) float64 {
	return float64(rapid.IntRange(-most, most).Draw(t, name))
}

func (m *anyActions) drag(t *rapid.T) {
	if m.covered() {
		t.Skip("a dialog lies over it")
	}
	b, handles := m.w.Long, slices.Concat(m.w.LongHandles(), m.w.LongLimits())
	if rapid.Bool().Draw(t, "body") {
		b, handles = m.w.BodyPlan, m.w.BodyHandles()
	}
	if len(handles) == 0 {
		t.Skip("there are no handles")
	}
	h := rapid.SampledFrom(handles).Draw(t, "handle")
	windowtest.Press(b, h.At)
	m.held, m.from = b, h.At
	for range rapid.IntRange(0, 3).Draw(t, "moves") {
		to := draw.Pt(h.At.X+pixels(t, "across", 40), h.At.Y+pixels(t, "down", 40))
		windowtest.Move(b, m.from, to)
		m.from = to
	}
	switch rapid.IntRange(0, 9).Draw(t, "end") {
	case 0: // it stays held
	case 1:
		windowtest.TypeKey(b, fyne.KeyEscape)
	default:
		m.letGo(t)
	}
}

func (m *anyActions) letGo(t *rapid.T) {
	if m.held == nil {
		t.Skip("nothing is held")
	}
	windowtest.Release(m.held, m.from)
	m.held = nil
}

func (m *anyActions) board(t *rapid.T) (*boards.Board, draw.Point) {
	b := rapid.SampledFrom([]*boards.Board{m.w.Long, m.w.BodyPlan, m.w.Gauge, m.w.HullBoard}).Draw(t, "board")
	size := b.Size()
	at := func(name string, most float32) float64 {
		return float64(rapid.IntRange(0, max(int(most), 1)).Draw(t, name))
	}
	return b, draw.Pt(at("x", size.Width), at("y", size.Height))
}

func (m *anyActions) click(t *rapid.T) {
	if m.covered() {
		t.Skip("a dialog lies over it")
	}
	b, at := m.board(t)
	point := fyne.PointEvent{Position: windowtest.Pos(at)}
	switch rapid.IntRange(0, 5).Draw(t, "click") {
	case 0:
		b.DoubleTapped(&point)
	case 1:
		b.TappedSecondary(&point)
	case 2:
		b.MouseMoved(&desktop.MouseEvent{PointEvent: point})
	default:
		windowtest.Click(b, at)
	}
}

func (m *anyActions) scroll(t *rapid.T) {
	if m.covered() {
		t.Skip("a dialog lies over it")
	}
	b, at := m.board(t)
	b.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: windowtest.Pos(at)}, Scrolled: fyne.NewDelta(0, float32(pixels(t, "by", 60)))})
}

var anyKeys = []fyne.KeyName{fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight, fyne.KeyHome, fyne.KeyEnd, fyne.KeyPageUp, fyne.KeyPageDown,
	fyne.KeyDelete, fyne.KeyBackspace, fyne.KeySpace, fyne.KeyReturn, fyne.KeyTab, fyne.KeyEscape, fyne.KeyF6, fyne.KeyF1, fyne.KeyF2, fyne.KeyPlus, fyne.KeyMinus,
	fyne.KeyA, fyne.KeyD, fyne.KeyH, fyne.KeyK, fyne.KeyM, fyne.KeyS, fyne.KeyX, fyne.KeyY, fyne.KeyZ, fyne.Key0, fyne.Key5}

func (m *anyActions) key(t *rapid.T) {
	key := rapid.SampledFrom(anyKeys).Draw(t, "key")
	held := rapid.SampledFrom([]fyne.KeyModifier{0, 0, 0, fyne.KeyModifierShift, fyne.KeyModifierControl}).Draw(t, "held")
	if o := m.w.Canvas().Focused(); o != nil && held == 0 && len(key) == 1 {
		o.TypedRune(rune(strings.ToLower(string(key))[0]))
		return
	}
	windowtest.Keyboard{Win: m.w}.Press(key, held)
}

// leftOut are items and buttons that end the window, that open another, or that
// reckon for long; all of these have tests of their own.
var leftOut = []string{"Close", "Quit", "Trace", "paper", "Lay all lines", "photo", "Photo", "Full screen", "Show me the ways"}

func isLeftOut(name string) bool {
	return slices.ContainsFunc(leftOut, func(part string) bool { return strings.Contains(name, part) })
}

func (m *anyActions) menu(t *rapid.T) {
	if m.covered() {
		t.Skip("a dialog lies over it")
	}
	var items []*fyne.MenuItem
	m.w.eachItem(func(of string, item *fyne.MenuItem) {
		if item.Action != nil && !item.Disabled && !isLeftOut(item.Label) && of != "Open recent" {
			items = append(items, item)
		}
	})
	names := make([]string, len(items))
	for i, item := range items {
		names[i] = item.Label
	}
	name := rapid.SampledFrom(names).Draw(t, "item")
	items[slices.Index(names, name)].Action()
}

// poke does something to a part of the window that can be seen, or of the dialog that
// lies over it.
func (m *anyActions) poke(t *rapid.T) {
	root := m.w.Content()
	if top := m.w.Canvas().Overlays().Top(); top != nil {
		root = top
	}
	var parts []any
	inSight(root, func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *kit.Button:
			if !o.Disabled() && !isLeftOut(o.Text) {
				parts = append(parts, &o.Button)
			}
		case *widget.Button:
			if !o.Disabled() && !isLeftOut(o.Text) {
				parts = append(parts, o)
			}
		case *kit.Select:
			if !o.Disabled() && len(o.Options) > 0 {
				parts = append(parts, o)
			}
		case *kit.Check, *kit.NumberEntry, *container.AppTabs, *stepsButton:
			parts = append(parts, o)
		}
	})
	if len(parts) == 0 {
		t.Skip("there is nothing")
	}
	switch p := parts[rapid.IntRange(0, len(parts)-1).Draw(t, "part")].(type) {
	case *widget.Button:
		t.Logf("button %q", p.Text)
		test.Tap(p)
	case *stepsButton:
		test.Tap(p)
	case *kit.Select:
		p.SetSelected(rapid.SampledFrom(p.Options).Draw(t, "option"))
	case *kit.Check:
		if !p.Disabled() {
			test.Tap(p)
		}
	case *kit.NumberEntry:
		m.number(t, p)
	case *container.AppTabs:
		p.SelectIndex(rapid.IntRange(0, len(p.Items)-1).Draw(t, "tab"))
	}
}

// number types a number, or what is none.
func (m *anyActions) number(t *rapid.T, e *kit.NumberEntry) {
	text := rapid.OneOf(rapid.Map(rapid.IntRange(-20, 400), func(n int) string { return strconv.FormatFloat(float64(n)/10, 'g', -1, 64) }),
		rapid.SampledFrom([]string{"", "0", "-1", "1e9", "1,5", "NaN", "x", "0.0001"})).Draw(t, "number")
	m.w.Canvas().Focus(e)
	if m.w.Canvas().Focused() != e {
		return // it is greyed
	}
	windowtest.Keyboard{Win: m.w}.Type(text)
	e.TypedKey(&fyne.KeyEvent{Name: rapid.SampledFrom([]fyne.KeyName{fyne.KeyReturn, fyne.KeyReturn, fyne.KeyEscape}).Draw(t, "end")})
}

// inSight goes through an object and all within it that is not hidden.
func inSight(o fyne.CanvasObject, f func(fyne.CanvasObject)) {
	if o == nil || !o.Visible() {
		return
	}
	f(o)
	switch o := o.(type) {
	case *fyne.Container:
		for _, c := range o.Objects {
			inSight(c, f)
		}
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(o).Objects() {
			inSight(c, f)
		}
	}
}

func (m *anyActions) undo(t *rapid.T) {
	d := m.w.desk
	n := rapid.IntRange(1, 4).Draw(t, "steps")
	if rapid.Bool().Draw(t, "back") {
		d.UndoSteps(n)
	} else {
		d.RedoSteps(n)
	}
}

func (m *anyActions) nudge(t *rapid.T) {
	d := m.w.desk
	if lines := len(d.Plan().Layers[0].Lines); lines > 0 && rapid.Bool().Draw(t, "choose") {
		d.Choose(views.Nothing.WithLine(rapid.IntRange(0, lines-1).Draw(t, "line")).WithFrame(rapid.IntRange(0, len(d.Plan().Hull.Frames)-1).Draw(t, "frame")))
	}
	d.Nudge(pixels(t, "mm", 30) / 10)
}

func (m *anyActions) leaveDialog(t *rapid.T) {
	if !m.covered() {
		t.Skip("there is no dialog")
	}
	m.w.Canvas().Overlays().Remove(m.w.Canvas().Overlays().Top())
}
