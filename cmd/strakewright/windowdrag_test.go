//go:build linux

package main

import (
	"encoding/binary"
	"encoding/json"
	"io"
	"math"
	"net"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A drag of the benchmarks: so many moves of the mouse, one each so often. The
// time between them is no multiple of that between two frames, so that they come
// at every phase of one.
const (
	dragMoves = 250
	moveEvery = 21 * time.Millisecond
)

// BenchmarkWindowDrag1920 drags a handle of the demo plan in the real window, all
// views live, on a screen of 1920 x 1080 whose drawing Mesa does in software.
//
// p50-ms and p99-ms are the median and the 99th percentile, over all moves of
// the mouse, of the time from the move to the end of the frame that shows it.
//
// The time begins when the driver hands the move to the board, and ends when the
// call has returned that swaps the buffers of the frame drawn from the planking
// that the handle's new place gives, for the first frame of which that is true.
// So the recomputing, the laying out, the drawing of every view and of the
// toolkit's own widgets, the upload and Mesa's work are in it, and, where several
// moves wait for one frame, the waiting. Not in it are the X server's way to put
// the finished picture on a screen, and the time that a move lies in the X
// server's queue until the driver asks for it, which it does 60 times a second:
// sent-p50-ms and sent-p99-ms begin when the move is sent to the X server
// instead, and have that in them. Nor need the hull in space be of the last place:
// its drawing is made while frames pass by, whole and again and again, and so it
// follows one or two frames later, and is exact when the hand rests. All of that
// work goes on within the times told. frames/s is how many frames were drawn in a
// second.
func BenchmarkWindowDrag1920(b *testing.B) { benchmarkWindowDrag(b, "1920x1080") }

// BenchmarkWindowDrag3840 is the same on a screen of 3840 x 2160.
func BenchmarkWindowDrag3840(b *testing.B) { benchmarkWindowDrag(b, "3840x2160") }

func benchmarkWindowDrag(b *testing.B, size string) {
	needScreen(b)
	program, path := built(b), demoPlan(b)
	plan := planked(b, path)
	line := plan.Plan.Layers[0].Lines[0]
	frame := plan.Plan.Hull.Frames[heldFrame(&line)].Name
	w := openWindow(b, program, path, size)
	var all drawn
	for b.Loop() {
		all.add(w.timedDrag(frame))
	}
	all.report(b)
	w.picture("benchmark")
}

// shownMove is a move of the mouse as the program tells of it: its place in
// pixels from the window's corner, and when, in ns of the clock on the wall, the
// driver gave it and the frame was drawn that shows it.
type shownMove struct {
	X, Y         int
	Given, Shown int64
}

// drawn is how long moves took, in ms.
type drawn struct {
	given, sent []float64
	frames      int
	seconds     float64
}

func (d *drawn) add(more drawn) {
	d.given, d.sent = append(d.given, more.given...), append(d.sent, more.sent...)
	d.frames, d.seconds = d.frames+more.frames, d.seconds+more.seconds
}

func (d *drawn) report(b *testing.B) {
	b.ReportMetric(percentile(d.given, 0.5), "p50-ms")
	b.ReportMetric(percentile(d.given, 0.99), "p99-ms")
	b.ReportMetric(percentile(d.sent, 0.5), "sent-p50-ms")
	b.ReportMetric(percentile(d.sent, 0.99), "sent-p99-ms")
	b.ReportMetric(float64(d.frames)/d.seconds, "frames/s")
}

// percentile is the least value that a share of all do not exceed.
func percentile(of []float64, share float64) float64 {
	s := slices.Sorted(slices.Values(of))
	return s[max(int(math.Ceil(share*float64(len(s))))-1, 0)]
}

// timedDrag drags a handle up and down and gives how long each move took to be
// seen. The drag is then undone.
func (w *realWindow) timedDrag(frame string) drawn {
	h := w.handle(frame)
	x, y := int(math.Round(float64(h.X))), int(math.Round(float64(h.Y)))
	_ = os.Remove(w.frames) // of an earlier drag
	mouse := w.mouse()
	mouse.move(x, y)
	time.Sleep(300 * time.Millisecond)
	mouse.fake(buttonDown, 1, 0, 0)
	time.Sleep(300 * time.Millisecond)
	sent := make([]sentMove, dragMoves)
	for i := range sent {
		at := y + swing(i+1)
		sent[i] = sentMove{x, at, time.Now().UnixNano()}
		mouse.move(x, at)
		time.Sleep(moveEvery)
	}
	time.Sleep(500 * time.Millisecond)
	mouse.fake(buttonUp, 1, 0, 0)
	mouse.end()
	var shown []shownMove
	w.await("the frames of the drag to be told", func() bool {
		text, err := os.ReadFile(w.frames)
		return err == nil && json.Unmarshal(text, &shown) == nil
	})
	w.key("ctrl+z")
	w.settle()
	return timesOf(w.t, sent, shown)
}

// swing is how far from its place the pointer is at the i-th move, pixels. It
// stands at no two moves that follow each other on the same place.
func swing(i int) int {
	const reach = 16
	i %= 4 * reach
	switch {
	case i <= reach:
		return i
	case i <= 3*reach:
		return 2*reach - i
	}
	return i - 4*reach
}

// sentMove is a move of the mouse as it was sent.
type sentMove struct {
	x, y int
	at   int64
}

// timesOf gives the times of the moves that were shown; the driver begins a drag
// only when the pointer has left its place by some pixels.
func timesOf(tb testing.TB, sent []sentMove, shown []shownMove) drawn {
	tb.Helper()
	var out drawn
	next := 0
	ends := map[int64]bool{}
	for _, m := range shown {
		for next < len(sent) && (sent[next].x != m.X || sent[next].y != m.Y) {
			next++
		}
		require.Less(tb, next, len(sent), "the program tells of a move that was not sent: %+v", m)
		out.given = append(out.given, float64(m.Shown-m.Given)/1e6)
		out.sent = append(out.sent, float64(m.Shown-sent[next].at)/1e6)
		ends[m.Shown] = true
		next++
	}
	require.Greater(tb, len(shown), dragMoves*9/10, "moves that were shown")
	out.frames, out.seconds = len(ends), float64(shown[len(shown)-1].Shown-shown[0].Given)/1e9
	return out
}

// mouse moves the pointer of an X server by its extension XTEST, each time at
// once, so that it is known when. (xdotool reads all that it is to do before it
// does the first of it.) Requests are laid out as in "X Window System Protocol",
// X Consortium Standard, version 11, and "X11 XTEST Protocol", version 2.2.
type mouse struct {
	t    testing.TB
	conn net.Conn
	test byte // the extension's major opcode
}

// mouse connects to the window's X server.
func (w *realWindow) mouse() *mouse {
	w.t.Helper()
	socket := "/tmp/.X11-unix/X" + strings.TrimPrefix(w.display, ":")
	conn, err := net.Dial("unix", "@"+socket) // where Linux names sockets beside the files
	if err != nil {
		conn, err = net.Dial("unix", socket)
	}
	require.NoError(w.t, err)
	m := &mouse{t: w.t, conn: conn}
	m.send([]byte{'l', 0, 11, 0, 0, 0, 0, 0, 0, 0, 0, 0}) // little-endian, version 11, no authorisation
	head := m.read(8)
	require.Equal(w.t, byte(1), head[0], "the X server takes the connection")
	m.read(4 * int(binary.LittleEndian.Uint16(head[6:])))
	m.send([]byte{98, 0, 4, 0, 5, 0, 0, 0, 'X', 'T', 'E', 'S', 'T', 0, 0, 0}) // QueryExtension
	answer := m.read(32)
	require.Equal(w.t, byte(1), answer[8], "the X server has XTEST")
	m.test = answer[9]
	return m
}

// The kinds of events, as the protocol numbers them.
const (
	buttonDown = 4
	buttonUp   = 5
	moved      = 6
)

// fake has the server act as if its own mouse had done something: of a button,
// which; of a move, where to.
func (m *mouse) fake(kind, button byte, x, y int) {
	r := make([]byte, 36)
	r[0], r[1], r[2], r[4], r[5] = m.test, 2, 9, kind, button
	binary.LittleEndian.PutUint16(r[24:], uint16(x))
	binary.LittleEndian.PutUint16(r[26:], uint16(y))
	m.send(r)
}

func (m *mouse) move(x, y int) { m.fake(moved, 0, x, y) }

func (m *mouse) send(request []byte) {
	m.t.Helper()
	_, err := m.conn.Write(request)
	require.NoError(m.t, err)
}

func (m *mouse) read(n int) []byte {
	m.t.Helper()
	b := make([]byte, n)
	_, err := io.ReadFull(m.conn, b)
	require.NoError(m.t, err)
	return b
}

func (m *mouse) end() { require.NoError(m.t, m.conn.Close()) }
