package window

import (
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

	"strakewright/app/draw"
	"strakewright/hull"
	"strakewright/hull/source"
	"strakewright/loft/progress"
)

// atBench shows a part of the bench.
func atBench(t *testing.T, part int) (*Window, *benchPanel) {
	t.Helper()
	w := newWindow(t)
	b := w.panel.bench
	b.bench.date = "2026-03-01"
	w.panel.tabs.Select(b.item)
	b.tabs.SelectIndex(part)
	return w, b
}

const (
	notePart = iota
	restPart
	stepsPart
	orderPart
	daysPart
)

// laid glues the first strakes of the first band to starboard, and measures
// what is left at some frames, so much less than planned.
func laid(t *testing.T, b *benchPanel, strakes int, less float64) {
	t.Helper()
	d := b.desk
	for k := range strakes {
		d.choose(d.choice.WithStrake(k))
		require.True(t, b.bench.note(hull.Entry{Doing: hull.Glued, Strake: d.layer().Strakes[k].ID}))
	}
	for _, f := range []int{2, 4, 6, 8, 10} {
		left := b.bench.state().Left[f] - less
		require.True(t, b.bench.note(hull.Entry{Doing: hull.LeftOver, Band: 1, Frame: d.frameName(f), MM: left}))
	}
}

// onDisk is the plan as its file has it.
func onDisk(t *testing.T, d *desk) *hull.Plan {
	t.Helper()
	p, _, err := source.Open(d.s.Path())
	require.NoError(t, err)
	return p
}

func TestBenchNotesByTheMouse(t *testing.T) {
	w, b := atBench(t, notePart)
	d := w.desk
	d.choose(d.choice.WithStrake(0).WithFrame(6))
	part := b.note.Content
	test.Tap(buttonNamed(t, part, "Glued"))
	record := d.plan().Record.Starboard
	require.Len(t, record, 1)
	assert.Equal(t, hull.Glued, record[0].Doing)
	assert.Equal(t, "1.01", record[0].Strake)
	assert.Equal(t, "2026-03-01", record[0].Date)
	assert.NotEmpty(t, record[0].Widths, "it keeps what it was cut to")
	assert.Equal(t, record, onDisk(t, d).Record.Starboard, "it is on the disk at once")

	planned := b.bench.state().Left[6]
	assert.Nil(t, b.bench.widths(), "what lies is not planned again")
	assert.True(t, buttonNamed(t, part, "Note it").Disabled(), "nothing is entered yet")
	for range 6 { // the first shows what is expected
		test.Tap(b.ask.number.less)
	}
	test.Tap(buttonNamed(t, part, "Note it"))
	record = d.plan().Record.Starboard
	require.Len(t, record, 2)
	assert.Equal(t, hull.LeftOver, record[1].Doing)
	assert.Equal(t, "G", record[1].Frame)
	assert.InDelta(t, planned-0.5, record[1].MM, 0.051, "five steps of 0.1 less than expected, which was shown to 0.1")
	assert.Less(t, b.bench.state().Straying[6], -0.1)
	d.choose(d.choice.WithStrake(1))
	again := b.bench.widths()
	require.NotNil(t, again)
	assert.Less(t, again.On[6].WidthCut, d.layer().Strakes[1].At[6].WidthCut-0.01, "less is left for those to go")
	text, _ := changeCell(d, b.bench.rest[hull.Starboard]["1.02"].Change[6])
	assert.True(t, strings.HasPrefix(text, "−"), text)

	d.undo()
	assert.Len(t, d.plan().Record.Starboard, 1, "one step to undo each")
	d.undo()
	assert.Empty(t, d.plan().Record.Starboard)
	assert.Nil(t, b.bench.widths())
}

