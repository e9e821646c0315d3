package export

import (
	"bufio"
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
)

// file is a file to write: its name below the folder, with slashes, and what
// writes it.
type file struct {
	name  string
	write func(io.Writer) error
}

// changed says what happened to the other files of a folder, by names below it,
// with slashes; names of folders end with one.
type changed struct {
	removed []string // in an earlier set and not in this one
	left    []string // in no set, or changed by somebody since
}

// writeAll writes files into a folder, with a list of them, all or none: they
// are completed in a hidden folder and then put in place, and whatever an
// earlier list names and nobody has changed is removed. If the context ends, it
// stops with the context's error and nothing changed. done is called for every
// file made.
func writeAll(ctx context.Context, dir string, files []file, replace bool, done func(file)) (out *changed, err error) {
	t, err := targetOf(dir)
	if err != nil {
		return nil, err
	}
	made, err := makeFolder(filepath.Dir(t.path))
	defer func() {
		if err != nil {
			removeEmpty(made)
		}
	}()
	if err != nil {
		return nil, cannot(dir, err)
	}
	w, err := t.begin()
	if err != nil {
		return nil, err
	}
	defer w.leave()
	t.sweep()
	names := append(namesOf(files), listName)
	if err := t.free(names, replace); err != nil {
		return nil, err
	}
	if err := w.make(ctx, files, done); err != nil {
		return nil, err
	}
	// Much may have changed in the folder while the files were made.
	if err := t.free(names, replace); err != nil {
		return nil, err
	}
	c, err := t.course(ctx, names)
	if err != nil {
		return nil, err
	}
	if err := w.put(c); err != nil {
		return nil, err
	}
	return &changed{append([]string{}, c.gone...), append([]string{}, c.left...)}, nil
}

func namesOf(files []file) []string {
	var out []string
	for _, f := range files {
		out = append(out, f.name)
	}
	return out
}

// target is a folder to write into.
type target struct {
	said  string // as the user named it
	path  string // where it is, with all links resolved
	there bool   // it was there before
}

// targetOf finds out where a folder is, or will be.
func targetOf(dir string) (target, error) {
	at, err := filepath.Abs(dir)
	if err != nil {
		return target{}, cannot(dir, err)
	}
	for rest := ""; ; at, rest = filepath.Dir(at), filepath.Join(filepath.Base(at), rest) {
		real, err := filepath.EvalSymlinks(at)
		if err == nil {
			info, err := os.Stat(real)
			if err != nil {
				return target{}, cannot(dir, err)
			}
			if !info.IsDir() {
				return target{}, tongue.Errorf("%s is not a folder: choose another name", dir)
			}
			return target{dir, filepath.Join(real, rest), rest == ""}, nil
		}
		if !errors.Is(err, fs.ErrNotExist) {
			return target{}, cannot(dir, err)
		}
		if broken, err := exists(at); err != nil {
			return target{}, cannot(dir, err)
		} else if broken {
			return target{}, tongue.Errorf("%s: %s is a broken link: make its folder, or choose another", dir, at)
		}
	}
}

// exists reports whether anything of that name exists, even a broken link.
func exists(path string) (bool, error) {
	_, err := os.Lstat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	return err == nil, err
}

// in is the path of a file in the folder.
func (t target) in(name string) string { return filepath.Join(t.path, filepath.FromSlash(name)) }

// as is the path by which the user knows it.
func (t target) as(name string) string { return filepath.Join(t.said, filepath.FromSlash(name)) }

// free refuses, naming the first, files that exist and may not be replaced. The
// error for one that could be replaced on request wraps fs.ErrExist.
func (t target) free(names []string, replace bool) error {
	for _, dir := range append([]string{"."}, foldersOf(names)...) {
		info, err := os.Lstat(t.in(dir))
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return cannot(t.as(dir), err)
		case !info.IsDir():
			return tongue.Errorf("%s is a file where a folder is needed: move it away, or choose another folder", t.as(dir))
		case !writable(t.in(dir)):
			return cannot(t.as(dir), fs.ErrPermission)
		}
	}
	for _, name := range names {
		info, err := os.Lstat(t.in(name))
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return cannot(t.as(name), err)
		case !info.Mode().IsRegular():
			return tongue.Errorf("%s is not a plain file: move it away, or choose another folder", t.as(name))
		case !replace:
			return tongue.Errorf("%s: %w; choose another folder, or have it replaced", t.as(name), fs.ErrExist)
		case readOnly(info):
			return tongue.Errorf("%s: the file is marked read-only: allow writing to it, or choose another folder", t.as(name))
		}
	}
	return nil
}

