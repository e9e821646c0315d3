package export

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"slices"

	"github.com/gofrs/flock"

	"github.com/strakewright/strakewright/assets/tongue"
)

// hidden is the name of the hidden folder in which a run works, and the
// beginning of that name where it is beside the folder to write into.
const hidden = ".strakewright"

// workplace is that hidden folder. It holds
//
//	lock     locked as long as its run lasts: a killed run has released it
//	making/  the new set, while it is made
//	swap/    the whole new set, then the folder whose place it took
//	old/     what was moved out of the folder, where files are moved singly
//	journal  what is being moved, until everything is in place; it is then named
//	done     until everything that was only for the moving is gone
//
// so that the next run can restore, or tidy up after, one that was killed.
type workplace struct {
	target
	dir  string
	lock *flock.Flock
}

func (w *workplace) making() string  { return filepath.Join(w.dir, "making") }
func (w *workplace) swap() string    { return filepath.Join(w.dir, "swap") }
func (w *workplace) old() string     { return filepath.Join(w.dir, "old") }
func (w *workplace) journal() string { return filepath.Join(w.dir, "journal") }
func (w *workplace) done() string    { return filepath.Join(w.dir, "done") }

// longestName is how much of a folder's name still fits into the hidden one's,
// in bytes: file systems allow 255, some of them fewer.
const longestName = 100

// beside is the path of the hidden folder beside the target, from where a whole
// folder can take the target's place.
func (t target) beside() string {
	name := filepath.Base(t.path)
	if len(name) > longestName {
		s := sha256.Sum256([]byte(name))
		name = hex.EncodeToString(s[:8])
	}
	return filepath.Join(filepath.Dir(t.path), hidden+"-"+name)
}

// inside is its place within the target, from where files are moved one by one:
// for folders whose place no other can take.
func (t target) inside() string { return filepath.Join(t.path, hidden) }

// begin makes the hidden folder, locks it, and first repairs what a killed run
// has left. It checks both places, since not everyone who may write into a
// folder may write beside it.
func (t target) begin() (*workplace, error) {
	if !t.there {
		return t.work(t.beside())
	}
	left, err := exists(t.inside())
	if err != nil {
		return nil, cannot(t.said, err)
	}
	if left {
		w, err := t.work(t.inside())
		if err != nil {
			return nil, err
		}
		w.leave()
		if left, err := exists(t.inside()); err != nil || left { // with something of a person's in it
			return t.work(t.inside())
		}
	}
	taken, err := exists(t.beside())
	if err != nil {
		return nil, cannot(t.said, err)
	}
	if !taken && !replaceable(t.path) {
		return t.work(t.inside())
	}
	w, err := t.work(t.beside())
	if err != nil && !taken && !errors.Is(err, errBusy) {
		return t.work(t.inside())
	}
	return w, err
}

// errBusy is wrapped where another run is under way.
var errBusy = tongue.New("another run is writing sheets into this folder; wait until it is done")

// work takes a hidden folder for this run and repairs its content.
func (t target) work(dir string) (*workplace, error) {
	w := &workplace{target: t, dir: dir}
	if err := w.take(); err != nil {
		return nil, err
	}
	if err := w.mend(); err != nil {
		w.leave()
		return nil, err
	}
	return w, nil
}

// take makes the folder, if there is none, and locks it.
func (w *workplace) take() error {
	const often = 100 // the previous run may be removing it at this moment
	for range often {
		err := os.Mkdir(w.dir, 0o700)
		if err != nil && !errors.Is(err, fs.ErrExist) {
			return cannot(w.said, err)
		}
		made := err == nil
		if info, err := os.Lstat(w.dir); err != nil && !made {
			continue
		} else if err == nil && (!info.IsDir() || !own(info)) {
			return tongue.Errorf("%s: %s is in the way, and no run of yours made it: have it removed, or choose another folder", w.said, w.dir)
		}
		got, err := w.takeLock()
		switch {
		case got:
			return nil
		case errors.Is(err, errBusy):
			return fmt.Errorf("%s: %w", w.said, err)
		case errors.Is(err, fs.ErrNotExist): // that run removed it
		default:
			if made {
				_ = os.Remove(filepath.Join(w.dir, "lock"))
				_ = os.Remove(w.dir)
			}
			return tongue.Errorf("%s: it cannot be locked against other runs, %w; choose another folder", w.said, plain(err))
		}
	}
	return fmt.Errorf("%s: %w", w.said, errBusy)
}

