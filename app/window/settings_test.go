package window

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strakewright/hull"
)

func TestLinesByTheMouseAlone(t *testing.T) {
	d := newDeskShown(t)
	set := settings{&form{}, d}
	set.part(func() bool { return true })
	line := container.NewVBox(set.linePart()...)
	d.lazy = append(d.lazy, set.update)
	set.update()
	lines := len(d.planLayer().Lines)
	d.choose(d.choice.WithLine(0).WithFrame(5))
	test.Tap(buttonNamed(t, line, "Add line"))
	assert.Len(t, d.planLayer().Lines, lines+1)
	assert.Equal(t, 1, d.choice.Line, "the new line is chosen")
	d.choose(d.choice.WithFrame(5))
	d.setManner(hull.Free)
	test.Tap(buttonNamed(t, line, "Hold here"))
	assert.Equal(t, 5, d.line().Hold)
	d.choose(d.choice.WithFrame(8))
	test.Tap(buttonNamed(t, line, "Aim here"))
	assert.Equal(t, 8, d.line().Aim)
	test.Tap(buttonNamed(t, line, "Default heading"))
	assert.Equal(t, -1, d.line().Aim)
	test.Tap(buttonNamed(t, line, "Remove line"))
	assert.Len(t, d.planLayer().Lines, lines)
}

func TestBoardMenuActsOnTheChosenHandle(t *testing.T) {
	d := newDeskShown(t)
	d.choose(d.choice.WithLine(0).WithFrame(4))
	var names []string
	for _, it := range d.boardMenu().Items {
		names = append(names, it.Label)
	}
	all := strings.Join(names, "|")
	for _, want := range []string{"as drawn", "free", "least edge-set", "Aim at frame E", "Remove this line"} {
		assert.Contains(t, all, want)
	}
	d.setManner(hull.Least)
	d.hold(true)
	assert.True(t, d.line().Handles[4].Held)
	d.hold(false)
	assert.False(t, d.line().Handles[4].Held)
}

func TestLayersAndBands(t *testing.T) {
	d := newDeskShown(t)
	d.addLayer()
	assert.Equal(t, 1, d.choice.Layer)
	assert.Len(t, d.planking().Layers, 2)
	d.undo()
	assert.Equal(t, 0, d.choice.Layer, "the layer shown is one there is")
	d.choose(d.choice.WithStrake(len(d.layer().Strakes) - 1).WithFrame(6))
	before := d.layer().Strakes[d.choice.Strake].At[6].WidthFrame
	require.True(t, d.setShare(1.5))
	assert.Greater(t, d.layer().Strakes[d.choice.Strake].At[6].WidthFrame, before)
	assert.Equal(t, 1.5, d.share())
}

func TestNotesTellWedgesAndDrops(t *testing.T) {
	d := newDeskShown(t)
	l := d.layer()
	assert.GreaterOrEqual(t, len(d.notes()), len(l.Notes)+len(l.Wedges)+len(l.Drops))
	assert.Greater(t, len(l.Wedges)+len(l.Drops)+len(l.Notes), 0)
}

// TestAMovedLineSaysSo: a line drawn over another is laid below it, and its panel
// and the notes say so.
func TestAMovedLineSaysSo(t *testing.T) {
	d := newDeskShown(t)
	d.choice.Line = 1
	assert.NotContains(t, lineSummary(d), "than it is drawn")
	first := d.planLayer().Lines[0]
	require.True(t, d.edit("cross the lines", onLine(0, 1, func(b *hull.BandLine) error {
		for f := range b.Handles {
			b.Handles[f] = hull.Handle{Down: max(first.Handles[f].Down-5, 0), Held: true}
		}
		b.Manner = hull.Drawn
		return nil
	})))
	assert.Contains(t, lineSummary(d), "lower than it is drawn, most at frame ")
	assert.Contains(t, strings.Join(d.layer().Notes, "\n"), "Band lines 1 and 2 cross: at frames ")
}

func TestMannersThatNeedAShapeAreNotOffered(t *testing.T) {
	d := newDeskShown(t)
	d.replace(girthSession(t))
	d.addLine()
	d.choose(d.choice.WithLine(0).WithFrame(2))
	for _, item := range d.boardMenu().Items[:3] {
		assert.Equal(t, item.Label != "Line as drawn", item.Disabled, item.Label)
	}
	assert.Equal(t, "Edge-set and lie-off are not known without a shape.", lineSummary(d))
	assert.Contains(t, bendingCard(d), "needs the hull's shape")
	var said string
	d.say = func(s string) { said = s }
	d.setManner(hull.Free)
	assert.Contains(t, said, "only the girths are known")
	assert.Equal(t, hull.Drawn, d.line().Manner)
}

// TestLeftOverSaysAtWhichFrame: where a band is widest elsewhere than the hull,
// the text names the frame where full strips are counted.
func TestLeftOverSaysAtWhichFrame(t *testing.T) {
	d := newDeskShown(t)
	d.replace(girthSession(t))
	d.addLine()
	require.NoError(t, d.s.Edit("draw the line", func(p *hull.Plan) error {
		for f := range p.Layers[0].Lines[0].Handles {
			p.Layers[0].Lines[0].Handles[f] = hull.Handle{Down: []float64{20, 35, 50, 30, 35, 30}[f], Held: true}
		}
		return nil
	}))
	text := bandSummary(d, d.layer().Bands[0])
	assert.Contains(t, text, "at frame C. ")
	assert.Contains(t, text, "at frame D, of the hull's greatest girth")
	assert.Contains(t, bandSummary(d, d.layer().Bands[1]), " there.")
}
