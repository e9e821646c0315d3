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

	"strakewright/app"
	"strakewright/app/draw"
	"strakewright/app/draw/views"
	"strakewright/hull"
	"strakewright/loft"
)

func TestDraggingAHandleMovesItAlongItsFrame(t *testing.T) {
	w := newWindow(t)
	frame := w.desk.plan().Layers[0].Lines[1].Hold
	h := w.handle(t, 1, frame)
	before, cut := w.down(1, frame), w.desk.layer().Strakes[0].At[frame].WidthCut
	to := draw.Pt(h.At.X+40, h.At.Y+6) // a hand does not keep to the frame
	press(w.profile.board, h.At)
	assert.Equal(t, views.Choice{Strake: -1, Line: 1, Frame: frame}, w.desk.choice)
	move(w.profile.board, h.At, to)
	during := w.down(1, frame)
	assert.Greater(t, during, before)
	release(w.profile.board, to)
	assert.Equal(t, during, w.down(1, frame))
	now := w.handle(t, 1, frame)
	assert.InDelta(t, h.At.Y+6, now.At.Y, 0.6, "it is where the pointer is, along its frame")
	assert.InDelta(t, h.At.X, now.At.X, 0.6)
	what, ok := w.desk.s.CanUndo()
	assert.True(t, ok)
	assert.Contains(t, what, "line 2")
	w.desk.undo()
	assert.Equal(t, before, w.down(1, frame), "one step takes the whole drag back")
	assert.Equal(t, cut, w.desk.layer().Strakes[0].At[frame].WidthCut)
}

