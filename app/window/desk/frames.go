package desk

import (
	"encoding/json"
	"math"
	"os"
	"time"

	"fyne.io/fyne/v2"
)

// frameLog tells a benchmark of the real window how long a move of the mouse
// took to be seen: it writes the moves of a drag, when it is over, to the file
// named by STRAKEWRIGHT_FRAMES. Without that it is nil and does nothing.
type frameLog struct {
	path  string
	desk  *Desk
	moves []shownMove
	tried int  // so many of them the planking follows
	drawn int  // so many of them are being drawn
	shown int  // so many of them have been shown
	done  bool // the drag is over
}

// shownMove is a move of the mouse, in pixels from the window's corner, with the
// ns of the clock on the wall when the driver gave it and when the frame that
// shows it was done; 0 for never.
type shownMove struct {
	X, Y         int
	Given, Shown int64
}

// NewFrameLog is a log that is written to a file; nil where that has no name.
func NewFrameLog(d *Desk, path string) *frameLog {
	if path == "" {
		return nil
	}
	return &frameLog{desk: d, path: path}
}

// Given notes a move of what is held.
func (l *frameLog) Given(at fyne.Position) {
	if l == nil || l.desk.Grip == nil {
		return
	}
	l.done = false
	s := l.desk.Win.Canvas().Scale()
	px := func(v float32) int { return int(math.Round(float64(v * s))) }
	l.moves = append(l.moves, shownMove{X: px(at.X), Y: px(at.Y), Given: time.Now().UnixNano()})
}

// follows notes that the planking follows all moves up to now.
func (l *frameLog) follows() {
	if l != nil {
		l.tried = len(l.moves)
	}
}

// Painted is called while a frame is drawn: what the planking follows is in it.
// What is asked of the main goroutine then is done when the buffers of the frame
// have been swapped.
func (l *frameLog) Painted() {
	if l != nil && l.drawn != l.tried {
		l.drawn = l.tried
		l.desk.Later(l.ended)
	}
}

// ended is called when no frame is being drawn: what was drawn has been shown.
func (l *frameLog) ended() {
	if l == nil {
		return
	}
	for now := time.Now().UnixNano(); l.shown < l.drawn; l.shown++ {
		l.moves[l.shown].Shown = now
	}
	l.write()
}

// over notes that the drag is over.
func (l *frameLog) over() {
	if l != nil {
		l.done = true
		l.write()
	}
}

// write writes what has been noted of a drag that is over, once all of it has
// been shown.
func (l *frameLog) write() {
	if !l.done || l.shown < len(l.moves) || len(l.moves) == 0 {
		return
	}
	text, err := json.Marshal(l.moves)
	if err == nil {
		_ = os.WriteFile(l.path, text, 0o600) // a benchmark that finds no file fails by itself
	}
	*l = frameLog{path: l.path, desk: l.desk}
}
