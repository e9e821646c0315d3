package hull

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"unicode"
	"unicode/utf8"
)

// Fault is one thing that is wrong with what the builder gave, told in one
// sentence: where it is, what is wrong and how to mend it.
type Fault struct {
	File  string // as given; empty where there is none
	Line  int    // line of the file, from 1; 0 where no one line is at fault
	Frame string // name of the frame at fault, or empty
	What  string // as "the half-breadth is -2, below zero"
	Mend  string // as "give it as 0 or more"

	cause error
}

// faultOf gives the fault that an error is or wraps; any other error is one of the
// file at that path.
func faultOf(path string, err error) Fault {
	var f Fault
	if errors.As(err, &f) {
		return f
	}
	return Fault{File: path, What: err.Error(), cause: err}
}

// Error gives the fault as one sentence.
func (f Fault) Error() string {
	var place []string
	if f.File != "" {
		place = append(place, f.File)
	}
	if f.Line > 0 {
		place = append(place, "line "+strconv.Itoa(f.Line))
	}
	if f.Frame != "" {
		place = append(place, "frame "+f.Frame)
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

// Unwrap gives the error that lies behind the fault, as one of the file
// system's, or nil.
func (f Fault) Unwrap() error { return f.cause }

// Because is the fault with the error that lies behind it, to be unwrapped.
func (f Fault) Because(err error) Fault {
	f.cause = err
	return f
}

// mostFaults bounds what is told of one file.
const mostFaults = 100

// longestName is how many characters a name may have.
const longestName = 64

// faults gathers the faults of one file.
type faults struct {
	file string
	list []Fault
}

// add notes a fault; line 0 and frame "" leave the place out, and so does a
// name that would spoil the sentence.
func (f *faults) add(line int, frame, mend, what string, args ...any) {
	if !seemly(frame) {
		frame = ""
	}
	switch n := len(f.list); {
	case n < mostFaults:
		f.list = append(f.list, Fault{File: f.file, Line: line, Frame: frame, What: fmt.Sprintf(what, args...), Mend: mend})
	case n == mostFaults:
		f.list = append(f.list, Fault{File: f.file, What: fmt.Sprintf("there are more faults than the %d told", mostFaults), Mend: "mend these first and check again"})
	}
}

// sorted gives the faults in the order of their lines, those of the whole file
// last, or nil.
func (f *faults) sorted() []Fault {
	slices.SortStableFunc(f.list, func(a, b Fault) int {
		if (a.Line == 0) != (b.Line == 0) {
			return cmp.Compare(b.Line, a.Line)
		}
		return cmp.Compare(a.Line, b.Line)
	})
	return f.list
}

// called gives a name as it is told in a sentence: in quotes, and cut short,
// where it would spoil that.
func called(name string) string {
	if name != "" && seemly(name) {
		return name
	}
	if r := []rune(name); len(r) > longestName {
		name = string(r[:longestName]) + "…"
	}
	return strconv.Quote(name)
}

// counted gives "are 3 frames" or "is 1 frame"; without verbs "3 frames".
func counted(n int, one, more, thing string) string {
	verb := one
	if n != 1 {
		verb, thing = more, thing+"s"
	}
	return strings.TrimSpace(verb + " " + strconv.Itoa(n) + " " + thing)
}

// told gives a figure as it is told in a sentence: six digits at most.
func told(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

// fileFault tells an error of the file system in our words, and keeps it to be
// unwrapped.
func fileFault(file, what, mend string, err error) Fault {
	why := err
	var system syscall.Errno // without the name of a file that is only ours
	if errors.As(err, &system) {
		why = system
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		mend = "check its name and folder"
	case nameTooLong(err):
		mend = "choose a shorter name or folder"
	}
	return Fault{File: file, What: what + " (" + why.Error() + ")", Mend: mend, cause: err}
}

// nameTooLong tells whether the system has refused a name for its length.
func nameTooLong(err error) bool { return errors.Is(err, syscall.ENAMETOOLONG) }

// seemly tells whether a name is short enough and can be seen whole.
func seemly(name string) bool {
	return utf8.RuneCountInString(name) <= longestName && printable(name)
}

// printable tells whether every character of a name can be seen or is a space.
func printable(s string) bool {
	return strings.IndexFunc(s, func(r rune) bool { return !unicode.IsPrint(r) }) < 0
}