// The table on screen is what the headless computation says of the plan.
func TestTableFollowsADragAsTheHeadlessComputationSays(t *testing.T) {
	w := newWindow(t)
	line := 0
	frame := w.desk.plan().Layers[0].Lines[line].Hold
	h := w.handle(t, line, frame)
	press(w.profile.board, h.At)
	move(w.profile.board, h.At, draw.Pt(h.At.X, h.At.Y-5))
	release(w.profile.board, draw.Pt(h.At.X, h.At.Y-5))
	k, err := loft.Plank(w.desk.plan())
	require.NoError(t, err)
	for row, s := range k.Layers[0].Strakes {
		for f := range s.At {
			o := newCell()
			w.table.cell(widget.TableCellID{Row: row, Col: f}, o)
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

func TestEscapePutsADragBack(t *testing.T) {
	w := newWindow(t)
	h := w.handle(t, 0, 3)
	before := w.desk.s.Plan()
	press(w.profile.board, h.At)
	move(w.profile.board, h.At, draw.Pt(h.At.X, h.At.Y+9))
	require.NotEqual(t, before, w.desk.s.Plan())
	typeKey(w.profile.board, fyne.KeyEscape)
	assert.Equal(t, before, w.desk.s.Plan())
	move(w.profile.board, h.At, draw.Pt(h.At.X, h.At.Y+20))
	release(w.profile.board, h.At)
	assert.Equal(t, before, w.desk.s.Plan(), "what the mouse does afterwards has no effect")
	_, ok := w.desk.s.CanUndo()
	assert.False(t, ok)
}

func TestBodyPlanHandlesCanBeDragged(t *testing.T) {
	w := newWindow(t)
	w.desk.choose(w.desk.choice.WithLine(1).WithFrame(4))
	w.body.current()
	h := found(t, w.body.v.Handles, 1, w.desk.plan().Layers[0].Lines[1].Hold)
	before := w.down(1, h.Frame)
	press(w.body.board, h.At)
	move(w.body.board, h.At, draw.Pt(h.At.X, h.At.Y-8))
	release(w.body.board, draw.Pt(h.At.X, h.At.Y-8))
	assert.Less(t, w.down(1, h.Frame), before)
}

func TestArrowKeysNudgeTheChosenHandle(t *testing.T) {
	w := newWindow(t)
	b := w.profile.board
	hold := w.desk.plan().Layers[0].Lines[0].Hold
	w.desk.choose(w.desk.choice.WithLine(0).WithFrame(hold))
	start := w.down(0, hold)
	typeKey(b, fyne.KeyDown)
	assert.InDelta(t, start+0.1, w.down(0, hold), 1e-9)
	b.KeyDown(&fyne.KeyEvent{Name: desktop.KeyShiftLeft})
	typeKey(b, fyne.KeyUp)
	b.KeyUp(&fyne.KeyEvent{Name: desktop.KeyShiftLeft})
	assert.InDelta(t, start-0.9, w.down(0, hold), 1e-9)
	typeKey(b, fyne.KeyUp)
	assert.InDelta(t, start-1.0, w.down(0, hold), 1e-9)
	typeKey(b, fyne.KeyRight)
	assert.Equal(t, hold+1, w.desk.choice.Frame)
	typeKey(b, fyne.KeyLeft)
	typeKey(b, fyne.KeyLeft)
	assert.Equal(t, hold-1, w.desk.choice.Frame)
	assert.Equal(t, 0, w.desk.choice.Line)
}

func TestUndoAndRedoByButtonAndKey(t *testing.T) {
	w := newWindow(t)
	hold := w.desk.plan().Layers[0].Lines[0].Hold
	start := w.down(0, hold)
	assert.True(t, w.undo.Disabled())
	for range 5 {
		w.desk.nudge(0.1)
	}
	assert.False(t, w.undo.Disabled())
	for range 5 {
		test.Tap(w.undo)
	}
	assert.InDelta(t, start, w.down(0, hold), 1e-9)
	assert.True(t, w.undo.Disabled())
	c := w.Canvas().(interface{ TypedShortcut(fyne.Shortcut) })
	c.TypedShortcut(&fyne.ShortcutRedo{})
	c.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift})
	test.Tap(w.redo)
	assert.InDelta(t, start+0.3, w.down(0, hold), 1e-9)
	c.TypedShortcut(&fyne.ShortcutUndo{})
	assert.InDelta(t, start+0.2, w.down(0, hold), 1e-9)
}

func TestChoosingInOneViewChoosesInAll(t *testing.T) {
	w := newWindow(t)
	l := w.desk.layer()
	t.Run("strake in the profile", func(t *testing.T) {
		w.profile.current()
		i := l.Surface.FrameStation(5)
		a, b := w.profile.v.Place(l.Seams[2].P[i]), w.profile.v.Place(l.Seams[3].P[i])
		click(w.profile.board, draw.Pt(a.X+1, (a.Y+b.Y)/2))
		assert.Equal(t, views.Choice{Strake: 2, Line: -1, Frame: 5}, w.desk.choice)
	})
	t.Run("cell of the table", func(t *testing.T) {
		w.table.table.Select(widget.TableCellID{Row: 7, Col: 9})
		assert.Equal(t, views.Choice{Strake: 7, Line: -1, Frame: 9}, w.desk.choice)
	})
	t.Run("strake of the hull", func(t *testing.T) {
		w.hull.paint(500, 300, 1)
		p, tag := seen(t, w.hull)
		click(w.hull.board, p)
		assert.Equal(t, int(tag.Strake), w.desk.choice.Strake)
		assert.Equal(t, int(tag.Frame), w.desk.choice.Frame)
	})
	t.Run("line in the profile", func(t *testing.T) {
		w.profile.current()
		i := l.Surface.FrameStation(4) + 2 // between two handles
		click(w.profile.board, w.profile.v.Place(l.Lines[1].P[i]))
		assert.Equal(t, 0, w.desk.choice.Line)
		assert.Equal(t, -1, w.desk.choice.Strake)
	})
	t.Run("frame in the gauge strip", func(t *testing.T) {
		x := w.profile.axis.At(w.desk.plan().Hull.Frames[8].X())
		click(w.gaugeBoard, draw.Pt(x, 20))
		assert.Equal(t, 8, w.desk.choice.Frame)
		assert.Equal(t, 0, w.desk.choice.Line, "the line stays chosen")
	})
	t.Run("frame in the body plan", func(t *testing.T) {
		w.body.current()
		p := w.desk.frameCurves()[3][16]
		click(w.body.board, w.body.v.Place(3, p))
		assert.Equal(t, 3, w.desk.choice.Frame)
	})
}

// A frame is one vertical through profile and gauge strip.
func TestProfileAndGaugeShareTheirAxis(t *testing.T) {
	w := newWindow(t)
	w.profile.current()
	at := func(b *board) float32 {
		return fyne.CurrentApp().Driver().AbsolutePositionForObject(b).X
	}
	assert.Equal(t, at(w.profile.board), at(w.gaugeBoard))
	w.profile.board.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(300, 60)}, Scrolled: fyne.NewDelta(0, 30)})
	w.profile.current()
	w.gauge.paint(800, 100, 1)
	assert.Equal(t, w.profile.v.X, w.gauge.v.X)
	for f := range w.desk.plan().Hull.Frames {
		x := w.desk.plan().Hull.Frames[f].X()
		assert.InDelta(t, w.profile.v.Place(w.desk.frameCurves()[f][0]).X, w.gauge.v.X.At(x), 1e-6)
	}
}

func TestLightAndDark(t *testing.T) {
	w := newWindow(t)
	middle := func() (r uint32) {
		r, _, _, _ = w.profile.paint(400, 200, 1).At(2, 199).RGBA()
		return r >> 8
	}
	light := middle()
	w.switchLight()
	dark := middle()
	assert.Greater(t, light, uint32(200))
	assert.Less(t, dark, uint32(60))
	w.switchLight()
	assert.Equal(t, light, middle())
}

