//go:build linux

package trial

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// stranger is the user as whom it is tried to write where one may not: that which
// owns nothing, as a rule.
const stranger = 65534

func permissions() []trial {
	return []trial{{name: "permission", does: "folders and files that may not be read, or not be written: told, and nothing lost", full: 120, needs: noStranger, once: forbidden}}
}

func noStranger(*workshop) string {
	if os.Geteuid() != 0 {
		return "it takes root to try it as another user"
	}
	return ""
}

// bars are ways in which something may not be done, as the modes of the plan, of its
// folder and of the source.
var bars = []struct {
	name                 string
	plan, folder, source os.FileMode
	owned                bool // the files and the folder belong to the user who tries
}{
	{"a folder read only", 0o644, 0o555, 0o644, true},
	{"a folder of another", 0o644, 0o755, 0o644, false},
	{"a plan read only", 0o444, 0o755, 0o644, true},
	{"a plan of another in a folder for all", 0o644, 0o777, 0o644, false},
	{"a plan that cannot be read", 0o000, 0o755, 0o644, true},
	{"a source that cannot be read", 0o644, 0o755, 0o000, true},
	{"a folder that cannot be entered", 0o644, 0o600, 0o644, true},
	{"a folder that cannot be listed", 0o644, 0o311, 0o644, true},
	{"nothing at all", 0o000, 0o000, 0o000, true},
}

func forbidden(a *attempt) error {
	bar := bars[a.n%len(bars)]
	at := a.in("disk")
	if err := os.Mkdir(at, 0o755); err != nil {
		return err
	}
	for from, to := range map[string]string{"skiff.strakeplan": "disk/plan.strakeplan", "skiff.csv": "skiff.csv"} {
		if _, _, err := a.asset(from, to); err != nil {
			return err
		}
	}
	a.uid = stranger
	home := a.in("home")
	if err := os.Mkdir(home, 0o700); err != nil {
		return err
	}
	a.env = append(a.env, "HOME="+home)
	for path, mode := range map[string]os.FileMode{filepath.Join(at, "plan.strakeplan"): bar.plan, a.in("skiff.csv"): bar.source, at: bar.folder, home: 0o700} {
		if bar.owned || path == home {
			if err := os.Chown(path, stranger, stranger); err != nil {
				return err
			}
		}
		if err := os.Chmod(path, mode); err != nil {
			return err
		}
	}
	defer func() { _ = os.Chmod(at, 0o755) }() // so that it can be taken away
	was, err := contents(at)
	if err != nil {
		return err
	}
	r := a.run(pick(a.rng, writers...)...)
	if err := r.plain(); err != nil {
		return fmt.Errorf("%s: %w", bar.name, err)
	}
	is, err := contents(at)
	if err != nil {
		return err
	}
	c := changes(was, is)
	if r.code == 1 && len(c) > 0 {
		return fmt.Errorf("%s: it was refused, and yet %.5q: %v", bar.name, c, r)
	}
	for name, text := range is {
		if strings.HasPrefix(filepath.Base(name), ".") {
			return fmt.Errorf("%s: %s is left: %v", bar.name, name, r)
		}
		if old, there := was[name]; there && old[:10] != text[:10] {
			return fmt.Errorf("%s: the mode of %s went from %s to %s: %v", bar.name, name, old[:10], text[:10], r)
		}
	}
	return nil
}
