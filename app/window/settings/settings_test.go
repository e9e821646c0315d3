package settings

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
)

func TestLinesByTheMouseAlone(t *testing.T) {
	d := windowtest.NewDesk(t)
	set := Settings{&kit.Form{}, d}
	set.Part(func() bool { return true })
	line := container.NewVBox(set.LinePart()...)
	d.Lazy = append(d.Lazy, set.Update)
	set.Update()
	lines := len(d.PlanLayer().Lines)
	d.Choose(d.Choice.WithLine(0).WithFrame(5))
	test.Tap(windowtest.ButtonNamed(t, line, "Add line"))
	assert.Len(t, d.PlanLayer().Lines, lines+1)
	assert.Equal(t, 1, d.Choice.Line, "the new line is chosen")
	d.Choose(d.Choice.WithFrame(5))
	SetLineType(d, hull.Free)
	test.Tap(windowtest.ButtonNamed(t, line, "Pin here"))
	assert.Equal(t, 5, d.Line().Hold)
	d.Choose(d.Choice.WithFrame(8))
	test.Tap(windowtest.ButtonNamed(t, line, "Point through here"))
	assert.Equal(t, 8, d.Line().Aim)
	test.Tap(windowtest.ButtonNamed(t, line, "Reset direction"))
	assert.Equal(t, -1, d.Line().Aim)
	test.Tap(windowtest.ButtonNamed(t, line, "Remove line"))
	assert.Len(t, d.PlanLayer().Lines, lines)
}

func TestBoardMenuActsOnTheChosenHandle(t *testing.T) {
	d := windowtest.NewDesk(t)
	d.Choose(d.Choice.WithLine(0).WithFrame(4))
	var names []string
	for _, it := range BoardMenu(d).Items {
		names = append(names, it.Label)
	}
	all := strings.Join(names, "|")
	for _, want := range []string{"through the handles", "natural lie", "easiest run", "Point through frame E", "Remove this line"} {
		assert.Contains(t, all, want)
	}
	SetLineType(d, hull.Least)
	hold(d, true)
	assert.True(t, d.Line().Handles[4].Held)
	hold(d, false)
	assert.False(t, d.Line().Handles[4].Held)
}

func TestLayersAndBands(t *testing.T) {
	d := windowtest.NewDesk(t)
	AddLayer(d)
	assert.Equal(t, 1, d.Choice.Layer)
	assert.Len(t, d.Planking().Layers, 2)
	d.Undo()
	assert.Equal(t, 0, d.Choice.Layer, "the layer shown is one there is")
	d.Choose(d.Choice.WithStrake(len(d.Layer().Strakes) - 1).WithFrame(6))
	before := d.Layer().Strakes[d.Choice.Strake].At[6].WidthFrame
	require.True(t, setShare(d, 1.5))
	assert.Greater(t, d.Layer().Strakes[d.Choice.Strake].At[6].WidthFrame, before)
	assert.Equal(t, 1.5, d.Share())
}

func TestProblemsTellWedgesAndDrops(t *testing.T) {
	d := windowtest.NewDesk(t)
	l := d.Layer()
	assert.GreaterOrEqual(t, len(answer.Problems(d.Planking(), d.Units)), len(l.Notes)+len(l.Wedges)+len(l.Drops))
	assert.Positive(t, len(l.Wedges)+len(l.Drops)+len(l.Notes))
}

// TestAMovedLineSaysSo: a line drawn over another is laid below it, and its panel
// and the problems say so.
func TestAMovedLineSaysSo(t *testing.T) {
	d := windowtest.NewDesk(t)
	d.Choice.Line = 1
	assert.NotContains(t, lineSummary(d), "than it is drawn")
	first := d.PlanLayer().Lines[0]
	require.True(t, d.Edit("cross the lines", edit.OnLine(0, 1, func(b *hull.BandLine) error {
		for f := range b.Handles {
			b.Handles[f] = hull.Handle{Down: max(first.Handles[f].Down-5, 0), Held: true}
		}
		b.LineType = hull.Drawn
		return nil
	})))
	assert.Contains(t, lineSummary(d), "lower than it is drawn, most at frame ")
	assert.Contains(t, strings.Join(answer.LayerNotes(d.Layer(), d.Units), "\n"), "Band lines 1 and 2 cross: at frames ")
}