func TestInches(t *testing.T) {
	w := newWindow(t)
	cell := func() string {
		o := newCell()
		w.table.cell(widget.TableCellID{Row: 0, Col: 6}, o)
		return o.(*fyne.Container).Objects[1].(*canvas.Text).Text
	}
	mm := w.desk.layer().Strakes[0].At[6].WidthCut
	assert.Contains(t, cell(), views.Millimetres.Number(mm))
	w.switchUnits()
	assert.Contains(t, cell(), views.Inches.Number(mm))
	assert.Contains(t, w.desk.place(6, 10), "0.394 in")
	w.switchUnits()
	assert.Contains(t, w.desk.place(6, 10), "10.00 mm")
}

func TestFreeHandlesDifferInShapeAndCanBeDragged(t *testing.T) {
	w := newWindow(t)
	d := w.desk
	d.choose(d.choice.WithLine(0).WithFrame(6))
	d.setManner(hull.Free)
	hold := d.line().Hold
	d.choose(d.choice.WithFrame(hold + 2))
	d.aimAt(hold + 2)
	h, a := w.handle(t, 0, hold), w.handle(t, 0, hold+2)
	assert.Equal(t, draw.Square, h.Shape)
	assert.Equal(t, draw.Diamond, a.Shape)
	for _, g := range []views.Handle{h, a} {
		before := w.down(0, g.Frame)
		press(w.profile.board, g.At)
		move(w.profile.board, g.At, draw.Pt(g.At.X, g.At.Y+3))
		release(w.profile.board, g.At)
		assert.Greater(t, w.down(0, g.Frame), before)
		assert.Equal(t, hold, d.line().Hold)
		assert.Equal(t, hold+2, d.line().Aim)
	}
	other := w.handle(t, 0, hold-2)
	press(w.profile.board, other.At)
	move(w.profile.board, other.At, draw.Pt(other.At.X, other.At.Y-3))
	release(w.profile.board, other.At)
	assert.Equal(t, hold-2, d.line().Aim, "any other frame can be aimed at")
	d.aimAt(-1)
	assert.Equal(t, -1, d.line().Aim)
}

func TestEverythingCanBePainted(t *testing.T) {
	w := newWindow(t)
	for _, c := range []views.Choice{views.Nothing, views.Nothing.WithStrake(3).WithFrame(2), views.Nothing.WithLine(1).WithFrame(0)} {
		w.desk.choose(c)
		img := w.Canvas().Capture()
		assert.Equal(t, 1280, img.Bounds().Dx())
		assert.NotNil(t, w.gauge.paint(900, 120, 1))
	}
	assert.NotPanics(t, func() {
		for _, b := range w.desk.boards {
			b.(*board).paint(0, 0)
			b.(*board).paint(1, 1)
		}
	})
}

func TestHandlePixelAndProbeAgree(t *testing.T) {
	path := filepath.Join(t.TempDir(), "probe.json")
	t.Setenv("STRAKEWRIGHT_PROBE", path)
	w := newWindow(t)
	w.desk.refresh()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	var got struct{ Handles []probed }
	require.NoError(t, json.Unmarshal(text, &got))
	x, y := w.HandlePixel(1, 4)
	assert.Contains(t, got.Handles, probed{"profile", 1, "E", x, y, ""})
	x, y = w.HandlePixel(9, 4)
	assert.Equal(t, [2]float32{-1, -1}, [2]float32{x, y})
}

func TestSavingAsksBeforeReplacing(t *testing.T) {
	w := newWindow(t)
	path := w.desk.s.Path()
	w.desk.nudge(1)
	old, err := os.ReadFile(path)
	require.NoError(t, err)
	w.desk.writePath(path, func(p string, replace bool) error { return w.desk.s.SaveAs(p, replace) })
	same, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, old, same, "nothing is written before the answer")
	w.desk.save(func() {})
	saved, err := app.Open(path)
	require.NoError(t, err)
	assert.Equal(t, w.down(0, w.desk.choice.Frame), saved.Plan().Layers[0].Lines[0].Handles[w.desk.choice.Frame].Down)
}

func TestChangesAreNotLostUnasked(t *testing.T) {
	w := newWindow(t)
	gone := false
	w.desk.askFirst("close", func() { gone = true })
	assert.True(t, gone, "nothing to lose")
	w.desk.nudge(1)
	gone = false
	w.desk.askFirst("close", func() { gone = true })
	assert.False(t, gone)
	assert.NotNil(t, w.Canvas().Overlays().Top(), "it asks")
}

func TestErrorsAreOneSentence(t *testing.T) {
	w := newWindow(t)
	var said string
	w.desk.say = func(s string) { said = s }
	before := w.desk.plan()
	assert.False(t, w.desk.edit("set", onLayer(0, func(l *hull.Layer) { l.Stock.Width = -1 })))
	assert.Same(t, before, w.desk.plan())
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
