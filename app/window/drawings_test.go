package window

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strakewright/app/draw"
	"strakewright/app/draw/views"
	"strakewright/app/scene"
	"strakewright/hull"
)

func TestDraggingAHandleMovesItAlongItsFrame(t *testing.T) {
	w := newBoards(t)
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

func TestEscapePutsADragBack(t *testing.T) {
	w := newBoards(t)
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
	w := newBoards(t)
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
	w := newBoards(t)
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

func TestChoosingInOneViewChoosesInAll(t *testing.T) {
	w := newBoards(t)
	l := w.desk.layer()
	t.Run("strake in the profile", func(t *testing.T) {
		w.profile.current()
		i := l.Surface.FrameStation(5)
		a, b := w.profile.v.Place(l.Seams[2].P[i]), w.profile.v.Place(l.Seams[3].P[i])
		click(w.profile.board, draw.Pt(a.X+1, (a.Y+b.Y)/2))
		assert.Equal(t, views.Choice{Strake: 2, Line: -1, Frame: 5}, w.desk.choice)
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
	w := newBoards(t)
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
	w := newBoards(t)
	middle := func() (r uint32) {
		r, _, _, _ = w.profile.paint(400, 200, 1).At(2, 199).RGBA()
		return r >> 8
	}
	light := middle()
	w.desk.switchLight()
	dark := middle()
	assert.Greater(t, light, uint32(200))
	assert.Less(t, dark, uint32(60))
	w.desk.switchLight()
	assert.Equal(t, light, middle())
}

func TestFreeHandlesDifferInShapeAndCanBeDragged(t *testing.T) {
	w := newBoards(t)
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