func TestMannersThatNeedAShapeAreNotOffered(t *testing.T) {
	d := windowtest.NewDesk(t)
	d.Replace(apptest.GirthSession(t))
	AddLine(d)
	d.Choose(d.Choice.WithLine(0).WithFrame(2))
	for _, item := range BoardMenu(d).Items[:3] {
		assert.Equal(t, item.Label != "Line type: through the handles", item.Disabled, item.Label)
	}
	assert.Equal(t, "Sideways bend, and where a strip settles by itself, are not known without the hull's shape.", lineSummary(d))
	assert.Contains(t, bendingCard(d), "needs the hull's shape")
	var said string
	d.Say = func(s string) { said = s }
	SetLineType(d, hull.Free)
	assert.Contains(t, said, "only the girths of this hull are known")
	assert.Equal(t, hull.Drawn, d.Line().LineType)
}

// TestLeftOverSaysAtWhichFrame: where a band is widest elsewhere than the hull,
// the text names the frame where full strips are counted.
func TestLeftOverSaysAtWhichFrame(t *testing.T) {
	d := windowtest.NewDesk(t)
	d.Replace(apptest.GirthSession(t))
	AddLine(d)
	require.NoError(t, d.Session.Edit("draw the line", func(p *hull.Plan) error {
		for f := range p.Layers[0].Lines[0].Handles {
			p.Layers[0].Lines[0].Handles[f] = hull.Handle{Down: []float64{20, 35, 50, 30, 35, 30}[f], Held: true}
		}
		return nil
	}))
	text := bandSummary(d, d.Layer().Bands[0])
	assert.Contains(t, text, "at frame C. ")
	assert.Contains(t, text, "at frame D, where the hull's girth is greatest")
	assert.Contains(t, bandSummary(d, d.Layer().Bands[1]), " there.")
}

// TestALineFollowsTheStrip: what a line follows is one choice and one step to undo, and
// is told with how far off the strip lies.
func TestALineFollowsTheStrip(t *testing.T) {
	d := windowtest.NewDesk(t)
	set := Settings{&kit.Form{}, d}
	set.Part(func() bool { return true })
	line := container.NewVBox(set.LinePart()...)
	d.Lazy = append(d.Lazy, set.Update)
	d.Choose(d.Choice.WithLine(0).WithFrame(5))
	SetLineType(d, hull.Free)
	set.Update()
	follows := selectWith(t, line, "the strip itself")
	assert.Equal(t, "a thin batten", follows.Selected)
	before := d.Planking()
	follows.SetSelected("the strip itself")
	assert.Equal(t, hull.StripItself, d.Line().Follows)
	assert.NotEqual(t, before.Layers[0].Lines[1].Down, d.Layer().Lines[1].Down)
	set.Update()
	assert.Contains(t, windowtest.Labels(line), "Left to itself, this strip settles along the line (5.00 x 2.00 mm, held at frames F, G, H); at frame F it lies on the line.")
	what, _ := d.Session.CanUndo()
	assert.Equal(t, "have line 1 follow the strip itself", what)
	d.Undo()
	assert.Equal(t, hull.ThinBatten, d.Line().Follows)
	assert.Equal(t, before.Layers[0].Lines[1].Down, d.Layer().Lines[1].Down)
	set.Update()
	assert.Equal(t, "a thin batten", follows.Selected)
}

func selectWith(t *testing.T, o fyne.CanvasObject, option string) *kit.Select {
	t.Helper()
	var found *kit.Select
	windowtest.Walk(o, func(o fyne.CanvasObject) {
		if s, ok := o.(*kit.Select); ok && slices.Contains(s.Options, option) {
			found = s
		}
	})
	require.NotNil(t, found, option)
	return found
}
