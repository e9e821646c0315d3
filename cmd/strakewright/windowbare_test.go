//go:build linux

package main

import (
	"encoding/json"
	"image"
	"math"
	"os"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	fyneapp "fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"
)

// bareName is the variable that has the tests' own program open a bareWindow in
// place of running tests.
const bareName = "STRAKEWRIGHT_BARE_WINDOW"

// init is that place: the toolkit wants the program's first thread.
func init() {
	if os.Getenv(bareName) != "" {
		openBareWindow()
		os.Exit(0)
	}
}

// bareShare is the part of a bareWindow that its picture fills: as much as the
// boards of the demo plan fill of the program's window at 1920 x 1080.
const bareShare = 0.6

// BenchmarkWindowBare1920 is the least that a drag in the toolkit can take: that of
// BenchmarkWindowDrag1920, told in the same way, in a window of the same toolkit
// that holds one picture of the boards' size and nothing else, no panel, table or
// word, and that computes and draws nothing: one row of pixels changes its shade
// at each move. What it comes to, no drag of the program can fall below here.
func BenchmarkWindowBare1920(b *testing.B) {
	needScreen(b)
	program, err := os.Executable()
	require.NoError(b, err)
	b.Setenv(bareName, "1")
	w := openWindow(b, program, "", "1920x1080")
	var all drawn
	for b.Loop() {
		all.add(w.timedDrag("bare"))
	}
	all.report(b)
}

// bareWindow is a window of the toolkit that shows a picture, and tells of itself
// and of a drag in it as the program's does.
type bareWindow struct {
	widget.BaseWidget
	win    fyne.Window
	pixels *image.RGBA
	moves  []shownMove
	drawn  int  // so many of the moves are being drawn
	shown  int  // so many of them have been shown
	over   bool // the drag is over
}

// openBareWindow opens one and returns when it is closed.
func openBareWindow() {
	a := fyneapp.NewWithID("bare")
	b := &bareWindow{win: a.NewWindow("Strakewright, the toolkit alone")}
	b.ExtendBaseWidget(b)
	b.win.SetPadded(false)
	b.win.SetContent(b)
	b.win.Resize(fyne.NewSize(800, 600))
	b.win.ShowAndRun()
}

// CreateRenderer has the picture laid over its share of the window's height.
func (b *bareWindow) CreateRenderer() fyne.WidgetRenderer {
	return &bareRenderer{b, canvas.NewRaster(b.picture)}
}

// picture is one and the same, with another shade of one row each time.
func (b *bareWindow) picture(w, h int) image.Image {
	if b.pixels == nil || b.pixels.Rect != image.Rect(0, 0, w, h) {
		b.pixels = image.NewRGBA(image.Rect(0, 0, w, h))
		for i := range b.pixels.Pix {
			b.pixels.Pix[i] = 255
		}
	}
	for i := range b.pixels.Stride {
		b.pixels.Pix[i] = byte(len(b.moves))
	}
	if b.drawn = len(b.moves); b.shown < b.drawn {
		fyne.Do(b.ended)
	}
	return b.pixels
}

// ended is called when the frame has been shown.
func (b *bareWindow) ended() {
	for now := time.Now().UnixNano(); b.shown < b.drawn; b.shown++ {
		b.moves[b.shown].Shown = now
	}
	b.tell()
}

// Dragged notes a move, and has the picture drawn anew.
func (b *bareWindow) Dragged(e *fyne.DragEvent) {
	px := func(v float32) int { return int(math.Round(float64(v * b.win.Canvas().Scale()))) }
	b.moves = append(b.moves, shownMove{px(e.AbsolutePosition.X), px(e.AbsolutePosition.Y), time.Now().UnixNano(), 0})
	b.Refresh()
}

// DragEnd is the end of the drag.
func (b *bareWindow) DragEnd() {
	b.over = true
	b.tell()
}

// tell writes the moves of a drag that is over and has been shown whole.
func (b *bareWindow) tell() {
	if !b.over || b.shown < len(b.moves) {
		return
	}
	if text, err := json.Marshal(b.moves); err == nil {
		_ = os.WriteFile(os.Getenv("STRAKEWRIGHT_FRAMES"), text, 0o600) // a benchmark that finds no file fails by itself
	}
	b.moves, b.drawn, b.shown, b.over = nil, 0, 0, false
}

// bareRenderer lays out a bareWindow.
type bareRenderer struct {
	of     *bareWindow
	raster *canvas.Raster
}

// Layout lays the picture out, and tells of its middle as of a handle.
func (r *bareRenderer) Layout(size fyne.Size) {
	r.raster.Resize(fyne.NewSize(size.Width, size.Height*bareShare))
	s := r.of.win.Canvas().Scale()
	text, err := json.Marshal(told{
		Handles: []probed{{View: "profile", Frame: "bare", X: size.Width * s / 2, Y: size.Height * s * bareShare / 2}},
		Size:    [2]int{int(size.Width*s + 0.5), int(size.Height*s + 0.5)},
	})
	if err == nil {
		_ = os.WriteFile(os.Getenv("STRAKEWRIGHT_PROBE"), text, 0o600) // as in tell
	}
}

func (r *bareRenderer) Refresh()                     { r.raster.Refresh() }
func (r *bareRenderer) MinSize() fyne.Size           { return fyne.NewSize(1, 1) }
func (r *bareRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.raster} }
func (r *bareRenderer) Destroy()                     {}
