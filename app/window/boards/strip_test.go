package boards

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/settings"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

func (w *Drawings) plusses() int {
	w.profile.current()
	n := 0
	for _, it := range w.profile.v.Drawing.Items {
		if m, ok := it.(draw.Mark); ok && m.Shape == draw.Plus {
			n++
		}
	}
	return n
}

// TestADragTellsHowTheStripLies: while a line is dragged the status line says how far
// off the strip lies by itself, and that it lies there once the line does.
func TestADragTellsHowTheStripLies(t *testing.T) {
	w := newBoards(t)
	d, status := w.desk, ""
	d.Status = func(text string) { status = text }
	d.Choose(d.Choice.WithLine(1))
	settings.SetLineType(d, hull.Drawn)
	b := d.Strip()
	require.Equal(t, loft.Told, b.Lie.Untold)
	require.True(t, d.Edit("lay it as the strip lies", func(p *hull.Plan) error {
		for f := range b.Off {
			if f == d.Line().Hold {
				continue
			}
			if err := edit.MoveHandle(0, 1, f, b.Lie.Frames[f].Natural)(p); err != nil {
				return err
			}
		}
		return nil
	}))
	lies := "left to itself, this strip settles along the line"
	require.Contains(t, answer.StripVerdict(d.Strip(), d.FrameName, d.Units), lies)

	f := d.Line().Hold + 2
	h := w.handle(t, 1, f)
	to := draw.Pt(h.At.X, h.At.Y+8)
	windowtest.Press(w.profile.board, h.At)
	windowtest.Move(w.profile.board, h.At, to)
	off, at := d.Strip().Most()
	assert.Less(t, off, -1.0, "the line was dragged down, and the strip not with it")
	assert.Equal(t, f, at)
	assert.Contains(t, status, " · left to itself, this strip settles "+views.Millimetres.Length(-off)+" higher at frame "+d.FrameName(f))
	assert.Contains(t, d.LineText(1, f), ", this strip lies "+views.Millimetres.Length(-off)+" above the line")
	assert.Greater(t, w.plusses(), len(b.Off))
	windowtest.Move(w.profile.board, to, h.At)
	assert.Contains(t, status, " · "+lies)
	windowtest.Release(w.profile.board, h.At)

	d.Choose(d.Choice.WithStrake(0))
	assert.Nil(t, d.Strip())
	assert.Zero(t, w.plusses())
}
