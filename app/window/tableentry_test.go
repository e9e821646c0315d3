package window

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
)

// shownIn gives what stands in a cell of the table, or in a head.
func (t *strakeTable) shownIn(row, col int) string {
	cells := t.filled
	if row < 0 || col < 0 {
		cells = t.heads
	}
	for o, id := range cells {
		if id == (widget.TableCellID{Row: row, Col: col}) && stands(o) {
			return o.(*fyne.Container).Objects[1].(*canvas.Text).Text
		}
	}
	return ""
}

// stands tells whether an object is in the window: the table lets go of some that were
// filled, and keeps them for later.
func stands(o fyne.CanvasObject) bool {
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
	return o.Visible() && at.X > 0 && at.Y > 0 // of what is in no window its place in its parent is given
}

// middleIn is where a cell of the table, or a head, stands in the window.
func (t *strakeTable) middleIn(row, col int) fyne.Position {
	for _, cells := range []map[fyne.CanvasObject]widget.TableCellID{t.filled, t.heads} {
		for o, id := range cells {
			if id == (widget.TableCellID{Row: row, Col: col}) && stands(o) {
				return fyne.CurrentApp().Driver().AbsolutePositionForObject(o).AddXY(o.Size().Width/2, o.Size().Height/2)
			}
		}
	}
	return fyne.Position{}
}

// All of it is tried in one window, which takes longer to open than to try.
func TestTheTableTakesFiguresAndIsSorted(t *testing.T) {
	w := newWindow(t)
	for _, what := range []struct {
		is  string
		try func(*testing.T, *mainWindow)
	}{
		{"a width is entered by keys", aWidthIsEnteredByKeys},
		{"a second click enters a figure", aSecondClickEntersAFigure},
		{"other figures of the table", otherFiguresOfTheTable},
		{"no figure is cut", noFigureIsCut},
		{"a click chooses what it is on", aClickChoosesWhatItIsOn},
		{"the strakes are sorted by a head", theStrakesAreSortedByAHead},
		{"fewer strakes while it is out of sight", fewerStrakesWhileItIsOutOfSight},
	} {
		t.Run(what.is, func(t *testing.T) { what.try(t, w) })
	}
}

func field(t *testing.T, w *mainWindow) (*kit.Field, string) {
	t.Helper()
	top := w.Canvas().Overlays().Top()
	require.NotNil(t, top)
	var found *kit.Field
	windowtest.Walk(top, func(o fyne.CanvasObject) {
		if f, ok := o.(*kit.Field); ok {
			found = f
		}
	})
	require.NotNil(t, found)
	return found, windowtest.Labels(top)
}

func aWidthIsEnteredByKeys(t *testing.T, w *mainWindow) {
	k := windowtest.Keyboard{Win: w}
	frame := w.desk.Layer().Greatest()
	w.desk.Choose(views.Nothing.WithStrake(1).WithFrame(frame))
	w.Canvas().Focus(w.table.table)
	was := w.desk.Layer().Strakes[1].At[frame].WidthCut
	steps := len(w.desk.Session.Undoable())

	k.Press(fyne.KeyF2)
	f, asks := field(t, w)
	assert.Equal(t, views.Millimetres.Number(was), f.Text)
	assert.Contains(t, asks, "Width to cut of 1.02 at frame "+w.desk.FrameName(frame))
	k.Type("wide")
	k.Press(fyne.KeyReturn)
	f, says := field(t, w)
	assert.Equal(t, "wide", f.Text, "bad input stays")
	assert.Contains(t, says, `"wide" is not a number`)
	k.Type("70")
	k.Press(fyne.KeyReturn)
	_, says = field(t, w)
	assert.Contains(t, says, "! Strake 1.02 can be")
	assert.Len(t, w.desk.Session.Undoable(), steps, "nothing was changed")
	k.Press(fyne.KeyEscape)
	assert.Nil(t, w.Canvas().Overlays().Top())
	assert.Same(t, fyne.Focusable(w.table.table), w.Canvas().Focused(), "the keys are at the table again")

	w.Canvas().Focused().TypedRune('4')
	f, _ = field(t, w)
	assert.Equal(t, "4", f.Text, "a figure begins the entry")
	for _, r := range ",7" {
		w.Canvas().Focused().TypedRune(r)
	}
	k.Press(fyne.KeyReturn)
	assert.Nil(t, w.Canvas().Overlays().Top())
	assert.InDelta(t, 4.7, w.desk.Layer().Strakes[1].At[frame].WidthCut, 0.005)
	assert.Contains(t, w.status.Text, "is 4.70 mm wide")
	require.Len(t, w.desk.Session.Undoable(), steps+1, "one step")
	w.desk.Undo()
	assert.InDelta(t, was, w.desk.Layer().Strakes[1].At[frame].WidthCut, 1e-9)
}

