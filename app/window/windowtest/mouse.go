package windowtest

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"github.com/strakewright/strakewright/app/draw"
)

// Posted is what long work wants done on the main goroutine, which in a test is
// the test's own.
var Posted = make(chan func(), 100)

// Until does what is posted until something has come about.
func Until(t testing.TB, done func() bool) {
	t.Helper()
	end := time.After(5 * time.Minute)
	for !done() {
		select {
		case f := <-Posted:
			f()
		case <-end:
			t.Fatal("it has not come about in five minutes")
		}
	}
}

// Pos is a place of a drawing as a place on the screen.
func Pos(p draw.Point) fyne.Position { return fyne.NewPos(float32(p.X), float32(p.Y)) }

func mouse(p draw.Point) *desktop.MouseEvent {
	return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: Pos(p)}, Button: desktop.MouseButtonPrimary}
}

// mouseable is what the mouse acts on.
type mouseable interface {
	desktop.Mouseable
	fyne.Draggable
}

// Press goes down at a place, and holds what lies there.
func Press(b mouseable, p draw.Point) { b.MouseDown(mouse(p)) }

// Move drags from a place to another.
func Move(b mouseable, from, to draw.Point) {
	b.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: Pos(to)},
		Dragged: fyne.NewDelta(float32(to.X-from.X), float32(to.Y-from.Y))})
}

// Release lets go at a place.
func Release(b mouseable, p draw.Point) {
	b.MouseUp(mouse(p))
	b.DragEnd()
}

// Click goes down and up at one place.
func Click(b mouseable, p draw.Point) {
	b.MouseDown(mouse(p))
	b.MouseUp(mouse(p))
}

// TypeKey types a key.
func TypeKey(b fyne.Focusable, k fyne.KeyName) { b.TypedKey(&fyne.KeyEvent{Name: k}) }
