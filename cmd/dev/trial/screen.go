//go:build linux

package trial

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// noScreen tells why no window can be opened here.
func noScreen(*workshop) string {
	for _, tool := range []string{"Xvfb", "xdotool"} {
		if _, err := exec.LookPath(tool); err != nil {
			return tool + " is not installed"
		}
	}
	return ""
}

// The size of the screens, and of the windows that fill them.
const (
	screenWidth  = 1366
	screenHeight = 768
)

// screen is an X server of our own that nobody sees, kept for all attempts; which
// tells those apart that stand at the same time.
func (w *workshop) screen(which int) (display string, err error) {
	return kept(w, fmt.Sprintf("screen %d", which), func() (string, error) {
		reads, writes, err := os.Pipe()
		if err != nil {
			return "", err
		}
		defer reads.Close()
		c := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", fmt.Sprintf("%dx%dx24", screenWidth, screenHeight), "-nolisten", "tcp", "-noreset")
		c.ExtraFiles = []*os.File{writes}
		c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
		err = c.Start()
		_ = writes.Close()
		if err != nil {
			return "", err
		}
		w.atClose(func() {
			_ = c.Process.Signal(syscall.SIGTERM)
			_ = c.Wait() // it was ended
		})
		line, err := bufio.NewReader(reads).ReadString('\n')
		if err != nil {
			return "", fmt.Errorf("the X server gives no display: %w", err)
		}
		return ":" + strings.TrimSpace(line), nil
	})
}

// window is the program's window on a screen of its own.
type window struct {
	a       *attempt
	c       *exec.Cmd
	ended   chan struct{}
	display string
	id      string
	probe   string
	log     string
}

// handle is a handle of a line as the program tells it, in pixels from the corner.
type handle struct {
	View  string
	Line  int
	Frame string
	X, Y  float64
}

// open opens the program's window on a plan, and waits until it stands still.
func (a *attempt) open(which int, args ...string) (*window, error) {
	display, err := a.screen(which)
	if err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp(a.workshop.dir, "window")
	if err != nil {
		return nil, err
	}
	w := &window{a: a, display: display, probe: filepath.Join(dir, "probe"), log: filepath.Join(dir, "log"), ended: make(chan struct{})}
	log, err := os.Create(w.log)
	if err != nil {
		return nil, err
	}
	defer log.Close()
	w.c = a.command(context.WithoutCancel(a.ctx), args...)
	w.c.Stdout, w.c.Stderr = log, log
	own := []string{"DISPLAY=" + display, "LIBGL_ALWAYS_SOFTWARE=1", "MESA_SHADER_CACHE_DISABLE=true", "STRAKEWRIGHT_PROBE=" + w.probe,
		"XDG_CACHE_HOME=" + filepath.Join(dir, "cache"), "XDG_CONFIG_HOME=" + filepath.Join(dir, "config")}
	if slices.ContainsFunc(a.env, func(v string) bool { return strings.HasPrefix(v, "HOME=") }) {
		own = own[:4] // the odd home is to be used
	}
	w.c.Env = slices.Concat(a.usualEnv(), own, a.env)
	if err := w.c.Start(); err != nil {
		return nil, err
	}
	go func() {
		_ = w.c.Wait() // its state tells
		close(w.ended)
	}()
	if err := w.stands(); err != nil {
		w.kill()
		return nil, fmt.Errorf("the window does not come: %w; it said %.300q", err, w.said())
	}
	return w, nil
}

// stands waits until the window is there, and gives it its place and size.
func (w *window) stands() error {
	if err := w.await(func() bool { return w.find() && len(w.tells().Handles) > 0 }); err != nil {
		return err
	}
	for _, words := range [][]string{{"windowmove", w.id, "0", "0"}, {"windowsize", w.id, strconv.Itoa(screenWidth), strconv.Itoa(screenHeight)}, {"windowfocus", w.id}} {
		if err := w.xdo(words...); err != nil {
			return err
		}
	}
	last, looks := "", 0
	return w.await(func() bool {
		now := w.tells()
		if all := fmt.Sprint(now); all != last {
			last, looks = all, 0
		}
		looks++
		const still = 8
		return now.Size == [2]int{screenWidth, screenHeight} && looks > still
	})
}

// said is what the program said.
func (w *window) said() string {
	text, _ := os.ReadFile(w.log) // it says nothing then
	return string(text)
}

// kill ends it at once.
func (w *window) kill() {
	_ = syscall.Kill(-w.c.Process.Pid, syscall.SIGKILL) // it may have ended
	<-w.ended
}

// end asks it to end, as the system does.
func (w *window) end() error {
	_ = w.c.Process.Signal(syscall.SIGTERM) // it may have ended
	select {
	case <-w.ended:
		if code := w.c.ProcessState.ExitCode(); code != 0 {
			return fmt.Errorf("the window ended with %d and said %.300q", code, w.said())
		}
		return nil
	case <-time.After(time.Minute):
		w.kill()
		return errors.New("the window does not end when it is asked to")
	}
}

func (w *window) find() bool {
	c := exec.Command("xdotool", "search", "--all", "--onlyvisible", "--pid", strconv.Itoa(w.c.Process.Pid), "--name", "Strakewright$")
	c.Env = append(os.Environ(), "DISPLAY="+w.display)
	out, err := c.Output()
	w.id = strings.TrimSpace(string(out))
	return err == nil && w.id != "" && !strings.Contains(w.id, "\n")
}

func (w *window) xdo(words ...string) error {
	c := exec.Command("xdotool", words...)
	c.Env = append(os.Environ(), "DISPLAY="+w.display)
	if out, err := c.CombinedOutput(); err != nil {
		return fmt.Errorf("xdotool %q: %w: %s", words, err, out)
	}
	return nil
}

// probed is what the program tells of its window.
type probed struct {
	Handles []handle
	Size    [2]int
}

func (w *window) tells() probed {
	var out probed
	text, err := os.ReadFile(w.probe)
	if err != nil || json.Unmarshal(text, &out) != nil {
		return probed{}
	}
	return out
}

// await waits for something to come true, two minutes at most.
func (w *window) await(done func() bool) error {
	for end := time.Now().Add(hung); ; {
		select {
		case <-w.ended:
			return fmt.Errorf("it ended with %d", w.c.ProcessState.ExitCode())
		case <-w.a.ctx.Done():
			return context.Cause(w.a.ctx)
		case <-time.After(30 * time.Millisecond):
		}
		if done() {
			return nil
		}
		if time.Now().After(end) {
			return errors.New("waited in vain")
		}
	}
}

// handleOf is the first line's handle on a frame in the profile.
func (w *window) handleOf(frame string) (handle, bool) {
	for _, h := range w.tells().Handles {
		if h.View == "profile" && h.Line == 0 && h.Frame == frame {
			return h, true
		}
	}
	return handle{}, false
}

// drag moves a handle up or down by so many pixels.
func (w *window) drag(h handle, by int) error {
	x, y := int(math.Round(h.X)), int(math.Round(h.Y))
	words := []string{"mousemove", strconv.Itoa(x), strconv.Itoa(y), "sleep", "0.03", "mousedown", "1", "sleep", "0.03"}
	for _, part := range []int{by / 2, by} {
		words = append(words, "mousemove", strconv.Itoa(x), strconv.Itoa(y+part), "sleep", "0.03")
	}
	return w.xdo(append(words, "mouseup", "1")...)
}
