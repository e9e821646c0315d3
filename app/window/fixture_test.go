package window

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"

	"strakewright/app"
	"strakewright/app/draw"
	"strakewright/app/draw/views"
	"strakewright/hull"
	"strakewright/hull/source"
	"strakewright/loft"
)

// wigley is Wigley's hull (1934) at L = 400 mm, L/B = 5 and B/T = 1.6, cut off
// short of its sharp ends: 13 frames of 13 points.
func wigley() *hull.Hull {
	const L, B, T = 400.0, 80.0, 50.0
	h := &hull.Hull{Bow: hull.BowLast, Limits: hull.Limits{Upper: "wale", Lower: "rabbet"}}
	for i := range 13 {
		x := 0.9 * L * (float64(i)/12 - 0.5)
		f := hull.Frame{Name: string(rune('A' + i))}
		for j := range 13 {
			z := -T * 0.98 * float64(j) / 12
			y := B / 2 * (1 - math.Pow(2*x/L, 2)) * (1 - z*z/T/T)
			f.Points = append(f.Points, mgl64.Vec3{x, y, z})
		}
		h.Frames = append(h.Frames, f)
	}
	return h
}

// newSession opens a plan of Wigley's hull in three bands, saved in a folder of
// the test's own.
func newSession(t testing.TB) *app.Session {
	t.Helper()
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	dir := t.TempDir()
	points := filepath.Join(dir, "wigley.csv")
	f, err := os.Create(points)
	require.NoError(t, err)
	require.NoError(t, source.WritePoints(f, wigley()))
	require.NoError(t, f.Close())
	s, err := app.Open(points)
	require.NoError(t, err)
	p, err := loft.FairLines(context.Background(), s.Plan(), 0, 3)
	require.NoError(t, err)
	require.NoError(t, s.Edit("lay lines", func(q *hull.Plan) error { *q = *p; return nil }))
	path := filepath.Join(dir, "wigley.strakeplan")
	require.NoError(t, s.SaveAs(path, false))
	s, err = app.Open(path)
	require.NoError(t, err)
	t.Cleanup(s.Close)
	return s
}

// newWindow shows a window on a fresh session with Fyne's test driver.
func newWindow(t testing.TB) *Window {
	t.Helper()
	a := test.NewApp()
	w, err := New(a, newSession(t))
	require.NoError(t, err)
	w.desk.onMain = func(f func()) { posted <- f }
	w.Show()
	w.Resize(fyne.NewSize(1280, 760))
	t.Cleanup(func() {
		w.desk.leave()
		w.Window.SetCloseIntercept(nil)
		w.Window.Close()
		a.Quit()
	})
	return w
}

// posted is what long work wants done on the main goroutine, which in a test is
// the test's own.
var posted = make(chan func(), 100)

// until does what is posted until something has come about.
func until(t testing.TB, done func() bool) {
	t.Helper()
	end := time.After(5 * time.Minute)
	for !done() {
		select {
		case f := <-posted:
			f()
		case <-end:
			t.Fatal("it has not come about in five minutes")
		}
	}
}

// handle gives a handle of the profile.
func (w *Window) handle(t testing.TB, line, frame int) views.Handle {
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

func pos(p draw.Point) fyne.Position { return fyne.NewPos(float32(p.X), float32(p.Y)) }

func mouse(p draw.Point) *desktop.MouseEvent {
	return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: pos(p)}, Button: desktop.MouseButtonPrimary}
}

// press, move and release are what Fyne's driver tells a board of the mouse.
func press(b *board, p draw.Point) { b.MouseDown(mouse(p)) }

func move(b *board, from, to draw.Point) {
	b.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: pos(to)},
		Dragged: fyne.NewDelta(float32(to.X-from.X), float32(to.Y-from.Y))})
}

func release(b *board, p draw.Point) {
	b.MouseUp(mouse(p))
	b.DragEnd()
}

// click goes down and up at one place.
func click(b *board, p draw.Point) {
	b.MouseDown(mouse(p))
	b.MouseUp(mouse(p))
}

func typeKey(b *board, k fyne.KeyName) { b.TypedKey(&fyne.KeyEvent{Name: k}) }

func (w *Window) down(line, frame int) float64 {
	return w.desk.plan().Layers[0].Lines[line].Handles[frame].Down
}
