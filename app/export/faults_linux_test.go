package export

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/strakewright/strakewright/app/draw/proof"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// childVar makes the test binary write a small set instead of running the
// tests, in the way that it names, into the folder named by childDirVar.
const (
	childVar    = "STRAKEWRIGHT_TEST_SET"
	childDirVar = "STRAKEWRIGHT_TEST_FOLDER"
)

// The marks are names that are looked up where the writing begins and ends, to be
// visible in strace's output.
const (
	beginMark = "/strakewright-begins"
	endMark   = "/strakewright-ends"
)

// init keeps a child on its first thread, the one that strace follows.
func init() {
	if os.Getenv(childVar) != "" {
		runtime.LockOSThread()
	}
}

func TestMain(m *testing.M) {
	if way := os.Getenv(childVar); way != "" {
		os.Exit(child(way, os.Getenv(childDirVar)))
	}
	os.Exit(m.Run())
}

// child writes the skiff's set, and exits with 1 if it cannot.
func child(way, dir string) int {
	if way == "as nobody" {
		if err := errors.Join(unix.Setgid(nobody), unix.Setuid(nobody)); err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 2
		}
	}
	_ = unix.Access(beginMark, 0)
	_, err := writeAll(context.Background(), dir, texts(skiffSet...), true, quiet)
	_ = unix.Access(endMark, 0)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return 0
}

// nobody is the number of an unprivileged user and of its group.
const nobody = 65534

// childOf makes the command of a child.
func childOf(t *testing.T, way, dir string, before ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	words := append(before, self)
	c := exec.Command(words[0], words[1:]...)
	// One Go thread at a time and no interruptions, so that each run makes the same
	// calls.
	c.Env = append(os.Environ(), childVar+"="+way, childDirVar+"="+dir, "GODEBUG=asyncpreemptoff=1", "GOMAXPROCS=1", "GOGC=off")
	return c
}

const notes, marks = "glue on Monday", "her keel, with pencil marks"

// mixed is the coaster's set with a person's additions and changes.
func mixed(t *testing.T, dir string) {
	replaced(t, dir, texts(coasterSet...))
	put(t, dir, "notes.txt", notes)
	put(t, dir, "svg/keel.svg", marks)
}

// scene is a folder into which to write the skiff's set, and what is found
// there before and after.
type scene struct {
	lay      func(t *testing.T, dir string)
	old, new map[string]string
	singly   bool // files are moved one by one: there may be a mixture, with a warning, until it is mended
	begun    bool // and it starts as one
}

// scenes has one for each way in which a set is put in place.
func scenes() map[string]scene {
	coaster, skiff := treeOf(coasterSet...), treeOf(skiffSet...)
	old := with(coaster, "notes.txt", notes, "svg/keel.svg", marks)
	new := with(skiff, "notes.txt", notes, "svg/keel (kept).svg", marks)
	return map[string]scene{
		"a new folder":                    {lay: func(*testing.T, string) {}, new: skiff},
		"an earlier set":                  {lay: func(t *testing.T, dir string) { replaced(t, dir, texts(coasterSet...)) }, old: coaster, new: skiff},
		"a person's files beside a set":   {lay: mixed, old: old, new: new, singly: true},
		"what a killed run left half way": {lay: halfWay, old: old, new: new, singly: true, begun: true},
	}
}

// halfWay has a run killed after it has moved everything out and a part in.
func halfWay(t *testing.T, dir string) {
	mixed(t, dir)
	var renames []call
	for _, c := range callsOf(t, mixed) {
		if c.name == "renameat" {
			renames = append(renames, c)
		}
	}
	// The first one renames the journal; then four go out and one aside.
	require.Greater(t, len(renames), 8)
	strace(t, dir, renames[8], "signal=KILL")
	there := filesOf(treeIfAny(t, dir))
	assert.Equal(t, "the skiff", there["booklet.pdf"])
	assert.NotContains(t, there, listName)
	assert.Equal(t, warning, there[warningName])
}

