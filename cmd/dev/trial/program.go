//go:build linux

package trial

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"time"
	"unicode"
)

const (
	mostProcessor = 5 * time.Second // for a file that is spoilt
	hung          = 2 * time.Minute // by the clock: it counts as never ending
)

// ran is what a run of the program came to.
type ran struct {
	args      []string
	code      int
	out, said string        // to standard output and standard error
	took      time.Duration // of processor time
	killed    bool
}

func (r ran) String() string {
	return fmt.Sprintf("%q: exit %d, said %.300q", r.args, r.code, r.said)
}

// usualEnv is what a program that is tried finds about it.
func (w *workshop) usualEnv() []string {
	return []string{"PATH=" + os.Getenv("PATH"), "HOME=" + w.home, "GOMAXPROCS=2", "LC_ALL=C.UTF-8", "WAYLAND_DISPLAY="}
}

// command is a run of the program in the attempt's folder, in a process group of
// its own.
func (a *attempt) command(ctx context.Context, args ...string) *exec.Cmd {
	c := exec.CommandContext(ctx, a.Program, args...)
	c.Dir = a.dir
	c.Env = slices.Concat(a.usualEnv(), a.env)
	c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGKILL}
	if a.uid != 0 {
		c.SysProcAttr.Credential = &syscall.Credential{Uid: uint32(a.uid), Gid: uint32(a.uid)}
	}
	c.Cancel = func() error { return syscall.Kill(-c.Process.Pid, syscall.SIGKILL) }
	c.WaitDelay = time.Second
	return c
}

// run runs the program to its end.
func (a *attempt) run(args ...string) ran {
	return a.runKilled(func(<-chan struct{}) bool { return false }, args...)
}

// runKilled runs the program, and kills it when a function returns true. The
// function is given a channel that is closed when the program ends, and is to return
// then.
func (a *attempt) runKilled(when func(ended <-chan struct{}) bool, args ...string) ran {
	ctx, stop := context.WithTimeout(a.ctx, hung)
	defer stop()
	var out, said bytes.Buffer
	c := a.command(ctx, args...)
	c.Stdout, c.Stderr = &out, &said
	r := ran{args: args, code: -1}
	if err := c.Start(); err != nil {
		r.said = err.Error()
		return r
	}
	ended, judged := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(judged)
		if when(ended) {
			_ = syscall.Kill(-c.Process.Pid, syscall.SIGKILL) // it may have ended by now
		}
	}()
	_ = c.Wait() // its state tells
	close(ended)
	<-judged
	state := c.ProcessState
	r.code, r.out, r.said = state.ExitCode(), out.String(), said.String()
	r.took = state.UserTime() + state.SystemTime()
	if s, ok := state.Sys().(syscall.WaitStatus); ok && s.Signaled() && s.Signal() == syscall.SIGKILL {
		r.killed = ctx.Err() == nil
		if !r.killed {
			r.said += fmt.Sprintf("\n(it did not end within %v)", hung)
		}
	}
	return r
}

var (
	progress = regexp.MustCompile(`^strakewright: (\d+ of \d+: |.+, \d+ s so far; Ctrl\+C stops it$)`)
	sentence = regexp.MustCompile(`^strakewright: .*[.?]$`)
	innards  = regexp.MustCompile(`(?m)^(panic:|fatal error:|goroutine \d+|runtime error|SIG[A-Z]+: )`)
)

// told are the lines that were said, without those about progress.
func (r ran) told() []string {
	var out []string
	for line := range strings.Lines(r.said) {
		if line = strings.TrimSuffix(line, "\n"); !progress.MatchString(line) {
			out = append(out, line)
		}
	}
	return out
}

