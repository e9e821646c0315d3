package export

import (
	"context"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
)

// moves is the content of a journal: which files are moved one by one, in this
// order. It is on the disk before the first is moved.
type moves struct {
	Out     []move   `json:"out"`     // out of the folder, or aside within it
	Made    []string `json:"made"`    // folders made in it
	In      []move   `json:"in"`      // into it
	Emptied []string `json:"emptied"` // folders that may be empty afterwards
}

// move is the move of one file. Names begin with "folder/" or, in the hidden one,
// "hidden/".
type move struct {
	From string `json:"from"`
	To   string `json:"to"`
	Sum  string `json:"sum,omitempty"` // for a new file
}

const (
	inFolder = "folder/"
	inHidden = "hidden/"
)

// at is where a name in a journal leads, which must be below the folders.
func (w *workplace) at(name string) (string, error) {
	for prefix, dir := range map[string]string{inFolder: w.path, inHidden: w.dir} {
		if rest, ok := strings.CutPrefix(name, prefix); ok && filepath.IsLocal(filepath.FromSlash(rest)) {
			return filepath.Join(dir, filepath.FromSlash(rest)), nil
		}
	}
	return "", tongue.Errorf("%q is not a place", name)
}

// ends are where a move begins and ends.
func (w *workplace) ends(m move) (from, to string, err error) {
	if from, err = w.at(m.From); err == nil {
		to, err = w.at(m.To)
	}
	return from, to, err
}

// moves lists the moves of a course.
func (w *workplace) moves(c *course) (*moves, error) {
	m := &moves{}
	for _, name := range c.away {
		m.Out = append(m.Out, move{From: inFolder + name, To: inHidden + "old/" + name})
	}
	for _, a := range c.aside {
		m.Out = append(m.Out, move{From: inFolder + a[0], To: inFolder + a[1]})
	}
	for _, dir := range foldersOf(c.names) {
		there, err := exists(w.in(dir))
		if err != nil {
			return nil, err
		}
		if !there {
			m.Made = append(m.Made, dir)
		}
	}
	sums := map[string]string{}
	made, err := readList(w.making())
	if err != nil {
		return nil, err
	}
	for _, e := range made {
		sums[e.name] = e.sum.String()
	}
	for _, name := range c.names {
		m.In = append(m.In, move{From: inHidden + "making/" + name, To: inFolder + name, Sum: sums[name]})
	}
	m.Emptied = foldersOf(c.away)
	slices.Reverse(m.Emptied) // the inner ones first
	return m, nil
}

// putSingly moves the old files out of the folder and the new ones in; if one
// cannot be moved, everything is put back.
func (w *workplace) putSingly(c *course) error {
	m, err := w.moves(c)
	if err == nil {
		err = w.writeMoves(m)
	}
	if err != nil {
		return cannot(w.said, err)
	}
	err = w.carryOut(m)
	if err == nil {
		err = w.commit()
	}
	if err != nil {
		if e := w.putBack(m); e != nil {
			return tongue.Errorf("%s: it cannot be written, %w; what was there cannot be put back either, %w: it is kept in %s, and the next run into this folder puts it back", w.said, plain(err), plain(e), w.dir)
		}
		return cannot(w.said, err)
	}
	// Everything is in place. Whatever cannot be tidied up now, the next run will
	// tidy.
	if w.tidy(m) == nil {
		back, _ := w.discard(w.old())
		c.left = append(c.left, back...)
	}
	return nil
}

// carryOut makes the moves; those out of the folder are on the disk before
// those into it begin.
func (w *workplace) carryOut(m *moves) error {
	if err := w.warn(); err != nil {
		return err
	}
	for i, half := range [][]move{m.Out, m.In} {
		if i == 1 {
			for _, dir := range m.Made {
				if err := os.Mkdir(w.in(dir), 0o755); err != nil {
					return err
				}
			}
		}
		for _, v := range half {
			from, to, err := w.ends(v)
			if err != nil {
				return err
			}
			if err := w.moveTo(from, to); err != nil {
				return err
			}
		}
		if err := w.sync(m); err != nil {
			return err
		}
	}
	return nil
}

// moveTo moves a file to where none is. Folders are made in the hidden one.
func (w *workplace) moveTo(from, to string) error {
	if strings.HasPrefix(to, w.dir+string(filepath.Separator)) {
		if err := os.MkdirAll(filepath.Dir(to), 0o700); err != nil {
			return err
		}
	}
	taken, err := exists(to)
	if err != nil {
		return err
	}
	if taken {
		return &fs.PathError{Op: "rename", Path: to, Err: fs.ErrExist}
	}
	return os.Rename(from, to)
}

// sync ensures that all folders with files moved out of or into them are on the
// disk.
func (w *workplace) sync(m *moves) error {
	if err := syncFolders(w.path, append(slices.Clip(m.Emptied), m.inner()...)); err != nil {
		return err
	}
	var old []string
	for _, v := range m.Out {
		if name, ok := strings.CutPrefix(v.To, inHidden); ok {
			old = append(old, name)
		}
	}
	return syncFolders(w.dir, foldersOf(old))
}

// inner are the folders into which files are moved.
func (m *moves) inner() []string {
	var names []string
	for _, v := range m.In {
		names = append(names, strings.TrimPrefix(v.To, inFolder))
	}
	return foldersOf(names)
}

// commit records that everything is in place: from then on nothing is put back.
func (w *workplace) commit() error {
	if err := w.unwarn(); err != nil {
		return err
	}
	if err := os.Rename(w.journal(), w.done()); err != nil {
		return err
	}
	return syncFolder(w.dir)
}

