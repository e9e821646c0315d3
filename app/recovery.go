package app

import (
	"cmp"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/keep"
)

const (
	autosaveSuffix = ".autosave"
	unsavedName    = "unsaved"  // begins the names of recovery files of plans without a file
	unsavedPrefix  = "unsaved-" // and of those from earlier versions, before the number of the process
)

// Recovery is a plan with unsaved changes, left by a run of the program that
// ended before it could ask.
type Recovery struct {
	Path  string    // of the recovery file
	Kept  time.Time // when it was written
	Saved time.Time // when the plan's file was last written; zero for a plan without one
	Host  string    // the other computer that wrote it, and may still have the plan open; otherwise empty
}

// recoveryPath is where unsaved changes are kept: beside the plan's file
// or, while it has none, in the user's cache. It is empty where there is no such
// place.
func recoveryPath(plan string, owner keep.Owner) string {
	if plan != "" {
		return keep.Beside(plan, owner.String()+autosaveSuffix)
	}
	dir := unsavedFolder()
	if dir == "" {
		return ""
	}
	return filepath.Join(dir, unsavedName+"."+owner.String()+Extension+autosaveSuffix)
}

func unsavedFolder() string {
	dir, err := keep.OwnFolder()
	if err != nil {
		return ""
	}
	return dir
}

// Recoverable finds all changes to a plan that were left unsaved by runs of the
// program that have ended, the latest first; for an empty path, those to plans
// that never had a file. It leaves out the file of a run that is still going,
// and one that holds the same as the plan's file.
func Recoverable(path string) []Recovery {
	var saved time.Time
	var plan *hull.Plan
	if path != "" {
		if info, err := os.Stat(path); err == nil {
			saved = info.ModTime()
		}
		plan, _ = hull.OpenFile(path) // nil if it cannot be read: then everything may be useful
	}
	var out []Recovery
	for _, r := range leftOf(path) {
		info, err := os.Stat(r.Path)
		if err != nil {
			continue
		}
		kept, err := hull.OpenFile(r.Path)
		switch {
		case err != nil: // perhaps from a later version: it stays for that
		case plan != nil && same(plan, kept):
			if r.Host == "" {
				_ = os.Remove(r.Path) // everything was saved before the program ended
			}
		default:
			r.Kept, r.Saved = info.ModTime(), saved
			out = append(out, r)
		}
	}
	slices.SortFunc(out, func(a, b Recovery) int {
		if c := b.Kept.Compare(a.Kept); c != 0 {
			return c
		}
		return cmp.Compare(a.Path, b.Path)
	})
	return out
}

// leftOf finds the recovery files of a plan that no run of the program is
// using.
func leftOf(path string) []Recovery {
	var out []Recovery
	add := func(dir, prefix, suffix string) {
		for _, name := range namesIn(dir) {
			rest, ok := strings.CutPrefix(name, prefix)
			rest, ends := strings.CutSuffix(rest, suffix)
			owner, parsed := keep.ParseOwner(rest)
			file := filepath.Join(dir, name)
			if !ok || !ends || !parsed || keep.InUse(file) {
				continue
			}
			switch {
			case !owner.Here():
				out = append(out, Recovery{Path: file, Host: owner.Host})
			case owner.Gone():
				out = append(out, Recovery{Path: file})
			}
		}
	}
	if path == "" {
		dir := unsavedFolder()
		if dir == "" {
			return nil
		}
		add(dir, unsavedName+".", Extension+autosaveSuffix)
		return append(out, earlierUnsaved(dir)...)
	}
	dir, any := filepath.Split(keep.Beside(path, ""))
	add(filepath.Clean(dir), any, autosaveSuffix)
	return append(out, earlierOf(path)...)
}

// namesIn lists the names in a folder; nothing where it cannot be read.
func namesIn(dir string) []string {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

// earlierOf finds the recovery file that earlier versions kept for a plan, one
// for all who had it open, beside the file or beside the link to it. While anyone
// has the plan open it may be in use.
func earlierOf(path string) []Recovery {
	var out []Recovery
	if _, open := OpenedElsewhere(path); open {
		return nil
	}
	places := []string{keep.RealPath(path)}
	if abs, err := filepath.Abs(path); err == nil && abs != places[0] {
		places = append(places, abs)
	}
	for _, at := range places {
		file := filepath.Join(filepath.Dir(at), "."+filepath.Base(at)+autosaveSuffix)
		if _, err := os.Lstat(file); err == nil {
			out = append(out, Recovery{Path: file})
		}
	}
	return out
}

// earlierUnsaved finds those that earlier versions kept for plans without a
// file and whose process no longer runs.
func earlierUnsaved(dir string) []Recovery {
	var out []Recovery
	for _, name := range namesIn(dir) {
		rest, ok := strings.CutPrefix(name, unsavedPrefix)
		rest, ends := strings.CutSuffix(rest, Extension+autosaveSuffix)
		pid, err := strconv.Atoi(rest)
		if ok && ends && err == nil && !keep.ProcessRuns(pid, keep.ProcessStart(pid)) {
			out = append(out, Recovery{Path: filepath.Join(dir, name)})
		}
	}
	return out
}

// Story says in a few sentences what was found, and when.
func (r Recovery) Story() string {
	var b strings.Builder
	b.WriteString(tongue.T("Changes of %s were not saved before the program ended.", tongue.Moment(r.Kept)))
	switch {
	case r.Saved.IsZero():
		b.WriteString(tongue.T("\nThe plan was never saved under a name."))
	case r.Saved.After(r.Kept):
		b.WriteString(tongue.T("\nThe plan's file is later: it was written on %s.\nRestoring shows the unsaved work in its place; the file stays as it is until you save.", tongue.Moment(r.Saved)))
	default:
		b.WriteString(tongue.T("\nThe plan's file is earlier: it was written on %s.", tongue.Moment(r.Saved)))
	}
	if r.Host != "" {
		b.WriteString(tongue.T("\nThey were made on another computer, %s, where the plan may still be open:\nlook there before you discard them.", r.Host))
	}
	return b.String()
}

// Recover restores unsaved work as one step to undo. The plan then differs from its
// file until it is saved. The recovery file is removed once the plan is kept in one of its
// own, unless another computer may still use it.
func (s *Session) Recover(r Recovery) error {
	kept, err := hull.OpenFile(r.Path)
	if err != nil {
		return err
	}
	if err := s.Edit(tongue.T("restore unsaved work"), func(p *hull.Plan) error { *p = *kept; return nil }); err != nil {
		return err
	}
	if !s.Changed() {
		return nil // by now it holds the same as the file
	}
	if err := s.KeepNow(); err != nil {
		return err
	}
	if r.Host != "" {
		return nil
	}
	return Discard(r)
}

// Discard removes unsaved work that is not wanted.
func Discard(r Recovery) error {
	if !strings.HasSuffix(r.Path, autosaveSuffix) {
		return tongue.Errorf("%s is not a recovery file", r.Path)
	}
	if err := os.Remove(r.Path); err != nil {
		return tongue.Errorf("recovery file: %w", err)
	}
	return nil
}