// takeLock locks the folder. If another run holds it, it returns errBusy; if it
// is removed meanwhile, fs.ErrNotExist.
func (w *workplace) takeLock() (bool, error) {
	at := filepath.Join(w.dir, "lock")
	l := flock.New(at)
	got, err := l.TryLock()
	if err != nil {
		return false, err
	}
	if !got {
		return false, errBusy
	}
	held, err := l.Stat()
	if err == nil {
		var now fs.FileInfo
		if now, err = os.Stat(at); err == nil && !os.SameFile(held, now) {
			err = fs.ErrNotExist
		}
	}
	if err != nil {
		_ = l.Unlock()
		return false, err
	}
	w.lock = l
	return true, nil
}

// leave tidies up and releases the lock. Whatever a later run needs to restore
// things stays.
func (w *workplace) leave() {
	if moving, err := exists(w.journal()); err == nil && !moving {
		_ = os.RemoveAll(w.making()) // if this fails, the next run does it
	}
	lock := filepath.Join(w.dir, "lock")
	if there, err := os.ReadDir(w.dir); err != nil || len(there) > 1 {
		_ = w.lock.Unlock()
		return
	}
	if runtime.GOOS == "windows" { // a file that is open cannot be removed there
		_ = w.lock.Unlock()
	}
	_ = os.Remove(lock)
	_ = os.Remove(w.dir)
	_ = w.lock.Unlock()
}

// mend restores what a killed run was moving, or tidies up after it.
func (w *workplace) mend() error {
	m, all, err := w.readMoves()
	switch {
	case err != nil:
		return err
	case m == nil:
	case all:
		if err := w.tidy(m); err != nil {
			return cannot(w.said, err)
		}
	default:
		if err := w.putBack(m); err != nil {
			return tongue.Errorf("%s: what an earlier run was moving cannot be put back, %w; it is kept in %s", w.said, plain(err), w.dir)
		}
	}
	for _, of := range []string{w.swap(), w.old()} {
		if _, err := w.discard(of); err != nil {
			return cannot(w.said, err)
		}
	}
	if err := os.RemoveAll(w.making()); err != nil {
		return cannot(w.said, err)
	}
	return nil
}

// discard removes a folder of an earlier set. Anything in it that is a person's
// goes back into the target; its names there are returned.
func (w *workplace) discard(dir string) (back []string, err error) {
	if there, err := exists(dir); !there {
		return nil, err
	}
	s, err := look(context.Background(), dir, nil)
	if err != nil {
		return nil, err
	}
	for _, name := range s.theirs {
		to, err := w.freeName(name)
		if err != nil {
			return back, err
		}
		if err := os.MkdirAll(filepath.Dir(w.in(to)), 0o755); err != nil {
			return back, err
		}
		if err := os.Rename(filepath.Join(dir, filepath.FromSlash(name)), w.in(to)); err != nil {
			return back, err
		}
		back = append(back, to)
	}
	if len(back) > 0 {
		if err := syncFolders(w.path, foldersOf(back)); err != nil {
			return back, err
		}
	}
	// The list goes last: while it exists, it says what the rest is.
	gone := slices.DeleteFunc(slices.Clone(s.ours), func(name string) bool { return name == listName })
	for _, folder := range slices.Backward(s.folders) {
		gone = append(gone, folder)
	}
	for _, name := range append(gone, listName, ".") {
		if err := os.Remove(filepath.Join(dir, filepath.FromSlash(name))); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return back, err
		}
	}
	return back, nil
}

// course is what is to be done in a folder.
type course struct {
	names []string    // to be put into it
	away  []string    // to be taken out of it
	aside [][2]string // a person's files that are in the way, and their new names
	gone  []string    // those taken out and not replaced
	left  []string    // what is a person's, by its new name
	alone bool        // everything in it is taken out
}

