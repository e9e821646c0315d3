package boards

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/settings"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
)

// limitHandle gives a limit's handle in the long view.
func (w *Drawings) limitHandle(t testing.TB, l views.Limit, frame int) views.Handle {
	t.Helper()
	w.LongHandles()
	return limitOf(t, w.LongLimits(), l, frame)
}

func limitOf(t testing.TB, hs []views.Handle, l views.Limit, frame int) views.Handle {
	t.Helper()
	for _, h := range hs {
		if h.Limit == l && h.Frame == frame {
			return h
		}
	}
	t.Fatalf("no handle of limit %d at frame %d", l, frame)
	return views.Handle{}
}

// drag takes a handle over several places to a last one.
func drag(b *Board, from, to draw.Point) {
	windowtest.Press(b, from)
	last := from
	for i := 1; i <= 4; i++ {
		at := draw.Pt(from.X+(to.X-from.X)*float64(i)/4, from.Y+(to.Y-from.Y)*float64(i)/4)
		windowtest.Move(b, last, at)
		last = at
	}
	windowtest.Release(b, to)
}

// TestUpperLimitIsDraggedInTheProfile: Wigley's side at a frame (u of L/2 from
// midships) is y = B/2·(1 − u²)·(1 − (z/T)²): dragged down to z it has lost the
// length of that curve from 0 to z, summed here over ten thousand chords, and
// the band below has as much less girth.
func TestUpperLimitIsDraggedInTheProfile(t *testing.T) {
	w := newBoards(t)
	const frame, z = 4, 9.0
	before, girth := w.desk.Plan(), w.desk.Layer().Girths[frame]
	h := w.limitHandle(t, views.UpperLimit, frame)
	assert.Equal(t, draw.Ring, h.Shape, "it is not set in here yet")
	scale := w.profile.axis.Scale
	drag(w.profile.board, h.At, draw.Pt(h.At.X, h.At.Y+z*scale))

	list := w.desk.Plan().Hull.Limits.Down
	require.Len(t, list, 1)
	assert.Equal(t, "E", list[0].Frame)
	x := 2 * w.desk.Plan().Hull.Frames[frame].X() / 400
	half := 40 * (1 - x*x)
	lost, last := 0.0, half
	for i := 1; i <= 10000; i++ {
		y := half * (1 - math.Pow(z*float64(i)/10000/50, 2))
		lost += math.Hypot(y-last, z/10000)
		last = y
	}
	// The pointer's place is a float32 of the screen, and 13 points tell the
	// frame to some thousandths of a millimetre.
	assert.InDelta(t, lost, list[0].MM, 0.01)
	assert.InDelta(t, girth-list[0].MM, w.desk.Layer().Girths[frame], 1e-6)
	assert.Equal(t, draw.Disc, w.limitHandle(t, views.UpperLimit, frame).Shape)
	assert.Equal(t, views.UpperLimit, w.desk.Choice.Limit)
	assert.Equal(t, frame, w.desk.Choice.Frame)
	assert.Contains(t, lineNone(w), "Sheer at frame E")

	what, _ := w.desk.Session.CanUndo()
	assert.Equal(t, "move the sheer at frame E", what)
	w.desk.Undo()
	assert.Equal(t, before, w.desk.Plan(), "one drag is one step")
	_, more := w.desk.Session.CanUndo()
	_, was := newBoards(t).desk.Session.CanUndo()
	assert.Equal(t, was, more)
}

// lineNone is what the panel says of a choice that is no band line.
func lineNone(w *Drawings) string {
	return w.desk.LimitText(w.desk.Choice.Limit, w.desk.Choice.Frame)
}

func TestEscapePutsALimitBack(t *testing.T) {
	w := newBoards(t)
	before := w.desk.Plan()
	b := w.profile.board
	h := w.limitHandle(t, views.LowerLimit, 6)
	to := draw.Pt(h.At.X, h.At.Y-20)
	windowtest.Press(b, h.At)
	windowtest.Move(b, h.At, to)
	require.NotEmpty(t, w.desk.Plan().Hull.Limits.Up)
	windowtest.TypeKey(b, fyne.KeyEscape)
	windowtest.Release(b, to)
	assert.Equal(t, before, w.desk.Plan())
}

