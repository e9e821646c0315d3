package app

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"strakewright/hull"
	"strakewright/hull/keep"
)

// keepDelay is how soon after a change the plan is autosaved, and how soon an
// autosave that failed is tried again. Further changes do not put it off, so no
// more than this much work is ever lost.
const keepDelay = 2 * time.Second

// keeper writes the plan to the side, into the session's own recovery file, while
// it has changes that are not saved.
type keeper struct {
	disk  sync.Mutex // held while the file is written or taken away; taken before mu
	alive func()     // lets go of the mark that the file is in use; guarded by disk

	mu    sync.Mutex // guards what follows
	owner keep.Owner
	path  string     // empty where there is nowhere to write
	plan  *hull.Plan // to be written; nil where there is none
	timer *time.Timer
	over  bool // the session is closed
	err   error
	told  []func(error)
}

// note has a plan written soon. It does not wait for the disk.
func (k *keeper) note(p *hull.Plan) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.over {
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
	p := k.plan
	k.plan = nil // what is noted meanwhile is written after
	k.mu.Unlock()
	if p != nil {
		_ = k.put(p) // it is told, and tried again
	}
}

// now writes a plan at once and tells whether it is on the disk.
func (k *keeper) now(p *hull.Plan) error {
	k.disk.Lock()
	defer k.disk.Unlock()
	return k.put(p)
}

// put writes a plan, and tries again later where that fails. disk is held.
func (k *keeper) put(p *hull.Plan) error {
	k.mu.Lock()
	path := k.path
	k.mu.Unlock()
	err := k.writeTo(path, p)
	k.mu.Lock()
	switch {
	case err == nil && k.plan == p:
		k.plan = nil
	case err != nil && k.plan == nil && !k.over && path != "":
		k.plan, k.timer = p, time.AfterFunc(keepDelay, k.write)
	}
	tell := k.failed(err)
	k.mu.Unlock()
	tell()
	return err
}

// errNowhere is why a plan without a file is not autosaved.
var errNowhere = errors.New("autosave: there is no place for it, since the system names no folder for a program's own files; save the plan under a name")

func (k *keeper) writeTo(path string, p *hull.Plan) error {
	if path == "" {
		return errNowhere
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("autosave: %w", err)
	}
	if err := hull.SaveFile(path, p); err != nil {
		return fmt.Errorf("autosave: %w", err)
	}
	k.letGo()
	k.alive = keep.HoldAlive(path)
	return nil
}

// letGo lets go of the mark that the file is in use. disk is held.
func (k *keeper) letGo() {
	if k.alive != nil {
		k.alive()
	}
	k.alive = nil
}

// failed keeps the error of the last writing and gives what tells those who asked
// of a change. mu is held; it is not to be while they are told.
func (k *keeper) failed(err error) (tell func()) {
	changed := (err == nil) != (k.err == nil) || err != nil && err.Error() != k.err.Error()
	k.err = err
	told := k.told
	return func() {
		for _, f := range told {
			if changed {
				f(err)
			}
		}
	}
}

// drop forgets a plan noted and takes the file away.
func (k *keeper) drop() { k.move("") }

// close drops for good.
func (k *keeper) close() {
	k.mu.Lock()
	k.over = true
	k.mu.Unlock()
	k.drop()
}

// move drops, and writes beside another plan's file from now on unless that is
// empty.
func (k *keeper) move(plan string) {
	k.disk.Lock()
	defer k.disk.Unlock()
	k.mu.Lock()
	if k.timer != nil {
		k.timer.Stop()
	}
	k.plan, k.timer = nil, nil
	if k.path != "" {
		_ = os.Remove(k.path) // it may never have been written
		k.letGo()
	}
	if plan != "" && (k.owner != keep.Owner{}) {
		k.path = recoveryPath(plan, k.owner)
	}
	tell := k.failed(nil)
	k.mu.Unlock()
	tell()
}

// AutosaveError tells why the last autosave failed, or nil.
func (s *Session) AutosaveError() error {
	s.keeper.mu.Lock()
	defer s.keeper.mu.Unlock()
	return s.keeper.err
}

// OnAutosave has f called when autosaving begins to fail, with the error, and
// when it is mended, with nil, on the goroutine that wrote. It is tried again
// until it goes well.
func (s *Session) OnAutosave(f func(error)) {
	s.keeper.mu.Lock()
	defer s.keeper.mu.Unlock()
	s.keeper.told = append(s.keeper.told, f)
}

// KeepNow writes the recovery file at once where the plan as it stands, a drag
// under way included, has changes that are not saved. It may be called from any
// goroutine, as when the system asks the program to end.
func (s *Session) KeepNow() error {
	if !s.Changed() {
		return nil
	}
	return s.keeper.now(s.Plan())
}
