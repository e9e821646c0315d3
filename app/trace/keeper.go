package trace

import (
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/strakewright/strakewright/app/autosave"
	"github.com/strakewright/strakewright/assets/tongue"
)

// Keeper writes a tracing to its file while it is being worked on. Note is for
// the tracing's goroutine; the rest may be called from any.
type Keeper struct {
	saver *autosave.Saver[*Trace]

	mu    sync.Mutex // guards what follows
	path  string     // of the file; empty before there is one
	of    string     // the picture beside which it is kept
	stamp stamp      // of the file as last read or written
}

// stamp distinguishes one version of a file from another.
type stamp struct {
	at   time.Time
	size int64
}

func stampOf(path string) stamp {
	info, err := os.Stat(path)
	if err != nil {
		return stamp{}
	}
	return stamp{info.ModTime(), info.Size()}
}

// NewKeeper keeps a tracing that is resumed from a file or, where path is
// empty, a new one.
func NewKeeper(path string) *Keeper {
	k := &Keeper{path: path}
	k.saver = autosave.New(k.write, nil)
	if path != "" {
		k.stamp = stampOf(path)
	}
	return k
}

// Note has the tracing written soon, beside its first picture, without waiting
// for the disk. A tracing whose picture is not from a file is not kept.
func (k *Keeper) Note(t *Trace) {
	if len(t.now.grounds) == 0 || t.now.grounds[0].Picture.Path == "" {
		return
	}
	picture := t.now.grounds[0].Picture.Path
	now := &Trace{now: t.now} // its slices are never changed
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.of != "" && k.of != picture { // everything was undone, and another picture opened
		k.path, k.stamp = "", stamp{}
		k.saver.Forget()
	}
	k.of = picture
	if k.path == "" {
		if !t.worthKeeping() {
			return
		}
		k.path = keptPaths(picture)[0]
	}
	k.saver.Note(now)
}

// Path is the file in which the tracing is kept, empty before there is one.
func (k *Keeper) Path() string {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.path
}

// Err says why the tracing could not be written last time, or nil.
func (k *Keeper) Err() error { return k.saver.Err() }

// Flush writes what was noted and waits until it is done.
func (k *Keeper) Flush() { k.saver.Flush() }

func (k *Keeper) write(t *Trace) error {
	k.mu.Lock()
	path, last := k.path, k.stamp
	k.mu.Unlock()
	path, err := keepAt(path, last, t.Keep)
	if err != nil {
		return err
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	k.path, k.stamp = path, stampOf(path)
	return nil
}

// errOther says that the file belongs to another tracing.
var errOther = tongue.New("the tracing beside the picture was changed by another program or window; save the points, and close one of the two")

// keepAt writes a tracing, and says where: in the user's cache if a new one
// cannot be written beside its picture.
func keepAt(path string, last stamp, kept func(path string) Kept) (string, error) {
	if now := stampOf(path); now != (stamp{}) && now != last {
		return path, errOther
	}
	err := kept(path).Write(path)
	if err == nil || last != (stamp{}) {
		return path, err
	}
	all := keptPaths(path[:len(path)-len(KeptSuffix)])
	if len(all) < 2 {
		return path, err
	}
	if stampOf(all[1]) != (stamp{}) { // from an earlier time
		if _, e := PutAside(all[1]); e != nil {
			return path, e
		}
	}
	if e := os.MkdirAll(filepath.Dir(all[1]), 0o700); e != nil {
		return path, tongue.Errorf("the tracing cannot be kept: %w", e)
	}
	return all[1], kept(all[1]).Write(all[1])
}
