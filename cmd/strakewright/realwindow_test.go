//go:build linux

package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw/proof"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source"
	"github.com/strakewright/strakewright/loft"
)

// TestRealWindow runs the real program on a screen that nobody sees, drags a
// handle of the demo plan with the mouse, saves with the keyboard, and holds
// what was saved, and the strake table that the shell prints of it, against
// what is computed without a window. With STRAKEWRIGHT_SCREENSHOTS naming a
// folder it leaves a picture of each step there.
func TestRealWindow(t *testing.T) {
	program := windowProgram(t)
	for _, size := range []string{"1366x768", "1920x1080"} {
		t.Run(size, func(t *testing.T) { dragInWindow(t, program, size) })
	}
}

// windowProgram builds the real program for a test that opens its window.
func windowProgram(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("it opens a real window")
	}
	needScreen(t)
	return built(t)
}

// needScreen skips the test where there is nothing to make a screen and a mouse
// with, or fails it where STRAKEWRIGHT_EXTERNAL asks for all checks.
func needScreen(t testing.TB) {
	t.Helper()
	proof.Installed(t, "Xvfb")
	proof.Installed(t, "xdotool")
}

func dragInWindow(t *testing.T, program, size string) {
	path := demoPlan(t)
	before := planked(t, path)
	line := before.Plan.Layers[0].Lines[0]
	held := heldFrame(&line)
	frame := before.Plan.Hull.Frames[held].Name

	w := openWindow(t, program, path, size)
	w.picture("opened")
	from := w.handle(frame)
	const up = 20 // pixels
	w.drag(from, up)
	w.await("the handle to follow the mouse", func() bool {
		return math.Abs(float64(from.Y-up)-float64(w.handle(frame).Y)) < 1.5
	})
	w.picture("dragged")
	w.key("ctrl+s")
	w.await("the plan to be saved", func() bool { return planned(path, held) != line.Handles[held].Down })

	after := planked(t, path)
	checkMoved(t, before, after, held, up/w.scale(before))
	checkTable(t, program, path, before, after, frame)

	w.key("ctrl+z")
	w.await("the handle to go back", func() bool { return math.Abs(float64(from.Y-w.handle(frame).Y)) < 0.5 })
	w.key("ctrl+s")
	w.await("the plan to be as it was", func() bool { return planned(path, held) == line.Handles[held].Down })
	require.Equal(t, before.Plan, planked(t, path).Plan)
	w.picture("undone")
}

// heldFrame is the frame of a handle through which a line runs: the hold handle
// of a free line, else the held one nearest the middle of the hull.
func heldFrame(b *hull.BandLine) int {
	if b.LineType == hull.Free {
		return b.Hold
	}
	best, mid := -1, len(b.Handles)/2
	for i, h := range b.Handles {
		if h.Held && (best < 0 || max(i-mid, mid-i) < max(best-mid, mid-best)) {
			best = i
		}
	}
	return best
}

// checkMoved holds the saved plan against the drag: only that handle has
// moved, and by so many mm of height in the profile.
func checkMoved(t *testing.T, before, after *loft.Planking, frame int, mm float64) {
	t.Helper()
	moved := after.Plan.Layers[0].Lines[0].Handles[frame].Down
	same := before.Plan.Clone()
	same.Layers[0].Lines[0].Handles[frame].Down = moved
	require.Equal(t, same, after.Plan, "the drag moves one handle and nothing else")
	s := before.Layers[0].Surface
	rise := s.AtDown(frame, moved).Z() - s.AtDown(frame, before.Plan.Layers[0].Lines[0].Handles[frame].Down).Z()
	require.InDelta(t, mm, rise, 0.1*mm, "the handle rose by as much as the mouse did, to two of twenty pixels")
}

// checkTable holds the strake table that the program prints of the saved plan
// against the one computed here, and that against the drag: the strakes of the
// band above share the girth down to the handle.
func checkTable(t *testing.T, program, path string, before, after *loft.Planking, frame string) {
	t.Helper()
	out, err := exec.Command(program, "strakes", path, "--json").Output()
	require.NoError(t, err)
	var printed answer.Strakes
	require.NoError(t, json.Unmarshal(out, &printed))
	computed, err := json.Marshal(answer.StrakesOf(after))
	require.NoError(t, err)
	require.JSONEq(t, string(computed), string(out))
	require.NotEqual(t, answer.StrakesOf(before).Rows(), printed.Rows())

	sum := 0.0
	for _, s := range printed.Strakes {
		for _, c := range s.At {
			if s.Layer <= 1 && s.Band == 1 && c.Frame == frame {
				sum += c.WidthFrame
			}
		}
	}
	require.InDelta(t, planned(path, after.Plan.Hull.FrameNamed(frame)), sum, 1e-3)
}

// planned is how far down a saved plan's first handle on a frame is, or NaN
// while it cannot be read.
func planned(path string, frame int) float64 {
	p, _, err := source.Open(path)
	if err != nil {
		return math.NaN()
	}
	return p.Layers[0].Lines[0].Handles[frame].Down
}

func planked(t testing.TB, path string) *loft.Planking {
	t.Helper()
	p, _, err := source.Open(path)
	require.NoError(t, err)
	k, err := loft.Plank(p)
	require.NoError(t, err)
	return k
}

// realWindow is the program's window on a screen of its own.
type realWindow struct {
	t       testing.TB
	display string
	id      string
	probe   string // the file in which the program tells where its handles are
	frames  string // the file in which it tells which frame showed which move of the mouse
	log     string
	size    string
}

// probed is a handle as the program tells it, in pixels from the window's
// corner.
type probed struct {
	View  string
	Line  int
	Frame string
	X, Y  float32
}

