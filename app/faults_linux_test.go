package app

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"

	"github.com/strakewright/strakewright/app/draw/proof"
	"github.com/strakewright/strakewright/hull"
)

// strace makes system calls fail in one thread of a process that saves and
// notes only on that thread.

// faultProcess in the environment makes this test's program be that process.
const faultProcess = "STRAKEWRIGHT_TEST_FAULTS"

// faultDoings are what the process can be told to do to a plan. The plan is
// opened beforehand, unless opening is part of it.
var faultDoings = map[string]func(path string) (do func() error, err error){
	"save": func(path string) (func() error, error) {
		s, err := Open(path)
		if err != nil {
			return nil, err
		}
		return s.Save, s.Edit("title", title("Hoy"))
	},
	"note": func(path string) (func() error, error) {
		return func() error {
			return Amend(faultContext, path, func() {}, func(s *Session) error { return s.Note(hull.Port, gluedOn("2026-03-01", "1.01")) })
		}, nil
	},
	"window's note": func(path string) (func() error, error) {
		s, err := Open(path)
		if err != nil {
			return nil, err
		}
		return func() error { return s.Note(hull.Port, gluedOn("2026-03-01", "1.01")) }, nil
	},
}

var faultContext = context.Background()

// TestFaultProcess is not a test of its own: it is the process whose calls fail.
// It prints the number of its thread, and then does what it is told, a line at a
// time.
func TestFaultProcess(t *testing.T) {
	if os.Getenv(faultProcess) == "" {
		t.Skip("started by another test alone")
	}
	// Where the system lets only a parent trace a process, this one permits anyone.
	_ = unix.Prctl(unix.PR_SET_PTRACER, unix.PR_SET_PTRACER_ANY, 0, 0, 0)
	tasks, done := make(chan func(), 1), make(chan bool)
	go func() {
		runtime.LockOSThread()
		for f := range tasks {
			f()
			done <- true
		}
	}()
	run := func(f func()) { tasks <- f; <-done }
	thread := 0
	run(func() { thread = unix.Gettid() })
	fmt.Printf("thread %d\n", thread)
	lines := bufio.NewScanner(os.Stdin)
	for lines.Scan() {
		doing, path, _ := strings.Cut(lines.Text(), ":")
		do, err := faultDoings[doing](path)
		fmt.Println("ready")
		if lines.Scan(); err == nil {
			run(func() { err = do() })
		}
		fmt.Printf("done %q\n", fmt.Sprint(err))
	}
}

// faulty is that process as seen from here.
type faulty struct {
	t      *testing.T
	c      *exec.Cmd
	in     io.WriteCloser
	lines  chan string // its output; closed at its end
	thread string
}

func startFaulty(t *testing.T) *faulty {
	t.Helper()
	f := &faulty{t: t, c: exec.Command(os.Args[0], "-test.run=^TestFaultProcess$"), lines: make(chan string, 8)}
	f.c.Env = append(os.Environ(), faultProcess+"=1")
	var err error
	f.in, err = f.c.StdinPipe()
	require.NoError(t, err)
	out, err := f.c.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, f.c.Start())
	go func() {
		defer close(f.lines)
		for s := bufio.NewScanner(out); s.Scan(); {
			f.lines <- s.Text()
		}
	}()
	f.thread = strings.TrimPrefix(f.hears("thread "), "thread ")
	t.Cleanup(f.end)
	return f
}

func (f *faulty) end() {
	_ = f.in.Close()
	_ = f.c.Process.Kill()
	for range f.lines {
	}
	_ = f.c.Wait()
}

// hears waits for a line that begins with prefix; it returns an empty one if
// the process ends, or falls silent and is ended.
func (f *faulty) hears(prefix string) string {
	f.t.Helper()
	end := time.After(time.Minute)
	for {
		select {
		case line, ok := <-f.lines:
			if !ok || strings.HasPrefix(line, prefix) {
				return line
			}
		case <-end:
			_ = f.c.Process.Kill() // it may have ended just now
			return ""
		}
	}
}

