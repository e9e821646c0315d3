package export

import (
	"bufio"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"
)

// listName is the file that lists what a set wrote into a folder, in the format
// of sha256sum, which checks it with -c: a line for each file, its SHA-256 in
// hexadecimal, two spaces, and its name below the folder with slashes.
const listName = "sheets.sha256"

// listHead is its first line, by which it is recognised.
const listHead = "# Strakewright wrote these files; those that are not changed go when a set is replaced."

// longestList is the most that is read of one, far more than a set needs.
const longestList = 1 << 22

// sum is the SHA-256 of a file's contents.
type sum [sha256.Size]byte

func (s sum) String() string { return hex.EncodeToString(s[:]) }

// entry is a line of a list.
type entry struct {
	name string
	sum  sum
}

// list is what a set wrote, except the list itself.
type list []entry

func (l list) write(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintln(b, listHead)
	for _, e := range l {
		fmt.Fprintf(b, "%s  %s\n", e.sum, e.name)
	}
	return b.Flush()
}

// readList reads the list of a folder; nil where there is none, or where the
// file of that name is something else. Lines that make no sense are ignored:
// what they named counts as a person's.
func readList(dir string) (list, error) {
	at := filepath.Join(dir, listName)
	info, err := os.Lstat(at)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil || !info.Mode().IsRegular() || info.Size() > longestList {
		return nil, err
	}
	data, err := os.ReadFile(at)
	if err != nil {
		return nil, err
	}
	lines := strings.Split(string(data), "\n")
	if strings.TrimSuffix(lines[0], "\r") != listHead {
		return nil, nil
	}
	l := list{}
	for _, line := range lines[1:] {
		if e, ok := readEntry(strings.TrimSuffix(line, "\r")); ok {
			l = append(l, e)
		}
	}
	return l, nil
}

// readEntry accepts only names that lead to a place below the folder.
func readEntry(line string) (e entry, ok bool) {
	digits, name, ok := strings.Cut(line, "  ")
	if !ok || len(digits) != 2*len(e.sum) || !utf8.ValidString(name) || name != path.Clean(name) || name == "." || !filepath.IsLocal(filepath.FromSlash(name)) {
		return e, false
	}
	if _, err := hex.Decode(e.sum[:], []byte(digits)); err != nil {
		return e, false
	}
	e.name = name
	return e, true
}

func (l list) names() []string {
	var out []string
	for _, e := range l {
		out = append(out, e.name)
	}
	return out
}

// summer computes the sum of what is written through it.
type summer struct {
	w io.Writer
	h hash.Hash
}

func newSummer(w io.Writer) *summer { return &summer{w, sha256.New()} }

func (s *summer) Write(p []byte) (int, error) {
	n, err := s.w.Write(p)
	s.h.Write(p[:n])
	return n, err
}

func (s *summer) sum() (out sum) {
	s.h.Sum(out[:0])
	return out
}

// sumOf is the sum of a file.
func sumOf(ctx context.Context, at string) (sum, error) {
	f, err := os.Open(at)
	if err != nil {
		return sum{}, err
	}
	defer f.Close()
	s := newSummer(io.Discard)
	_, err = io.Copy(stoppable{ctx, s}, f)
	return s.sum(), err
}

// survey is what is found in the places of a set.
type survey struct {
	listed  bool     // there is an earlier set's list
	ours    []string // files of that set that nobody has changed, the list last
	theirs  []string // everything else; a person's folder ends with a slash and is not searched
	folders []string // those that were searched, the outer before the inner
}

// look surveys a folder: what is in it, and in those of its folders where a set
// with the given names, or the one listed there, has files.
func look(ctx context.Context, dir string, names []string) (survey, error) {
	l, err := readList(dir)
	out := survey{listed: l != nil}
	if err != nil {
		return out, err
	}
	sums := map[string]sum{}
	for _, e := range l {
		sums[e.name] = e.sum
	}
	folders := foldersOf(append(slices.Clip(names), l.names()...))
	out.folders = folders
	for _, folder := range append([]string{"."}, folders...) {
		at := filepath.Join(dir, filepath.FromSlash(folder))
		info, err := os.Lstat(at)
		if errors.Is(err, fs.ErrNotExist) || err == nil && !info.IsDir() {
			continue // the folder that holds it has already accounted for it
		}
		if err != nil {
			return out, err
		}
		there, err := os.ReadDir(at)
		if err != nil {
			return out, err
		}
		for _, d := range there {
			if err := ctx.Err(); err != nil {
				return out, err
			}
			name := path.Join(folder, d.Name())
			same, err := unchanged(ctx, dir, name, sums)
			if err != nil {
				return out, err
			}
			switch {
			case folder == "." && (d.Name() == hidden || out.listed && d.Name() == listName):
			case d.IsDir() && slices.Contains(folders, name):
			case d.IsDir():
				out.theirs = append(out.theirs, name+"/")
			case same:
				out.ours = append(out.ours, name)
			default:
				out.theirs = append(out.theirs, name)
			}
		}
	}
	if out.listed {
		out.ours = append(out.ours, listName)
	}
	return out, ctx.Err()
}

// unchanged reports whether a file is as a set wrote it, and may be removed. One
// that has been marked read-only since is to stay.
func unchanged(ctx context.Context, dir, name string, sums map[string]sum) (bool, error) {
	want, listed := sums[name]
	if !listed {
		return false, nil
	}
	at := filepath.Join(dir, filepath.FromSlash(name))
	info, err := os.Lstat(at)
	if err != nil || !info.Mode().IsRegular() || readOnly(info) {
		return false, err
	}
	now, err := sumOf(ctx, at)
	if errors.Is(err, fs.ErrPermission) {
		return false, nil // somebody has barred it, and so changed it
	}
	return now == want, err
}
