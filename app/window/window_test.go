package window

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/boards"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// The table on screen is what the headless computation says of the plan.
func TestTableFollowsADragAsTheHeadlessComputationSays(t *testing.T) {
	w := newWindow(t)
	line := 0
	frame := w.desk.Plan().Layers[0].Lines[line].Hold
	h := handle(t, w, line, frame)
	windowtest.Press(w.Long, h.At)
	windowtest.Move(w.Long, h.At, draw.Pt(h.At.X, h.At.Y-5))
	windowtest.Release(w.Long, draw.Pt(h.At.X, h.At.Y-5))
	k, err := loft.Plank(w.desk.Plan())
	require.NoError(t, err)
	for row, s := range k.Layers[0].Strakes {
		for f := range s.At {
			o := w.desk.NewCell()
			w.table.cell(widget.TableCellID{Row: row, Col: len(pinned) + f}, o)
			text := o.(*fyne.Container).Objects[1].(*canvas.Text).Text
			if !s.At[f].Laid {
				assert.Equal(t, "–", text)
				continue
			}
			assert.Contains(t, text, views.Millimetres.Number(s.At[f].WidthCut))
			assert.Contains(t, text, map[loft.Action]string{loft.Taper: "▾", loft.Gap: "◂▸", loft.Full: "="}[s.At[f].Action])
		}
	}
}

func TestUndoAndRedoByButtonAndKey(t *testing.T) {
	w := newWindow(t)
	hold := w.desk.Plan().Layers[0].Lines[0].Hold
	start := down(w, 0, hold)
	assert.True(t, w.undo.Disabled())
	for range 5 {
		w.desk.Nudge(0.1)
	}
	assert.False(t, w.undo.Disabled())
	for range 5 {
		test.Tap(w.undo)
	}
	assert.InDelta(t, start, down(w, 0, hold), 1e-9)
	assert.True(t, w.undo.Disabled())
	c := w.Canvas().(interface{ TypedShortcut(fyne.Shortcut) })
	c.TypedShortcut(&fyne.ShortcutRedo{})
	c.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift})
	test.Tap(w.redo)
	assert.InDelta(t, start+0.3, down(w, 0, hold), 1e-9)
	c.TypedShortcut(&fyne.ShortcutUndo{})
	assert.InDelta(t, start+0.2, down(w, 0, hold), 1e-9)
}

func TestInches(t *testing.T) {
	w := newWindow(t)
	cell := func() string {
		o := w.desk.NewCell()
		w.table.cell(widget.TableCellID{Row: 0, Col: len(pinned) + 6}, o)
		return o.(*fyne.Container).Objects[1].(*canvas.Text).Text
	}
	mm := w.desk.Layer().Strakes[0].At[6].WidthCut
	assert.Contains(t, cell(), views.Millimetres.Number(mm))
	w.desk.SwitchUnits()
	assert.Contains(t, cell(), views.Inches.Number(mm))
	assert.Contains(t, w.desk.Place(6, 10), "0.394 in")
	w.desk.SwitchUnits()
	assert.Contains(t, w.desk.Place(6, 10), "10.00 mm")
}

func TestEverythingCanBePainted(t *testing.T) {
	w := newWindow(t)
	for _, c := range []views.Choice{views.Nothing, views.Nothing.WithStrake(3).WithFrame(2), views.Nothing.WithLine(1).WithFrame(0)} {
		w.desk.Choose(c)
		img := w.Canvas().Capture()
		assert.Equal(t, 1280, img.Bounds().Dx())
	}
}

func TestHandlePixelAndProbeAgree(t *testing.T) {
	path := filepath.Join(t.TempDir(), "probe.json")
	t.Setenv("STRAKEWRIGHT_PROBE", path)
	w := newWindow(t)
	w.desk.Refresh()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	var got struct{ Handles []probed }
	require.NoError(t, json.Unmarshal(text, &got))
	x, y := w.handlePixel(1, 4)
	assert.Contains(t, got.Handles, probed{"profile", 1, "E", x, y, ""})
	x, y = w.handlePixel(9, 4)
	assert.Equal(t, [2]float32{-1, -1}, [2]float32{x, y})
}

