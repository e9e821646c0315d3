package bench

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// atBench shows a part of the bench.
func atBench(t *testing.T, part int) (*desk.Desk, *Panel) {
	t.Helper()
	d := windowtest.NewDesk(t)
	b := NewPanel(&kit.Form{}, d, func() bool { return true })
	d.Lazy = append(d.Lazy, b.Update)
	d.Win.SetContent(b.Item.Content)
	b.bench.Date = "2026-03-01"
	b.tabs.SelectIndex(part)
	b.Update()
	return d, b
}

const (
	notePart = iota
	restPart
	stepsPart
	orderPart
	daysPart
)

// onDisk is the plan as its file has it.
func onDisk(t *testing.T, d *desk.Desk) *hull.Plan {
	t.Helper()
	p, _, err := source.Open(d.Session.Path())
	require.NoError(t, err)
	return p
}

func TestBenchNotesByTheMouse(t *testing.T) {
	d, b := atBench(t, notePart)
	d.Choose(d.Choice.WithStrake(0).WithFrame(6))
	part := b.note.Content
	test.Tap(windowtest.ButtonNamed(t, part, "Glued"))
	record := d.Plan().Record.Starboard
	require.Len(t, record, 1)
	assert.Equal(t, hull.Glued, record[0].EntryKind)
	assert.Equal(t, "1.01", record[0].Strake)
	assert.Equal(t, "2026-03-01", record[0].Date)
	assert.NotEmpty(t, record[0].Widths, "it keeps what it was cut to")
	assert.Equal(t, record, onDisk(t, d).Record.Starboard, "it is on the disk at once")

	planned := b.bench.State().Left[6]
	assert.Nil(t, b.bench.Widths(), "what lies is not planned again")
	assert.True(t, windowtest.ButtonNamed(t, part, "Note it").Disabled(), "nothing is entered yet")
	for range 6 { // the first shows what is expected
		test.Tap(b.ask.number.Less)
	}
	test.Tap(windowtest.ButtonNamed(t, part, "Note it"))
	record = d.Plan().Record.Starboard
	require.Len(t, record, 2)
	assert.Equal(t, hull.LeftOver, record[1].EntryKind)
	assert.Equal(t, "G", record[1].Frame)
	assert.InDelta(t, planned-0.5, record[1].MM, 0.051, "five steps of 0.1 less than expected, which was shown to 0.1")
	assert.Less(t, b.bench.State().Straying[6], -0.1)
	d.Choose(d.Choice.WithStrake(1))
	again := b.bench.Widths()
	require.NotNil(t, again)
	assert.Less(t, again.On[6].WidthCut, d.Layer().Strakes[1].At[6].WidthCut-0.01, "less is left for those to go")
	assert.Less(t, d.Bench.Rest[hull.Starboard]["1.02"].Change[6], 0.0)

	d.Undo()
	assert.Len(t, d.Plan().Record.Starboard, 1, "one step to undo each")
	d.Undo()
	assert.Empty(t, d.Plan().Record.Starboard)
	assert.Nil(t, b.bench.Widths())
}

// The whole of a band is measured with the keys alone, frame by frame.
func TestBenchNotesFrameByFrame(t *testing.T) {
	d, b := atBench(t, notePart)
	status := ""
	d.Status = func(s string) { status = s }
	d.Choose(d.Choice.WithStrake(0).WithFrame(4))
	table, k := b.ask.byFrame, windowtest.Keyboard{Win: d.Win}
	d.Win.Canvas().SetOnTypedKey(func(e *fyne.KeyEvent) { d.DialogKey(e) })
	windowtest.NothingCutAnywhere(t, table.table)
	k.Win.Canvas().Focus(table.table)
	expected := d.Units.Number(b.bench.State().Left[4])
	assert.Equal(t, [frameColumns]string{"E", expected, ""}, table.rows[4])
	enter := func(text string) {
		for _, r := range text {
			k.Win.Canvas().Focused().TypedRune(r)
		}
		k.Press(fyne.KeyReturn)
	}
	enter("39.4")
	enter("39,6")
	record := d.Plan().Record.Starboard
	require.Len(t, record, 2)
	for i, want := range []hull.Entry{{Frame: "E", MM: 39.4}, {Frame: "F", MM: 39.6}} {
		assert.Equal(t, hull.LeftOver, record[i].EntryKind)
		assert.Equal(t, 1, record[i].Band)
		assert.Equal(t, want.Frame, record[i].Frame)
		assert.InDelta(t, want.MM, record[i].MM, 1e-9)
	}
	assert.Equal(t, 6, d.Choice.Frame, "it goes on to the next")
	assert.Equal(t, "39.40", table.rows[4][ofMeasured])
	assert.Equal(t, "39.60", table.rows[5][ofMeasured])
	k.Press(fyne.KeyReturn)
	require.NotNil(t, d.Win.Canvas().Overlays().Top(), "Return begins an entry, too")
	k.Press(fyne.KeyEscape)
	require.Nil(t, d.Win.Canvas().Overlays().Top())

	b.ask.what.SetSelectedIndex(1)
	assert.Empty(t, table.rows[4][ofMeasured], "of the strake nothing is measured")
	b.bench.Wet = true
	enter("4.6")
	record = d.Plan().Record.Starboard
	require.Len(t, record, 3)
	assert.Equal(t, hull.AsLaid, record[2].EntryKind)
	assert.Equal(t, "1.01", record[2].Strake)
	assert.True(t, record[2].Wet)
	assert.Equal(t, "4.60 wet", table.rows[6][ofMeasured])
	d.Choose(d.Choice.WithStrake(-1))
	enter("4")
	assert.Equal(t, "Choose the strake that was measured.", status)
	b.bench.Day = "2026-03-01"
	enter("4")
	assert.Contains(t, status, "can only be looked at")
	assert.Len(t, d.Plan().Record.Starboard, 3)
}

