package window

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

// What has nothing to act on is greyed, in the menu too.
func TestWhatHasNothingToActOnIsGrey(t *testing.T) {
	w := newWindow(t)
	undo, redo := menuItem(t, w, "Undo"), menuItem(t, w, "Redo")
	assert.True(t, undo.Disabled)
	w.desk.Nudge(1)
	assert.False(t, undo.Disabled)
	assert.True(t, redo.Disabled)
	w.desk.Undo()
	assert.True(t, undo.Disabled)
	assert.False(t, redo.Disabled)

	remove := windowtest.ButtonNamed(t, w.panel.tabs.Items[0].Content, "Remove line")
	assert.False(t, remove.Disabled())
	w.desk.Choose(views.Nothing)
	assert.True(t, remove.Disabled())
	assert.True(t, menuItem(t, w, "Remove the band line").Disabled)
}

// The foot line never tells of one line while another is chosen: a free line's
// sentence must not stand beside one that is forced.
func TestTheFootLineTellsOfTheLineChosen(t *testing.T) {
	w := newWindow(t)
	d := w.desk
	d.Choose(d.Choice.WithLine(1).WithFrame(2))
	d.Choose(d.Choice.WithLine(0).WithFrame(2))
	assert.Equal(t, d.LineText(0, 2), w.status.Text)
	d.Choose(d.Choice.WithLine(1).WithFrame(2))
	assert.Equal(t, d.LineText(1, 2), w.status.Text)
}