func TestSavingAsksBeforeReplacing(t *testing.T) {
	w := newWindow(t)
	path := w.desk.Session.Path()
	w.desk.Nudge(1)
	old, err := os.ReadFile(path)
	require.NoError(t, err)
	w.desk.WritePath(path, func(p string, replace bool) error { return w.desk.Session.SaveAs(p, replace) })
	same, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, old, same, "nothing is written before the answer")
	w.desk.Save(func() {})
	saved, err := app.Open(path)
	require.NoError(t, err)
	assert.Equal(t, down(w, 0, w.desk.Choice.Frame), saved.Plan().Layers[0].Lines[0].Handles[w.desk.Choice.Frame].Down)
}

func TestChangesAreNotLostUnasked(t *testing.T) {
	w := newWindow(t)
	gone := false
	w.desk.AskFirst("close", func() { gone = true })
	assert.True(t, gone, "nothing to lose")
	w.desk.Nudge(1)
	gone = false
	w.desk.AskFirst("close", func() { gone = true })
	assert.False(t, gone)
	assert.NotNil(t, w.Canvas().Overlays().Top(), "it asks")
}

func TestErrorsAreOneSentence(t *testing.T) {
	w := newWindow(t)
	var said string
	w.desk.Say = func(s string) { said = s }
	before := w.desk.Plan()
	assert.False(t, w.desk.Edit("set", edit.OnLayer(0, func(l *hull.Layer) { l.Stock.Width = -1 })))
	assert.Same(t, before, w.desk.Plan())
	assert.Regexp(t, `^[A-Z].*\.$`, said)
	assert.NotContains(t, said, "\n")
}

// The window fits a small screen, with its frame.
func TestWindowFitsASmallScreen(t *testing.T) {
	w := newWindow(t)
	least := w.Content().MinSize()
	assert.Less(t, least.Width, float32(1200))
	assert.Less(t, least.Height, float32(660))
}

// menuItem finds an item of the main menu.
func menuItem(t *testing.T, w *mainWindow, name string) *fyne.MenuItem {
	t.Helper()
	for _, m := range w.MainMenu().Items {
		for _, it := range m.Items {
			if it.Label == name {
				return it
			}
		}
	}
	t.Fatalf("no item %q in the menu", name)
	return nil
}

func TestPaperIsInTheMenu(t *testing.T) {
	w := newWindow(t)
	menuItem(t, w, "Full-size paper…").Action()
	assert.NotNil(t, w.Canvas().Overlays().Top())
}

func TestStockHasRoomWhileItIsShown(t *testing.T) {
	w := newWindow(t)
	before := w.tables.Size()
	w.tables.SelectIndex(1)
	assert.Greater(t, w.tables.Size().Width, before.Width)
	assert.Greater(t, w.tables.Size().Height, before.Height)
	room := windowtest.ButtonNamed(t, w.stock.Object(), "⤢ Room")
	test.Tap(room)
	assert.Equal(t, before, w.tables.Size(), "taken back by hand")
	test.Tap(room)
	assert.Greater(t, w.tables.Size().Width, before.Width)
	w.tables.SelectIndex(0)
	assert.Equal(t, before, w.tables.Size(), "the table has it as it was")
}