// course works out what must be done so that the folder holds a set with the
// given names, besides what is a person's.
func (t target) course(ctx context.Context, names []string) (*course, error) {
	c := &course{names: names, alone: true}
	if !t.there {
		return c, nil
	}
	s, err := look(ctx, t.path, names)
	if err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, cannot(t.said, err)
	}
	put := map[string]bool{}
	for _, name := range names {
		put[name] = true
	}
	c.away = s.ours
	for _, name := range s.ours {
		if !put[name] {
			c.gone = append(c.gone, name)
		}
	}
	for _, name := range s.theirs {
		c.alone = false
		switch {
		case put[name] && s.listed:
			to, err := t.freeName(name)
			if err != nil {
				return nil, cannot(t.as(name), err)
			}
			c.aside = append(c.aside, [2]string{name, to})
			c.left = append(c.left, to)
		case put[name]: // nobody knows whose it is, and replacing was requested
			c.away = append(c.away, name)
		case path.Base(name)[0] != '.':
			c.left = append(c.left, name)
		}
	}
	return c, nil
}

// freeName is the name, or one derived from it that is free in the folder.
func (t target) freeName(name string) (string, error) {
	if taken, err := exists(t.in(name)); !taken {
		return name, err
	}
	slash := ""
	if n := len(name) - 1; name[n] == '/' {
		name, slash = name[:n], "/"
	}
	ending := filepath.Ext(name)
	for n := 1; ; n++ {
		kept := " (kept)"
		if n > 1 {
			kept = fmt.Sprintf(" (kept %d)", n)
		}
		try := name[:len(name)-len(ending)] + kept + ending
		if taken, err := exists(t.in(try)); !taken {
			return try + slash, err
		}
	}
}

// put puts the finished set in place: as a whole folder where that is possible,
// otherwise file by file.
func (w *workplace) put(c *course) error {
	if c.alone && w.dir == w.beside() {
		back, err := w.putWhole()
		if !errors.Is(err, errNotWhole) {
			c.left = append(c.left, back...)
			return err
		}
	}
	return w.putSingly(c)
}

// errNotWhole is returned where one folder cannot take the place of another.
var errNotWhole = tongue.New("whole folders cannot be exchanged there")

// putWhole puts the finished folder in the place of the target. It returns what
// it found in the old one that is a person's.
func (w *workplace) putWhole() (back []string, err error) {
	if !w.there {
		return nil, w.putNew()
	}
	if err := alike(w.making(), w.path); err != nil {
		return nil, errNotWhole
	}
	if err := os.Rename(w.making(), w.swap()); err != nil {
		return nil, errNotWhole
	}
	if err := swapFolders(w.swap(), w.path); err != nil {
		if err := os.Rename(w.swap(), w.making()); err != nil {
			return nil, cannot(w.said, err)
		}
		return nil, errNotWhole
	}
	if err := syncFolders(filepath.Dir(w.path), []string{filepath.Base(w.dir)}); err != nil {
		return nil, w.unswap(err)
	}
	// Everything is in place. Whatever cannot be tidied up now, the next run will
	// tidy.
	back, _ = w.discard(w.swap())
	return back, nil
}

// unswap puts the old folder back.
func (w *workplace) unswap(why error) error {
	if err := swapFolders(w.swap(), w.path); err != nil {
		return tongue.Errorf("%s: the new set is in its place, but may be lost if the power fails, %w; write it again", w.said, plain(why))
	}
	_ = os.Rename(w.swap(), w.making())
	return cannot(w.said, why)
}

// putNew gives the finished folder the name of the target, which did not exist
// before.
func (w *workplace) putNew() error {
	if err := os.Rename(w.making(), w.path); err != nil {
		return cannot(w.said, err)
	}
	if err := syncFolder(filepath.Dir(w.path)); err != nil {
		if e := os.Rename(w.path, w.making()); e != nil {
			return tongue.Errorf("%s: the set is in its place, but may be lost if the power fails, %w; write it again", w.said, plain(err))
		}
		return cannot(w.said, err)
	}
	return nil
}

// alike gives a folder, and those in it, the permissions of their counterparts
// in another.
func alike(dir, like string) error {
	return filepath.WalkDir(dir, func(at string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(dir, at)
		if err != nil {
			return err
		}
		info, err := os.Stat(filepath.Join(like, rel))
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		if err != nil {
			return err
		}
		return samePermissions(at, info)
	})
}
