package window

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

// inView tells whether a cell of the table is seen whole; column 0 is that of the first
// frame. One that scrolls is not while a part of it lies under those that stay in sight.
func (t *strakeTable) inView(row, col int) bool {
	d := fyne.CurrentApp().Driver()
	in := windowtest.ScrollOf(t.table)
	low := d.AbsolutePositionForObject(in)
	high := low.Add(in.Size())
	if col < 0 {
		low.X = d.AbsolutePositionForObject(t.table).X
	}
	for o, id := range t.filled {
		at := d.AbsolutePositionForObject(o)
		if id == (widget.TableCellID{Row: row, Col: len(pinned) + col}) && at.X >= low.X && at.Y >= low.Y &&
			at.X+o.Size().Width <= high.X && at.Y+o.Size().Height <= high.Y {
			return true
		}
	}
	return false
}

func TestTheChosenFrameIsBroughtIntoTheTable(t *testing.T) {
	w := newWindow(t)
	frames := len(w.desk.Plan().Hull.Frames)
	for _, f := range []int{frames - 1, 0, frames - 1} {
		w.desk.Choose(w.desk.Choice.WithFrame(f))
		assert.True(t, w.table.inView(0, f), "frame %d", f)
	}
	w.desk.Choose(views.Nothing.WithStrake(len(w.desk.Layer().Strakes) - 1).WithFrame(0))
	assert.True(t, w.table.inView(len(w.desk.Layer().Strakes)-1, 0))
}

func TestAnotherHullBeginsAtItsTop(t *testing.T) {
	w := newWindow(t)
	last := len(w.desk.Layer().Strakes) - 1
	w.desk.Choose(views.Nothing.WithStrake(last).WithFrame(0))
	hold := w.desk.Plan().Layers[0].Lines[0].Hold
	w.desk.Choose(views.Nothing.WithStrake(last).WithFrame(hold))
	w.desk.Choose(views.Nothing.WithLine(0).WithFrame(hold)) // as another hull comes in
	w.desk.Status("Something of the old hull.")
	w.desk.Replace(apptest.Session(t))
	assert.True(t, w.table.inView(0, w.desk.Choice.Frame))
	assert.NotContains(t, w.status.Text, "old hull")
}

// A figure cut by the edge, or by the columns that stay in sight, is another figure: it is
// drawn whole or not at all.
func noFigureIsCut(t *testing.T, w *mainWindow) {
	table := w.table.table
	for f := range figureNames {
		w.table.pick.SetSelectedIndex(f)
		windowtest.NothingCut(t, table, figureNames[f])
	}
	w.table.pick.SetSelectedIndex(int(widthToCut))
	for _, size := range []fyne.Size{{Width: 1280, Height: 760}, {Width: 1151, Height: 707}, {Width: 1280, Height: 760}} {
		w.Resize(size)
		windowtest.NothingCutAnywhere(t, table)
	}
	w.desk.Choose(views.Nothing.WithStrake(0).WithFrame(0))
	w.Canvas().Focus(table)
	k := windowtest.Keyboard{Win: w}
	_, cols := w.table.size()
	for range cols {
		k.Press(fyne.KeyRight)
		windowtest.NothingCut(t, table, "by the keys, at frame %d", w.desk.Choice.Frame)
	}
	for f := range w.desk.Layer().Girths {
		w.desk.Choose(w.desk.Choice.WithFrame(f))
		windowtest.NothingCut(t, table, "by choosing frame %d", f)
		assert.True(t, w.table.inView(0, f), "frame %d", f)
	}
	k.Press(fyne.KeyEnd)
	assert.True(t, w.table.inView(0, cols-1-len(pinned)), "the last column")
}

// The columns scroll under those that stay in sight, which are of other widths.
func aClickChoosesWhatItIsOn(t *testing.T, w *mainWindow) {
	table := w.table.table
	for _, off := range []float32{0, 30, 130, 200, 333} {
		w.desk.Choose(views.Nothing.WithStrake(0).WithFrame(0))
		table.ScrollToOffset(fyne.NewPos(off, 0))
		for f := range w.desk.Layer().Girths {
			if !w.table.inView(1, f) {
				continue
			}
			at := w.table.middleIn(1, len(pinned)+f)
			test.TapCanvas(w.Canvas(), at)
			assert.Equal(t, f, w.desk.Choice.Frame, "scrolled to %v", off)
			assert.Equal(t, at.X, w.table.middleIn(-1, len(pinned)+f).X, "its head stands over it")
			table.ScrollToOffset(fyne.NewPos(off, 0))
		}
	}
}