func aSecondClickEntersAFigure(t *testing.T, w *mainWindow) {
	w.desk.Choose(views.Nothing.WithStrake(2).WithFrame(3))
	at := w.table.middleIn(2, len(pinned)+3)
	test.TapCanvas(w.Canvas(), at)
	assert.Nil(t, w.Canvas().Overlays().Top(), "one click only chooses")
	test.TapCanvas(w.Canvas(), at)
	_, asks := field(t, w)
	assert.Contains(t, asks, "of 1.03 at frame "+w.desk.FrameName(3))
	windowtest.Keyboard{Win: w}.Press(fyne.KeyEscape)
	test.TapCanvas(w.Canvas(), at)
	assert.Nil(t, w.Canvas().Overlays().Top(), "the third is the first of another two")
}

func otherFiguresOfTheTable(t *testing.T, w *mainWindow) {
	k := windowtest.Keyboard{Win: w}
	l := w.desk.Layer()
	first := l.Bands[1].First // of the second band
	hold := w.desk.PlanLayer().Lines[0].Hold
	enter := func(f figure, text string) {
		w.table.pick.SetSelectedIndex(int(f))
		w.desk.Choose(views.Nothing.WithStrake(first).WithFrame(hold))
		w.Canvas().Focus(w.table.table)
		k.Press(fyne.KeyF2)
		if w.Canvas().Overlays().Top() != nil {
			k.Type(text)
			k.Press(fyne.KeyReturn)
		}
	}
	was := l.Strakes[first].At[hold].Upper
	enter(upperEdge, views.Millimetres.Number(was+1))
	assert.InDelta(t, was+1, down(w, 0, hold), 0.01, "the band line moved")
	w.desk.Undo()
	enter(upperBevel, "1")
	assert.Contains(t, w.status.Text, "Bevels follow")
	enter(benchWidth, "4.4")
	record := w.desk.Plan().Record.Of(w.desk.Bench.Side)
	require.NotEmpty(t, record)
	assert.Equal(t, hull.AsLaid, record[len(record)-1].EntryKind)
	assert.Equal(t, l.Strakes[first].ID, record[len(record)-1].Strake)
	assert.InDelta(t, 4.4, record[len(record)-1].MM, 1e-9)
	w.desk.Undo()
	assert.Empty(t, w.desk.Plan().Record.Of(w.desk.Bench.Side))
	w.table.pick.SetSelectedIndex(int(widthToCut))
}

