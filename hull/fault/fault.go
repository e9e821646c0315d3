package fault

import (
	"cmp"
	"errors"
	"io/fs"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"unicode"
	"unicode/utf8"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Fault is one thing that is wrong with what the builder gave, said in one
// sentence: where it is, what is wrong and how to mend it.
type Fault struct {
	File  string // as given; empty where there is none
	Line  int    // line of the file, or row of the sheet, from 1; 0 where no single line is at fault
	Sheet string // of a workbook; empty for any other file
	Field int    // the field of the line at fault, or column of the sheet, from 1; 0 where not known
	Frame string // name of the frame at fault, or empty
	What  string // such as "the half-breadth is -2, below zero"
	Mend  string // such as "give it as 0 or more"

	cause error
}

// Of gives the fault that an error is or wraps; any other error becomes a fault
// of the file at that path.
func Of(path string, err error) Fault {
	var f Fault
	if errors.As(err, &f) {
		return f
	}
	return Fault{File: path, What: err.Error(), cause: err}
}

// Error returns the fault as one sentence.
func (f Fault) Error() string {
	var place []string
	if f.File != "" {
		place = append(place, f.File)
	}
	switch {
	case f.Sheet != "" && f.Line > 0 && f.Field > 0:
		place = append(place, tongue.T("sheet %s", f.Sheet), tongue.T("cell %s%s", Column(f.Field), strconv.Itoa(f.Line)))
	case f.Sheet != "" && f.Line > 0:
		place = append(place, tongue.T("sheet %s", f.Sheet), tongue.T("row %s", strconv.Itoa(f.Line)))
	case f.Sheet != "":
		place = append(place, tongue.T("sheet %s", f.Sheet))
	case f.Line > 0:
		place = append(place, tongue.T("line %s", strconv.Itoa(f.Line)))
	}
	if f.Frame != "" {
		place = append(place, tongue.T("frame %s", f.Frame))
	}
	s := f.What
	if len(place) > 0 {
		s = strings.Join(place, ", ") + ": " + s
	}
	if f.Mend != "" {
		s += "; " + f.Mend
	}
	return s + "."
}

// Unwrap returns the error behind the fault, such as one from the file system,
// or nil.
func (f Fault) Unwrap() error { return f.cause }

// Because is the fault with the error behind it, which Unwrap returns.
func (f Fault) Because(err error) Fault {
	f.cause = err
	return f
}

// MostFaults is the most faults reported for one file.
const MostFaults = 100

// LongestName is how many characters a name may have.
const LongestName = 64

// List collects the faults of one file.
type List struct {
	File  string
	Found []Fault
}

// Add records a fault. Line 0 and frame "" leave the place out, and so does a
// name that would spoil the sentence.
//
//tongue:says 2,3
func (f *List) Add(line int, frame, mend, what string, args ...any) {
	if !Seemly(frame) {
		frame = ""
	}
	switch n := len(f.Found); {
	case n < MostFaults:
		f.Found = append(f.Found, Fault{File: f.File, Line: line, Frame: frame, What: tongue.T(what, args...), Mend: tongue.T(mend)})
	case n == MostFaults:
		f.Found = append(f.Found, Fault{File: f.File, What: tongue.T("there are more faults than these %d", MostFaults), Mend: tongue.T("correct these first and check again")})
	}
}

// AddAt records a fault in one field of a line, counted from 1.
//
//tongue:says 3,4
func (f *List) AddAt(line, field int, frame, mend, what string, args ...any) {
	n := len(f.Found)
	f.Add(line, frame, mend, what, args...)
	if n < min(len(f.Found), MostFaults) {
		f.Found[n].Field = field
	}
}

// Column is the letters at the head of a column of a sheet: 1 is A, 27 is AA.
func Column(n int) string {
	var letters []byte
	for ; n > 0; n = (n - 1) / 26 {
		letters = append(letters, byte('A'+(n-1)%26))
	}
	slices.Reverse(letters)
	return string(letters)
}

// Sorted returns the faults in the order of their lines, with those of the
// whole file last, or nil.
func (f *List) Sorted() []Fault {
	slices.SortStableFunc(f.Found, func(a, b Fault) int {
		if (a.Line == 0) != (b.Line == 0) {
			return cmp.Compare(b.Line, a.Line)
		}
		return cmp.Compare(a.Line, b.Line)
	})
	return f.Found
}

// Name returns a name as written in a sentence: quoted, and shortened, where it
// would otherwise spoil the sentence.
func Name(name string) string {
	if name != "" && Seemly(name) {
		return name
	}
	if r := []rune(name); len(r) > LongestName {
		name = string(r[:LongestName]) + "…"
	}
	return strconv.Quote(name)
}

// Figure returns a figure as written in a sentence: six digits at most.
func Figure(v float64) string { return tongue.Figure(strconv.FormatFloat(v, 'g', 6, 64)) }

// OfFile words an error from the file system in our own words, and keeps it to
// be unwrapped.
//
//tongue:says 1,2
func OfFile(file, what, mend string, err error) Fault {
	what, mend = tongue.T(what), tongue.T(mend)
	why := err
	var system syscall.Errno // without the name of a file that only we use
	if errors.As(err, &system) {
		why = system
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		mend = tongue.T("check its name and folder")
	case nameTooLong(err):
		mend = tongue.T("choose a shorter name or folder")
	}
	return Fault{File: file, What: what + " (" + why.Error() + ")", Mend: mend, cause: err}
}

// nameTooLong reports whether the system refused a name for its length.
func nameTooLong(err error) bool { return errors.Is(err, syscall.ENAMETOOLONG) }

// Seemly reports whether a name is short enough and entirely visible.
func Seemly(name string) bool {
	return utf8.RuneCountInString(name) <= LongestName && Printable(name)
}

// Printable reports whether every character of a name is visible or a space.
func Printable(s string) bool {
	return strings.IndexFunc(s, func(r rune) bool { return !unicode.IsPrint(r) }) < 0
}
