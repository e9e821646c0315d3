//go:build linux

package trial

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"
)

func fileFaults() []trial {
	return []trial{
		{name: "vanishing", does: "a file that vanishes, is cut short, replaced or made a folder while it is read", full: 200, short: 2, once: vanishing},
		{name: "links-modes", does: "symbolic links (also broken, in rings, in chains) and modes: kept by every writer", full: 100, short: 2, once: linksAndModes},
	}
}

// vanishing changes the plan or the source while a command reads it: the command goes
// by the one or the other, and what it says it wrote is there.
func vanishing(a *attempt) error {
	for _, name := range []string{"skiff.strakeplan", "skiff.csv"} {
		if _, _, err := a.asset(name, name); err != nil {
			return err
		}
	}
	if err := os.Mkdir(a.in("disk"), 0o755); err != nil {
		return err
	}
	if _, _, err := a.asset("skiff.strakeplan", "disk/plan.strakeplan"); err != nil {
		return err
	}
	path := a.in(pick(a.rng, "skiff.csv", "disk/plan.strakeplan", "disk/plan.strakeplan"))
	fault := pick(a.rng, "gone", "short", "other", "folder", "touched")
	const most = 60 * time.Millisecond
	wait := time.Duration(a.rng.Int64N(int64(most)))
	var failed error
	r := a.runKilled(func(ended <-chan struct{}) bool {
		if after(wait)(ended) {
			failed = disturbed(path, fault, a.rng.Int64N(9000))
		}
		return false
	}, pick(a.rng, writers...)...)
	if failed != nil {
		return failed
	}
	if err := r.plain(); err != nil {
		return fmt.Errorf("%s %s: %w", filepath.Base(path), fault, err)
	}
	for name := range strings.Lines(namesIn(a.in("disk")) + namesIn(a.dir)) {
		if strings.HasPrefix(name, ".") {
			return fmt.Errorf("%s %s: %q is left: %v", filepath.Base(path), fault, name, r)
		}
	}
	return nil
}

// disturbed does something to a file that another program reads.
func disturbed(path, fault string, at int64) error {
	switch fault {
	case "gone":
		return os.Remove(path)
	case "short":
		return os.Truncate(path, at)
	case "other":
		return os.WriteFile(path, []byte("frame,x_mm,y_mm,z_mm\n"), 0o644)
	case "folder":
		if err := os.Remove(path); err != nil {
			return err
		}
		return os.Mkdir(path, 0o755)
	}
	soon := time.Now().Add(time.Hour)
	return os.Chtimes(path, soon, soon)
}

// linked are kinds of link to a plan: what makes one at a path, and whether the plan
// can be reached by it.
var linked = []struct {
	name  string
	make  func(a *attempt) error
	leads bool
}{
	{"relative", func(a *attempt) error { return os.Symlink("real/plan.strakeplan", a.in("link.strakeplan")) }, true},
	{"absolute", func(a *attempt) error { return os.Symlink(a.in("real/plan.strakeplan"), a.in("link.strakeplan")) }, true},
	{"chain", func(a *attempt) error {
		if err := os.Symlink("real", a.in("step")); err != nil {
			return err
		}
		if err := os.Symlink("step/plan.strakeplan", a.in("one")); err != nil {
			return err
		}
		return os.Symlink("one", a.in("link.strakeplan"))
	}, true},
	{"broken", func(a *attempt) error { return os.Symlink("real/nothing", a.in("link.strakeplan")) }, false},
	{"ring", func(a *attempt) error {
		if err := os.Symlink("link.strakeplan", a.in("round")); err != nil {
			return err
		}
		return os.Symlink("round", a.in("link.strakeplan"))
	}, false},
}

// throughLinks are command lines that write through the link.
var throughLinks = [][]string{
	{"record", "link.strakeplan", "note", "--side", "port", "--strake", "1.01", "--doing", "glued"},
	{"take-off", "skiff.csv", "-o", "link.strakeplan", "--replace"},
	{"line", "link.strakeplan", "-o", "link.strakeplan", "--replace"},
	{"rules", "link.strakeplan", "--set", "least_width=0.4", "-o", "link.strakeplan", "--replace"},
}

func linksAndModes(a *attempt) error {
	if err := os.Mkdir(a.in("real"), 0o755); err != nil {
		return err
	}
	plan, text, err := a.asset("skiff.strakeplan", "real/plan.strakeplan")
	if err != nil {
		return err
	}
	if _, _, err := a.asset("skiff.csv", "skiff.csv"); err != nil {
		return err
	}
	mode := pick(a.rng, os.FileMode(0o644), 0o600, 0o640, 0o664, 0o666, 0o755)
	if err := os.Chmod(plan, mode); err != nil {
		return err
	}
	kind := linked[a.n%len(linked)]
	if err := kind.make(a); err != nil {
		return err
	}
	was, err := contents(a.dir)
	if err != nil {
		return err
	}
	r := a.run(pick(a.rng, throughLinks...)...)
	if err := r.plain(); err != nil {
		return fmt.Errorf("%s link: %w", kind.name, err)
	}
	if kind.leads && r.code != 0 {
		return fmt.Errorf("%s link: %v", kind.name, r)
	}
	info, err := os.Stat(plan)
	if err != nil {
		return err
	}
	if info.Mode().Perm() != mode {
		return fmt.Errorf("%s link: the plan's mode went from %v to %v: %v", kind.name, mode, info.Mode().Perm(), r)
	}
	is, err := os.ReadFile(plan)
	if err != nil {
		return err
	}
	if kind.leads == bytes.Equal(is, text) {
		return fmt.Errorf("%s link: it leads to the plan: %v; the plan was written: %v: %v", kind.name, kind.leads, !kind.leads, r)
	}
	return a.untouched(was, "real/plan.strakeplan", "real/nothing")
}
