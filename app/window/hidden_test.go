package window

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
)

func TestHiddenTabsFollowWhenTheyAreShown(t *testing.T) {
	w := newWindow(t)
	d, tabs := w.desk, w.panel.tabs
	tabs.SelectIndex(2)
	wood := tabs.Items[2].Content
	tabs.SelectIndex(0)
	before := windowtest.Texts(wood)
	require.True(t, d.Edit("stock", edit.OnLayer(0, func(l *hull.Layer) { l.Stock.Width, l.Stock.Species = 4.5, "limba" })))
	assert.Equal(t, before, windowtest.Texts(wood), "what is hidden is left as it is")
	tabs.SelectIndex(2)
	assert.Subset(t, windowtest.Texts(wood), []string{"4.50", "limba"})

	for i, item := range tabs.Items { // each, after another change, as if it had been shown all the while
		tabs.SelectIndex((i + 1) % len(tabs.Items))
		d.Nudge(0.5)
		d.Choose(d.Choice.WithStrake(i).WithFrame(i + 2))
		tabs.SelectIndex(i)
		shown := windowtest.Texts(item.Content)
		panelAnew(w)
		assert.Equal(t, shown, windowtest.Texts(item.Content), item.Text)
		d.Choose(d.Choice.WithLine(0))
	}
}

// panelAnew brings up to date all parts of the panel, shown or not.
func panelAnew(w *mainWindow) {
	w.panel.Busy = true
	defer func() { w.panel.Busy = false }()
	for _, part := range w.panel.List {
		for _, f := range part.Sync {
			f()
		}
	}
}

func TestHiddenTableFollowsWhenItIsShown(t *testing.T) {
	w := newWindow(t)
	d := w.desk
	w.tables.SelectIndex(1)
	cell := func() string {
		var text string
		for o, id := range w.table.filled {
			if id == (widget.TableCellID{Row: 0, Col: len(pinned) + 5}) {
				text = o.(*fyne.Container).Objects[1].(*canvas.Text).Text
			}
		}
		return text
	}
	w.tables.SelectIndex(0)
	w.Canvas().Capture()
	first := cell()
	require.NotEmpty(t, first)
	w.tables.SelectIndex(1)
	fills := len(w.table.filled)
	for range 4 {
		d.Nudge(3)
	}
	assert.Equal(t, first, cell(), "what is hidden is left as it is")
	assert.Len(t, w.table.filled, fills)
	w.tables.SelectIndex(0)
	want, _ := w.table.crossing(d.Layer().Strakes[0], 5)
	assert.Equal(t, want, cell())
	assert.NotEqual(t, first, cell())
}

// TestWhatNeedsAShapeIsNotTold: no nought stands for a figure that is not known.
func TestWhatNeedsAShapeIsNotTold(t *testing.T) {
	w := newWindow(t)
	w.desk.Replace(apptest.GirthSession(t))
	s := w.desk.Layer().Strakes[0]
	for column, want := range map[int]bool{edgeSetColumn: true, radiusColumn: true, twistColumn: true, lengthColumn: false} {
		assert.Equal(t, want, w.table.summary(s, column) == desk.Unknown, "column %d", column)
	}
}

// TestSquareEdgesAreToldSo: the table tells no bevel of an edge that is left square.
func TestSquareEdgesAreToldSo(t *testing.T) {
	w := newWindow(t)
	d := w.desk
	d.Edit("leave the edges square", edit.OnLayer(d.Choice.Layer, func(l *hull.Layer) { l.Edges = hull.Square }))
	l := d.Layer()
	require.True(t, l.SquareEdges())
	n := len(l.Strakes) - 1
	w.table.figure = lowerBevel
	text, _ := w.table.crossing(l.Strakes[3], 12)
	assert.Equal(t, "square", text)
	text, _ = w.table.crossing(l.Strakes[n], 12)
	assert.Contains(t, text, "°")
	w.table.figure = upperBevel
	text, _ = w.table.crossing(l.Strakes[n], 12)
	assert.Equal(t, "square", text)
	assert.Contains(t, d.StrakeText(l.Strakes[3], 12), "; edges left square")
}
