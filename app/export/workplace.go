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

// hidden is the name of the hidden folder that a run works in, and how it
// begins where it stands beside the folder to write into.
const hidden = ".strakewright"

// workplace is that hidden folder. It holds
//
//	lock     locked as long as its run lasts: a run that was killed has let go
//	making/  the new set, while it is made
//	swap/    the whole new set, then the folder whose place it took
//	old/     what was moved out of the folder, where files are moved singly
//	journal  what is being moved, until all is in its place; it is then named
//	done     until all that was only for the moving is gone
//
// so that the next run can put back, or tidy up after, one that was killed.
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

// longestName is what of a folder's name still fits into the hidden one's, in
// bytes: file systems take 255, some of them less.
const longestName = 100

// beside is the hidden folder's place beside the target, whose place a whole
// folder can take from there.
func (t target) beside() string {
	name := filepath.Base(t.path)
	if len(name) > longestName {
		s := sha256.Sum256([]byte(name))
		name = hex.EncodeToString(s[:8])
	}
	return filepath.Join(filepath.Dir(t.path), hidden+"-"+name)
}

// inside is its place in the target, from which files are moved singly: for
// folders whose place no other can take.
func (t target) inside() string { return filepath.Join(t.path, hidden) }

// begin makes the hidden folder, locks it, and first mends what a killed run has
// left. Both places are looked at, for not all who may write into a folder may
// write beside it.
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
		if left, err := exists(t.inside()); err != nil || left { // with something of a person's
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

// work takes a hidden folder for this run and mends what stands in it.
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
	const often = 100 // the run before this one may just be taking it away
	for range often {
		err := os.Mkdir(w.dir, 0o700)
		if err != nil && !errors.Is(err, fs.ErrExist) {
			return cannot(w.said, err)
		}
		made := err == nil
		if info, err := os.Lstat(w.dir); err != nil && !made {
			continue
		} else if err == nil && (!info.IsDir() || !own(info)) {
			return tongue.Errorf("%s: %s is in the way, and is not of a run of yours: have it taken away, or choose another folder", w.said, w.dir)
		}
		got, err := w.takeLock()
		switch {
		case got:
			return nil
		case errors.Is(err, errBusy):
			return fmt.Errorf("%s: %w", w.said, err)
		case errors.Is(err, fs.ErrNotExist): // that run took it away
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

// takeLock locks the folder. One that another run holds gives errBusy, one that
// is taken away meanwhile fs.ErrNotExist.
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

// leave tidies up and lets go. What a later run needs to put things back stays.
func (w *workplace) leave() {
	if moving, err := exists(w.journal()); err == nil && !moving {
		_ = os.RemoveAll(w.making()) // the next run does it, if this one cannot
	}
	lock := filepath.Join(w.dir, "lock")
	if there, err := os.ReadDir(w.dir); err != nil || len(there) > 1 {
		_ = w.lock.Unlock()
		return
	}
	if runtime.GOOS == "windows" { // what is open cannot be removed there
		_ = w.lock.Unlock()
	}
	_ = os.Remove(lock)
	_ = os.Remove(w.dir)
	_ = w.lock.Unlock()
}

// mend puts back what a killed run was moving, or tidies up after it.
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

// discard takes away a folder of an earlier set. What in it is a person's goes
// back into the target; its names there are given.
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
	// The list goes last: while it is there, it is known what the rest is.
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
	names []string    // to be put there
	away  []string    // to be taken out of it
	aside [][2]string // what stands in the way and is a person's, and how it is called from now on
	gone  []string    // those taken out for which nothing is put there
	left  []string    // what is a person's, as it is called from now on
	alone bool        // all that is there is taken out
}

// course finds out what is to be done to have a set with such names alone in
// the folder but for what is a person's.
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
		case put[name]: // nobody knows whose it is, and it was asked for
			c.away = append(c.away, name)
		case path.Base(name)[0] != '.':
			c.left = append(c.left, name)
		}
	}
	return c, nil
}

// freeName is the name, or one made of it that is free in the folder.
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

// put puts the set that was made into its place: as a whole folder, where that
// can be, and else file by file.
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

// errNotWhole is given where one folder cannot take the place of another.
var errNotWhole = tongue.New("whole folders cannot be exchanged there")

// putWhole puts the folder that was made in the place of the target. It gives
// what was found in the old one and is a person's.
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
	// All is in its place. What cannot be tidied up now the next run will.
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

// putNew gives the folder that was made the name of the target, which was not
// there before.
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

// alike gives a folder, and those in it, the permissions of another's.
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
