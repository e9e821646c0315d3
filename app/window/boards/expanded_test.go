package boards

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/settings"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

// girthBoards shows a hull of which only the girths are known.
func girthBoards(t testing.TB) *Drawings {
	t.Helper()
	w := newBoards(t)
	w.desk.Replace(apptest.GirthSession(t))
	require.True(t, w.desk.Shapeless())
	settings.AddLine(w.desk)
	require.Len(t, w.desk.PlanLayer().Lines, 1)
	return w
}

func TestGirthsAloneAreShownExpanded(t *testing.T) {
	w := girthBoards(t)
	for _, v := range w.desk.Boards {
		assert.NotNil(t, v.(*Board).paint(400, 160))
	}
	assert.Len(t, w.LongHandles(), 6)
}

func TestHandleIsDraggedOnTheExpandedPlanking(t *testing.T) {
	w := girthBoards(t)
	b := w.profile.board
	h := found(t, w.LongHandles(), 0, 3)
	before := w.down(0, 3)
	scale := w.expanded.axis.Scale
	to := draw.Pt(h.At.X+30, h.At.Y+12)
	windowtest.Press(b, h.At)
	windowtest.Move(b, h.At, to)
	windowtest.Release(b, to)
	assert.InDelta(t, before+12/scale, w.down(0, 3), 1e-6, "along its frame, at the drawing's scale")
	w.desk.Undo()
	assert.Equal(t, before, w.down(0, 3))
	windowtest.Click(b, draw.Pt(h.At.X, h.At.Y-12))
	assert.GreaterOrEqual(t, w.desk.Choice.Strake, 0)
	w.expanded.wheel(h.At, 1.5)
	assert.InDelta(t, scale*1.5, w.expanded.axis.Scale, 1e-9)
	w.expanded.fit()
	assert.NotEmpty(t, w.LongHandles())
	assert.InDelta(t, scale, w.expanded.axis.Scale, 1e-9)
	assert.Contains(t, w.expanded.hover(h.At), "Frame D")
}
