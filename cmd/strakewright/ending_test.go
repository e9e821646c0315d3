//go:build linux

package main

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/hull"
)

// TestWindowEndedByASignal ends the real program while a handle is held with the
// mouse: what was not saved, the drag under way included, is kept and offered at
// the next opening, where it can be restored.
func TestWindowEndedByASignal(t *testing.T) {
	program := windowProgram(t)
	for _, ending := range []syscall.Signal{syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT} {
		t.Run(ending.String(), func(t *testing.T) {
			t.Parallel() // each waits most of the time, for a screen of its own
			endedWhileDragging(t, program, ending)
		})
	}
}

func endedWhileDragging(t *testing.T, program string, ending syscall.Signal) {
	path := demoPlan(t)
	k := planked(t, path)
	line := k.Plan.Layers[0].Lines[0]
	held := heldFrame(&line)
	frame := k.Plan.Hull.Frames[held].Name

	w, c := openOn(t, program, path)
	from := w.handle(frame)
	x := strconv.Itoa(int(math.Round(float64(from.X))))
	at := func(y float32) string { return strconv.Itoa(int(math.Round(float64(y)))) }
	follows := func() bool { return from.Y-w.handle(frame).Y > 8 }
	for range 5 { // a window that has just come may miss a press
		w.xdo("mousemove", x, at(from.Y), "sleep", "0.1", "mousedown", "1", "sleep", "0.1")
		for up := float32(1); up <= 12; up++ {
			w.xdo("mousemove", x, at(from.Y-up), "sleep", "0.02")
		}
		for wait := 0; wait < 40 && !follows(); wait++ {
			w.xdo("sleep", "0.1")
		}
		if follows() {
			break
		}
		w.xdo("mouseup", "1")
	}
	w.await("the handle to follow the mouse", follows)
	require.NoError(t, c.Process.Signal(ending))
	ended := make(chan error, 1)
	go func() { ended <- c.Wait() }()
	select {
	case err := <-ended:
		require.NoError(t, err, "it ends by itself")
	case <-time.After(time.Minute):
		t.Fatal("it does not end")
	}

	left := app.Recoverable(path)
	require.Len(t, left, 1)
	kept, err := hull.OpenFile(left[0].Path)
	require.NoError(t, err)
	moved := kept.Layers[0].Lines[0].Handles[held].Down
	require.NotEqual(t, line.Handles[held].Down, moved)
	files, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	require.Len(t, files, 2, "the plan and its unsaved work, and no mark that it is open")
	if ending == syscall.SIGHUP && os.Getenv("STRAKEWRIGHT_SCREENSHOTS") != "" {
		again, _ := openOn(t, program, path)
		again.picture("unsaved")
	}
}

// openOn opens the program on a plan, on a screen of its own.
func openOn(t *testing.T, program, plan string) (*realWindow, *exec.Cmd) {
	t.Helper()
	dir, display := t.TempDir(), screen(t, "1366x768")
	w := &realWindow{t: t, display: display, size: "1366x768", probe: filepath.Join(dir, "probe.json"), log: filepath.Join(dir, "log")}
	log, err := os.Create(w.log)
	require.NoError(t, err)
	// Where the tests were started to outlast a hangup, the program would be as well.
	c := exec.Command("env", "--default-signal", program, plan)
	c.Stdout, c.Stderr = log, log
	c.Env = append(os.Environ(), "DISPLAY="+display, "WAYLAND_DISPLAY=", "LIBGL_ALWAYS_SOFTWARE=1", "STRAKEWRIGHT_PROBE="+w.probe,
		"XDG_CACHE_HOME="+filepath.Join(dir, "cache"), "XDG_CONFIG_HOME="+filepath.Join(dir, "config"))
	start(t, c)
	w.await("the window", func() bool { return w.find() && len(w.handles()) > 0 })
	w.xdo("windowmove", w.id, "0", "0")
	w.xdo("windowsize", w.id, "1366", "768")
	w.xdo("windowfocus", w.id)
	w.settle()
	return w, c
}
