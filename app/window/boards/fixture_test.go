package boards

import (
	"testing"

	"github.com/strakewright/strakewright/app/draw/views"

	"fyne.io/fyne/v2/container"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

// newBoards gives the boards on a fresh session, in a window of their own.
func newBoards(t testing.TB) *Drawings {
	t.Helper()
	d := windowtest.NewDesk(t)
	w := New(d)
	long := kit.Split(container.NewVSplit(w.profile.board, w.Gauge), 0.6)
	shapes := kit.Split(container.NewHSplit(w.body.board, w.hull.board), 0.42)
	d.Win.SetContent(kit.Split(container.NewVSplit(long, shapes), 0.55))
	return w
}

// Handle gives a handle of the profile.
func (w *Drawings) handle(t testing.TB, line, frame int) views.Handle {
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

func (w *Drawings) down(line, frame int) float64 {
	return w.desk.Plan().Layers[0].Lines[line].Handles[frame].Down
}