// does has the process do something to a plan under strace, and returns what
// the process says about it; killed is true if it says nothing any more.
func (f *faulty) does(doing, path string, strace ...string) (said string, killed bool) {
	f.t.Helper()
	say := func(line string) { _, _ = fmt.Fprintln(f.in, line) } // it may be killed at any time
	say(doing + ":" + path)
	require.Equal(f.t, "ready", f.hears("ready"))
	c := exec.Command("strace", append([]string{"-p", f.thread}, strace...)...)
	told, err := c.StderrPipe()
	require.NoError(f.t, err)
	require.NoError(f.t, c.Start())
	defer func() {
		_ = c.Process.Kill() // if it has not ended
		_ = c.Wait()
	}()
	r := bufio.NewReader(told)
	line, err := r.ReadString('\n')
	require.NoError(f.t, err, line)
	require.Contains(f.t, line, "attached")
	rest := make(chan bool)
	go func() {
		_, _ = io.Copy(io.Discard, r) // otherwise it would wait to be read, and the process for it
		close(rest)
	}()
	say("go")
	said = f.hears("done ")
	_ = c.Process.Signal(syscall.SIGINT) // it detaches
	<-rest
	if said == "" {
		return "", true
	}
	said, err = strconv.Unquote(strings.TrimPrefix(said, "done "))
	require.NoError(f.t, err)
	return said, false
}

// until tries a fault until the process is killed, or is not, as it should be, and
// starts it again if it was. On a busy machine Go's runtime occasionally makes one
// call more or fewer of its own on the thread, for example a write that wakes its
// poller: then the fault hits a different call, and if that is one of Go's own the
// process ends. A fault of ours shows every time.
func (f *faulty) until(killed bool, fault string, try func() (killed bool)) {
	f.t.Helper()
	const tries = 25
	for range tries {
		was := try()
		if was && !killed {
			f.end()
			*f = *startFaulty(f.t)
		}
		if was == killed {
			return
		}
	}
	f.t.Fatalf("%s: the process was to be killed: %v, and was not so in %d tries", fault, killed, tries)
}

// ownCalls are those that the Go runtime makes for itself, and cannot do
// without.
var ownCalls = regexp.MustCompile(`^(futex|nanosleep|clock_nanosleep|sched_yield|madvise|mmap|munmap|mprotect|rt_sig.*|epoll_.*|getpid|gettid|tgkill|clone.*|sigaltstack|restart_syscall|exit.*|eventfd2)$`)

// calls counts the calls, by name, that an action makes.
func calls(t *testing.T, f *faulty, doing, path string) map[string]int {
	t.Helper()
	trace := filepath.Join(t.TempDir(), "trace")
	said, _ := f.does(doing, path, "-o", trace)
	require.Equal(t, "<nil>", said)
	data, err := os.ReadFile(trace)
	require.NoError(t, err)
	out := map[string]int{}
	for _, m := range regexp.MustCompile(`(?m)^([a-z0-9_]+)\(`).FindAllStringSubmatch(string(data), -1) {
		if !ownCalls.MatchString(m[1]) {
			out[m[1]]++
		}
	}
	for _, must := range []string{"flock", "write", "fsync", "renameat"} {
		require.Positive(t, out[must], "%s in %v", must, out)
	}
	require.GreaterOrEqual(t, out["fsync"], 2, "of the file and of its folder")
	return out
}

// states are a plan before an action and after it.
type states struct {
	before   []byte
	old, new *hull.Plan
}

func statesOf(t *testing.T, doing string) states {
	t.Helper()
	path := benchPlan(t)
	before, err := os.ReadFile(path)
	require.NoError(t, err)
	old, err := hull.OpenFile(path)
	require.NoError(t, err)
	do, err := faultDoings[doing](path)
	require.NoError(t, err)
	require.NoError(t, do())
	now, err := hull.OpenFile(path)
	require.NoError(t, err)
	return states{before, old, now}
}