// TestEverySystemCallFails: whichever system call fails while a set is written,
// the folder holds either entirely what was there or entirely the new set, as
// the exit code says; and the next run works and leaves nothing behind.
func TestEverySystemCallFails(t *testing.T) {
	everyCall(t, func(c call) (bool, string) {
		if c.name == "write" {
			return true, "error=ENOSPC"
		}
		return true, "error=EIO"
	}, func(t *testing.T, s scene, dir string, exit int) {
		there := filesOf(treeIfAny(t, dir))
		want := s.old
		if exit == 0 {
			want = s.new
		}
		if _, warned := there[warningName]; !s.begun || !warned || exit == 0 {
			assert.Equal(t, filesOf(want), there)
		}
	})
}

// TestKilledAtEverySystemCall is the same for a run that is killed. A mixture is
// found only where files must be moved one by one, and then with a warning; the
// next run restores what was there before it does anything else. Calls that
// change nothing are skipped: being killed there is the same as being killed at
// the next.
func TestKilledAtEverySystemCall(t *testing.T) {
	changing := []string{"openat", "write", "fsync", "mkdirat", "renameat", "renameat2", "unlinkat", "fchmod", "fchmodat", "flock"}
	everyCall(t, func(c call) (bool, string) {
		return slices.Contains(changing, c.name), "signal=KILL"
	}, func(t *testing.T, s scene, dir string, exit int) {
		assert.Equal(t, -1, exit)
		there := filesOf(treeIfAny(t, dir))
		if _, warned := there[warningName]; !s.singly || !warned {
			assert.Contains(t, []map[string]string{filesOf(s.old), filesOf(s.new)}, there)
		}
		at, err := targetOf(dir)
		require.NoError(t, err)
		w, err := at.begin()
		require.NoError(t, err)
		w.leave()
		assert.Contains(t, []map[string]string{s.old, s.new}, treeIfAny(t, dir))
	})
}

// everyCall writes a set once for each chosen system call, with what strace is
// to do at it.
func everyCall(t *testing.T, choose func(call) (bool, string), check func(t *testing.T, s scene, dir string, exit int)) {
	proof.Installed(t, "strace")
	for name, s := range scenes() {
		t.Run(name, func(t *testing.T) {
			model := quickDir(t)
			s.lay(t, filepath.Join(model, "bench"))
			lay := func(t *testing.T, dir string) { require.NoError(t, os.CopyFS(filepath.Dir(dir), os.DirFS(model))) }
			chosen := make(chan call)
			var wg sync.WaitGroup
			for range runtime.NumCPU() {
				wg.Go(func() {
					for c := range chosen {
						_, doing := choose(c)
						t.Run(strings.ReplaceAll(c.String(), "/", "-"), func(t *testing.T) {
							dir, exit := struck(t, lay, c, doing)
							check(t, s, dir, exit)
							replaced(t, dir, texts(skiffSet...))
							assert.Equal(t, filesOf(s.new), filesOf(tree(t, dir)))
							beside, err := os.ReadDir(filepath.Dir(dir))
							require.NoError(t, err)
							assert.Len(t, beside, 1, "nothing is left beside it")
						})
					}
				})
			}
			count := 0
			for _, c := range callsOf(t, lay) {
				if yes, _ := choose(c); yes {
					chosen <- c
					count++
				}
			}
			close(chosen)
			wg.Wait()
			t.Logf("%d calls", count)
			assert.Greater(t, count, 30)
		})
	}
}

// call is a system call: the nth of its name.
type call struct {
	name string
	n    int
}

func (c call) String() string { return fmt.Sprintf("%s %d", c.name, c.n) }

// ofGo are calls that Go makes for itself, and can do without.
var ofGo = regexp.MustCompile(`^(futex|m?unmap|mmap|madvise|mprotect|brk|rt_sig\w+|sigaltstack|nanosleep|sched_\w+|tgkill|get\w+|epoll_\w+|eventfd2|fcntl|clone3?|clock_\w+|restart_syscall)$`)

