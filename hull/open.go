package hull

import (
	"bufio"
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// OpenFile reads the plan file at a path, as ReadPlan does.
func OpenFile(path string) (*Plan, error) {
	return opened(path, func(r io.Reader) (*Plan, error) { return ReadPlan(r, path) })
}

// OpenSource reads the hull source at a path, of whichever kind it is by what
// stands in it. The error is its first Fault.
func OpenSource(path string) (*Hull, error) {
	c := checkPath(path, false)
	if len(c.Faults) > 0 {
		return nil, c.Faults[0]
	}
	return c.Hull, nil
}

// TakeOff reads the hull source at a path and gives a new plan of it, under
// the file's name without its ending.
func TakeOff(path string) (*Plan, error) {
	h, err := OpenSource(path)
	if err != nil {
		return nil, err
	}
	name := filepath.Base(path)
	return NewPlan(strings.TrimSuffix(name, filepath.Ext(name)), *h), nil
}

// Kind is what a file holds.
type Kind string

// The kinds of file.
const (
	PlanFile Kind = "plan"
	Points   Kind = "points"  // a table of points
	Offsets  Kind = "offsets" // a shipyard's table of offsets
	Girths   Kind = "girths"  // measured girths alone
)

// Checked is what CheckFile found in a file.
type Checked struct {
	Kind   Kind  // empty where nothing could be read
	Plan   *Plan // of a plan file, as far as it could be read; else nil
	Hull   *Hull // of the plan or source, as far as it could be read; empty or nil if not at all
	Faults []Fault
}

// CheckFile reads a plan file or a hull source, whichever the file is by what
// stands in it, and gives all that is wrong with it.
func CheckFile(path string) Checked { return checkPath(path, true) }

// checkPath reads a file; a plan only where these are wanted.
func checkPath(path string, plans bool) Checked {
	c, err := opened(path, func(r io.Reader) (*Checked, error) {
		b := bufio.NewReaderSize(r, 64<<10)
		c := &Checked{Kind: kindOf(b)}
		switch c.Kind {
		case PlanFile:
			if !plans {
				return nil, Fault{File: path, What: "this is a plan, not a hull source", Mend: "open it as a plan"}
			}
			if c.Plan, c.Faults = CheckPlan(b, path); c.Plan != nil {
				c.Hull = &c.Plan.Hull
			}
		case Offsets:
			c.Hull, c.Faults = CheckOffsets(b, path)
		case Girths:
			c.Hull, c.Faults = CheckGirths(b, path)
		default:
			c.Hull, c.Faults = CheckPoints(b, path)
		}
		return c, nil
	})
	if err != nil {
		return Checked{Faults: []Fault{err.(Fault)}}
	}
	return *c
}

// kindOf tells, without reading on, what a file holds by what it begins with; a
// table of points where nothing else is known.
func kindOf(b *bufio.Reader) Kind {
	head, _ := b.Peek(b.Size()) // a shorter text than that is no error
	head = bytes.TrimLeft(bytes.TrimPrefix(head, []byte(utf8BOM)), " \t\r\n")
	line := head
	if i := bytes.IndexAny(head, "\r\n"); i >= 0 {
		line = head[:i]
	}
	first := line
	if i := bytes.IndexAny(line, ",;\t"); i >= 0 {
		first = line[:i]
	}
	key := strings.ToLower(strings.Trim(string(first), "\" "))
	switch {
	case len(head) > 0 && head[0] == '{':
		return PlanFile
	case key == offsetsKey:
		return Offsets
	case key == "frame" && bytes.Contains(bytes.ToLower(line), []byte("girth")):
		return Girths
	}
	return Points
}

// opened reads the file at a path; that it cannot be opened is a Fault.
func opened[T any](path string, read func(io.Reader) (*T, error)) (*T, error) {
	const mend = "check that you may read it"
	file, err := os.Open(path)
	if err != nil {
		return nil, fileFault(path, "cannot be opened", mend, err)
	}
	defer file.Close()
	if info, err := file.Stat(); err == nil && info.IsDir() {
		return nil, Fault{File: path, What: "it is a folder", Mend: "name a file in it"}
	}
	return read(file)
}
