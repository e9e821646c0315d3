package main

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// BenchmarkWindowStart starts the real program on the demo plan several times,
// the caches of the system and of the graphics library warm, on a screen of 1366 x
// 768 that nobody sees, and reports
//
//   - start-ms, the median time from before the process is made until the first
//     frame is painted;
//   - rss-MiB, the resident memory (VmRSS) three seconds later;
//   - rss-dragged-MiB, the same after a handle was dragged by 200 moves.
//
// The frame is painted when the window library's call that shows the window has
// returned, for it draws all that is in the window and swaps the buffers; the
// program then writes the time beside the file of STRAKEWRIGHT_PROBE. Once this is
// held against the screen's pixels: at that moment they are the ones that still
// stand there three seconds later, but for one in two hundred.
func BenchmarkWindowStart(b *testing.B) {
	needScreen(b)
	m := &starts{b: b, program: built(b), plan: demoPlan(b), dir: b.TempDir()}
	m.display = screen(b, "1366x768", "-fbdir", m.dir) // the pixels are kept in a file
	_, end := m.once()                                 // makes the caches warm
	end()
	for b.Loop() {
		var times []float64
		for range 5 {
			took, end := m.once()
			end()
			times = append(times, float64(took)/float64(time.Millisecond))
		}
		slices.Sort(times)
		b.ReportMetric(times[len(times)/2], "start-ms")
		m.memory()
	}
}

// starts is a screen on which the program is started again and again.
type starts struct {
	b                           *testing.B
	program, plan, dir, display string
	process                     int
}

func (m *starts) probe() string { return filepath.Join(m.dir, "probe.json") }

// once starts the program, waits for its first frame, and gives the time it took
// and what ends the program.
func (m *starts) once() (took time.Duration, end func()) {
	m.b.Helper()
	told := m.probe() + ".painted"
	_ = os.Remove(told) // it is not there the first time
	c := exec.Command(m.program, m.plan)
	c.Env = append(os.Environ(), "DISPLAY="+m.display, "WAYLAND_DISPLAY=", "LIBGL_ALWAYS_SOFTWARE=1", "STRAKEWRIGHT_PROBE="+m.probe(),
		"XDG_CACHE_HOME="+filepath.Join(m.dir, "cache"), "XDG_CONFIG_HOME="+filepath.Join(m.dir, "config")) // no plan that an earlier run left unsaved
	from := time.Now()
	require.NoError(m.b, c.Start())
	m.process = c.Process.Pid
	ended := false
	end = func() {
		if !ended {
			_, _ = c.Process.Kill(), c.Wait() // it was killed
		}
		ended = true
	}
	m.b.Cleanup(end)
	for deadline := from.Add(time.Minute); ; time.Sleep(2 * time.Millisecond) {
		text, _ := os.ReadFile(told)
		if at, err := strconv.ParseInt(strings.TrimSuffix(string(text), "\n"), 10, 64); err == nil && bytes.HasSuffix(text, []byte("\n")) {
			return time.Unix(0, at).Sub(from), end
		}
		require.True(m.b, time.Now().Before(deadline), "waited in vain for the first frame")
	}
}

// memory starts the program once more, holds its first frame against the pixels
// of the screen, and reports its memory as it stands there and after a drag.
func (m *starts) memory() {
	_, end := m.once()
	defer end()
	painted := m.pixels()
	time.Sleep(3 * time.Second)
	m.b.ReportMetric(m.resident(), "rss-MiB")
	later, differ, colours := m.pixels(), 0, map[uint32]bool{}
	for i := range painted {
		colours[later[i]] = true
		if painted[i] != later[i] {
			differ++
		}
	}
	require.Greater(m.b, len(colours), 100, "the whole window is on the screen")
	require.Less(m.b, differ, len(painted)/200, "pixels that the first frame lacked")
	m.drag()
	m.b.ReportMetric(m.resident(), "rss-dragged-MiB")
}

// resident is the resident memory of the program, MiB.
func (m *starts) resident() float64 {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", m.process))
	require.NoError(m.b, err)
	for line := range strings.Lines(string(text)) {
		if value, ok := strings.CutPrefix(line, "VmRSS:"); ok {
			kib, err := strconv.Atoi(strings.Fields(value)[0])
			require.NoError(m.b, err)
			return float64(kib) / 1024
		}
	}
	m.b.Fatal("no VmRSS")
	return 0
}

// pixels reads the screen out of the file that the X server keeps it in: an X
// window dump of version 7 (X11/XWDFile.h), whose head counts in big-endian
// 32-bit words, with 12 bytes for each colour of the map after it.
func (m *starts) pixels() []uint32 {
	data, err := os.ReadFile(filepath.Join(m.dir, "Xvfb_screen0"))
	require.NoError(m.b, err)
	head := func(word int) int { return int(binary.BigEndian.Uint32(data[4*word:])) }
	width, height, line, colours := head(4), head(5), head(12), head(19)
	data = data[head(0)+12*colours:]
	out := make([]uint32, 0, width*height)
	for y := range height {
		for x := range width {
			out = append(out, binary.LittleEndian.Uint32(data[y*line+4*x:])&0xffffff)
		}
	}
	return out
}

// drag takes the first line's handle that is chosen first and moves it by 200
// moves of the mouse, up and down.
func (m *starts) drag() {
	before := m.handle()
	x, y := fmt.Sprint(math.Round(float64(before.X))), int(math.Round(float64(before.Y)))
	moves := []string{"mousemove", x, fmt.Sprint(y), "sleep", "0.1", "mousedown", "1", "sleep", "0.05"}
	for i := range 200 {
		moves = append(moves, "mousemove", x, fmt.Sprint(y-max(i%40, 40-i%40)), "sleep", "0.016")
	}
	moves = append(moves, "mouseup", "1", "sleep", "2")
	c := exec.Command("xdotool", moves...)
	c.Env = append(os.Environ(), "DISPLAY="+m.display)
	out, err := c.CombinedOutput()
	require.NoError(m.b, err, "%s", out)
	require.InDelta(m.b, before.Y-39, m.handle().Y, 3, "the handle has followed the mouse")
}

// handle is the first line's handle at frame L, as the program tells it.
func (m *starts) handle() probed {
	var told struct{ Handles []probed }
	data, err := os.ReadFile(m.probe())
	require.NoError(m.b, err)
	require.NoError(m.b, json.Unmarshal(data, &told))
	at := slices.IndexFunc(told.Handles, func(h probed) bool { return h.View == "profile" && h.Line == 0 && h.Frame == "L" })
	require.GreaterOrEqual(m.b, at, 0, "the handle at frame L")
	return told.Handles[at]
}
