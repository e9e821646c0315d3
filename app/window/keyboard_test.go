package window

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/tables"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source"
	"github.com/strakewright/strakewright/loft"
)

const ctrl = fyne.KeyModifierShortcutDefault

// TestKeysAloneDoTheMainJob opens a plan, moves a line, has it lie free, reads how the
// strip lies, looks at the strakes, exports their table and saves, by nothing but keys.
func TestKeysAloneDoTheMainJob(t *testing.T) {
	w := newWindow(t)
	k, folder := windowtest.Keyboard{Win: w}, t.TempDir()
	plan := filepath.Join(folder, "cutter"+app.Extension)
	_, err := app.Write(plan, w.desk.Plan(), false)
	require.NoError(t, err)

	k.Press(fyne.KeyO, ctrl)
	k.Type(filepath.Join(folder, "cut"))
	k.Press(fyne.KeyReturn) // the only file that begins so
	windowtest.Until(t, func() bool { return w.desk.Session.Path() == plan && !w.desk.Working })
	require.Nil(t, w.Canvas().Overlays().Top())

	said := ""
	show := w.desk.Status
	w.desk.Status = func(s string) { said = s; show(s) }
	k.Press(fyne.KeyF6)
	require.Same(t, fyne.Focusable(w.Long), w.Canvas().Focused())
	assert.True(t, windowtest.Ringed(w.Long))
	k.Press(fyne.KeyPageUp)
	assert.Equal(t, views.UpperLimit, w.desk.Choice.Limit)
	assert.Contains(t, said, "girth between the limits")
	k.Press(fyne.KeyPageDown)
	k.Press(fyne.KeyRight)
	require.Equal(t, 0, w.desk.Choice.Line)
	f := w.desk.Choice.Frame
	assert.Contains(t, said, "line 1 at frame "+w.desk.FrameName(f)+":")
	before := w.desk.HandleDown()
	for range 3 {
		k.Press(fyne.KeyDown)
	}
	assert.InDelta(t, before+0.3, w.desk.HandleDown(), 1e-9)

	to := hull.Free
	if w.desk.Line().LineType == to {
		to = hull.Drawn
	}
	takeFromMenu(t, w, k, to)
	assert.Contains(t, said, answer.StripVerdict(w.desk.Strip(), w.desk.FrameName, w.desk.Units))
	takeFromMenu(t, w, k, hull.Free)
	assert.Contains(t, said, answer.StripVerdict(w.desk.Strip(), w.desk.FrameName, w.desk.Units))

	for !w.hasFocus(w.tables) {
		k.Press(fyne.KeyF6)
	}
	require.Same(t, fyne.Focusable(w.table.table), w.Canvas().Focused())
	k.Press(fyne.KeyHome)
	k.Press(fyne.KeyPageUp)
	k.Press(fyne.KeyDown)
	assert.Equal(t, 1, w.desk.Choice.Strake)
	assert.Contains(t, said, "strake "+w.desk.Strake().ID+": ")
	k.Press(fyne.KeyPageDown)
	assert.Greater(t, w.desk.Choice.Strake, 3)
	k.Press(desktop.KeyMenu)
	require.NotNil(t, w.Canvas().Overlays().Top(), "the menu of the cell")
	k.Press(fyne.KeyEscape)
	k.Press(fyne.KeyTab, ctrl)
	assert.Equal(t, 1, w.tables.SelectedIndex())
	k.Press(fyne.KeyTab, ctrl, fyne.KeyModifierShift)
	assert.Equal(t, 0, w.tables.SelectedIndex())

	table := filepath.Join(folder, "strakes.csv")
	k.Press(fyne.KeyE, ctrl)
	k.Type(table)
	k.Press(fyne.KeyReturn)
	k.Press(fyne.KeyS, ctrl)
	require.Nil(t, w.Canvas().Overlays().Top())
	saved, _, err := source.Open(plan)
	require.NoError(t, err)
	assert.Equal(t, w.desk.Plan(), saved)
	assert.Equal(t, hull.Free, saved.Layers[0].Lines[0].LineType)
	written, err := os.ReadFile(table)
	require.NoError(t, err)
	var csv strings.Builder
	require.NoError(t, tables.WriteRows(&csv, answer.StrakesOf(planked(t, saved)).Rows()))
	assert.Equal(t, csv.String(), string(written))
}

func planked(t *testing.T, p *hull.Plan) *loft.Planking {
	t.Helper()
	k, err := loft.Plank(p)
	require.NoError(t, err)
	return k
}

// takeFromMenu has the chosen line be of a type, by the menu of the drawing.
func takeFromMenu(t *testing.T, w *mainWindow, k windowtest.Keyboard, to hull.LineType) {
	t.Helper()
	k.Press(fyne.KeyReturn)
	require.NotNil(t, w.Canvas().Overlays().Top())
	downs := map[hull.LineType]int{hull.Drawn: 1, hull.Free: 2}[to]
	for range downs {
		k.Press(fyne.KeyDown)
	}
	k.Press(fyne.KeyReturn)
	require.Nil(t, w.Canvas().Overlays().Top())
	require.Equal(t, to, w.desk.Line().LineType)
	require.Same(t, fyne.Focusable(w.Long), w.Canvas().Focused(), "the keys are where they were")
	k.Press(fyne.KeyLeft)
	k.Press(fyne.KeyRight)
}

// TestWhatHasTheFocusIsSeen goes through all that Tab comes to.
func TestWhatHasTheFocusIsSeen(t *testing.T) {
	w := newWindow(t)
	k, seen := windowtest.Keyboard{Win: w}, map[fyne.Focusable]bool{}
	k.Press(fyne.KeyTab)
	for f := w.Canvas().Focused(); !seen[f]; f = w.Canvas().Focused() {
		require.NotNil(t, f)
		seen[f] = true
		o := f.(fyne.CanvasObject)
		assert.True(t, windowtest.Ringed(o), "%T has no ring", o)
		assert.True(t, windowtest.InSight(w, o), "%T is out of sight at %v", o, fyne.CurrentApp().Driver().AbsolutePositionForObject(o))
		k.Press(fyne.KeyTab)
		assert.False(t, windowtest.Ringed(o), "%T keeps its ring", o)
	}
	for _, f := range []fyne.Focusable{w.Long, w.Gauge, w.BodyPlan, w.HullBoard, w.table.table, w.table.pick} {
		assert.True(t, seen[f], "%T", f)
	}
}

func TestCtrlTabGoesThroughAllTabs(t *testing.T) {
	w := newWindow(t)
	k := windowtest.Keyboard{Win: w}
	for range w.panel.tabs.Items {
		k.Press(fyne.KeyTab, fyne.KeyModifierControl)
		if w.panel.tabs.Selected() == w.panel.bench.Item {
			break
		}
	}
	require.Equal(t, w.panel.bench.Item, w.panel.tabs.Selected())
	assert.True(t, w.hasFocus(w.panel.tabs))
	bench := tabsIn(w.panel.tabs)
	require.NotNil(t, bench)
	for i := range bench.Items {
		assert.Equal(t, i, bench.SelectedIndex())
		k.Press(fyne.KeyTab, fyne.KeyModifierControl)
	}
	assert.NotEqual(t, w.panel.bench.Item, w.panel.tabs.Selected())
	k.Press(fyne.KeyTab, fyne.KeyModifierControl, fyne.KeyModifierShift)
	assert.Equal(t, len(bench.Items)-1, bench.SelectedIndex(), "from behind")
	k.Press(fyne.KeyF11)
	assert.True(t, w.FullScreen())
}