// callsOf gives the calls of a run that writes the skiff's set into a prepared
// folder; those for anything above the folder are left out.
func callsOf(t *testing.T, lay func(*testing.T, string)) []call {
	t.Helper()
	dir := filepath.Join(quickDir(t), "bench")
	lay(t, dir)
	noted := dir + ".calls"
	out, err := childOf(t, "write", dir, proof.Installed(t, "strace"), "-o", noted).CombinedOutput()
	require.NoError(t, err, string(out))
	data, err := os.ReadFile(noted)
	require.NoError(t, err)
	var calls []call
	counts, within := map[string]int{}, false
	path := regexp.MustCompile(`"(/[^"]*)"`)
	for line := range strings.Lines(string(data)) {
		name, _, isCall := strings.Cut(line, "(")
		if !isCall || strings.ContainsAny(name, " +-") {
			continue
		}
		counts[name]++
		named := path.FindStringSubmatch(line)
		switch {
		case strings.Contains(line, beginMark):
			within = true
		case strings.Contains(line, endMark):
			within = false
		case within && !ofGo.MatchString(name) && (named == nil || strings.HasPrefix(named[1], filepath.Dir(dir))):
			calls = append(calls, call{name, counts[name]})
		}
	}
	require.NotEmpty(t, calls)
	return calls
}

// struck prepares a folder, writes the skiff's set into it and does something at
// a call. On a busy machine Go's runtime occasionally makes one call more or
// fewer of its own, for example a write that wakes its poller: then it happens
// at a different call, or at none, and everything is tried again in another
// folder.
func struck(t *testing.T, lay func(*testing.T, string), at call, doing string) (dir string, exit int) {
	t.Helper()
	const tries = 25
	for range tries {
		dir = filepath.Join(quickDir(t), "bench")
		lay(t, dir)
		exit, meant, told := strace(t, dir, at, doing)
		if meant && exit <= 1 {
			return dir, exit
		}
		t.Logf("exit %d: %s", exit, told)
	}
	t.Fatalf("%s: %s was not done there in %d tries", at, doing, tries)
	return "", 0
}

// strace writes the skiff's set into a folder and does something at a call. It
// returns the exit code, -1 where the run was killed, whether that call was
// reached, and the output.
func strace(t *testing.T, dir string, at call, doing string) (exit int, meant bool, told string) {
	t.Helper()
	noted := filepath.Join(quickDir(t), "calls")
	c := childOf(t, "write", dir, proof.Installed(t, "strace"), "-o", noted, "-e", "trace="+at.name, "-e", fmt.Sprintf("inject=%s:%s:when=%d", at.name, doing, at.n))
	out, _ := c.CombinedOutput() // the exit code says
	data, err := os.ReadFile(noted)
	require.NoError(t, err)
	exit = c.ProcessState.ExitCode()
	if strings.HasPrefix(doing, "error") {
		return exit, strings.Contains(string(data), "(INJECTED)"), string(out)
	}
	return exit, exit == -1, string(out)
}

// quickDir is a temporary folder, in memory where the system has a place for
// that: the calls are the same, without waiting for a disk.
func quickDir(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("/dev/shm", "strakewright-")
	if err != nil {
		return t.TempDir()
	}
	t.Cleanup(func() { assert.NoError(t, os.RemoveAll(dir)) })
	return dir
}

// filesOf drops the folders from a tree, which do no harm when empty.
func filesOf(tree map[string]string) map[string]string {
	out := map[string]string{}
	for name, text := range tree {
		if !strings.HasSuffix(name, "/") && !strings.HasPrefix(name, hidden) {
			out[name] = text
		}
	}
	return out
}

// treeIfAny is the tree of a folder; nil where there is none.
func treeIfAny(t *testing.T, dir string) map[string]string {
	t.Helper()
	if there, err := exists(dir); err == nil && !there {
		return nil
	}
	return tree(t, dir)
}
