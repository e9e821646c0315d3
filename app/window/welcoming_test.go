package window

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// The newcomer's way is tried from one step to the next in one window, which costs the
// most to make.
func TestANewcomersFirstMinutes(t *testing.T) {
	w := newWindow(t)
	w.guide.Hint()
	for _, step := range []struct {
		name string
		is   func(*testing.T, *mainWindow)
	}{
		{"The welcome page stands before the drawings", theWelcomePageStandsBeforeTheDrawings},
		{"The demo's line does not lie by itself", theDemosLineDoesNotLieByItself},
		{"The verdict turns as the handle is dragged", theVerdictTurnsAsTheHandleIsDragged},
		{"The line runs free in the end", theLineRunsFreeInTheEnd},
		{"Hints leave for good", hintsLeaveForGood},
		{"A new hull is made of what was typed", aNewHullIsMadeOfWhatWasTyped},
	} {
		require.True(t, t.Run(step.name, func(t *testing.T) { step.is(t, w) }))
	}
}

func theWelcomePageStandsBeforeTheDrawings(t *testing.T, w *mainWindow) {
	w.Canvas().Focus(w.Long)
	menuItem(t, w, "Welcome page").Action()
	assert.True(t, w.welcome.Shown())
	assert.Nil(t, w.Canvas().Focused(), "no key acts on a drawing out of sight")
	assert.False(t, w.body.Visible())
	press(w, fyne.KeyEscape)
	assert.True(t, w.body.Visible())
	w.desk.Remember("/shipyard/a very long name that somebody gave to the plan of a vessel.strakeplan")
	menuItem(t, w, "Welcome page").Action()
	windowtest.ButtonNamed(t, w.welcome.Object(), "a very long name …vessel.strakeplan")
	w.desk.ForgetFiles()
	menuItem(t, w, "Add a band line").Action()
	assert.False(t, w.welcome.Shown(), "what a menu does is seen")
	w.desk.Undo()
	menuItem(t, w, "Welcome page").Action()
}

// beside is what the card beside the work says.
func beside(w *mainWindow) string { return windowtest.Labels(w.guide.Object()) }

func theDemosLineDoesNotLieByItself(t *testing.T, w *mainWindow) {
	test.Tap(windowtest.ButtonNamed(t, w.welcome.Object(), "Open the demo ship"))
	require.False(t, w.welcome.Shown())
	assert.Empty(t, w.desk.Session.Path(), "it is a copy")
	assert.Len(t, w.desk.Session.Undoable(), 1, "one step forced it")
	assert.NotEqual(t, hull.Free, w.desk.Line().LineType)
	verdict := w.desk.Layer().JudgeLine(w.desk.Layer().Lines[1])
	assert.Equal(t, loft.NeedsSheet, verdict.Kind)
	assert.Greater(t, verdict.Figure, 2*verdict.Limit)
	assert.False(t, w.desk.Strip().OnLine())
	assert.Contains(t, beside(w), "Line 1 is forced: left to itself, this strip settles 14.00 mm lower at frame I.")
	assert.Contains(t, beside(w), "Drag the ringed handle at frame I down")
	assert.Equal(t, "I", w.desk.FrameName(w.desk.Choice.Frame))
}

// toldBeside is what the profile says beside the chosen handle.
func toldBeside(w *mainWindow) bool {
	drawing, _, _, _ := w.Long.Drawn()
	for _, i := range drawing.Items {
		if l, ok := i.(draw.Label); ok && l.Text == answer.StripVerdict(w.desk.Strip(), w.desk.FrameName, w.desk.Units) {
			return true
		}
	}
	return false
}

