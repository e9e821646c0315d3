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

// ReplaceFile writes a file as ReplaceFileTold does, and leaves out what could
// not be kept of an older one.
func ReplaceFile(path string, write func(io.Writer) error) error {
	_, err := ReplaceFileTold(path, write)
	return err
}

// unwritten is how to mend that a file cannot be written.
const unwritten = "choose another name or folder, or make room; the old file is unchanged"

// ErrUnsure is wrapped by the error of ReplaceFile where all was written and
// stands in its place, but the system does not say that it would outlast a
// failure of the current.
var ErrUnsure = tongue.New("it is written, but the disk does not confirm it")

// ReplaceFileTold writes a file, whole or not at all: what write gives goes to a
// new file beside it, which takes its place when all of it is on the disk. Of an
// existing file the permissions are kept, and owner, group and extended
// attributes as far as the system allows: lost tells, a sentence each, what could
// not be. Of a symbolic link the file it points to is replaced. A file that is
// marked read-only, or is no plain file, is left alone. The error is the one that
// write gave, or a Fault.
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

// replace puts what write gives in the place of a file, by way of a new one in
// its folder, and tells what of the old one, if there is one, was not kept. It is
// not google/renameio's, which names the new file after no owner, so that nobody
// could tell whether it may be taken away, and does not see to it that the folder
// is on the disk.
func replace(target string, old fs.FileInfo, write func(io.Writer) error) (lost []string, err error) {
	dir, name := filepath.Split(target)
	prefix := partPrefix(name)
	dropParts(filepath.Clean(dir), prefix)
	part := filepath.Join(dir, prefix+NewOwner().String()+partSuffix)
	mode := fs.FileMode(0o644)
	if old != nil {
		mode = 0o600 // till it is the old one's
	}
	f, err := os.OpenFile(part, os.O_RDWR|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return nil, err
	}
	if lost, err = fill(f, target, old, write); err == nil {
		err = os.Rename(part, target)
	}
	if err != nil {
		_ = os.Remove(part) // the next run does so where this fails
		return nil, err
	}
	if err := syncFolder(filepath.Clean(dir)); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrUnsure, err)
	}
	return lost, nil
}

// fill writes a new file, gives it what is to be kept of an old one, and closes
// it once it is on the disk.
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

// isSystem tells whether the error is one of the file system's.
func isSystem(err error) bool {
	var system syscall.Errno
	return errors.As(err, &system)
}

// linked follows symbolic links, also to a file that is yet to be made.
func linked(path string) (string, error) {
	const most = 40 // links in a row, as systems allow
	for range most {
		to, err := os.Readlink(path)
		if err != nil {
			return path, nil // no link, or nothing there
		}
		if !filepath.IsAbs(to) {
			dir, err := filepath.EvalSymlinks(filepath.Dir(path)) // from which a .. goes up
			if err != nil {
				return "", err
			}
			to = filepath.Join(dir, to)
		}
		path = to
	}
	return "", tongue.New("too many symbolic links in a row")
}
