package window

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strakewright/app/draw"
)

// girthBoards shows a hull of which only the girths are known.
func girthBoards(t testing.TB) *drawings {
	t.Helper()
	w := newBoards(t)
	w.desk.replace(girthSession(t))
	require.True(t, w.desk.shapeless())
	w.desk.addLine()
	require.Len(t, w.desk.planLayer().Lines, 1)
	return w
}

func TestGirthsAloneAreShownExpanded(t *testing.T) {
	w := girthBoards(t)
	for _, v := range w.desk.boards {
		assert.NotNil(t, v.(*board).paint(400, 160))
	}
	assert.Len(t, w.longHandles(), 6)
}

func TestHandleIsDraggedOnTheExpandedPlanking(t *testing.T) {
	w := girthBoards(t)
	b := w.profile.board
	h := found(t, w.longHandles(), 0, 3)
	before := w.down(0, 3)
	scale := w.expanded.axis.Scale
	to := draw.Pt(h.At.X+30, h.At.Y+12)
	press(b, h.At)
	move(b, h.At, to)
	release(b, to)
	assert.InDelta(t, before+12/scale, w.down(0, 3), 1e-6, "along its frame, at the drawing's scale")
	w.desk.undo()
	assert.Equal(t, before, w.down(0, 3))
	click(b, draw.Pt(h.At.X, h.At.Y-12))
	assert.GreaterOrEqual(t, w.desk.choice.Strake, 0)
	w.expanded.wheel(h.At, 1.5)
	assert.InDelta(t, scale*1.5, w.expanded.axis.Scale, 1e-9)
	w.expanded.fit()
	assert.NotEmpty(t, w.longHandles())
	assert.InDelta(t, scale, w.expanded.axis.Scale, 1e-9)
	assert.Contains(t, w.expanded.hover(h.At), "Frame D")
}