// TestALimitStaysOnItsFrame: not out over the frame's end, nor over the other
// limit, however far the pointer goes.
func TestALimitStaysOnItsFrame(t *testing.T) {
	w := newBoards(t)
	b := w.profile.board
	h := w.limitHandle(t, views.UpperLimit, 5)
	drag(b, h.At, draw.Pt(h.At.X, h.At.Y-60))
	for _, in := range w.desk.Plan().Hull.Limits.Down {
		assert.Zero(t, in.MM)
	}
	require.NoError(t, w.desk.Session.Edit("set the rabbet in", edit.LimitsSet(hull.Limits{Upper: "wale", Lower: "rabbet", Up: []hull.Inset{{Frame: "F", MM: 10}}})))
	w.desk.Choose(w.desk.Choice.WithLimit(views.UpperLimit).WithFrame(5))
	d := w.desk
	h5 := d.Plan().Hull
	assert.InDelta(t, min(d.WholeGirth(5)-10.1, h5.RoomFor(5, 10)), d.WithinFrame(views.UpperLimit, 5, 1e6), 1e-9)
	assert.InDelta(t, min(d.WholeGirth(5)-0.1, h5.RoomFor(5, 0)), d.WithinFrame(views.LowerLimit, 5, 1e6), 1e-9)
	assert.InDelta(t, d.WholeGirth(5)-0.1, h5.RoomFor(5, 0), 0.05, "the chords are hardly shorter than the curve")
	before := d.Plan()
	told := ""
	d.Status = func(s string) { told = s }
	h = w.limitHandle(t, views.UpperLimit, 5)
	drag(b, h.At, draw.Pt(h.At.X, h.At.Y+2000))
	assert.Contains(t, told, "set them in by less", "a limit set in at one frame is so at all, and the smallest has not so much girth")
	assert.Equal(t, before, d.Plan())
}

func TestLimitsHaveHandlesWhereTheHullIsPlanked(t *testing.T) {
	w := newBoards(t)
	require.NoError(t, w.desk.Session.Edit("plank less", edit.LimitsSet(hull.Limits{Upper: "wale", Lower: "rabbet", From: "C", To: "K"})))
	w.LongHandles()
	require.Len(t, w.LongLimits(), 2*9)
	require.NotEmpty(t, w.LongHandles())
	for _, h := range w.LongHandles() {
		assert.True(t, h.Frame >= 2 && h.Frame <= 10, "handle at frame %d", h.Frame)
	}
	for _, h := range w.LongLimits() {
		assert.True(t, h.Frame >= 2 && h.Frame <= 10)
	}
	h := w.limitHandle(t, views.UpperLimit, 4)
	drag(w.profile.board, h.At, draw.Pt(h.At.X, h.At.Y+10))
	assert.Equal(t, "C", w.desk.Plan().Hull.Limits.From)
	assert.Equal(t, "K", w.desk.Plan().Hull.Limits.To)
	w.desk.Choose(w.desk.Choice.WithFrame(0))
	before := w.desk.Plan()
	w.desk.Nudge(1)
	assert.Same(t, before, w.desk.Plan(), "nothing is planked at frame A")
}

func TestArrowKeysAndTheMenuOfALimit(t *testing.T) {
	w := newBoards(t)
	b := w.profile.board
	before := w.desk.Plan()
	girth := w.desk.Layer().Girths[6]
	windowtest.Click(b, w.limitHandle(t, views.LowerLimit, 6).At)
	require.Equal(t, views.LowerLimit, w.desk.Choice.Limit)
	assert.Nil(t, w.desk.Line())
	windowtest.TypeKey(b, fyne.KeyUp)
	windowtest.TypeKey(b, fyne.KeyUp)
	windowtest.TypeKey(b, fyne.KeyDown)
	require.Equal(t, "G", w.desk.Plan().Hull.Limits.Up[0].Frame)
	assert.InDelta(t, 0.1, w.desk.Plan().Hull.Limits.Up[0].MM, 1e-6)
	assert.InDelta(t, girth-0.1, w.desk.Layer().Girths[6], 1e-6)
	windowtest.TypeKey(b, fyne.KeyRight)
	assert.Equal(t, 7, w.desk.Choice.Frame)
	assert.Equal(t, views.LowerLimit, w.desk.Choice.Limit)
	assert.True(t, settings.BoardMenu(w.desk).Items[0].Disabled, "it is not set in at frame H")
	windowtest.TypeKey(b, fyne.KeyLeft)
	m := settings.BoardMenu(w.desk)
	assert.Equal(t, "Release the rabbet at frame G", m.Items[0].Label)
	m.Items[0].Action()
	assert.Equal(t, before.Hull.Limits, w.desk.Plan().Hull.Limits)
	w.desk.Undo()
	assert.Len(t, w.desk.Plan().Hull.Limits.Up, 1)
}

