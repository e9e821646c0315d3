//go:build unix

package export

import (
	"errors"
	"io/fs"
	"os"

	"golang.org/x/sys/unix"
)

// syncFolder brings the names in a folder to the disk, where its file system
// can do that.
func syncFolder(dir string) error {
	f, err := os.Open(dir)
	if errors.Is(err, fs.ErrPermission) {
		return nil // it may be written to and not be read
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

// writable tells whether files may be made in a folder.
func writable(dir string) bool { return unix.Access(dir, unix.W_OK|unix.X_OK) == nil }
