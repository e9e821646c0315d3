package app

import (
	"errors"
	"os"
	"path/filepath"
	"sync"

	"github.com/strakewright/strakewright/app/autosave"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/keep"
)

// keeper writes the plan to the session's own recovery file while it has unsaved
// changes.
type keeper struct {
	*autosave.Saver[*hull.Plan]
	alive func() // releases the mark that the file is in use; used only by the saver

	mu    sync.Mutex // guards what follows
	owner keep.Owner
	path  string // empty where there is nowhere to write
}

// newKeeper is the keeper for a plan's file, for a session.
func newKeeper(plan string) *keeper {
	k := &keeper{owner: keep.NewOwner()}
	k.path = recoveryPath(plan, k.owner)
	k.Saver = autosave.New(k.write, func(err error) bool { return !errors.Is(err, errNowhere) })
	return k
}

// errNowhere is why a plan without a file is not autosaved.
var errNowhere = tongue.New("autosave: there is no place for it, since the system names no folder for a program's own files; save the plan under a name")

// write writes the recovery file.
func (k *keeper) write(p *hull.Plan) error {
	k.mu.Lock()
	path := k.path
	k.mu.Unlock()
	if path == "" {
		return errNowhere
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return tongue.Errorf("autosave: %w", err)
	}
	if err := hull.SaveFile(path, p); err != nil {
		return tongue.Errorf("autosave: %w", err)
	}
	k.letGo()
	k.alive = keep.HoldAlive(path)
	return nil
}

// letGo releases the mark that the file is in use.
func (k *keeper) letGo() {
	if k.alive != nil {
		k.alive()
	}
	k.alive = nil
}

// drop forgets a plan that was noted and removes the file.
func (k *keeper) drop() { k.Drop(k.remove) }

// close drops for good.
func (k *keeper) close() { k.Close(k.remove) }

// remove removes the file.
func (k *keeper) remove() {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.path != "" {
		_ = os.Remove(k.path) // it may never have been written
		k.letGo()
	}
}

// move drops, and from now on writes beside another plan's file.
func (k *keeper) move(plan string) {
	k.Drop(func() {
		k.remove()
		k.mu.Lock()
		defer k.mu.Unlock()
		if (k.owner != keep.Owner{}) {
			k.path = recoveryPath(plan, k.owner)
		}
	})
}

// stop keeps nothing from now on.
func (k *keeper) stop() {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.path, k.owner = "", keep.Owner{}
}

// AutosaveError says why the last autosave failed, or nil.
func (s *Session) AutosaveError() error { return s.keeper.Err() }

// OnAutosave sets f to be called when autosaving begins to fail, with the
// error, and when it works again, with nil, on the goroutine that wrote.
// Autosaving is retried until it succeeds.
func (s *Session) OnAutosave(f func(error)) { s.keeper.OnError(f) }

// KeepNow writes the recovery file at once if the current plan, including a
// drag under way, has unsaved changes. It may be called from any goroutine, as
// when the system asks the program to end.
func (s *Session) KeepNow() error {
	if !s.Changed() {
		return nil
	}
	return s.keeper.Now(s.Plan())
}