// putBack undoes the moves that were made, from the last to the first, and
// removes the journal.
func (w *workplace) putBack(m *moves) error {
	// If everything is in place but could not be brought to the disk.
	if err := os.Rename(w.done(), w.journal()); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	all := append(slices.Clip(m.Out), m.In...)
	for _, v := range slices.Backward(all) {
		if err := w.undo(v); err != nil {
			return err
		}
	}
	for _, dir := range slices.Backward(m.Made) {
		_ = os.Remove(w.in(dir)) // stays if somebody has put something in it
	}
	if err := w.sync(m); err != nil {
		return err
	}
	if err := w.unwarn(); err != nil {
		return err
	}
	if err := os.RemoveAll(w.old()); err != nil { // holds only empty folders
		return err
	}
	if err := os.Remove(w.journal()); err != nil {
		return err
	}
	return syncFolder(w.dir)
}

// undo moves a file back, if it was moved. Whatever a person has put in its
// place since, or made of it, is kept under another name.
func (w *workplace) undo(v move) error {
	from, to, err := w.ends(v)
	if err != nil {
		return err
	}
	if moved, err := exists(to); !moved {
		return err
	}
	left, err := exists(from)
	if err != nil {
		return err
	}
	isNew := strings.HasPrefix(v.To, inFolder) && strings.HasPrefix(v.From, inHidden)
	switch {
	case isNew && left:
		return nil // a person put there what is there now
	case isNew:
		if s, err := sumOf(context.Background(), to); err == nil && v.Sum != "" && s.String() != v.Sum {
			return w.keep(v.To)
		}
	case left:
		if err := w.keep(v.From); err != nil {
			return err
		}
	}
	return os.Rename(to, from)
}

// keep gives a person's file in the folder a name that conflicts with nothing.
func (w *workplace) keep(name string) error {
	name = strings.TrimPrefix(name, inFolder)
	to, err := w.freeName(name)
	if err != nil {
		return err
	}
	return os.Rename(w.in(name), w.in(to))
}

// tidy removes what was only for the moving, once everything is in place.
func (w *workplace) tidy(m *moves) error {
	if err := w.unwarn(); err != nil {
		return err
	}
	for _, dir := range m.Emptied {
		_ = os.Remove(w.in(dir)) // stays if it holds something
	}
	// Whatever was taken out and is in no list was overwritten on request.
	l, err := readList(w.old())
	if err != nil {
		return err
	}
	if l == nil {
		if err := os.RemoveAll(w.old()); err != nil {
			return err
		}
	}
	if err := os.Remove(w.done()); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// writeMoves writes the journal, through to the disk.
func (w *workplace) writeMoves(m *moves) error {
	data, err := json.MarshalIndent(m, "", " ")
	if err != nil {
		return err
	}
	draft := w.journal() + ".draft"
	defer func() { _ = os.Remove(draft) }() // after a success it is gone
	f, err := os.Create(draft)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		return err
	}
	if err := os.Rename(draft, w.journal()); err != nil {
		return err
	}
	if err := syncFolder(w.dir); err != nil {
		_ = os.Remove(w.journal())
		return err
	}
	return nil
}

// readMoves reads the journal of a killed run, and whether everything was
// moved; nil where nothing was being moved.
func (w *workplace) readMoves() (m *moves, all bool, err error) {
	data, err := os.ReadFile(w.journal())
	if all = errors.Is(err, fs.ErrNotExist); all {
		data, err = os.ReadFile(w.done())
	}
	if errors.Is(err, fs.ErrNotExist) {
		return nil, false, nil
	}
	m = &moves{}
	if err == nil {
		err = json.Unmarshal(data, m)
	}
	for _, v := range append(slices.Clip(m.Out), m.In...) {
		if _, _, e := w.ends(v); err == nil {
			err = e
		}
	}
	for _, dir := range append(slices.Clip(m.Made), m.Emptied...) {
		if !filepath.IsLocal(filepath.FromSlash(dir)) && err == nil {
			err = tongue.Errorf("%q is not a place", dir)
		}
	}
	if err != nil {
		return nil, false, tongue.Errorf("%s: an earlier run was ended while it moved files, and its note of them cannot be read, %w: what was there is kept in %s; move it back and remove that folder", w.said, plain(err), w.dir)
	}
	return m, all, nil
}

// warningName is a file that is in the folder while some files are of the old
// set and some of the new: anyone who looks in after the program was killed or
// the power failed should see it before cutting.
const (
	warningName = "half-changed.txt"
	warning     = "The sheets in this folder are half changed: the program ended while it was replacing the set. Cut nothing from them. Write the sheets into this folder again: the program first restores what was here.\n"
)

func (w *workplace) warn() error {
	f, err := os.OpenFile(w.in(warningName), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return nil // a person's, who has another use for the name
	}
	if err != nil {
		return err
	}
	_, err = f.WriteString(warning)
	if err == nil {
		err = f.Sync() // before anything is moved
	}
	if e := f.Close(); err == nil {
		err = e
	}
	return err
}

// unwarn removes the warning, and nothing else of that name.
func (w *workplace) unwarn() error {
	info, err := os.Lstat(w.in(warningName))
	if errors.Is(err, fs.ErrNotExist) || err == nil && (!info.Mode().IsRegular() || info.Size() > int64(len(warning))) {
		return nil
	}
	if err != nil {
		return err
	}
	data, err := os.ReadFile(w.in(warningName))
	if err != nil || !strings.HasPrefix(warning, string(data)) { // the run may have ended while writing it
		return err
	}
	return os.Remove(w.in(warningName))
}
