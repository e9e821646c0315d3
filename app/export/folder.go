package export

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// file is a file to write: its name below the folder, with slashes, and what
// writes it.
type file struct {
	name  string
	write func(io.Writer) error
}

// writeAll writes files into a folder, all or none: they are written whole into
// a hidden folder inside it, and then put in their places. It ends early, with
// the context's error and nothing changed, where the context ends. done is
// told of every file made.
func writeAll(ctx context.Context, dir string, files []file, replace bool, done func(file)) (err error) {
	if err := free(dir, files, replace); err != nil {
		return err
	}
	made, err := makeFolder(dir)
	if err != nil {
		return cannot(dir, err)
	}
	defer func() {
		if err != nil {
			removeEmpty(made)
		}
	}()
	stage, err := os.MkdirTemp(dir, ".strakewright-")
	if err != nil {
		return cannot(dir, err)
	}
	defer os.RemoveAll(stage)
	for _, f := range files {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := f.writeTo(ctx, stage); err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			return fmt.Errorf("%s: %w; nothing was changed: make room, or choose another folder", filepath.Join(dir, filepath.FromSlash(f.name)), plain(err))
		}
		done(f)
	}
	return place(stage, dir, files)
}

// free refuses, naming the first, files that exist and may not be replaced.
// The error of one that might be, if asked for, wraps fs.ErrExist.
func free(dir string, files []file, replace bool) error {
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return fmt.Errorf("%s: it is no folder: choose another name", dir)
	}
	for _, f := range files {
		path := filepath.Join(dir, filepath.FromSlash(f.name))
		info, err := os.Lstat(path)
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return cannot(path, err)
		case !info.Mode().IsRegular():
			return fmt.Errorf("%s: it is no plain file: move it away, or choose another folder", path)
		case !replace:
			return fmt.Errorf("%s: %w; choose another folder, or have it replaced", path, fs.ErrExist)
		case info.Mode().Perm()&0o200 == 0:
			return fmt.Errorf("%s: the file is marked read-only: allow writing to it, or choose another folder", path)
		}
	}
	return nil
}

// makeFolder makes a folder with those above it, and gives the ones that were
// not there before, the innermost first.
func makeFolder(dir string) (made []string, err error) {
	for at := filepath.Clean(dir); ; at = filepath.Dir(at) {
		if _, err := os.Stat(at); !errors.Is(err, fs.ErrNotExist) || at == filepath.Dir(at) {
			break
		}
		made = append(made, at)
	}
	return made, os.MkdirAll(dir, 0o755)
}

// removeEmpty takes away folders that were made for nothing; one that holds
// something by now stays.
func removeEmpty(made []string) {
	for _, dir := range made {
		if os.Remove(dir) != nil {
			return
		}
	}
}

// writeTo writes the file below a folder, to the disk itself.
func (f file) writeTo(ctx context.Context, stage string) (err error) {
	path := filepath.Join(stage, filepath.FromSlash(f.name))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	out, err := os.Create(path)
	if err != nil {
		return err
	}
	defer func() {
		if e := out.Close(); err == nil {
			err = e
		}
	}()
	b := bufio.NewWriterSize(out, 1<<16)
	if err := f.write(stoppable{ctx, b}); err != nil {
		return err
	}
	if err := b.Flush(); err != nil {
		return err
	}
	return out.Sync()
}

// stoppable refuses to be written to once its context has ended.
type stoppable struct {
	ctx context.Context
	w   io.Writer
}

func (s stoppable) Write(p []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	return s.w.Write(p)
}

// place moves the files that were written into their places. A file that is
// replaced gives its permissions to the new one.
func place(stage, dir string, files []file) error {
	for _, f := range files {
		from, to := filepath.Join(stage, filepath.FromSlash(f.name)), filepath.Join(dir, filepath.FromSlash(f.name))
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return cannot(to, err)
		}
		if old, err := os.Lstat(to); err == nil {
			if err := os.Chmod(from, old.Mode().Perm()); err != nil {
				return cannot(to, err)
			}
		}
		if err := os.Rename(from, to); err != nil {
			return cannot(to, err)
		}
	}
	return nil
}

func cannot(path string, err error) error {
	return fmt.Errorf("%s: it cannot be written, %w; choose another folder, or allow writing to it", path, plain(err))
}

// plain leaves out of a file system's error the path, which is told already.
func plain(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	var link *os.LinkError
	if errors.As(err, &link) {
		return link.Err
	}
	return err
}