// The hull has more room while a strip is laid over its frames, whatever the panel of
// the wood takes meanwhile; Escape stops the strip where no widget has the keys.
func TestTheHullHasRoomForAStrip(t *testing.T) {
	w := newWindow(t)
	hull, tables := w.Hull.Size(), w.tables.Size()
	windowtest.ButtonNamed(t, w.Hull, "Lay a strip over the frames").OnTapped()
	assert.Greater(t, w.Hull.Size().Width, hull.Width)
	assert.Greater(t, w.Hull.Size().Height, hull.Height)
	w.typed(&fyne.KeyEvent{Name: fyne.KeyEscape})
	off := windowtest.ButtonNamed(t, w.Hull, "Take it off")
	assert.Equal(t, hull, w.Hull.Size(), "stopped before anything was found, it is taken off")
	windowtest.ButtonNamed(t, w.Hull, "Lay a strip over the frames").OnTapped()
	w.tables.SelectIndex(1)
	off.OnTapped()
	w.tables.SelectIndex(0)
	assert.Equal(t, hull, w.Hull.Size())
	assert.Equal(t, tables, w.tables.Size())
}

func TestACellOfTheTableIsChosenInAll(t *testing.T) {
	w := newWindow(t)
	w.table.table.Select(widget.TableCellID{Row: 7, Col: len(pinned) + 9})
	assert.Equal(t, views.Choice{Strake: 7, Line: -1, Frame: 9}, w.desk.Choice)
}

func TestAChangeIsWrittenWithItsSign(t *testing.T) {
	w := newWindow(t)
	for mm, want := range map[float64]string{-0.5: "−0.50", 0.5: "+0.50", 0.004: "0"} {
		text, _ := changeCell(w.desk, mm)
		assert.Equal(t, want, text)
	}
}

// newWindow shows a window on a fresh session with Fyne's test driver.
func newWindow(t testing.TB) *mainWindow {
	t.Helper()
	a := test.NewApp()
	w, err := opened(a, apptest.Session(t))
	require.NoError(t, err)
	w.desk.OnMain = func(f func()) { windowtest.Posted <- f }
	w.desk.After = nil // no tips by a clock
	w.Show()
	w.Resize(fyne.NewSize(1280, 760))
	t.Cleanup(func() {
		w.desk.Leave()
		w.Window.SetCloseIntercept(nil)
		w.Window.Close()
		a.Quit()
	})
	return w
}

// handlePixel gives the place of a handle of the long view, in pixels from the
// window's upper left corner; both are −1 if there is no such handle.
func (w *mainWindow) handlePixel(line, frame int) (x, y float32) {
	for _, h := range w.LongHandles() {
		if h.Line == line && h.Frame == frame {
			return w.pixel(w.Long, h)
		}
	}
	return -1, -1
}

// handle gives a handle of the long view.
func handle(t testing.TB, w *mainWindow, line, frame int) views.Handle {
	t.Helper()
	for _, h := range w.LongHandles() {
		if h.Line == line && h.Frame == frame {
			return h
		}
	}
	t.Fatalf("no handle of line %d at frame %d", line, frame)
	return views.Handle{}
}

// down is where a handle of the plan stands.
func down(w *mainWindow, line, frame int) float64 {
	return w.desk.Plan().Layers[0].Lines[line].Handles[frame].Down
}

func TestAFlatTwistHasNoSign(t *testing.T) {
	w := newWindow(t)
	s := *w.desk.Layer().Strakes[0]
	s.Twist = -1e-6
	assert.Equal(t, "0.0°", w.table.summary(&s, twistColumn))
}

// The lofted hull takes the place of all other drawings, and gives it back as it was.
func TestHullHasTheWholeBoard(t *testing.T) {
	w := newWindow(t)
	hull, long := w.Hull.Size(), w.Long.Size()
	focus := func() fyne.Focusable {
		var board fyne.Focusable
		windowtest.Walk(w.Hull, func(o fyne.CanvasObject) {
			if b, ok := o.(*boards.Board); ok {
				board = b
			}
		})
		return board
	}
	focus().TypedRune('f')
	assert.GreaterOrEqual(t, w.Hull.Size().Width, long.Width)
	assert.Greater(t, w.Hull.Size().Height, hull.Height+long.Height)
	focus().TypedRune('f')
	assert.Equal(t, hull, w.Hull.Size())
	assert.Equal(t, long, w.Long.Size())
}
