package boards

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

func TestGaugeShowsWhatTheBenchAsksFor(t *testing.T) {
	w := newBoards(t)
	d := w.desk
	windowtest.Laid(t, d, 3, 1)
	d.Choose(d.Choice.WithStrake(4).WithFrame(6))
	w.profile.board.paint(1000, 220)
	w.gauge.paint(1000, 140, 1)
	require.NotNil(t, w.gauge.v.Bench)
	assert.Contains(t, w.gauge.hover(draw.Pt(w.gauge.v.X.At(d.Plan().Hull.Frames[6].X()), 40)), "at the bench to starboard")
}
