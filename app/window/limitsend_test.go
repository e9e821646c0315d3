package window

import (
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw/views"
)

// However far in a limit is moved, the plan can be saved and read again: a frame's curve
// is longer than the chords that its file is checked by.
func TestALimitMovedAsFarAsItGoesCanBeSaved(t *testing.T) {
	w := newWindow(t)
	d := w.desk
	moved := 0
	for _, limit := range []views.Limit{views.UpperLimit, views.LowerLimit} {
		for _, frame := range []int{0, 12} {
			choice := views.Nothing.WithFrame(frame)
			choice.Limit = limit
			d.Choose(choice)
			far := d.WholeGirth(frame)
			if limit == views.LowerLimit {
				far = -far
			}
			before := d.Plan()
			d.Nudge(far)
			require.NoError(t, d.Plan().Write(io.Discard), "limit %v at frame %d", limit, frame)
			if d.Plan() != before { // the planking may refuse it
				moved++
				d.Undo()
			}
		}
	}
	require.Positive(t, moved)
}
