package boards

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/scene"
	"github.com/strakewright/strakewright/app/window/settings"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
)

func TestDraggingAHandleMovesItAlongItsFrame(t *testing.T) {
	w := newBoards(t)
	frame := w.desk.Plan().Layers[0].Lines[1].Hold
	h := w.handle(t, 1, frame)
	before, cut := w.down(1, frame), w.desk.Layer().Strakes[0].At[frame].WidthCut
	to := draw.Pt(h.At.X+40, h.At.Y+6) // a hand does not keep to the frame
	windowtest.Press(w.profile.board, h.At)
	assert.Equal(t, views.Choice{Strake: -1, Line: 1, Frame: frame}, w.desk.Choice)
	windowtest.Move(w.profile.board, h.At, to)
	during := w.down(1, frame)
	assert.Greater(t, during, before)
	windowtest.Release(w.profile.board, to)
	assert.Equal(t, during, w.down(1, frame))
	now := w.handle(t, 1, frame)
	assert.InDelta(t, h.At.Y+6, now.At.Y, 0.6, "it is where the pointer is, along its frame")
	assert.InDelta(t, h.At.X, now.At.X, 0.6)
	what, ok := w.desk.Session.CanUndo()
	assert.True(t, ok)
	assert.Contains(t, what, "line 2")
	w.desk.Undo()
	assert.Equal(t, before, w.down(1, frame), "one step takes the whole drag back")
	assert.Equal(t, cut, w.desk.Layer().Strakes[0].At[frame].WidthCut)
}

func TestEscapePutsADragBack(t *testing.T) {
	w := newBoards(t)
	h := w.handle(t, 0, 3)
	before := w.desk.Session.Plan()
	windowtest.Press(w.profile.board, h.At)
	windowtest.Move(w.profile.board, h.At, draw.Pt(h.At.X, h.At.Y+9))
	require.NotEqual(t, before, w.desk.Session.Plan())
	windowtest.TypeKey(w.profile.board, fyne.KeyEscape)
	assert.Equal(t, before, w.desk.Session.Plan())
	windowtest.Move(w.profile.board, h.At, draw.Pt(h.At.X, h.At.Y+20))
	windowtest.Release(w.profile.board, h.At)
	assert.Equal(t, before, w.desk.Session.Plan(), "what the mouse does afterwards has no effect")
	_, ok := w.desk.Session.CanUndo()
	assert.False(t, ok)
}

func TestBodyPlanHandlesCanBeDragged(t *testing.T) {
	w := newBoards(t)
	w.desk.Choose(w.desk.Choice.WithLine(1).WithFrame(4))
	w.body.current()
	h := found(t, w.body.v.Handles, 1, w.desk.Plan().Layers[0].Lines[1].Hold)
	before := w.down(1, h.Frame)
	windowtest.Press(w.body.board, h.At)
	windowtest.Move(w.body.board, h.At, draw.Pt(h.At.X, h.At.Y-8))
	windowtest.Release(w.body.board, draw.Pt(h.At.X, h.At.Y-8))
	assert.Less(t, w.down(1, h.Frame), before)
}

func TestArrowKeysNudgeTheChosenHandle(t *testing.T) {
	w := newBoards(t)
	b := w.profile.board
	hold := w.desk.Plan().Layers[0].Lines[0].Hold
	w.desk.Choose(w.desk.Choice.WithLine(0).WithFrame(hold))
	start := w.down(0, hold)
	windowtest.TypeKey(b, fyne.KeyDown)
	assert.InDelta(t, start+0.1, w.down(0, hold), 1e-9)
	b.KeyDown(&fyne.KeyEvent{Name: desktop.KeyShiftLeft})
	windowtest.TypeKey(b, fyne.KeyUp)
	b.KeyUp(&fyne.KeyEvent{Name: desktop.KeyShiftLeft})
	assert.InDelta(t, start-0.9, w.down(0, hold), 1e-9)
	windowtest.TypeKey(b, fyne.KeyUp)
	assert.InDelta(t, start-1.0, w.down(0, hold), 1e-9)
	windowtest.TypeKey(b, fyne.KeyRight)
	assert.Equal(t, hold+1, w.desk.Choice.Frame)
	windowtest.TypeKey(b, fyne.KeyLeft)
	windowtest.TypeKey(b, fyne.KeyLeft)
	assert.Equal(t, hold-1, w.desk.Choice.Frame)
	assert.Equal(t, 0, w.desk.Choice.Line)
}