// plain tells what is wrong with what a run said, whatever it did: it ends by itself,
// with 0 or 1 in little time, shows nothing of its innards, and steers no terminal.
func (r ran) plain() error {
	switch {
	case r.code != 0 && r.code != 1:
		return fmt.Errorf("it ended with %d: %v", r.code, r)
	case innards.MatchString(r.said):
		return fmt.Errorf("it showed its innards: %v", r)
	case r.took > mostProcessor:
		return fmt.Errorf("it took %v of processor time: %v", r.took, r)
	}
	for _, text := range []string{r.out, r.said} {
		if i := strings.IndexFunc(text, steers); i >= 0 {
			return fmt.Errorf("it printed a character that steers a terminal: %q", text[max(0, i-20):min(len(text), i+20)])
		}
	}
	if r.code == 1 {
		return r.oneSentence()
	}
	return nil
}

// steers tells whether a character may steer a terminal or turn text round.
func steers(r rune) bool {
	const turnsRound = "\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
	return r != '\n' && r != '\t' && unicode.IsControl(r) || strings.ContainsRune(turnsRound, r) || r == unicode.ReplacementChar
}

// oneSentence tells what is wrong with a refusal. Only check says more than one
// sentence: a line a fault.
func (r ran) oneSentence() error {
	told := r.told()
	switch {
	case len(told) == 0:
		return fmt.Errorf("it failed and said nothing: %v", r)
	case len(told) > 1 && !slices.Contains(r.args, "check"):
		return fmt.Errorf("it said more than one sentence: %v", r)
	}
	for _, line := range told {
		if !sentence.MatchString(line) || len(line) > 1000 {
			return fmt.Errorf("that is no plain sentence: %.1200q", line)
		}
	}
	return nil
}

// well is an error where a run did not end with 0.
func (r ran) well() error {
	if err := r.plain(); err != nil {
		return err
	}
	if r.code != 0 {
		return fmt.Errorf("it was refused: %v", r)
	}
	return nil
}

// contents are all files below a folder, by name, with what is in them; folders end
// in a slash, links have an arrow and where they lead. Each has its mode before it.
func contents(dir string) (map[string]string, error) {
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || path == dir {
			return err
		}
		name, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		mode := info.Mode().String() + " "
		switch {
		case d.IsDir():
			out[name+"/"] = mode
		case d.Type()&os.ModeSymlink != 0:
			to, err := os.Readlink(path)
			out[name] = mode + "-> " + to
			return err
		default:
			text, err := os.ReadFile(path)
			out[name] = mode + string(text)
			return err
		}
		return nil
	})
	return out, err
}

// changes tells how a folder differs from what it was, in a few words a file; empty
// where it does not.
func changes(was, is map[string]string) []string {
	var out []string
	for name, text := range is {
		before, there := was[name]
		switch {
		case !there:
			out = append(out, fmt.Sprintf("%q is new", name))
		case before != text:
			out = append(out, fmt.Sprintf("%q is changed", name))
		}
	}
	for name := range was {
		if _, there := is[name]; !there {
			out = append(out, fmt.Sprintf("%q is gone", name))
		}
	}
	slices.SortFunc(out, cmp.Compare)
	return out
}

// untouched is an error where the attempt's folder is not as it was, but for some
// names.
func (a *attempt) untouched(was map[string]string, but ...string) error {
	is, err := contents(a.dir)
	if err != nil {
		return err
	}
	changed := slices.DeleteFunc(changes(was, is), func(c string) bool {
		return slices.ContainsFunc(but, func(name string) bool { return strings.HasPrefix(c, fmt.Sprintf("%q is ", name)) })
	})
	if len(changed) > 0 {
		return fmt.Errorf("the folder is not as it was: %s", strings.Join(changed[:min(len(changed), 6)], ", "))
	}
	return nil
}

// asset copies one of the project's demo files into the attempt's folder.
func (a *attempt) asset(name, as string) (path string, text []byte, err error) {
	text, err = os.ReadFile(filepath.Join(a.Root, "assets", name))
	if err != nil {
		return "", nil, fmt.Errorf("the demo file %s: %w", name, err)
	}
	path = a.in(as)
	return path, text, os.WriteFile(path, text, 0o644)
}