// TestALimitIsDraggedInTheBodyPlan: there the floor is seen in its true length,
// and an outer layer's limit, drawn off the frame, does not leap to the pointer.
func TestALimitIsDraggedInTheBodyPlan(t *testing.T) {
	w := newBoards(t)
	settings.AddLayer(w.desk)
	require.Equal(t, 1, w.desk.Choice.Layer)
	w.desk.Choose(w.desk.Choice.WithFrame(6))
	w.body.current()
	b := w.body.board
	h := limitOf(t, w.body.v.Limits, views.LowerLimit, 6)
	windowtest.Press(b, h.At)
	windowtest.Move(b, h.At, draw.Pt(h.At.X+0.01, h.At.Y))
	windowtest.Release(b, h.At)
	for _, in := range w.desk.Plan().Hull.Limits.Up {
		assert.Less(t, in.MM, 0.1, "no leap by the thickness of the inner layer")
	}
	girth := w.desk.Planking().Layers[0].Girths[6]
	h = limitOf(t, w.body.v.Limits, views.LowerLimit, 6)
	drag(b, h.At, draw.Pt(h.At.X+12*w.body.v.Scale, h.At.Y))
	assert.Less(t, w.desk.Planking().Layers[0].Girths[6], girth-8)
}

// TestLimitsAreDraggedOnTheExpandedPlanking: girth for girth, at the drawing's
// scale; band lines go with the upper limit and keep their girths below it.
func TestLimitsAreDraggedOnTheExpandedPlanking(t *testing.T) {
	w := girthBoards(t)
	b := w.profile.board
	before, down, girth := w.desk.Plan(), w.down(0, 3), w.desk.Layer().Girths[3]
	h := w.limitHandle(t, views.UpperLimit, 3)
	line := found(t, w.LongHandles(), 0, 3)
	scale := w.expanded.axis.Scale
	drag(b, h.At, draw.Pt(h.At.X, h.At.Y+7*scale))
	require.Len(t, w.desk.Plan().Hull.Limits.Down, 1)
	assert.InDelta(t, 7, w.desk.Plan().Hull.Limits.Down[0].MM, 1e-3)
	assert.InDelta(t, girth-7, w.desk.Layer().Girths[3], 1e-3)
	assert.Equal(t, down, w.down(0, 3))
	now := found(t, w.LongHandles(), 0, 3)
	assert.InDelta(t, line.At.Y+7*scale, now.At.Y, 0.01)
	assert.InDelta(t, h.At.Y+7*scale, w.limitHandle(t, views.UpperLimit, 3).At.Y, 0.01, "it stays under the pointer")

	// A band line dragged below a limit that is set in goes to the pointer too.
	drag(b, now.At, draw.Pt(now.At.X, now.At.Y+4*scale))
	assert.InDelta(t, down+4, w.down(0, 3), 1e-3)
	low := w.limitHandle(t, views.LowerLimit, 2)
	drag(b, low.At, draw.Pt(low.At.X, low.At.Y-5*scale))
	require.Len(t, w.desk.Plan().Hull.Limits.Up, 1)
	assert.InDelta(t, 5, w.desk.Plan().Hull.Limits.Up[0].MM, 1e-3)
	for range 3 {
		w.desk.Undo()
	}
	assert.Equal(t, before, w.desk.Plan())
}

func TestExpandedHandlesStandOnPlankedFramesAlone(t *testing.T) {
	w := girthBoards(t)
	l := w.desk.Plan().Hull.Limits
	l.From, l.To = "B", "E"
	require.NoError(t, w.desk.Session.Edit("plank less", edit.LimitsSet(l)))
	hs := append(w.LongHandles(), w.LongLimits()...)
	require.Len(t, hs, 4+2*4)
	for _, h := range hs {
		assert.True(t, h.Frame >= 1 && h.Frame <= 4)
	}
}
