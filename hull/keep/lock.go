package keep

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"time"

	"github.com/gofrs/flock"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// ErrBusy is wrapped by the error of HoldFile where another program held the
// file too long.
var ErrBusy = tongue.New("another program is writing the file")

const (
	holdPatience = 5 * time.Second      // the longest HoldFile waits
	holdRetry    = 5 * time.Millisecond // how often it tries
)

// HoldFile holds a file against all other runs of the program that hold it, from reading it until
// writing it anew. It waits a short while for another holder, or until the context's deadline, and
// then returns an error that wraps ErrBusy. It locks, by the operating system, a separate file beside
// the real one, since each save replaces the file itself; so the lock ends with the process, however
// that ends.
func HoldFile(ctx context.Context, path string) (release func(), err error) {
	waiting, stop := context.WithTimeoutCause(ctx, holdPatience, ErrBusy)
	defer stop()
	target := RealPath(path)
	at := lockPath(target)
	for {
		l := newLock(at)
		held, err := l.TryLockContext(waiting, holdRetry)
		switch {
		case held && isStill(l, at):
			return func() { letGo(l) }, nil
		case held: // the file's last holder has removed it meanwhile
			_ = l.Close()
		case errors.Is(err, errors.ErrUnsupported) && at == lockPath(target):
			if at, err = lockElsewhere(target); err != nil {
				return nil, fault.OfFile(path, "cannot be locked", "choose another folder", err)
			}
		case errors.Is(ctx.Err(), context.Canceled):
			return nil, ctx.Err()
		case waiting.Err() != nil:
			return nil, fault.Fault{File: path, What: ErrBusy.Error(), Mend: tongue.T("try again in a moment")}.Because(ErrBusy)
		case err != nil:
			return nil, fault.OfFile(path, "cannot be written", unwritten, err)
		}
	}
}

func newLock(at string) *flock.Flock {
	const readable = 0o644 // so that another user's run can lock it by reading
	return flock.New(at, flock.SetPermissions(readable))
}

// lockPath is where the lock of a real file stands.
func lockPath(target string) string { return Beside(target, "lock") }

// lockElsewhere is where the lock stands if the file's own file system has no
// locks: in the user's cache, which at least keeps out the user's other runs on
// this computer.
func lockElsewhere(target string) (string, error) {
	dir, err := OwnFolder()
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256([]byte(target))
	return filepath.Join(dir, hex.EncodeToString(sum[:])+".lock"), os.MkdirAll(dir, 0o700)
}

// isStill reports whether the locked file is still the one that others would
// lock.
func isStill(l *flock.Flock, at string) bool {
	held, err := l.Stat()
	if err != nil {
		return false
	}
	there, err := os.Stat(at)
	return err == nil && os.SameFile(held, there)
}

// letGo releases a lock and removes its file: beforehand, where the system
// allows an open file to be removed, so that nobody locks one that is about to
// go.
func letGo(l *flock.Flock) {
	if runtime.GOOS != "windows" {
		_ = os.Remove(l.Path()) // if it stays, the next holder removes it
		_ = l.Close()
		return
	}
	_ = l.Close()
	_ = os.Remove(l.Path()) // it stays while another holds it
}

// dropStaleLock removes the lock of a real file if nobody holds it.
func dropStaleLock(target string) {
	at := lockPath(target)
	if _, err := os.Lstat(at); err != nil {
		return
	}
	l := newLock(at)
	if held, err := l.TryLock(); err != nil || !held {
		return
	}
	if isStill(l, at) {
		letGo(l)
		return
	}
	_ = l.Close()
}

// InUse reports whether a process, whatever its number, holds the file by
// HoldAlive.
func InUse(path string) bool {
	l := flock.New(path, flock.SetFlag(os.O_RDONLY))
	held, err := l.TryLock()
	if held {
		_ = l.Close()
	}
	return err == nil && !held
}

// HoldAlive marks a file as in use while this process lives or until release,
// even for those who cannot see the process, as from another container. It does
// so as far as the system can: on Windows a lock would prevent the file from
// being read and replaced.
func HoldAlive(path string) (release func()) {
	if runtime.GOOS == "windows" {
		return func() {}
	}
	l := flock.New(path, flock.SetFlag(os.O_RDONLY))
	if held, err := l.TryLock(); err != nil || !held {
		return func() {}
	}
	return func() { _ = l.Close() }
}
