package boards

import (
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

// dragger moves a handle up and down with all that is drawn from it.
type dragger struct {
	w     *Drawings
	at    draw.Point
	moves int
}

func newDragger(t testing.TB) *dragger {
	w := newBoards(t)
	w.profile.board.paint(1000, 220)
	return &dragger{w: w, at: w.handle(t, 1, w.desk.Plan().Layers[0].Lines[1].Hold).At}
}

// quiet leaves out the table and the panel: Fyne keeps the measure of every
// text it has set for a minute, which would hide what is looked for.
func (d *dragger) quiet() {
	d.w.desk.Lazy = nil
	d.w.desk.Status = func(string) {}
}

// move is one move of the mouse, drawn on every view.
func (d *dragger) move() {
	d.moves++
	windowtest.Move(d.w.profile.board, d.at, draw.Pt(d.at.X, d.at.Y+4*math.Sin(float64(d.moves)/7)))
	d.w.profile.paint(1000, 220, 1)
	d.w.gauge.paint(1000, 140, 1)
	d.w.body.paint(250, 300, 1)
	d.w.hull.paint(350, 300, 1)
}

// drags makes n drags of three moves each.
func (d *dragger) drags(n int) {
	for range n {
		windowtest.Press(d.w.profile.board, d.at)
		for range 3 {
			d.move()
		}
		d.w.desk.PutBack()
	}
}

func heap() float64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return float64(m.HeapAlloc) / (1 << 20)
}

// The heap after many drags is what it was after a few, within 1 MiB of noise.
func TestMemoryIsFlatOverDrags(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	d := newDragger(t)
	d.quiet()
	d.drags(200) // until the kept labels are as many as ever are kept
	before := heap()
	d.drags(250)
	grown := heap() - before
	t.Logf("%.3f MiB", grown)
	require.Less(t, grown, 1.0, "MiB more after 250 drags")
}

// BenchmarkDrag is one move of a handle with everything recomputed and drawn.
func BenchmarkDrag(b *testing.B) {
	d := newDragger(b)
	windowtest.Press(d.w.profile.board, d.at)
	for b.Loop() {
		d.move()
	}
}

// BenchmarkMemoryOverDrags reports how much the heap grows over a thousand drags
// that are kept, each a step to undo. What they leave is the same for each, so
// that more of them would tell no more.
func BenchmarkMemoryOverDrags(b *testing.B) {
	const kept = 200
	for b.Loop() {
		d := newDragger(b)
		d.quiet()
		d.drags(50)
		before := heap()
		for range kept {
			windowtest.Press(d.w.profile.board, d.at)
			d.move()
			windowtest.Release(d.w.profile.board, d.at)
		}
		b.ReportMetric((heap()-before)*1000/kept, "MiB/1000drags")
	}
}