// The mouse drags the handle down, a pixel at a time, until the card says that it is
// done.
func theVerdictTurnsAsTheHandleIsDragged(t *testing.T, w *mainWindow) {
	assert.True(t, toldBeside(w))
	from := handle(t, w, 0, w.desk.Choice.Frame).At
	windowtest.Press(w.Long, from)
	at := draw.Pt(from.X, from.Y+12)
	windowtest.Move(w.Long, from, at)
	assert.Contains(t, beside(w), "Line 1 is forced: ")
	const done = "Left to itself, this strip settles along the line."
	for !strings.Contains(beside(w), done) {
		next := draw.Pt(at.X, at.Y+1)
		require.Less(t, next.Y, from.Y+60, "it never lies by itself: %s", beside(w))
		windowtest.Move(w.Long, at, next)
		at = next
	}
	windowtest.Release(w.Long, at)
	assert.True(t, w.desk.Strip().OnLine())
	assert.Contains(t, beside(w), done)
	assert.NotContains(t, beside(w), "forced")
	assert.True(t, toldBeside(w))
	verdict := w.desk.Layer().JudgeLine(w.desk.Layer().Lines[1])
	assert.LessOrEqual(t, verdict.Figure, verdict.Limit)
	assert.Len(t, w.desk.Session.Undoable(), 2)

	w.desk.Undo()
	assert.Contains(t, beside(w), "Line 1 is forced: left to itself, this strip settles 14.00 mm", "it turns back")
	test.Tap(windowtest.ButtonNamed(t, w.guide.Object(), "Show me"))
	assert.Contains(t, beside(w), done)
}

func theLineRunsFreeInTheEnd(t *testing.T, w *mainWindow) {
	test.Tap(windowtest.ButtonNamed(t, w.guide.Object(), "Let it run free"))
	assert.Equal(t, hull.Free, w.desk.Line().LineType)
	assert.True(t, w.desk.Strip().OnLine())
	w.desk.Nudge(5)
	assert.True(t, w.desk.Strip().OnLine(), "wherever it is moved")
	demo, err := app.NewDemo()
	require.NoError(t, err)
	t.Cleanup(demo.Close)
	w.desk.UndoSteps(len(w.desk.Session.Undoable()))
	assert.Equal(t, demo.Plan(), w.desk.Plan(), "all of it can be taken back, the first step of the task too")
	w.desk.RedoSteps(len(w.desk.Session.Redoable()))
}

func hintsLeaveForGood(t *testing.T, w *mainWindow) {
	seen := map[string]bool{}
	for w.guide.Object().Visible() {
		seen[beside(w)] = true
		require.LessOrEqual(t, len(seen), 5)
		test.Tap(windowtest.ButtonNamed(t, w.guide.Object(), "Got it"))
	}
	assert.Len(t, seen, 5)
	w.guide.Hint()
	assert.False(t, w.guide.Object().Visible(), "they stay away")
	menuItem(t, w, "Show the hints again").Action()
	assert.Contains(t, beside(w), "Hint 1 of 5")
	top := func() float32 { return fyne.CurrentApp().Driver().AbsolutePositionForObject(w.Long).Y }
	low := top()
	test.Tap(windowtest.ButtonNamed(t, w.guide.Object(), "No more hints"))
	assert.False(t, w.guide.Object().Visible())
	assert.Less(t, top(), low, "the drawings take its room")
}

func aNewHullIsMadeOfWhatWasTyped(t *testing.T, w *mainWindow) {
	w.welcome.Show()
	require.NoError(t, w.desk.Session.SaveAs(t.TempDir()+"/copy.strakeplan", false))
	test.Tap(windowtest.ButtonNamed(t, w.welcome.Object(), "New hull…"))
	dialog := w.Canvas().Overlays().Top()
	table := multiLine(t, dialog)
	good := table.Text
	table.SetText("frame, x_mm, girth_mm\n1, 0, 40\n2, ten, 50\n")
	test.Tap(windowtest.ButtonNamed(t, dialog, "Make the hull"))
	assert.Contains(t, windowtest.Labels(dialog), "The table, line 3", "the fault is told where the table stays")
	table.SetText("frame,x_mm,girth_mm\n1,0,40\n")
	test.Tap(windowtest.ButtonNamed(t, dialog, "Make the hull"))
	assert.NotNil(t, w.Canvas().Overlays().Top(), "one frame is no hull")
	table.SetText(good)
	test.Tap(windowtest.ButtonNamed(t, dialog, "Make the hull"))
	assert.Nil(t, w.Canvas().Overlays().Top())
	assert.True(t, w.desk.Shapeless())
	assert.Equal(t, "New hull", w.desk.Session.Title())
	assert.False(t, w.welcome.Shown())
}

// multiLine finds the field of several lines within an object.
func multiLine(t *testing.T, o fyne.CanvasObject) *kit.Field {
	t.Helper()
	var found *kit.Field
	windowtest.Walk(o, func(o fyne.CanvasObject) {
		if f, ok := o.(*kit.Field); ok && f.MultiLine {
			found = f
		}
	})
	require.NotNil(t, found)
	return found
}