func theStrakesAreSortedByAHead(t *testing.T, w *mainWindow) {
	w.desk.Choose(views.Nothing.WithFrame(0))
	length := func(row int) float64 { return w.desk.Layer().Strakes[w.table.strakeAt(row)].Length }
	names := func() (out []string) {
		for row := range w.desk.Layer().Strakes[:4] {
			out = append(out, w.table.shownIn(row, -1))
		}
		return out
	}
	asTheyLie := names()
	click := func() { test.TapCanvas(w.Canvas(), w.table.middleIn(-1, 0)) }
	click()
	assert.Equal(t, "▲length", w.table.shownIn(-1, 0), "the head says so")
	assert.Equal(t, "By length ▲ ✕", w.table.unsort.Text)
	assert.True(t, w.table.unsort.Visible())
	for row := 1; row < len(w.table.order); row++ {
		assert.LessOrEqual(t, length(row-1), length(row))
	}
	assert.NotEqual(t, asTheyLie, names())
	assert.Equal(t, rowName(w.desk.Layer().Strakes[w.table.strakeAt(0)]), w.table.shownIn(0, -1), "names go with their rows")
	test.TapCanvas(w.Canvas(), w.table.middleIn(0, len(pinned)))
	assert.Equal(t, w.table.strakeAt(0), w.desk.Choice.Strake, "a click chooses the strake that stands there")
	click()
	assert.Equal(t, "▼length", w.table.shownIn(-1, 0))
	assert.GreaterOrEqual(t, length(0), length(1))
	w.table.copyChosen()
	assert.Contains(t, w.desk.App.Clipboard().Content(), "\n"+rowName(w.desk.Layer().Strakes[w.desk.Choice.Strake])+"\t")
	click()
	assert.Equal(t, asTheyLie, names(), "the third click undoes it")
	assert.False(t, w.table.unsort.Visible())

	least := func(row int) float64 { return widest(w.desk.Layer().Strakes[w.table.strakeAt(row)], false) }
	for _, m := range w.table.sortItems() {
		if m.Label == "least width" {
			m.Action()
		}
	}
	for row := 1; row < len(w.table.order); row++ {
		assert.LessOrEqual(t, least(row-1), least(row))
	}
	w.table.sortBy(wordColumn, 0)
	for row := 1; row < len(w.table.order); row++ {
		a, b := w.desk.Layer().Strakes[w.table.strakeAt(row-1)], w.desk.Layer().Strakes[w.table.strakeAt(row)]
		assert.False(t, a.Making.Verdict.Harder(b.Making.Verdict), "%s before %s", a.ID, b.ID)
	}
	w.desk.Choose(views.Nothing.WithStrake(0).WithFrame(5))
	w.table.sortBy(byGreatest, 0)
	assert.True(t, w.table.inView(w.table.rowOf(0), 5), "what is chosen stays in sight")
	assert.GreaterOrEqual(t, w.table.unsort.Position().Y, float32(0))
	assert.LessOrEqual(t, w.table.unsort.Size().Height, w.table.head.Size().Height)
	windowtest.Keyboard{Win: w}.Press(fyne.KeyEscape)
	w.Canvas().Focus(w.table.table)
	windowtest.Keyboard{Win: w}.Press(fyne.KeyF2)
	_, asks := field(t, w)
	assert.Contains(t, asks, "of 1.01 at", "the keys are at the strake chosen, wherever it stands")
	windowtest.Keyboard{Win: w}.Press(fyne.KeyEscape)
	test.Tap(w.table.unsort)
	assert.Equal(t, asTheyLie, names())
}

// The toolkit fills the cells of a tab that is chosen before it says that it was chosen.
func fewerStrakesWhileItIsOutOfSight(t *testing.T, w *mainWindow) {
	w.table.sort(sorting{by: byGreatest, down: true})
	many := len(w.desk.Layer().Strakes)
	w.tables.SelectIndex(1)
	require.True(t, w.desk.Edit("fewer strakes", func(p *hull.Plan) error {
		for b := range p.Layers[0].Bands {
			p.Layers[0].Bands[b] = hull.Band{Strakes: 2}
		}
		return nil
	}))
	w.desk.CatchUp()
	require.Less(t, len(w.desk.Layer().Strakes), many)
	w.tables.SelectIndex(0)
	for row, s := range w.desk.Layer().Strakes {
		assert.Contains(t, w.table.order, row)
		assert.Equal(t, rowName(s), w.table.shownIn(w.table.rowOf(row), -1))
	}
	w.desk.Undo()
}
