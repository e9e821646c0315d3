package boards

import (
	"image"
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/scene"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

// laid gives boards with a strip laid over the frames along the first band line, and
// all of its states found. Nothing moves it but what the test ticks.
func laid(t *testing.T) (*Drawings, *strip) {
	t.Helper()
	w := newBoards(t)
	w.desk.Win.SetContent(w.Hull)
	s := w.hull.strip
	s.start = func(*fyne.Animation) {}
	w.desk.Choose(w.desk.Choice.WithLine(0))
	w.hull.paint(500, 300, 1)
	windowtest.ButtonNamed(t, w.Hull, "Lay a strip over the frames").OnTapped()
	windowtest.Until(t, func() bool { return !s.busy() })
	require.True(t, s.on)
	return w, s
}

func TestAStripIsPlayedSteppedAndStopped(t *testing.T) {
	w, s := laid(t)
	button := func(name string) func() { return windowtest.ButtonNamed(t, w.Hull, name).OnTapped }
	frames := s.sp.Last - s.sp.First + 1
	require.Len(t, s.states, frames+1-3, "from three frames held to all")
	assert.Equal(t, s.sp.Amidships(), s.shown().from.Held)
	assert.Equal(t, "1 / 11", s.bar.count.Text)
	before := slices.Clone(w.hull.paint(500, 300, 1).(*image.RGBA).Pix)

	button("Press it on")()
	require.True(t, s.moving())
	steps := float32(len(s.states) - 1)
	s.motion.Tick(0.3 / steps)
	assert.False(t, s.shown().rests())
	assert.True(t, s.at > 0 && s.at < 1, "on its way to the second")
	moved := slices.Clone(w.hull.paint(500, 300, 1).(*image.RGBA).Pix)
	assert.NotEqual(t, before, moved)
	s.motion.Tick(1.9 / steps)
	assert.Equal(t, 2.0, s.at, "it rests before it goes on")
	assert.True(t, s.shown().rests())
	windowtest.TypeKey(w.profile.board, fyne.KeyEscape)
	assert.False(t, s.moving(), "Escape stops it, wherever the keys go")
	assert.Equal(t, 2.0, s.at)

	windowtest.TypeKey(w.hull.board, fyne.KeyRight)
	assert.Equal(t, 3.0, s.at)
	windowtest.TypeKey(w.hull.board, fyne.KeyLeft)
	windowtest.TypeKey(w.hull.board, fyne.KeyLeft)
	assert.Equal(t, 1.0, s.at)
	windowtest.TypeKey(w.hull.board, fyne.KeySpace)
	motion := s.motion
	motion.Tick(0.1)
	button("Stop")()
	assert.False(t, s.moving())
	at := s.at
	motion.Tick(0.9)
	assert.Equal(t, at, s.at, "a tick that comes late moves nothing")
	windowtest.TypeKey(w.hull.board, fyne.KeySpace)
	s.motion.Tick(1)
	assert.False(t, s.moving())
	assert.Len(t, s.shown().from.Held, frames, "pressed on at every frame")

	button("Let go")()
	s.motion.Tick(1)
	assert.Equal(t, 0.0, s.at)
	assert.Equal(t, before, w.hull.paint(500, 300, 1).(*image.RGBA).Pix, "as it lay at first")
	button("Take it off")()
	assert.False(t, s.on)
	assert.NotEmpty(t, w.hull.wanted().of.Strakes)
	assert.False(t, w.hull.wanted().strip.on)
}

func TestAStripIsDroppedWithThePlan(t *testing.T) {
	w, s := laid(t)
	said := ""
	w.desk.Status = func(text string) { said += text }
	w.desk.Choose(w.desk.Choice.WithFrame(3))
	w.desk.CatchUp()
	assert.True(t, s.on, "a frame may be chosen")
	s.play(1)
	w.desk.Nudge(1)
	assert.False(t, s.shown().on, "not shown for a moment longer")
	w.desk.CatchUp()
	assert.False(t, s.on)
	assert.False(t, s.moving())
	assert.Contains(t, said, "taken off")

	s.lay()
	require.True(t, s.busy())
	w.desk.Nudge(1)
	w.desk.CatchUp()
	assert.False(t, s.on, "nor is what is still being reckoned")
	s.lay()
	windowtest.TypeKey(w.Gauge, fyne.KeyEscape)
	assert.False(t, s.busy(), "Escape stops the reckoning")
}

// A click on a frame holds the strip there or lets it go, and it follows another line.
func TestAStripIsHeldWhereOneClicks(t *testing.T) {
	w, s := laid(t)
	w.hull.paint(500, 300, 1)
	frame := func() (draw.Point, int) {
		for y := range 300 {
			for x := range 500 {
				if tag, ok := w.hull.render.Pick(x, y); ok && !slices.Contains(s.shown().from.Held, int(tag.Frame)) {
					require.Equal(t, int16(scene.NoStrake), tag.Strake, "the planking is not shown")
					return draw.Pt(float64(x), float64(y)), int(tag.Frame)
				}
			}
		}
		t.Fatal("no frame in sight")
		return draw.Point{}, 0
	}
	p, f := frame()
	windowtest.Click(w.hull.board, p)
	windowtest.Until(t, func() bool { return !s.busy() })
	held := s.shown().from.Held
	assert.Contains(t, held, f)
	assert.Len(t, held, 4)
	assert.Equal(t, "the frames clicked", s.bar.hold.Selected)
	s.toggle(held[0])
	windowtest.Until(t, func() bool { return !s.busy() })
	assert.Equal(t, held[1:], s.shown().from.Held)

	s.bar.hold.SetSelected(holdings()[asNeeded])
	windowtest.Until(t, func() bool { return !s.busy() })
	s.step(len(s.states))
	for _, at := range s.shown().from.At {
		assert.LessOrEqual(t, at.LiftOff, placed+1e-6)
	}
	w.desk.Choose(w.desk.Choice.WithStrake(2))
	w.desk.CatchUp()
	windowtest.Until(t, func() bool { return !s.busy() })
	assert.Equal(t, w.desk.Layer().Strakes[2].Centre, s.shown().along)
	w.desk.Choose(w.desk.Choice.WithStrake(-1))
	w.desk.CatchUp()
	assert.False(t, s.on, "along nothing it cannot lie")
}
