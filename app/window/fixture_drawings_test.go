package window

import (
	"strakewright/app/draw/views"
	"testing"

	"fyne.io/fyne/v2/container"
)

// newBoards gives the boards on a fresh session, in a window of their own.
func newBoards(t testing.TB) *drawings {
	t.Helper()
	d := newDeskShown(t)
	w := newDrawings(d)
	long := split(container.NewVSplit(w.profile.board, w.gaugeBoard), 0.6)
	shapes := split(container.NewHSplit(w.body.board, w.hull.board), 0.42)
	d.win.SetContent(split(container.NewVSplit(long, shapes), 0.55))
	return w
}

// handle gives a handle of the profile.
func (w *drawings) handle(t testing.TB, line, frame int) views.Handle {
	t.Helper()
	w.profile.current()
	return found(t, w.profile.v.Handles, line, frame)
}

func found(t testing.TB, hs []views.Handle, line, frame int) views.Handle {
	t.Helper()
	for _, h := range hs {
		if h.Line == line && h.Frame == frame {
			return h
		}
	}
	t.Fatalf("no handle of line %d at frame %d", line, frame)
	return views.Handle{}
}

func (w *drawings) down(line, frame int) float64 {
	return w.desk.plan().Layers[0].Lines[line].Handles[frame].Down
}