// put writes the plan as it was before to a folder of its own.
func (s states) put(t *testing.T, dir string) string {
	t.Helper()
	dir, err := os.MkdirTemp(dir, "")
	require.NoError(t, err)
	path := filepath.Join(dir, "barge.strakeplan")
	require.NoError(t, os.WriteFile(path, s.before, 0o644))
	return path
}

// hold asserts that the file is the old plan or the new one, and the new one if
// the process said so.
func (s states) hold(t *testing.T, path, said string, about ...any) {
	t.Helper()
	p, err := hull.OpenFile(path)
	if !assert.NoError(t, err, about...) {
		return
	}
	isNew := same(p, s.new)
	assert.True(t, isNew || same(p, s.old), about...)
	switch {
	case said == "<nil>":
		assert.True(t, isNew, about...)
	case strings.HasPrefix(said, ErrNotKept.Error()):
		assert.True(t, same(p, s.old), about...)
	case strings.HasPrefix(said, "it is noted, but not in the file yet"):
		left, err := filepath.Glob(filepath.Join(filepath.Dir(path), ".*.autosave"))
		assert.NoError(t, err)
		if assert.Len(t, left, 1, about...) {
			p, err := hull.OpenFile(left[0])
			assert.NoError(t, err, about...)
			assert.True(t, same(p, s.new), about...)
		}
	}
}

// TestEveryCallFails: every system call that a save or a note makes fails once;
// the file is then the old one or the new one, and whatever was reported as saved
// is there.
func TestEveryCallFails(t *testing.T) {
	proof.Installed(t, "strace")
	for _, doing := range slices.Sorted(maps.Keys(faultDoings)) {
		t.Run(doing, func(t *testing.T) {
			t.Parallel()
			s, dir := statesOf(t, doing), t.TempDir()
			f := startFaulty(t)
			counts := calls(t, f, doing, s.put(t, dir))
			refused, made := 0, 0
			for _, call := range slices.Sorted(maps.Keys(counts)) {
				errors := []string{"EIO"}
				if call == "write" {
					errors = append(errors, "ENOSPC")
				}
				for n := range counts[call] {
					for _, e := range errors {
						fault := fmt.Sprintf("inject=%s:error=%s:when=%d", call, e, n+1)
						var path, said string
						f.until(false, fault, func() (killed bool) {
							path = s.put(t, dir)
							said, killed = f.does(doing, path, "-o", os.DevNull, "-e", fault)
							return killed
						})
						s.hold(t, path, said, "%s: %s", fault, said)
						made++
						if said != "<nil>" {
							refused++
						}
					}
				}
			}
			t.Logf("%d faults, %d of them told", made, refused)
			require.Positive(t, refused)
		})
	}
}

// TestKilledAtEveryCall: a note is killed at every call that changes anything. The
// file is the old one or the new one; the next note is not blocked, and removes
// what was left.
func TestKilledAtEveryCall(t *testing.T) {
	proof.Installed(t, "strace")
	const doing = "note"
	s, dir := statesOf(t, doing), t.TempDir()
	counts := calls(t, startFaulty(t), doing, s.put(t, dir))
	for _, call := range []string{"flock", "write", "fchmod", "fsync", "renameat", "unlinkat"} {
		for n := range counts[call] {
			fault := fmt.Sprintf("inject=%s:signal=KILL:when=%d", call, n+1)
			f := startFaulty(t)
			var path string
			f.until(true, fault, func() (killed bool) {
				path = s.put(t, dir)
				_, killed = f.does(doing, path, "-o", os.DevNull, "-e", fault)
				return killed
			})
			f.end()
			s.hold(t, path, "", fault)
			note := gluedOn("2026-03-02", "1.02")
			require.NoError(t, Amend(t.Context(), path, func() {}, func(s *Session) error { return s.Note(hull.Port, note) }), fault)
			files, err := os.ReadDir(filepath.Dir(path))
			require.NoError(t, err)
			require.Len(t, files, 1, fault)
		}
	}
}