func TestChoosingInOneViewChoosesInAll(t *testing.T) {
	w := newBoards(t)
	l := w.desk.Layer()
	t.Run("strake in the profile", func(t *testing.T) {
		w.profile.current()
		i := l.Surface.FrameStation(5)
		a, b := w.profile.v.Place(l.Seams[2].P[i]), w.profile.v.Place(l.Seams[3].P[i])
		windowtest.Click(w.profile.board, draw.Pt(a.X+1, (a.Y+b.Y)/2))
		assert.Equal(t, views.Choice{Strake: 2, Line: -1, Frame: 5}, w.desk.Choice)
	})
	t.Run("strake of the hull", func(t *testing.T) {
		w.hull.paint(500, 300, 1)
		p, tag := seen(t, w.hull)
		windowtest.Click(w.hull.board, p)
		assert.Equal(t, int(tag.Strake), w.desk.Choice.Strake)
		assert.Equal(t, int(tag.Frame), w.desk.Choice.Frame)
	})
	t.Run("line in the profile", func(t *testing.T) {
		w.profile.current()
		i := l.Surface.FrameStation(4) + 2 // between two handles
		windowtest.Click(w.profile.board, w.profile.v.Place(l.Lines[1].P[i]))
		assert.Equal(t, 0, w.desk.Choice.Line)
		assert.Equal(t, -1, w.desk.Choice.Strake)
	})
	t.Run("frame in the gauge strip", func(t *testing.T) {
		x := w.profile.axis.At(w.desk.Plan().Hull.Frames[8].X())
		windowtest.Click(w.Gauge, draw.Pt(x, 20))
		assert.Equal(t, 8, w.desk.Choice.Frame)
		assert.Equal(t, 0, w.desk.Choice.Line, "the line stays chosen")
	})
	t.Run("frame in the body plan", func(t *testing.T) {
		w.body.current()
		p := w.desk.FrameCurves()[3][16]
		windowtest.Click(w.body.board, w.body.v.Place(3, p))
		assert.Equal(t, 3, w.desk.Choice.Frame)
	})
}

// A frame is one vertical through profile and gauge strip.
func TestProfileAndGaugeShareTheirAxis(t *testing.T) {
	w := newBoards(t)
	w.profile.current()
	at := func(b *Board) float32 {
		return fyne.CurrentApp().Driver().AbsolutePositionForObject(b).X
	}
	assert.Equal(t, at(w.profile.board), at(w.Gauge))
	w.profile.board.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(300, 60)}, Scrolled: fyne.NewDelta(0, 30)})
	w.profile.current()
	w.gauge.paint(800, 100, 1)
	assert.Equal(t, w.profile.v.X, w.gauge.v.X)
	for f := range w.desk.Plan().Hull.Frames {
		x := w.desk.Plan().Hull.Frames[f].X()
		assert.InDelta(t, w.profile.v.Place(w.desk.FrameCurves()[f][0]).X, w.gauge.v.X.At(x), 1e-6)
	}
}

func TestLightAndDark(t *testing.T) {
	w := newBoards(t)
	middle := func() (r uint32) {
		r, _, _, _ = w.profile.paint(400, 200, 1).At(2, 199).RGBA()
		return r >> 8
	}
	light := middle()
	w.desk.SwitchLight()
	dark := middle()
	assert.Greater(t, light, uint32(200))
	assert.Less(t, dark, uint32(60))
	w.desk.SwitchLight()
	assert.Equal(t, light, middle())
}

func TestFreeHandlesDifferInShapeAndCanBeDragged(t *testing.T) {
	w := newBoards(t)
	d := w.desk
	d.Choose(d.Choice.WithLine(0).WithFrame(6))
	settings.SetLineType(d, hull.Free)
	hold := d.Line().Hold
	d.Choose(d.Choice.WithFrame(hold + 2))
	settings.AimAt(d, hold+2)
	h, a := w.handle(t, 0, hold), w.handle(t, 0, hold+2)
	assert.Equal(t, draw.Square, h.Shape)
	assert.Equal(t, draw.Diamond, a.Shape)
	for _, g := range []views.Handle{h, a} {
		before := w.down(0, g.Frame)
		windowtest.Press(w.profile.board, g.At)
		windowtest.Move(w.profile.board, g.At, draw.Pt(g.At.X, g.At.Y+3))
		windowtest.Release(w.profile.board, g.At)
		assert.Greater(t, w.down(0, g.Frame), before)
		assert.Equal(t, hold, d.Line().Hold)
		assert.Equal(t, hold+2, d.Line().Aim)
	}
	other := w.handle(t, 0, hold-2)
	windowtest.Press(w.profile.board, other.At)
	windowtest.Move(w.profile.board, other.At, draw.Pt(other.At.X, other.At.Y-3))
	windowtest.Release(w.profile.board, other.At)
	assert.Equal(t, hold-2, d.Line().Aim, "any other frame can be aimed at")
	settings.AimAt(d, -1)
	assert.Equal(t, -1, d.Line().Aim)
}

// seen finds a place of the hull view where the hull is seen.
func seen(t testing.TB, v *hullView) (draw.Point, scene.Tag) {
	t.Helper()
	for y := 0; y < v.h; y += 3 {
		for x := 0; x < v.w; x += 3 {
			if tag, ok := v.render.Pick(x, y); ok && tag.Strake > 1 {
				return draw.Pt(float64(x)/v.scale, float64(y)/v.scale), tag
			}
		}
	}
	t.Fatal("no hull in sight")
	return draw.Point{}, scene.Tag{}
}

func TestEveryBoardCanBePainted(t *testing.T) {
	w := newBoards(t)
	for _, c := range []views.Choice{views.Nothing, views.Nothing.WithStrake(3).WithFrame(2), views.Nothing.WithLine(1).WithFrame(0)} {
		w.desk.Choose(c)
		for _, b := range w.desk.Boards {
			assert.NotNil(t, b.(*Board).paint(300, 120))
		}
	}
	assert.NotPanics(t, func() {
		for _, b := range w.desk.Boards {
			b.(*Board).paint(0, 0)
			b.(*Board).paint(1, 1)
		}
	})
}
