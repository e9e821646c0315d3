//go:build linux

package trial

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"regexp"
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

// goTest runs a test of the project and gives what it said.
func (w *workshop) goTest(env []string, words ...string) (string, error) {
	c := exec.CommandContext(w.ctx, "go", append([]string{"test", "-count=1", "-v", "-timeout=3h", "-vet=off"}, words...)...)
	c.Dir = w.Root
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
	const steps, each = 500, 10 // on the average, and runs between two words of how far it is
	for n := uint64(0); made < count && w.ctx.Err() == nil; n++ {
		runs := min(each, (count-made+steps-1)/steps)
		out, err := w.goTest(nil, "-run=^TestAnyActionsAreTakenBack$", "./app/window", "-rapid.nofailfile",
			fmt.Sprintf("-rapid.checks=%d", runs), fmt.Sprintf("-rapid.steps=%d", min(steps, count)), fmt.Sprintf("-rapid.seed=%d", 100*w.Seed+n+1))
		more, failed := ended(out, err, `(\d+) actions`)
		made += more
		failures = append(failures, failed...)
		w.Tell("%-18s %d of %d, %d failed", "actions", made, count, len(failures))
		if more == 0 {
			break // it failed, or there is no such test
		}
	}
	if w.ctx.Err() != nil {
		return made, nil // it was stopped, and did not fail
	}
	return made, failures
}

// races looks for races where goroutines share something: the random actions once more,
// and the tests of what is autosaved and shared.
func races(w *workshop, count int) (int, []string) {
	// not -short, with which rapid makes a fifth of the checks, and of two none
	out, err := w.goTest(nil, "-race", "-run=^TestAnyActionsAreTakenBack$", "./app/window", "-rapid.nofailfile", "-rapid.checks=2",
		fmt.Sprintf("-rapid.steps=%d", (count+1)/2), fmt.Sprintf("-rapid.seed=%d", w.Seed))
	made, failures := ended(out, err, `(\d+) actions`)
	out, err = w.goTest(nil, "-race", "-short", "./app/autosave", "./app/history", "./hull/keep")
	made += strings.Count(out, "--- PASS: ")
	_, failed := ended(out, err, `^(\d+)^`)
	return made, append(failures, failed...)
}
