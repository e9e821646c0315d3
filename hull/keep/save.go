package keep

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// ReplaceFile writes a file as ReplaceFileTold does, without reporting what
// could not be kept of an older one.
func ReplaceFile(path string, write func(io.Writer) error) error {
	_, err := ReplaceFileTold(path, write)
	return err
}

// unwritten says what to do about a file that cannot be written.
const unwritten = "choose another name or folder, or make room; the old file is unchanged"

// ErrUnsure is wrapped by the error of ReplaceFile where everything was written
// and is in place, but the system does not confirm that it would survive a
// power failure.
var ErrUnsure = tongue.New("it is written, but the disk does not confirm it")

// ReplaceFileTold writes a file, whole or not at all: what write produces goes to
// a new file beside it, which takes its place once all of it is on the disk. An
// existing file's permissions are kept, and its owner, group and extended
// attributes as far as the system allows: lost says, a sentence each, what could
// not be kept. Given a symbolic link, it replaces the file that the link points
// to. A file that is marked read-only, or is not a regular file, is left alone.
// The error is the one that write returned, or a Fault.
func ReplaceFileTold(path string, write func(io.Writer) error) (lost []string, err error) {
	if err := checkName(path); err != nil {
		return nil, err
	}
	if _, err := linked(path); err != nil {
		return nil, fault.OfFile(path, "cannot be written", unwritten, err)
	}
	target := RealPath(path)
	old, err := os.Stat(target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		old = nil
	case err != nil:
		return nil, fault.OfFile(path, "cannot be written", unwritten, err)
	case !old.Mode().IsRegular():
		return nil, fault.Fault{File: path, What: tongue.T("it is not a plain file"), Mend: tongue.T("choose another name")}
	case old.Mode().Perm()&0o200 == 0:
		return nil, fault.Fault{File: path, What: tongue.T("the file is marked read-only"), Mend: tongue.T("choose another name, or allow writing to it")}.Because(fs.ErrPermission)
	}
	var own error
	lost, err = replace(target, old, func(w io.Writer) error {
		own = write(w)
		return own
	})
	var ours fault.Fault
	switch {
	case err == nil:
		for i := range lost {
			lost[i] = path + ": " + lost[i]
		}
		return lost, nil
	case errors.Is(err, ErrUnsure):
		return nil, fault.OfFile(path, ErrUnsure.Error(), "check the disk, and save again", err)
	case errors.As(own, &ours):
		if ours.File == "" {
			ours.File = path
		}
		return nil, ours
	case own != nil && !isSystem(own):
		return nil, fmt.Errorf("%s: %w", path, own)
	}
	return nil, fault.OfFile(path, "cannot be written", unwritten, err)
}

// replace puts what write produces in the place of a file, by way of a new one in
// its folder, and says what could not be kept of the old one, if there is one. It
// does not use google/renameio, whose new file names no owner, so that nobody
// could tell whether it may be removed, and which does not ensure that the folder
// is on the disk.
func replace(target string, old fs.FileInfo, write func(io.Writer) error) (lost []string, err error) {
	dir, name := filepath.Split(target)
	prefix := partPrefix(name)
	dropParts(filepath.Clean(dir), prefix)
	part := filepath.Join(dir, prefix+NewOwner().String()+partSuffix)
	mode := fs.FileMode(0o644)
	if old != nil {
		mode = 0o600 // until it takes the old one's
	}
	f, err := os.OpenFile(part, os.O_RDWR|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return nil, err
	}
	if lost, err = fill(f, target, old, write); err == nil {
		err = os.Rename(part, target)
	}
	if err != nil {
		_ = os.Remove(part) // if this fails, the next run does it
		return nil, err
	}
	if err := syncFolder(filepath.Clean(dir)); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrUnsure, err)
	}
	return lost, nil
}

// fill writes a new file, gives it what is kept from an old one, and closes it
// once it is on the disk.
func fill(f *os.File, target string, old fs.FileInfo, write func(io.Writer) error) (lost []string, err error) {
	err = write(f)
	if err == nil && old != nil {
		lost, err = inherit(f, target, old)
	}
	if err == nil {
		err = f.Sync()
	}
	return lost, errors.Join(err, f.Close())
}

// isSystem reports whether the error came from the file system.
func isSystem(err error) bool {
	var system syscall.Errno
	return errors.As(err, &system)
}

// linked follows symbolic links, even to a file that does not exist yet.
func linked(path string) (string, error) {
	const most = 40 // links in a row, the usual limit of systems
	for range most {
		to, err := os.Readlink(path)
		if err != nil {
			return path, nil // not a link, or nothing there
		}
		if !filepath.IsAbs(to) {
			dir, err := filepath.EvalSymlinks(filepath.Dir(path)) // from which a .. leads up
			if err != nil {
				return "", err
			}
			to = filepath.Join(dir, to)
		}
		path = to
	}
	return "", tongue.New("too many symbolic links in a row")
}
