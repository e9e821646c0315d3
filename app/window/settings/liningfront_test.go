package settings

import (
	"context"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// frontShown searches two bands of the desk's plan and shows what is found.
func frontShown(t *testing.T, d *desk.Desk) *liningFront {
	t.Helper()
	ways, err := loft.LineOff(context.Background(), d.Plan(), 0, 2, 2, nil)
	require.NoError(t, err)
	front, err := answer.FrontOf(d.Planking(), 0, ways, d.Units)
	require.NoError(t, err)
	f := newLiningFront(d, d.Planking(), 0, ways, front)
	f.open()
	return f
}

// TestFrontIsTakenAsOneStep: what each way would do is told before it is taken, by
// table, plot and button; taking it is one step to undo.
func TestFrontIsTakenAsOneStep(t *testing.T) {
	d := windowtest.NewDesk(t)
	before := d.Plan()
	f := frontShown(t, d)
	require.Greater(t, len(f.ways), 1)
	assert.Contains(t, f.told.Text, "The first is recommended")
	assert.Same(t, before, d.Plan(), "nothing is changed by looking")

	windowtest.NothingCutAnywhere(t, f.table)
	f.dialog.Resize(fyne.NewSize(430, 420))
	windowtest.NothingCutAnywhere(t, f.table)

	last := len(f.ways) - 1
	f.table.OnSelected(widget.TableCellID{Row: last, Col: 2})
	assert.Equal(t, last, f.chosen)
	assert.True(t, strings.HasPrefix(f.told.Text, "Plan "), f.told.Text)
	f.table.OnSelected(widget.TableCellID{Row: last + 1, Col: 2})
	assert.Equal(t, last, f.chosen, "the plan as it is cannot be taken")
	f.chart.Draw(f.marks(), 0, 400, 220)
	for i := range f.ways {
		at := draw.Point{}
		for _, item := range f.chart.Drawing.Items {
			if l, ok := item.(draw.Label); ok && l.Text == string(rune('1'+i)) {
				at = l.At
			}
		}
		require.NotZero(t, at, "plan %d has a mark", i+1)
	}
	assert.Equal(t, -1, f.chart.WayAt(draw.Pt(-50, -50)))

	cell := newLiningCell().(*fyne.Container)
	f.cell(widget.TableCellID{Row: last, Col: 0}, cell)
	take := cell.Objects[1].(*takeButton)
	f.choose(0)
	take.entered()
	assert.Equal(t, last, f.chosen, "the pointer on the button shows what it does")
	test.Tap(&take.Button)
	assert.Equal(t, f.ways[last].Plan.Layers[0].Lines, d.Plan().Layers[0].Lines)
	assert.Equal(t, hull.Outward, d.Plan().Cutting.Laying)
	assert.Equal(t, f.ways[last].Counts[0], d.Layer().Bands[0].Strakes)
	f.take(0)
	assert.Equal(t, f.ways[last].Plan.Layers[0].Lines, d.Plan().Layers[0].Lines, "the plan has changed since")
	d.Undo()
	assert.Equal(t, before.Layers, d.Plan().Layers)
	assert.Equal(t, before.Cutting, d.Plan().Cutting)
}
