//go:build unix

package export

import (
	"errors"
	"io/fs"
	"os"

	"golang.org/x/sys/unix"
)

// syncFolder ensures that the names in a folder are on the disk, where its file
// system can do that.
func syncFolder(dir string) error {
	f, err := os.Open(dir)
	if errors.Is(err, fs.ErrPermission) {
		return nil // it may be writable but not readable
	}
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Sync(); err != nil && !errors.Is(err, unix.EINVAL) && !errors.Is(err, unix.ENOTSUP) {
		return err
	}
	return nil
}

// writable reports whether files may be made in a folder.
func writable(dir string) bool { return unix.Access(dir, unix.W_OK|unix.X_OK) == nil }
