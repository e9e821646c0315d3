package fairing

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/fair"
)

// bump puts one point of a frame of the plan outwards by mm.
func bump(t testing.TB, d *desk.Desk, frame, point int, mm float64) {
	t.Helper()
	require.NoError(t, d.Session.Edit("bump", func(p *hull.Plan) error {
		p.Hull.Frames = slices.Clone(p.Hull.Frames)
		f := &p.Hull.Frames[frame]
		f.Points = slices.Clone(f.Points)
		f.Points[point] = f.Points[point].Add(mgl64.Vec3{0, mm, 0})
		return nil
	}))
}

// fairing opens the dialog on Wigley's hull with a bump of 1.5 mm.
func fairing(t testing.TB) (*desk.Desk, *fairDialog) {
	t.Helper()
	d := windowtest.NewDesk(t)
	bump(t, d, 6, 5, 1.5)
	f := Open(d)
	windowtest.Until(t, func() bool { return f.dialog != nil })
	return d, f
}

func offered(t testing.TB, f *fairDialog) {
	t.Helper()
	f.offer()
	windowtest.Until(t, func() bool { return f.of.Faired != nil })
}

func TestFairingTellsTheBumpBySignAndWord(t *testing.T) {
	_, f := fairing(t)
	assert.Equal(t, 6, f.of.Frame, "the worst frame is chosen")
	text := f.frameText(6)
	assert.Contains(t, text, "!  G")
	assert.Contains(t, text, "▴")
	assert.Contains(t, text, "out, point 6")
	assert.NotContains(t, f.frameText(2), "!")
	assert.True(t, f.accept.Disabled(), "nothing is offered yet")
	assert.NotNil(t, f.plot.Paint(600, 500))
	last := -1
	for x := float32(0); x < f.plot.Size().Width; x += 4 { // a tap among the bars chooses the frame of the nearest
		f.plot.Tapped(&fyne.PointEvent{Position: fyne.NewPos(x, f.plot.Size().Height*0.9)})
		assert.GreaterOrEqual(t, f.of.Frame, last)
		last = f.of.Frame
	}
	assert.Equal(t, 12, last)
}

func TestFairHullIsTakenAsOneStep(t *testing.T) {
	d, f := fairing(t)
	before, handles := d.Plan(), slices.Clone(d.Plan().Layers[0].Lines[0].Handles)
	offered(t, f)
	require.NotEmpty(t, f.of.Faired.Moves)
	limits := 0
	for _, m := range f.of.Faired.Moves {
		if m.AtLimit {
			limits++
			assert.Contains(t, f.moveText(m), "■ at the limit")
		}
	}
	assert.Positive(t, limits, "1.5 mm are more than the half that is allowed")
	assert.NotNil(t, f.plot.Paint(600, 500))
	f.take()
	after := d.Plan()
	assert.InDelta(t, before.Hull.Frames[6].Points[5].Y()-0.5, after.Hull.Frames[6].Points[5].Y(), 0.06, "by the tolerance, nearly square abeam there")
	assert.Equal(t, handles, after.Layers[0].Lines[0].Handles)
	what, _ := d.Session.CanUndo()
	assert.Equal(t, "fair the frames", what)
	d.Undo()
	assert.Equal(t, before, d.Plan())
}

func TestAnotherToleranceTakesTheOfferAway(t *testing.T) {
	_, f := fairing(t)
	offered(t, f)
	require.False(t, f.accept.Disabled())
	f.within.Entry.SetText("0.2")
	f.within.Commit()
	assert.True(t, f.accept.Disabled())
	offered(t, f)
	for _, m := range f.of.Faired.Moves {
		assert.LessOrEqual(t, m.Out*m.Out, 0.2*0.2+1e-9)
	}
	f.within.Entry.SetText("-1")
	f.within.Commit()
	assert.Equal(t, 0.2, f.tolerance)
}

func TestUnsoundFairFramesAreRefused(t *testing.T) {
	d, f := fairing(t)
	var said string
	d.Say = func(s string) { said = s }
	before := d.Plan()
	frames := (&hull.Hull{Frames: before.Hull.Frames}).Clone().Frames
	frames[6].Points[5][1] = -3
	f.of.Faired = &fair.Faired{Frames: frames}
	f.take()
	assert.Contains(t, said, "frame G")
	assert.Same(t, before, d.Plan())
	bump(t, d, 2, 2, 0.1)
	f.of.Faired = &fair.Faired{Frames: before.Hull.Frames}
	f.take()
	assert.Contains(t, said, "measure them again")
}

// TestFairingBeginsWithTheRounding: of a hull read from a table of offsets points
// may move by what they are rounded by, of another by a few strokes of a file.
func TestFairingBeginsWithTheRounding(t *testing.T) {
	assert.Equal(t, 0.033, allowance(&hull.Hull{Rounding: 0.033}))
	assert.Equal(t, firstTolerance, allowance(&hull.Hull{}))
}

func TestGirthsAloneCannotBeFaired(t *testing.T) {
	d := windowtest.NewDesk(t)
	d.Replace(apptest.GirthSession(t))
	var said string
	d.Say = func(s string) { said = s }
	assert.Nil(t, Open(d))
	assert.Contains(t, said, "cannot be faired")
}