func TestBenchQueriesAndKeeps(t *testing.T) {
	d, b := atBench(t, restPart)
	windowtest.Laid(t, d, 3, 0.6)
	status := ""
	d.Status = func(s string) { status = s }
	require.True(t, b.bench.Note(hull.Entry{EntryKind: hull.LeftOver, Band: 1, Frame: "F", MM: b.bench.State().Left[5] + 15}))
	assert.Contains(t, status, "Check the measurement. It is doubtful, and left out: ")
	assert.Len(t, d.Plan().Record.Starboard, 9, "queried, and not refused")
	assert.Contains(t, b.summary(), "is doubtful, and left out")
	require.True(t, b.bench.Note(hull.Entry{EntryKind: hull.BareGirth, Frame: "F", MM: b.ask.bareGirth(5) + 4}))
	assert.Contains(t, status, "Check the measurement. It is doubtful, but kept: ")
	assert.Contains(t, strings.Join(d.Bench.Notes(), "\n"), "more than the drawing gives; measure again")
	assert.Contains(t, strings.Join(d.Bench.Notes(), "\n"), "off the run of its neighbours; measure again")
}

func TestBenchOptionIsTakenWithOneClickAndOneUndo(t *testing.T) {
	d, b := atBench(t, restPart)
	windowtest.Laid(t, b.desk, 3, 1)
	windowtest.Until(t, func() bool { return offers(b, "Take it") })
	before := d.Plan()
	test.Tap(windowtest.ButtonNamed(t, b.tabs.Items[restPart].Content, "Take it"))
	list := d.Plan().Record.Starboard
	last := list[len(list)-1]
	assert.Equal(t, hull.Chosen, last.EntryKind)
	assert.Equal(t, hull.Shave, last.Remedy)
	assert.Equal(t, 1, last.Band)
	assert.Contains(t, b.summary(), "shave")
	d.Undo()
	assert.Equal(t, before.Record, d.Plan().Record)

	// The other side is taught, and takes the same way with a click.
	d.Redo()
	b.showSide(hull.Port)
	s := b.bench.State()
	assert.False(t, s.Measured)
	assert.True(t, s.Known)
	assert.Contains(t, b.sides(), "mirrored")
	test.Tap(windowtest.ButtonNamed(t, b.tabs.Items[restPart].Content, "Here too: shave all alike"))
	require.Len(t, d.Plan().Record.Port, 1)
	assert.Equal(t, hull.Shave, d.Plan().Record.Port[0].Remedy)
}

// noList is a list that shows nothing.
func noList() *kit.List {
	return kit.NewList(func() int { return 0 }, func() fyne.CanvasObject { return widget.NewLabel("") }, func(int, fyne.CanvasObject) {})
}

// offers tells whether the rest of the bench shows a button of that name.
func offers(b *Panel, name string) bool {
	found := false
	windowtest.Walk(b.tabs.Items[restPart].Content, func(o fyne.CanvasObject) {
		if t, ok := o.(*kit.Button); ok && t.Text == name {
			found = true
		}
	})
	return found
}

