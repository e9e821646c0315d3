package export

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"golang.org/x/sys/unix"
)

// swapFolders exchanges two folders in one step.
func swapFolders(a, b string) error {
	return unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE)
}

// replaceable reports whether another folder could take the place of one with
// nothing lost: not if it is this program's working folder, is a mount point,
// belongs to another user, passes its group on, or has attributes of its own.
func replaceable(dir string) bool {
	if here, err := os.Getwd(); err == nil {
		if here, err = filepath.EvalSymlinks(here); err == nil && strings.HasPrefix(here+"/", dir+"/") {
			return false
		}
	}
	info, err := os.Stat(dir)
	if err != nil || !own(info) || info.Mode()&(os.ModeSetgid|os.ModeSetuid|os.ModeSticky) != 0 {
		return false
	}
	return dir != "/" && !mounted(dir) && !attributed(dir)
}

// mounted reports whether a folder is a mount point.
func mounted(dir string) bool {
	var s unix.Statx_t
	if err := unix.Statx(unix.AT_FDCWD, dir, 0, 0, &s); err != nil {
		return true // not known: it is safe to assume so
	}
	return s.Attributes_mask&unix.STATX_ATTR_MOUNT_ROOT == 0 && otherSystem(dir) || s.Attributes&unix.STATX_ATTR_MOUNT_ROOT != 0
}

// otherSystem does so where the kernel does not: for all but folders mounted
// from the same file system.
func otherSystem(dir string) bool {
	var a, b unix.Stat_t
	return unix.Stat(dir, &a) != nil || unix.Stat(filepath.Dir(dir), &b) != nil || a.Dev != b.Dev
}

// attributed reports whether a folder has attributes that somebody gave it,
// such as an access list.
func attributed(dir string) bool {
	names := make([]byte, 1<<16)
	n, err := unix.Llistxattr(dir, names)
	if err == unix.ENOTSUP {
		return false
	}
	if err != nil {
		return true
	}
	for name := range bytes.SplitSeq(bytes.TrimSuffix(names[:n], []byte{0}), []byte{0}) {
		if len(name) > 0 && !bytes.HasPrefix(name, []byte("security.")) {
			return true
		}
	}
	return false
}

// own reports whether something belongs to this user.
func own(info os.FileInfo) bool {
	s, ok := info.Sys().(*syscall.Stat_t)
	return ok && int(s.Uid) == os.Geteuid()
}
