package boards

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

func TestADragKeepsToRoundFiguresWhileCtrlIsHeld(t *testing.T) {
	w := newBoards(t)
	h := w.handle(t, 0, 4)
	b := w.profile.board
	windowtest.Press(b, h.At)
	to := draw.Pt(h.At.X, h.At.Y+7.3)
	windowtest.Move(b, h.At, to)
	assert.NotEqual(t, math.Round(w.down(0, 4)), w.down(0, 4))
	b.KeyDown(&fyne.KeyEvent{Name: desktop.KeyControlLeft})
	windowtest.Move(b, to, draw.Pt(to.X, to.Y+1))
	assert.InDelta(t, math.Round(w.down(0, 4)), w.down(0, 4), 1e-9, "a whole mm")
	w.desk.SwitchUnits()
	windowtest.Move(b, to, draw.Pt(to.X, to.Y+2))
	of32 := w.down(0, 4) / 25.4 * 32
	assert.InDelta(t, math.Round(of32), of32, 1e-9, "a 32nd of an inch")
	b.KeyUp(&fyne.KeyEvent{Name: desktop.KeyControlLeft})
	assert.False(t, w.desk.Round)
	windowtest.Release(b, to)
}
