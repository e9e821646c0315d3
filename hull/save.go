package hull

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// SaveFile writes the plan to a file, whole or not at all: where the writing
// fails, or the plan is at fault, the file stays as it was.
func SaveFile(path string, p *Plan) error {
	return ReplaceFile(path, p.Write)
}

// ReplaceFile writes a file, whole or not at all: what write gives goes to a
// new file beside it, which takes its place when all of it is on the disk. An
// existing file keeps its permissions; of a symbolic link the file it points to
// is replaced. A file that is marked read-only, or is no plain file, is left
// alone. The error is the one that write gave, or a Fault.
func ReplaceFile(path string, write func(io.Writer) error) error {
	const mend = "choose another name or folder, or make room; what was there is as it was"
	if err := checkName(path); err != nil {
		return err
	}
	target, err := linked(path)
	if err != nil {
		return fileFault(path, "cannot be written", mend, err)
	}
	switch info, err := os.Stat(target); {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return fileFault(path, "cannot be written", mend, err)
	case !info.Mode().IsRegular():
		return Fault{File: path, What: "it is no plain file", Mend: "choose another name"}
	case info.Mode().Perm()&0o200 == 0:
		return Fault{File: path, What: "the file is marked read-only", Mend: "choose another name, or allow writing to it", cause: fs.ErrPermission}
	}
	var own error
	err = replace(target, func(w io.Writer) error {
		own = write(w)
		return own
	})
	var fault Fault
	switch {
	case err == nil:
		return nil
	case errors.As(own, &fault):
		if fault.File == "" {
			fault.File = path
		}
		return fault
	case own != nil && !isSystem(own):
		return fmt.Errorf("%s: %w", path, own)
	}
	return fileFault(path, "cannot be written", mend, err)
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
	return "", errors.New("too many symbolic links in a row")
}