func readOnly(info fs.FileInfo) bool { return info.Mode().Perm()&0o200 == 0 }

// foldersOf are the folders that hold files with such names, the outer before
// the inner, without the topmost.
func foldersOf(names []string) []string {
	var out []string
	for _, name := range names {
		for dir := path.Dir(name); dir != "."; dir = path.Dir(dir) {
			out = append(out, dir)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// makeFolder makes a folder and those above it, ensures that they are on the
// disk, and returns those that did not exist before, the innermost first.
func makeFolder(dir string) (made []string, err error) {
	for at := filepath.Clean(dir); ; at = filepath.Dir(at) {
		if _, err := os.Stat(at); !errors.Is(err, fs.ErrNotExist) || at == filepath.Dir(at) {
			break
		}
		made = append(made, at)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return made, err
	}
	for _, m := range made {
		if err := syncFolder(filepath.Dir(m)); err != nil {
			return made, err
		}
	}
	return made, nil
}

// removeEmpty removes folders that were made for nothing; one that holds
// something by now stays.
func removeEmpty(made []string) {
	for _, dir := range made {
		if os.Remove(dir) != nil {
			return
		}
	}
}

// make writes the files and their list into the hidden folder, through to the
// disk. A file that will be replaced passes its permissions to the new one.
func (w *workplace) make(ctx context.Context, files []file, done func(file)) error {
	unkept := func(name string, err error) error {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		return tongue.Errorf("%s: %w; nothing was changed: make room, or choose another folder", w.as(name), plain(err))
	}
	// Whether others can see it is decided by the folder itself.
	if err := os.Mkdir(w.making(), 0o755); err != nil {
		return unkept(".", err)
	}
	var l list
	for _, f := range append(slices.Clip(files), file{listName, func(out io.Writer) error { return l.write(out) }}) {
		if err := ctx.Err(); err != nil {
			return err
		}
		s, err := f.writeTo(ctx, w.making(), w.path)
		if err != nil {
			return unkept(f.name, err)
		}
		l = append(l, entry{f.name, s})
		if f.name != listName {
			done(f)
		}
	}
	if err := syncFolders(w.making(), foldersOf(namesOf(files))); err != nil {
		return unkept(".", err)
	}
	return ctx.Err()
}

// writeTo writes the file below a folder, through to the disk, with the
// permissions of the file with the same name below another folder.
func (f file) writeTo(ctx context.Context, stage, like string) (s sum, err error) {
	at := filepath.Join(stage, filepath.FromSlash(f.name))
	if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
		return s, err
	}
	out, err := os.Create(at)
	if err != nil {
		return s, err
	}
	defer func() {
		if e := out.Close(); err == nil {
			err = e
		}
	}()
	if old, err := os.Lstat(filepath.Join(like, filepath.FromSlash(f.name))); err == nil && old.Mode().IsRegular() {
		if err := samePermissions(at, old); err != nil {
			return s, err
		}
	}
	h := newSummer(out)
	b := bufio.NewWriterSize(h, 1<<16)
	if err := f.write(stoppable{ctx, b}); err != nil {
		return s, err
	}
	if err := b.Flush(); err != nil {
		return s, err
	}
	return h.sum(), out.Sync()
}

// samePermissions gives a file or folder the permissions of another. It makes no
// call where they already agree: not every file system supports them.
func samePermissions(at string, as fs.FileInfo) error {
	info, err := os.Stat(at)
	if err != nil || info.Mode() == as.Mode() {
		return err
	}
	return os.Chmod(at, as.Mode())
}

// stoppable refuses writes once its context has ended.
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

func cannot(path string, err error) error {
	return tongue.Errorf("%s: it cannot be written, %w; choose another folder, or allow writing to it", path, plain(err))
}

// plain drops from a file system's error the path, which the message already
// has.
func plain(err error) error {
	if path, ok := errors.AsType[*fs.PathError](err); ok {
		return path.Err
	}
	if link, ok := errors.AsType[*os.LinkError](err); ok {
		return link.Err
	}
	return err
}

// syncFolders ensures that the names in a folder, and in those of its folders
// that exist, are on the disk.
func syncFolders(dir string, folders []string) error {
	for _, f := range append([]string{"."}, folders...) {
		if err := syncFolder(filepath.Join(dir, filepath.FromSlash(f))); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}