// openWindow opens the program on a plan, filling a screen of that size.
func openWindow(t testing.TB, program, plan, size string) *realWindow {
	t.Helper()
	dir := t.TempDir()
	w := &realWindow{t: t, display: screen(t, size), size: size,
		probe: filepath.Join(dir, "probe.json"), frames: filepath.Join(dir, "frames.json"), log: filepath.Join(dir, "log")}
	log, err := os.Create(w.log)
	require.NoError(t, err)
	c := exec.Command(program, plan)
	c.Stdout, c.Stderr = log, log
	c.Env = append(os.Environ(), "DISPLAY="+w.display, "WAYLAND_DISPLAY=", "LIBGL_ALWAYS_SOFTWARE=1", "STRAKEWRIGHT_PROBE="+w.probe, "STRAKEWRIGHT_FRAMES="+w.frames,
		"XDG_CACHE_HOME="+filepath.Join(dir, "cache"), "XDG_CONFIG_HOME="+filepath.Join(dir, "config"))
	start(t, c)
	w.await("the window", func() bool { return w.find() && len(w.handles()) > 0 })
	width, height, _ := strings.Cut(size, "x")
	w.xdo("windowmove", w.id, "0", "0")
	w.xdo("windowsize", w.id, width, height)
	w.xdo("windowfocus", w.id)
	w.settle()
	return w
}

// start starts a program that ends with the test.
func start(t testing.TB, c *exec.Cmd) {
	t.Helper()
	require.NoError(t, c.Start())
	t.Cleanup(func() {
		_ = c.Process.Kill()
		_ = c.Wait() // it was killed
	})
}

// find looks for the window.
func (w *realWindow) find() bool {
	out, err := w.command("xdotool", "search", "--onlyvisible", "--name", "Strakewright$").Output()
	w.id = strings.TrimSpace(string(out))
	return err == nil && w.id != "" && !strings.Contains(w.id, "\n")
}

func (w *realWindow) command(name string, args ...string) *exec.Cmd {
	c := exec.Command(name, args...)
	c.Env = append(os.Environ(), "DISPLAY="+w.display)
	return c
}

func (w *realWindow) xdo(args ...string) {
	w.t.Helper()
	out, err := w.command("xdotool", args...).CombinedOutput()
	require.NoError(w.t, err, "xdotool %v: %s", args, out)
}

// key presses keys in the window that has the focus.
func (w *realWindow) key(keys string) {
	w.t.Helper()
	w.xdo("windowfocus", "--sync", w.id, "key", keys)
}

// drag takes hold of a handle and moves it up by so many pixels, one by one.
func (w *realWindow) drag(h probed, up int) {
	w.t.Helper()
	x, y := int(math.Round(float64(h.X))), int(math.Round(float64(h.Y)))
	at := func(y int) { w.xdo("mousemove", fmt.Sprint(x), fmt.Sprint(y), "sleep", "0.02") }
	at(y)
	w.xdo("mousedown", "1", "sleep", "0.05")
	for i := 1; i <= up; i++ {
		at(y - i)
	}
	w.xdo("sleep", "0.2", "mouseup", "1")
}

// told is what the program tells of its window.
type told struct {
	Handles []probed
	Size    [2]int // pixels
}

// tells reads it; empty while it has not been told whole.
func (w *realWindow) tells() told {
	var out told
	data, err := os.ReadFile(w.probe)
	if err != nil || json.Unmarshal(data, &out) != nil {
		return told{}
	}
	return out
}

func (w *realWindow) handles() []probed { return w.tells().Handles }

// handle is the first line's handle on a frame in the profile. The program
// writes its places anew all the while, and one that was read half written is
// read again.
func (w *realWindow) handle(frame string) (found probed) {
	w.t.Helper()
	w.await("the handle on frame "+frame, func() bool {
		for _, h := range w.handles() {
			if h.View == "profile" && h.Line == 0 && h.Frame == frame {
				found = h
				return true
			}
		}
		return false
	})
	return found
}

// scale is the profile's pixels a mm, from two frames far apart.
func (w *realWindow) scale(k *loft.Planking) float64 {
	w.t.Helper()
	frames := k.Plan.Hull.Frames
	a, b := frames[1], frames[len(frames)-2]
	s := float64(w.handle(b.Name).X-w.handle(a.Name).X) / (b.X() - a.X())
	require.NotZero(w.t, s)
	return math.Abs(s)
}

// settle waits until the window has its size and the handles have stayed in
// their places for thirty looks, which on a busy machine come as slowly as what
// is looked at.
func (w *realWindow) settle() {
	w.t.Helper()
	last, looks := "", 0
	w.await("the window to settle", func() bool {
		now := w.tells()
		if all := fmt.Sprint(now); all != last {
			last, looks = all, 0
		}
		looks++
		return fmt.Sprintf("%dx%d", now.Size[0], now.Size[1]) == w.size && looks > 30
	})
}

// await waits for something to come true, five minutes at most.
func (w *realWindow) await(what string, done func() bool) {
	w.t.Helper()
	for deadline := time.Now().Add(5 * time.Minute); !done(); time.Sleep(50 * time.Millisecond) {
		if time.Now().After(deadline) {
			w.picture("waiting")
			log, _ := os.ReadFile(w.log)
			w.t.Fatalf("waited in vain for %s; the program said %q", what, log)
		}
	}
}

// picture leaves a picture of the screen, if that is asked for.
func (w *realWindow) picture(name string) {
	if dir := os.Getenv("STRAKEWRIGHT_SCREENSHOTS"); dir != "" {
		out := filepath.Join(dir, w.size+"-"+name+".png")
		if err := w.command("import", "-window", "root", out).Run(); err != nil {
			w.t.Logf("no picture: %v", err)
		}
	}
}