func TestBenchQueriesAndKeeps(t *testing.T) {
	w, b := atBench(t, restPart)
	laid(t, b, 3, 0.6)
	require.True(t, b.bench.note(hull.Entry{Doing: hull.LeftOver, Band: 1, Frame: "F", MM: b.bench.state().Left[5] + 15}))
	assert.Contains(t, w.status.Text, "can that be?")
	assert.Len(t, w.desk.plan().Record.Starboard, 9, "queried, and not refused")
	assert.Contains(t, b.summary(), "Queried")
	assert.Contains(t, strings.Join(w.desk.notes(), "\n"), "left out of account")
}

func TestBenchOptionIsTakenWithOneClickAndOneUndo(t *testing.T) {
	w, b := atBench(t, restPart)
	d := w.desk
	laid(t, b, 3, 1)
	until(t, func() bool { return offers(b, "Take it") })
	before := d.plan()
	test.Tap(buttonNamed(t, b.tabs.Items[restPart].Content, "Take it"))
	list := d.plan().Record.Starboard
	last := list[len(list)-1]
	assert.Equal(t, hull.Chosen, last.Doing)
	assert.Equal(t, hull.Shave, last.Way)
	assert.Equal(t, 1, last.Band)
	assert.Contains(t, b.summary(), "shave")
	d.undo()
	assert.Equal(t, before.Record, d.plan().Record)

	// The other side is taught, and takes the same way with a click.
	d.redo()
	b.showSide(hull.Port)
	s := b.bench.state()
	assert.False(t, s.Measured)
	assert.True(t, s.Known)
	assert.Contains(t, b.sides(), "mirrored")
	test.Tap(buttonNamed(t, b.tabs.Items[restPart].Content, "Here too: shave all alike"))
	require.Len(t, d.plan().Record.Port, 1)
	assert.Equal(t, hull.Shave, d.plan().Record.Port[0].Way)
}

// noList is a list that shows nothing.
func noList() *widget.List {
	return widget.NewList(func() int { return 0 }, func() fyne.CanvasObject { return widget.NewLabel("") }, func(int, fyne.CanvasObject) {})
}

// labels gives all that labels within an object say.
func labels(o fyne.CanvasObject) string {
	var out []string
	walk(o, func(o fyne.CanvasObject) {
		if l, ok := o.(*widget.Label); ok {
			out = append(out, l.Text)
		}
	})
	return strings.Join(out, "\n")
}

// offers tells whether the rest of the bench shows a button of that name.
func offers(b *benchPanel, name string) bool {
	found := false
	walk(b.tabs.Items[restPart].Content, func(o fyne.CanvasObject) {
		if t, ok := o.(*tipButton); ok && t.Text == name {
			found = true
		}
	})
	return found
}

func TestBenchWetStripsAskForTheDryMeasurement(t *testing.T) {
	w, b := atBench(t, restPart)
	d := w.desk
	require.True(t, d.edit("species", onLayer(0, func(l *hull.Layer) { l.Stock.Species = "American beech" })))
	d.choose(d.choice.WithStrake(1).WithFrame(4))
	b.bench.wet = true
	require.True(t, b.bench.note(hull.Entry{Doing: hull.Glued, Strake: "1.02"}))
	notes := strings.Join(d.bench.notes(), "\n")
	assert.Contains(t, notes, "1.02 to starboard was glued wet")
	assert.Contains(t, notes, "it shrinks by")
	d.choose(d.choice.WithStrake(5))
	assert.False(t, b.bench.wet, "the next strip is another")
	test.Tap(buttonNamed(t, b.tabs.Items[restPart].Content, "Measure 1.02 dry"))
	assert.Equal(t, b.note, b.tabs.Selected())
	assert.Equal(t, 1, d.choice.Strake)
	assert.Equal(t, hull.AsLaid, b.ask.doing())
	b.ask.number.entry.SetText("4.6")
	test.Tap(buttonNamed(t, b.note.Content, "Note it"))
	assert.NotContains(t, strings.Join(d.bench.notes(), "\n"), "glued wet", "it has been measured dry")
}

