package window

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"strakewright/app/draw"
)

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

func pos(p draw.Point) fyne.Position { return fyne.NewPos(float32(p.X), float32(p.Y)) }

func mouse(p draw.Point) *desktop.MouseEvent {
	return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: pos(p)}, Button: desktop.MouseButtonPrimary}
}

// mouseable is what the mouse acts on.
type mouseable interface {
	desktop.Mouseable
	fyne.Draggable
}

// press, move and release are what Fyne's driver tells a board of the mouse.
func press(b mouseable, p draw.Point) { b.MouseDown(mouse(p)) }

func move(b mouseable, from, to draw.Point) {
	b.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: pos(to)},
		Dragged: fyne.NewDelta(float32(to.X-from.X), float32(to.Y-from.Y))})
}

func release(b mouseable, p draw.Point) {
	b.MouseUp(mouse(p))
	b.DragEnd()
}

// click goes down and up at one place.
func click(b mouseable, p draw.Point) {
	b.MouseDown(mouse(p))
	b.MouseUp(mouse(p))
}

func typeKey(b fyne.Focusable, k fyne.KeyName) { b.TypedKey(&fyne.KeyEvent{Name: k}) }
