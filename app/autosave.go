package app

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"

	"strakewright/hull"
)

const (
	// keepDelay is how soon after a change the plan is autosaved. Further
	// changes do not put it off, so no more than this much work is ever lost.
	keepDelay = 2 * time.Second

	autosaveSuffix = ".autosave"
	unsavedPrefix  = "unsaved-"
)

// keeper writes the plan to the side while it has changes that are not saved.
type keeper struct {
	disk sync.Mutex // held while the file is written or taken away; taken before mu

	mu    sync.Mutex // guards what follows
	path  string     // empty where there is nowhere to write
	plan  *hull.Plan // to be written; nil where there is none
	timer *time.Timer
	err   error
}

// note has a plan written soon. It does not wait for the disk.
func (k *keeper) note(p *hull.Plan) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.path == "" {
		return
	}
	if k.plan == nil {
		k.timer = time.AfterFunc(keepDelay, k.write)
	}
	k.plan = p
}

// write writes the plan noted last, if it is not dropped meanwhile.
func (k *keeper) write() {
	k.disk.Lock()
	defer k.disk.Unlock()
	k.mu.Lock()
	p, path := k.plan, k.path
	k.plan = nil
	k.mu.Unlock()
	if p == nil {
		return
	}
	err := writeAutosave(path, p)
	k.mu.Lock()
	k.err = err
	k.mu.Unlock()
}

func writeAutosave(path string, p *hull.Plan) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("autosave: %w", err)
	}
	if err := hull.SaveFile(path, p); err != nil {
		return fmt.Errorf("autosave: %w", err)
	}
	return nil
}

// drop forgets a plan noted and takes the file away.
func (k *keeper) drop() { k.move("") }

// move drops, and writes to another path from now on unless it is empty.
func (k *keeper) move(path string) {
	k.disk.Lock()
	defer k.disk.Unlock()
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.timer != nil {
		k.timer.Stop()
	}
	k.plan, k.timer, k.err = nil, nil, nil
	if k.path != "" {
		_ = os.Remove(k.path) // it may never have been written
	}
	if path != "" {
		k.path = path
	}
}

// AutosaveError tells why the last autosave failed, or nil.
func (s *Session) AutosaveError() error {
	s.keeper.mu.Lock()
	defer s.keeper.mu.Unlock()
	return s.keeper.err
}

// autosavePath is where a plan is autosaved: beside its file, or, while it has
// none, in the user's cache under the number of the process. It is empty where
// there is no such place.
func autosavePath(plan string) string {
	if plan != "" {
		return filepath.Join(filepath.Dir(plan), "."+filepath.Base(plan)+autosaveSuffix)
	}
	dir := unsavedFolder()
	if dir == "" {
		return ""
	}
	return filepath.Join(dir, unsavedPrefix+strconv.Itoa(os.Getpid())+Extension+autosaveSuffix)
}

func unsavedFolder() string {
	cache, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	return filepath.Join(cache, "strakewright")
}

// Recoverable finds the autosave that a program which did not end well left of
// a plan: one that is not older than the plan's file and holds something else.
// For an empty path it is the latest of a plan that was never saved.
func Recoverable(path string) (autosave string, ok bool) {
	if path == "" {
		return recoverableUnsaved()
	}
	autosave = autosavePath(path)
	left, err := os.Stat(autosave)
	if err != nil {
		return "", false
	}
	kept, err := hull.OpenFile(autosave)
	if err != nil {
		return "", false
	}
	if file, err := os.Stat(path); err == nil {
		if left.ModTime().Before(file.ModTime()) {
			return "", false
		}
		if plan, err := hull.OpenFile(path); err == nil && same(plan, kept) {
			return "", false
		}
	}
	return autosave, true
}

// recoverableUnsaved finds the latest autosave without a plan's file whose
// process runs no longer.
func recoverableUnsaved() (autosave string, ok bool) {
	found, err := filepath.Glob(filepath.Join(unsavedFolder(), unsavedPrefix+"*"+Extension+autosaveSuffix))
	if err != nil {
		return "", false
	}
	var latest time.Time
	for _, f := range found {
		info, err := os.Stat(f)
		if err != nil || running(f) || !info.ModTime().After(latest) {
			continue
		}
		if _, err := hull.OpenFile(f); err == nil {
			autosave, latest = f, info.ModTime()
		}
	}
	return autosave, autosave != ""
}

// running tells whether the process that writes an unsaved plan's autosave
// still runs.
func running(autosave string) bool {
	name := strings.TrimPrefix(filepath.Base(autosave), unsavedPrefix)
	pid, err := strconv.Atoi(strings.TrimSuffix(name, Extension+autosaveSuffix))
	if err != nil {
		return false
	}
	return processRuns(pid)
}

// Recover takes over an autosave, as one step to undo. The plan then differs
// from its file until it is saved.
func (s *Session) Recover(autosave string) error {
	kept, err := hull.OpenFile(autosave)
	if err != nil {
		return err
	}
	err = s.Edit("recover what was not saved", func(p *hull.Plan) error { *p = *kept; return nil })
	if err == nil && autosave != s.autosave() {
		s.keeper.write() // before what it is of is taken away
		err = Discard(autosave)
	}
	return err
}

func (s *Session) autosave() string {
	s.keeper.mu.Lock()
	defer s.keeper.mu.Unlock()
	return s.keeper.path
}

// Discard takes away an autosave that is not wanted.
func Discard(autosave string) error {
	if !strings.HasSuffix(autosave, autosaveSuffix) {
		return fmt.Errorf("%s is no autosave", autosave)
	}
	if err := os.Remove(autosave); err != nil {
		return fmt.Errorf("autosave: %w", err)
	}
	return nil
}