func TestBenchWetStripsAskForTheDryMeasurement(t *testing.T) {
	d, b := atBench(t, restPart)
	require.True(t, d.Edit("species", edit.OnLayer(0, func(l *hull.Layer) { l.Stock.Species = "American beech" })))
	d.Choose(d.Choice.WithStrake(1).WithFrame(4))
	b.bench.Wet = true
	require.True(t, b.bench.Note(hull.Entry{EntryKind: hull.Glued, Strake: "1.02"}))
	notes := strings.Join(d.Bench.Notes(), "\n")
	assert.Contains(t, notes, "1.02 to starboard was glued wet")
	assert.Contains(t, notes, "it shrinks by")
	d.Choose(d.Choice.WithStrake(5))
	assert.False(t, b.bench.Wet, "the next strip is another")
	test.Tap(windowtest.ButtonNamed(t, b.tabs.Items[restPart].Content, "Measure 1.02 dry"))
	assert.Equal(t, b.note, b.tabs.Selected())
	assert.Equal(t, 1, d.Choice.Strake)
	assert.Equal(t, hull.AsLaid, b.ask.doing())
	b.ask.number.Entry.SetText("4.6")
	test.Tap(windowtest.ButtonNamed(t, b.note.Content, "Note it"))
	assert.NotContains(t, strings.Join(d.Bench.Notes(), "\n"), "glued wet", "it has been measured dry")
}

func TestBenchSidesThatDifferAreWarnedOf(t *testing.T) {
	d, b := atBench(t, restPart)
	for _, side := range hull.Sides() {
		b.bench.Side = side
		for _, s := range d.Layer().Strakes {
			if s.Band == 1 {
				require.True(t, b.bench.Note(hull.Entry{EntryKind: hull.Glued, Strake: s.ID}))
			}
		}
	}
	for f := range d.Plan().Hull.Frames {
		if d.Layer().Strakes[0].At[f].Laid {
			wide := d.Layer().Strakes[0].At[f].WidthFrame
			b.bench.Side = hull.Starboard
			require.True(t, b.bench.Note(hull.Entry{EntryKind: hull.AsLaid, Strake: "1.01", Frame: d.FrameName(f), MM: wide}))
			b.bench.Side = hull.Port
			require.True(t, b.bench.Note(hull.Entry{EntryKind: hull.AsLaid, Strake: "1.01", Frame: d.FrameName(f), MM: wide + 2}))
		}
	}
	assert.Contains(t, b.sides(), "The sides differ")
	assert.Contains(t, b.sides(), "lower to port")
	require.NoError(t, d.Session.SetTolerance(50))
	assert.Contains(t, b.sides(), "agree within the tolerance")
}

func TestBenchSteps(t *testing.T) {
	d, b := atBench(t, stepsPart)
	l := &stepList{b: b, shown: func() bool { return true }, box: container.NewVBox(), edit: true}
	d.Choose(d.Choice.WithStrake(2))
	l.sync()
	tasks, told := l.told()
	assert.Contains(t, told, "1.03 to starboard")
	require.Len(t, tasks, len(progress.UsualSteps()))
	walkLabels := windowtest.Labels(l.box)
	assert.Contains(t, walkLabels, tasks[0].text)
	assert.Contains(t, walkLabels, "Caution: ")
	test.Tap(windowtest.ButtonNamed(t, l.buttons(1), "↑"))
	assert.Equal(t, progress.StepSoak, d.Plan().Record.Steps[0].Key)
	test.Tap(windowtest.ButtonNamed(t, l.buttons(0), "Leave out"))
	assert.Len(t, d.Plan().Record.Steps, len(progress.UsualSteps())-1)
	s := l.steps()
	s[0].Name = "Plane the taper"
	l.set(s)
	tasks, _ = l.told()
	assert.Equal(t, "Plane the taper", tasks[0].Name)
	assert.NotEmpty(t, tasks[0].text, "it keeps its figure under another name")
	d.Undo()
	d.Undo()
	d.Undo()
	assert.Empty(t, d.Plan().Record.Steps)
}

func TestBenchOrderIsTickedOff(t *testing.T) {
	d, b := atBench(t, orderPart)
	o := &orderList{b: b, shown: func() bool { return true }, list: noList()}
	o.sync()
	windowtest.Until(t, func() bool { return len(o.rows) > 0 })
	first := o.rows[0]
	assert.Equal(t, 0, o.next)
	o.tick(0, true)
	list := d.Plan().Record.Of(hull.Side(first.Side))
	require.Len(t, list, 1)
	assert.Equal(t, first.ID, list[0].Strake)
	assert.Equal(t, hull.Glued, list[0].EntryKind)
	o.sync()
	windowtest.Until(t, func() bool { return o.rows[0].Laid })
	assert.Positive(t, o.next)
	o.tick(0, false)
	list = d.Plan().Record.Of(hull.Side(first.Side))
	assert.Equal(t, hull.Removed, list[len(list)-1].EntryKind)
	b.chooseNext()
	assert.Equal(t, first.ID, d.Strake().ID)
	assert.Equal(t, hull.Side(first.Side), b.bench.Side)
}

