//go:build !windows

package keep

import (
	"errors"
	"io/fs"
	"os"
	"syscall"

	"github.com/strakewright/strakewright/assets/tongue"
)

// inherit gives a new file the owner, group, extended attributes and permissions
// of the one it replaces, and says which of these could not be set.
func inherit(f *os.File, target string, old fs.FileInfo) (lost []string, err error) {
	mode := old.Mode().Perm()
	was, ok := old.Sys().(*syscall.Stat_t)
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	is, also := info.Sys().(*syscall.Stat_t)
	if ok && also {
		if was.Uid != is.Uid && f.Chown(int(was.Uid), -1) != nil {
			lost = append(lost, tongue.T("the file belonged to the user %d, and is yours now.", was.Uid))
		}
		if was.Gid != is.Gid && f.Chown(-1, int(was.Gid)) != nil {
			mode = mode&^0o070 | mode&0o007<<3 // another group gets no more rights than anybody
			lost = append(lost, tongue.T("the file belonged to the group %d, and is your group's now.", was.Gid))
		}
		if was.Nlink > 1 {
			lost = append(lost, tongue.T("the file had other names (hard links), which keep the old contents."))
		}
	}
	lost = append(lost, inheritAttributes(f, target)...)
	return lost, f.Chmod(mode)
}

// syncFolder ensures that a rename within a folder is on the disk, where the
// system can.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if errors.Is(err, fs.ErrPermission) {
		return nil // a folder that may be written to but not read
	}
	if err != nil {
		return err
	}
	defer d.Close()
	err = d.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) {
		return nil
	}
	return err
}
