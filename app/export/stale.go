package export

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"github.com/gofrs/flock"
)

// sweep removes the hidden folders, of any set, that killed runs left beside the
// target, if they hold only what was being made. One in which something was being
// moved is left for the next run that writes that set, which restores it; so is one
// that a run has locked, and anything that is not ours. It does no harm if one
// cannot be removed.
func (t target) sweep() {
	folder := filepath.Dir(t.path)
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	for _, e := range entries {
		dir := filepath.Join(folder, e.Name())
		if strings.HasPrefix(e.Name(), hidden+"-") && dir != t.beside() {
			dropUnfinished(dir)
		}
	}
}

// private reports whether it is a folder of this user that nobody else may enter, as the
// program makes them.
func private(info fs.FileInfo) bool {
	return info.IsDir() && own(info) && (runtime.GOOS == "windows" || info.Mode().Perm() == 0o700)
}

// dropUnfinished removes a hidden folder of ours that nobody has locked and in
// which nothing was being moved yet.
func dropUnfinished(dir string) {
	info, err := os.Lstat(dir)
	if err != nil || !private(info) || justMade(info) {
		return
	}
	if os.Remove(dir) == nil { // killed before it had a lock
		return
	}
	at := filepath.Join(dir, "lock")
	if info, err := os.Lstat(at); err != nil || !info.Mode().IsRegular() || info.Size() != 0 || justMade(info) {
		return
	}
	l := flock.New(at)
	if held, err := l.TryLock(); err != nil || !held {
		return
	}
	if !onlyUnfinished(dir) {
		_ = l.Unlock()
		return
	}
	_ = os.RemoveAll(filepath.Join(dir, "making"))
	if runtime.GOOS == "windows" { // a file that is open cannot be removed there
		_ = l.Unlock()
	}
	_ = os.Remove(at)
	_ = os.Remove(dir)
	_ = l.Unlock()
}

// justMade reports whether a run may not have locked it yet.
func justMade(info fs.FileInfo) bool { return time.Since(info.ModTime()) < time.Minute }

// onlyUnfinished reports whether it holds only a lock and what was being made.
func onlyUnfinished(dir string) bool {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return false
	}
	for _, e := range entries {
		if e.Name() != "lock" && e.Name() != "making" {
			return false
		}
	}
	making, err := os.Lstat(filepath.Join(dir, "making"))
	return errors.Is(err, fs.ErrNotExist) || err == nil && making.IsDir()
}