func TestBenchSidesThatDifferAreWarnedOf(t *testing.T) {
	w, b := atBench(t, restPart)
	d := w.desk
	for _, side := range hull.Sides() {
		b.bench.side = side
		for _, s := range d.layer().Strakes {
			if s.Band == 1 {
				require.True(t, b.bench.note(hull.Entry{Doing: hull.Glued, Strake: s.ID}))
			}
		}
	}
	for f := range d.plan().Hull.Frames {
		if d.layer().Strakes[0].At[f].Laid {
			wide := d.layer().Strakes[0].At[f].WidthFrame
			b.bench.side = hull.Starboard
			require.True(t, b.bench.note(hull.Entry{Doing: hull.AsLaid, Strake: "1.01", Frame: d.frameName(f), MM: wide}))
			b.bench.side = hull.Port
			require.True(t, b.bench.note(hull.Entry{Doing: hull.AsLaid, Strake: "1.01", Frame: d.frameName(f), MM: wide + 2}))
		}
	}
	assert.Contains(t, b.sides(), "The sides differ")
	assert.Contains(t, b.sides(), "lower to port")
	require.NoError(t, d.s.SetTolerance(50))
	assert.Contains(t, b.sides(), "agree within the tolerance")
}

func TestBenchSteps(t *testing.T) {
	w, b := atBench(t, stepsPart)
	d := w.desk
	l := &stepList{b: b, shown: func() bool { return true }, box: container.NewVBox(), edit: true}
	d.choose(d.choice.WithStrake(2))
	l.sync()
	tasks, told := l.told()
	assert.Contains(t, told, "1.03 to starboard")
	require.Len(t, tasks, len(progress.UsualSteps()))
	walkLabels := labels(l.box)
	assert.Contains(t, walkLabels, tasks[0].text)
	assert.Contains(t, walkLabels, "Caution: ")
	test.Tap(buttonNamed(t, l.buttons(1), "↑"))
	assert.Equal(t, progress.StepSoak, d.plan().Record.Steps[0].Key)
	test.Tap(buttonNamed(t, l.buttons(0), "Leave out"))
	assert.Len(t, d.plan().Record.Steps, len(progress.UsualSteps())-1)
	s := l.steps()
	s[0].Name = "Plane the taper"
	l.set(s)
	tasks, _ = l.told()
	assert.Equal(t, "Plane the taper", tasks[0].Name)
	assert.NotEmpty(t, tasks[0].text, "it keeps its figure under another name")
	d.undo()
	d.undo()
	d.undo()
	assert.Empty(t, d.plan().Record.Steps)
}

func TestBenchOrderIsTickedOff(t *testing.T) {
	w, b := atBench(t, orderPart)
	d := w.desk
	o := &orderList{b: b, shown: func() bool { return true }, list: noList()}
	o.sync()
	until(t, func() bool { return len(o.rows) > 0 })
	first := o.rows[0]
	assert.Equal(t, 0, o.next)
	o.tick(0, true)
	list := d.plan().Record.Of(hull.Side(first.Side))
	require.Len(t, list, 1)
	assert.Equal(t, first.ID, list[0].Strake)
	assert.Equal(t, hull.Glued, list[0].Doing)
	o.sync()
	until(t, func() bool { return o.rows[0].Laid })
	assert.Positive(t, o.next)
	o.tick(0, false)
	list = d.plan().Record.Of(hull.Side(first.Side))
	assert.Equal(t, hull.Removed, list[len(list)-1].Doing)
	b.chooseNext()
	assert.Equal(t, first.ID, d.strake().ID)
	assert.Equal(t, hull.Side(first.Side), b.bench.side)
}