func TestBenchGoesBackDayByDay(t *testing.T) {
	d, b := atBench(t, daysPart)
	var said string
	d.Say = func(s string) { said = s }
	d.Choose(d.Choice.WithStrake(0).WithFrame(6))
	require.True(t, b.bench.Note(hull.Entry{EntryKind: hull.Glued, Strake: "1.01"}))
	b.bench.Date = dayBy(b.bench.Date, 1)
	require.True(t, b.bench.Note(hull.Entry{EntryKind: hull.Glued, Strake: "1.02"}))
	part := b.tabs.Items[daysPart].Content
	assert.Len(t, b.bench.State().Laid, 2)
	test.Tap(windowtest.ButtonNamed(t, part, "‹"))
	assert.Equal(t, "2026-03-02", b.bench.Day)
	test.Tap(windowtest.ButtonNamed(t, part, "‹"))
	assert.Equal(t, "2026-03-01", b.bench.Day)
	assert.Len(t, b.bench.State().Laid, 1, "as it stood then")
	assert.False(t, b.bench.Note(hull.Entry{EntryKind: hull.Glued, Strake: "1.03"}))
	assert.Contains(t, said, "only be looked at")
	assert.Len(t, d.Plan().Record.Starboard, 2)
	test.Tap(windowtest.ButtonNamed(t, part, "›"))
	test.Tap(windowtest.ButtonNamed(t, part, "›"))
	assert.Empty(t, b.bench.Day)
	l := &dayList{b: b, shown: func() bool { return true }, list: noList()}
	l.sync()
	require.Len(t, l.rows, 2)
	assert.Contains(t, l.text(l.rows[0]), "2026-03-02 starboard: 1.02 glued")
	l.strike(l.rows[0])
	assert.Len(t, d.Plan().Record.Starboard, 1)
}

func TestBenchInInches(t *testing.T) {
	d, b := atBench(t, restPart)
	windowtest.Laid(t, b.desk, 2, 0.5)
	d.SwitchUnits()
	assert.Contains(t, b.summary(), " in")
	assert.NotContains(t, b.summary(), " mm")
	assert.NotContains(t, b.strakes(), " mm")
	windowtest.Until(t, func() bool { return offers(b, "Take it") })
}

func TestRowsAreWrittenWholeAndNeverOver(t *testing.T) {
	d := windowtest.NewDesk(t)
	path := filepath.Join(t.TempDir(), "record.csv")
	require.NoError(t, writeRows(d, path, false, [][]string{{"a", "b"}}))
	require.ErrorIs(t, writeRows(d, path, false, [][]string{{"c"}}), fs.ErrExist)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "a,b\n", string(text))
	require.NoError(t, writeRows(d, path, true, [][]string{{"c"}}))
}

// TestTheSearchForWaysIsStopped: that which nobody waits for any more ends, when
// another begins, when its tab goes out of sight and when the window goes.
func TestTheSearchForWaysIsStopped(t *testing.T) {
	d, b := atBench(t, notePart)
	searches := make(chan context.Context, 10)
	b.options.find = func(ctx context.Context, _ *loft.Planking, _ hull.Side, _, _ int, _ progress.Habit) ([]progress.Option, error) {
		searches <- ctx
		<-ctx.Done()
		return nil, ctx.Err()
	}
	b.tabs.SelectIndex(restPart)
	first := <-searches
	assert.NoError(t, first.Err())
	b.Update()
	assert.NoError(t, first.Err(), "of the same it goes on")

	b.bench.Side = hull.Port
	b.Update()
	second := <-searches
	assert.ErrorIs(t, first.Err(), context.Canceled)
	assert.NoError(t, second.Err())

	b.tabs.SelectIndex(notePart)
	assert.ErrorIs(t, second.Err(), context.Canceled)
	b.tabs.SelectIndex(restPart)
	third := <-searches
	assert.NoError(t, third.Err())
	assert.Equal(t, "Reckoning…", b.options.told.Text)

	d.Leave()
	assert.ErrorIs(t, third.Err(), context.Canceled)
	assert.Empty(t, searches)
}
