package main

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"
)

// A terminal's line is redrawn every second; a log gets a line every half
// minute, so that it does not fill up.
const (
	redrawEvery = time.Second
	logEvery    = 30 * time.Second
)

const eraseLine = "\r\x1b[K"

// meter is a progress line below whatever is written through it: what is being
// done, for how long, and a note on how far it is. Several goroutines may use
// it at once.
type meter struct {
	mu       sync.Mutex
	out      io.Writer
	terminal bool
	what     string
	note     string
	begun    time.Time
	drawn    bool // the progress line is on the terminal
	midLine  bool // what was written last did not end its line
	done     chan struct{}
	over     sync.WaitGroup
}

// newMeter starts a progress line on out; stop ends it.
func newMeter(out io.Writer, what string) *meter {
	m := &meter{out: out, terminal: isTerminal(out), what: what, begun: time.Now(), done: make(chan struct{})}
	every := logEvery
	if m.terminal {
		every = redrawEvery
	}
	m.over.Add(1)
	go m.tick(every)
	return m
}

func (m *meter) tick(every time.Duration) {
	defer m.over.Done()
	ticker := time.NewTicker(every)
	defer ticker.Stop()
	for {
		select {
		case <-m.done:
			return
		case <-ticker.C:
			m.draw()
		}
	}
}

// Write passes p on, in place of the progress line if that is shown.
func (m *meter) Write(p []byte) (int, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.erase()
	if len(p) > 0 {
		m.midLine = p[len(p)-1] != '\n'
	}
	return m.out.Write(p)
}

// at notes how far the work is, to be shown from the next redraw on.
func (m *meter) at(note string) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.note = note
}

// draw shows the progress line, unless that would break into a line of output.
func (m *meter) draw() {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.midLine {
		return
	}
	m.erase()
	line := m.line(time.Since(m.begun))
	if !m.terminal {
		fmt.Fprintln(m.out, line)
		return
	}
	fmt.Fprint(m.out, shorten(line, 78))
	m.drawn = true
}

func (m *meter) line(gone time.Duration) string {
	line := fmt.Sprintf("  ... %s, %s", m.what, clock(gone))
	if m.note != "" {
		line += ", " + m.note
	}
	return line
}

func (m *meter) erase() {
	if m.drawn {
		fmt.Fprint(m.out, eraseLine)
		m.drawn = false
	}
}

// stop removes the progress line and returns how long it ran.
func (m *meter) stop() time.Duration {
	close(m.done)
	m.over.Wait()
	m.mu.Lock()
	defer m.mu.Unlock()
	m.erase()
	return time.Since(m.begun)
}

// clock writes a duration as minutes and seconds, such as 4:05.
func clock(d time.Duration) string {
	s := int(d.Round(time.Second).Seconds())
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

// shorten cuts a line to n characters, so that a terminal does not wrap it.
func shorten(line string, n int) string {
	runes := []rune(line)
	if len(runes) <= n {
		return line
	}
	return string(runes[:n-1]) + "…"
}

func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0 && os.Getenv("TERM") != "dumb"
}
