package window

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/draw/views"
)

// inView tells whether a cell of the table lies within it; row or column −1 for
// a head.
func (t *strakeTable) inView(row, col int) bool {
	d := fyne.CurrentApp().Driver()
	low := d.AbsolutePositionForObject(t.table)
	high := low.Add(t.table.Size())
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
