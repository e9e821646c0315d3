package boards

import (
	"image"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

// counted counts how often a view is drawn.
type counted struct {
	view
	draws int
}

func (c *counted) paint(w, h int, scale float64) image.Image {
	c.draws++
	return c.view.paint(w, h, scale)
}

// seen draws what of the boards is to be drawn anew, as the screen would.
func (w *Drawings) seen() {
	for _, v := range w.desk.Boards {
		if b := v.(*Board); b.drawn == nil {
			width, height := b.size()
			b.paint(int(width), int(height))
		}
	}
}

// counting counts how often each board is drawn from now on.
func (w *Drawings) counting() []*counted {
	var out []*counted
	w.seen()
	for _, v := range w.desk.Boards {
		b := v.(*Board)
		c := &counted{view: b.view}
		b.view = c
		out = append(out, c)
	}
	return out
}

func draws(of []*counted) []int {
	var out []int
	for _, c := range of {
		out = append(out, c.draws)
	}
	return out
}

func TestBoardsAreDrawnOnlyWhenTheyShowSomethingElse(t *testing.T) {
	w := newBoards(t)
	d := w.desk
	all := w.counting()
	d.Refresh()
	w.seen()
	assert.Equal(t, []int{0, 0, 0, 0}, draws(all), "nothing has changed")

	d.Nudge(1)
	w.seen()
	assert.Equal(t, []int{1, 1, 1, 1}, draws(all))
	d.Choose(d.Choice.WithFrame(3))
	w.seen()
	assert.Equal(t, []int{2, 2, 2, 2}, draws(all))
	w.body.wheel(draw.Pt(50, 50), 1.1)
	w.seen()
	assert.Equal(t, []int{2, 3, 2, 2}, draws(all), "only the body plan was zoomed")
	w.gauge.wheel(draw.Pt(50, 50), 1.1)
	w.seen()
	assert.Equal(t, []int{3, 3, 2, 3}, draws(all), "profile and gauge strip share an axis")
	w.hull.drag(draw.Pt(0, 0), 5, 5)
	w.seen()
	assert.Equal(t, []int{3, 3, 3, 3}, draws(all), "only the hull was turned")
	w.desk.SwitchLight()
	w.seen()
	assert.Equal(t, []int{4, 4, 4, 4}, draws(all))
	d.Undo()
	w.seen()
	assert.Equal(t, []int{5, 5, 5, 5}, draws(all))
}

// A frame tries the last of the moves that wait, and draws each board once; the
// drawings made ahead are those that are shown.
func TestManyMovesAreOneTrialAndOneDrawing(t *testing.T) {
	w := newBoards(t)
	d := w.desk
	all := w.counting()
	h := w.handle(t, 1, d.Plan().Layers[0].Lines[1].Hold)
	first := w.down(1, h.Frame)
	windowtest.Press(w.profile.board, h.At)
	d.Grip.Ticked = true // as where a driver ticks before each frame
	w.seen()
	before := draws(all)
	trials := 0
	d.Session.OnChange(func() { trials++ })
	for y := range 5 {
		windowtest.Move(w.profile.board, h.At, draw.Pt(h.At.X, h.At.Y+float64(y)+1))
	}
	assert.Equal(t, 0, trials, "they wait for the frame")
	d.Grip.Ticks.Tick(0)
	assert.Equal(t, 1, trials)
	hull := w.hull.board
	for i, n := range draws(all) {
		if d.Boards[i] != hull {
			assert.Equal(t, before[i]+1, n, "board %d", i)
		}
	}
	w.seen()
	for i, v := range d.Boards {
		if b := v.(*Board); b != hull {
			b.paint(b.w, b.h)
			assert.Equal(t, b.view.from(), b.drawn, "board %d", i)
		}
	}
	moved := w.down(1, h.Frame)
	assert.Greater(t, moved, first)
	assert.Equal(t, d.Grip.Down, moved, "the last move counts")

	windowtest.Move(w.profile.board, h.At, draw.Pt(h.At.X, h.At.Y+9))
	windowtest.Release(w.profile.board, h.At)
	assert.Greater(t, w.down(1, h.Frame), moved, "the last move counts, seen or not")
	d.Undo()
	assert.Equal(t, first, w.down(1, h.Frame), "one step to undo")
}

// The hull is drawn behind the frames of a drag: one drawing at a time, shown when
// it is whole, again where things have moved on meanwhile, and at the end of the
// drag at once. It is then what it would have been without any drag.
func TestTheHullFollowsADragBehindItsFrames(t *testing.T) {
	w := newBoards(t)
	d, b := w.desk, w.hull.board
	h := w.handle(t, 1, d.Plan().Layers[0].Lines[1].Hold)
	windowtest.Press(w.profile.board, h.At)
	d.Grip.Ticked = true // as where a driver ticks before each frame
	w.seen()
	var waiting []func()
	d.OnMain = func(f func()) { waiting = append(waiting, f) } // the ticks come first here
	to := func(y float64) {
		windowtest.Move(w.profile.board, h.At, draw.Pt(h.At.X, h.At.Y+y))
		d.Grip.Ticks.Tick(0)
	}
	first := b.drawn
	to(2)
	j := b.behind
	require.NotNil(t, j)
	assert.Equal(t, first, b.drawn, "it stands as it was")
	assert.Equal(t, b.view.from(), j.from)
	<-j.done
	to(5)
	assert.Equal(t, j.from, b.drawn, "what is whole is shown")
	assert.Equal(t, j.img, b.paint(b.w, b.h))
	assert.NotEqual(t, b.view.from(), b.drawn)
	require.NotNil(t, b.behind, "and the next one begun")
	<-b.behind.done
	d.Grip.Ticks.Tick(0)
	assert.Equal(t, b.view.from(), b.drawn, "it is exact when the hand rests")
	assert.Nil(t, b.behind)
	shown := slices.Clone(b.paint(b.w, b.h).(*image.RGBA).Pix)
	w.hull.made = nil
	assert.Equal(t, w.hull.paint(b.w, b.h, w.hull.scale).(*image.RGBA).Pix, shown)

	to(9)
	windowtest.Release(w.profile.board, h.At)
	assert.Nil(t, b.drawn, "the end of the drag has it drawn at once")
	w.seen()
	<-b.behind.done
	b.TakeOver()
	assert.Equal(t, b.view.from(), b.drawn, "what comes late is not shown")
}
