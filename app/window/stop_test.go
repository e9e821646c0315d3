package window

import (
	"context"
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strakewright/hull"
	"strakewright/loft"
)

// TestTheSearchForWaysIsStopped: that which nobody waits for any more ends, when
// another begins, when its tab goes out of sight and when the window goes.
func TestTheSearchForWaysIsStopped(t *testing.T) {
	w, b := atBench(t, notePart)
	searches := make(chan context.Context, 10)
	b.options.find = func(_ *loft.Planking, ctx context.Context, _ hull.Side, _, _ int, _ loft.Bench) ([]loft.Option, error) {
		searches <- ctx
		<-ctx.Done()
		return nil, ctx.Err()
	}
	b.tabs.SelectIndex(restPart)
	first := <-searches
	assert.NoError(t, first.Err())
	b.update()
	assert.NoError(t, first.Err(), "of the same it goes on")

	b.bench.side = hull.Port
	b.update()
	second := <-searches
	assert.ErrorIs(t, first.Err(), context.Canceled)
	assert.NoError(t, second.Err())

	b.tabs.SelectIndex(notePart)
	assert.ErrorIs(t, second.Err(), context.Canceled)
	b.tabs.SelectIndex(restPart)
	third := <-searches
	assert.NoError(t, third.Err())
	assert.Equal(t, "Reckoning…", b.options.told.Text)

	w.desk.leave()
	assert.ErrorIs(t, third.Err(), context.Canceled)
	assert.Empty(t, searches)
}

// TestAsideGivesTheNewestAnswer: an answer of a question put before another is
// dropped, even where it was found before it was stopped.
func TestAsideGivesTheNewestAnswer(t *testing.T) {
	w := newWindow(t)
	posted := make(chan func(), 2)
	w.desk.onMain = func(f func()) { posted <- f }
	var a aside
	var got []string
	answer := func(s string) func(context.Context) func() {
		return func(context.Context) func() { return func() { got = append(got, s) } }
	}
	a.start(w.desk.background, answer("old"))
	old := <-posted // found, and not yet shown
	a.start(w.desk.background, answer("new"))
	old()
	assert.Empty(t, got)
	(<-posted)()
	assert.Equal(t, []string{"new"}, got)
	assert.False(t, a.end(), "nothing goes on any more")
}

// TestStoppedReadingOfADrawing: Stop ends the reading, and the plan can be asked
// for all the same, which reads what was said first.
func TestStoppedReadingOfADrawing(t *testing.T) {
	w := newWindow(t)
	o := drawing(t, w, drawnFrames(t, "centre", func(i int) string { return fmt.Sprintf("%c-x-%d", 'A'+i, 40*i) }))
	require.False(t, o.accept.Disabled())
	read := o.readUse
	readings := make(chan context.Context, 10)
	o.readUse = func(_ *outlineUse, ctx context.Context) (*hull.Drawing, []hull.Fault, error) {
		readings <- ctx
		<-ctx.Done()
		return nil, nil, ctx.Err()
	}
	e := lineOf(t, o, "E")
	o.say("", func() { o.use.lines[e].X = 200 })
	first := <-readings
	assert.True(t, o.accept.Disabled(), "what was read is not what was said")
	o.say("", func() { o.use.lines[e].X = 210 })
	second := <-readings
	<-first.Done() // what is said after makes it of no use
	assert.NoError(t, second.Err())

	var stop *widget.Button
	until(t, func() bool {
		stop = nil
		walk(w.Canvas().Overlays().Top(), func(x fyne.CanvasObject) {
			if b, ok := x.(*widget.Button); ok && b.Text == "Stop" {
				stop = b
			}
		})
		return stop != nil
	})
	test.Tap(stop)
	<-second.Done()
	assert.False(t, o.accept.Disabled())
	assert.Contains(t, o.told.Text, "Stopped")

	o.readUse = read
	old := w.desk.s
	test.Tap(o.accept)
	until(t, func() bool { return w.desk.s != old })
	frames := w.desk.plan().Hull.Frames
	assert.InDelta(t, 210, frames[len(frames)-1].X(), 1e-9, "what was said last")
}
