//go:build linux

package trial

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// Some trials are tests of the project that are told how much to do, since they look
// at the program from within.
func projectTests() []trial {
	return []trial{
		{name: "pictures", does: "spoilt files, pictures (PNG, JPEG) and tracings: read or refused in one line", full: 2000, whole: spoiltPictures},
		{name: "actions", does: "random actions on the window (mouse, keys, menus, fields, amid drags and dialogs); undo then gives the first plan byte for byte", full: 20000, whole: anyActions},
		{name: "races", does: "tests of sessions, autosave and window under the race detector, with random actions among them (with `--race`)", full: 400, whole: races, needs: func(w *workshop) string {
			if !w.Race {
				return "it takes --race"
			}
			return ""
		}},
	}
}

// goTest runs tests of the project and gives what they said.
func (w *workshop) goTest(env []string, words ...string) (string, error) {
	return w.told(w.Root, env, "go", append([]string{"test", "-count=1", "-v", "-timeout=3h", "-vet=off"}, words...)...)
}

// told runs a program in a folder, with more in its environment, and gives what it said.
func (w *workshop) told(dir string, env []string, name string, words ...string) (string, error) {
	c := exec.CommandContext(w.ctx, name, words...)
	c.Dir = dir
	c.Env = append(append(os.Environ(), "CGO_ENABLED=1"), env...)
	c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	c.Cancel = func() error { return syscall.Kill(-c.Process.Pid, syscall.SIGKILL) }
	c.WaitDelay = time.Second
	var out bytes.Buffer
	c.Stdout, c.Stderr = &out, &out
	err := c.Run()
	if w.ctx.Err() != nil {
		return out.String(), context.Cause(w.ctx)
	}
	return out.String(), err
}

// ended makes a result of a run: as many as a pattern tells, in its first group, and
// the end of what was said where it failed.
func ended(out string, err error, pattern string) (made int, failures []string) {
	for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(out, -1) {
		n, _ := strconv.Atoi(m[1]) // the pattern takes digits alone
		made += n
	}
	if err != nil {
		const most = 4000
		failures = append(failures, fmt.Sprintf("%v: %s", err, out[max(0, len(out)-most):]))
	}
	return made, failures
}

func spoiltPictures(w *workshop, count int) (int, []string) {
	env := []string{fmt.Sprintf("STRAKEWRIGHT_TEST_SPOILT=%d,%d", count, w.Seed)}
	out, err := w.goTest(env, "-run=^TestSpoiltPicturesAreRefusedOrRead$", "./app/trace")
	return ended(out, err, `(\d+) spoilt`)
}

// anyActions does random actions in runs of some hundreds, each in a window of its own.
func anyActions(w *workshop, count int) (made int, failures []string) {
	const runs = 10 // between two words of how far it is
	return w.actions("actions", count, runs)
}

// actions does random actions, in so many runs at a time, by the window's tests as they
// are built with flags.
func (w *workshop) actions(name string, count, most int, flags ...string) (made int, failures []string) {
	const steps = 500 // of a run, on the average
	tests := filepath.Join(w.dir, name+".test")
	if out, err := w.goTest(nil, slices.Concat(flags, []string{"-c", "-o", tests, "./app/window"})...); err != nil {
		return ended(out, err, `^(\d+)^`)
	}
	for n := uint64(0); made < count && w.ctx.Err() == nil; n++ {
		runs := min(most, (count-made+steps-1)/steps)
		out, err := w.told(filepath.Join(w.Root, "app", "window"), nil, tests, "-test.v", "-test.timeout=3h", "-test.run=^TestAnyActionsAreTakenBack$", "-rapid.nofailfile",
			fmt.Sprintf("-rapid.checks=%d", runs), fmt.Sprintf("-rapid.steps=%d", min(steps, count)), fmt.Sprintf("-rapid.seed=%d", 100*w.Seed+n+1))
		if w.ctx.Err() != nil {
			break // it was stopped, and did not fail
		}
		more, failed := ended(out, err, `(\d+) actions`)
		made += more
		failures = append(failures, failed...)
		w.Tell("%-18s %d of %d, %d failed", name, made, count, len(failures))
		if more == 0 {
			break // it failed, or there is no such test
		}
	}
	return made, failures
}

// races looks for races where goroutines share something: the random actions once more,
// and the tests of what is autosaved and shared.
func races(w *workshop, count int) (int, []string) {
	made, failures := w.actions("races", count, 1, "-race") // not -short, with which rapid makes no check of one
	out, err := w.goTest(nil, "-race", "-short", "./app/autosave", "./app/history", "./hull/keep")
	if w.ctx.Err() != nil {
		return made, failures
	}
	made += strings.Count(out, "--- PASS: ")
	_, failed := ended(out, err, `^(\d+)^`)
	return made, append(failures, failed...)
}
