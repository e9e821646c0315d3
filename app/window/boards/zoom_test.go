package boards

import (
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

// The screen asks for whole pixels while a board's size is a fraction of them: a
// click must neither show the whole again nor choose what lies there in it.
func TestAClickLeavesAZoomedViewAsItIs(t *testing.T) {
	w := newBoards(t)
	frame := func(b *Board) { // one of the screen, at a scale of 1
		b.paint(int(b.Size().Width), int(b.Size().Height))
	}
	for _, b := range []*Board{w.profile.board, w.body.board} {
		b.Resize(fyne.NewSize(700.4, 300.7))
		frame(b)
		whole := b.view.from()
		b.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(350, 150)}, Scrolled: fyne.NewDelta(0, 60)})
		frame(b)
		assert.NotEqual(t, whole, b.view.from(), "the wheel zooms")
	}

	axis, z, mid, scale := *w.profile.axis, w.profile.z, w.body.v.Mid, w.body.v.Scale
	p := draw.Pt(600, 150)
	want := w.profile.v.FrameAt(p)
	windowtest.Click(w.profile.board, p)
	assert.Equal(t, want, w.desk.Choice.Frame, "what is chosen is what is shown there")
	frame(w.profile.board)
	assert.Equal(t, axis, *w.profile.axis)
	assert.Equal(t, z, w.profile.z)

	want = w.body.v.FrameAt(p)
	windowtest.Click(w.body.board, p)
	assert.Equal(t, want, w.desk.Choice.Frame)
	frame(w.body.board)
	assert.Equal(t, []float64{mid, scale}, []float64{w.body.v.Mid, w.body.v.Scale})

	w.body.board.Resize(fyne.NewSize(500, 300.7))
	frame(w.body.board)
	assert.NotEqual(t, scale, w.body.v.Scale, "another size shows the whole again")
}

func TestABoardShowsThatItHasTheFocus(t *testing.T) {
	w := newBoards(t)
	c := w.desk.Win.Canvas()
	corner := func() (row []any) { // from the window's edge into the profile
		img := c.Capture()
		for x := range 20 {
			row = append(row, img.At(x, 100))
		}
		return row
	}
	bare := corner()
	windowtest.Click(w.profile.board, draw.Pt(300, 100))
	assert.Same(t, w.profile.board, c.Focused())
	assert.NotEqual(t, bare, corner())
	c.Focus(w.body.board)
	assert.Equal(t, bare, corner())
}