func TestBenchGoesBackDayByDay(t *testing.T) {
	w, b := atBench(t, daysPart)
	d := w.desk
	var said string
	d.say = func(s string) { said = s }
	d.choose(d.choice.WithStrake(0).WithFrame(6))
	require.True(t, b.bench.note(hull.Entry{Doing: hull.Glued, Strake: "1.01"}))
	b.bench.date = dayBy(b.bench.date, 1)
	require.True(t, b.bench.note(hull.Entry{Doing: hull.Glued, Strake: "1.02"}))
	part := b.tabs.Items[daysPart].Content
	assert.Len(t, b.bench.state().Laid, 2)
	test.Tap(buttonNamed(t, part, "‹"))
	assert.Equal(t, "2026-03-02", b.bench.day)
	test.Tap(buttonNamed(t, part, "‹"))
	assert.Equal(t, "2026-03-01", b.bench.day)
	assert.Len(t, b.bench.state().Laid, 1, "as it stood then")
	assert.False(t, b.bench.note(hull.Entry{Doing: hull.Glued, Strake: "1.03"}))
	assert.Contains(t, said, "only be looked at")
	assert.Len(t, d.plan().Record.Starboard, 2)
	test.Tap(buttonNamed(t, part, "›"))
	test.Tap(buttonNamed(t, part, "›"))
	assert.Empty(t, b.bench.day)
	l := &dayList{b: b, shown: func() bool { return true }, list: noList()}
	l.sync()
	require.Len(t, l.rows, 2)
	assert.Contains(t, l.text(l.rows[0]), "2026-03-02 starboard: 1.02 glued")
	l.strike(l.rows[0])
	assert.Len(t, d.plan().Record.Starboard, 1)
}

func TestBenchInInches(t *testing.T) {
	w, b := atBench(t, restPart)
	laid(t, b, 2, 0.5)
	w.switchUnits()
	assert.Contains(t, b.summary(), " in")
	assert.NotContains(t, b.summary(), " mm")
	assert.NotContains(t, b.strakes(), " mm")
	until(t, func() bool { return offers(b, "Take it") })
}

func TestPlanOpenElsewhereIsWarnedOf(t *testing.T) {
	s := newSession(t)
	mark := filepath.Join(filepath.Dir(s.Path()), "."+filepath.Base(s.Path())+".open")
	require.NoError(t, os.WriteFile(mark, []byte(`{"open":[{"pid":7,"host":"the other bench","since":"2026-03-01T10:00:00Z"}]}`), 0o600))
	a := test.NewApp()
	defer a.Quit()
	w, err := New(a, s)
	require.NoError(t, err)
	require.NotNil(t, w.Canvas().Overlays().Top())
	assert.Contains(t, labels(w.Canvas().Overlays().Top()), "the other bench")
	text, err := os.ReadFile(mark)
	require.NoError(t, err)
	assert.Equal(t, 2, strings.Count(string(text), `"pid"`), "it is marked as open here too")
	w.desk.gone = true
	w.desk.mark.letGo()
	text, err = os.ReadFile(mark)
	require.NoError(t, err)
	assert.Equal(t, 1, strings.Count(string(text), `"pid"`))
}

func TestRowsAreWrittenWholeAndNeverOver(t *testing.T) {
	w := newWindow(t)
	path := filepath.Join(t.TempDir(), "record.csv")
	require.NoError(t, writeRows(w.desk, path, false, [][]string{{"a", "b"}}))
	require.ErrorIs(t, writeRows(w.desk, path, false, [][]string{{"c"}}), fs.ErrExist)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "a,b\n", string(text))
	require.NoError(t, writeRows(w.desk, path, true, [][]string{{"c"}}))
}

func TestGaugeShowsWhatTheBenchAsksFor(t *testing.T) {
	w, b := atBench(t, restPart)
	laid(t, b, 3, 1)
	d := w.desk
	d.choose(d.choice.WithStrake(4).WithFrame(6))
	w.profile.board.paint(1000, 220)
	w.gauge.paint(1000, 140, 1)
	require.NotNil(t, w.gauge.v.Bench)
	assert.Contains(t, w.gauge.hover(draw.Pt(w.gauge.v.X.At(d.plan().Hull.Frames[6].X()), 40)), "at the bench to starboard")
}
