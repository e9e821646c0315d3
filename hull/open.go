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

// OpenSource reads the hull source at a path, as ReadPoints does.
func OpenSource(path string) (*Hull, error) {
	return opened(path, func(r io.Reader) (*Hull, error) { return ReadPoints(r, path) })
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

// Checked is what CheckFile found in a file.
type Checked struct {
	Plan   *Plan // of a plan file, as far as it could be read; else nil
	Hull   *Hull // of the plan or source, as far as it could be read; empty or nil if not at all
	Faults []Fault
}

// CheckFile reads a plan file or a hull source, whichever the file is by what
// stands in it, and gives all that is wrong with it.
func CheckFile(path string) Checked {
	c, err := opened(path, func(r io.Reader) (*Checked, error) {
		b := bufio.NewReader(r)
		c := &Checked{}
		if !startsObject(b) {
			c.Hull, c.Faults = CheckPoints(b, path)
			return c, nil
		}
		if c.Plan, c.Faults = CheckPlan(b, path); c.Plan != nil {
			c.Hull = &c.Plan.Hull
		}
		return c, nil
	})
	if err != nil {
		return Checked{Faults: []Fault{err.(Fault)}}
	}
	return *c
}

// startsObject tells, without reading on, whether the first thing in the text
// is a brace, as in every plan file.
func startsObject(b *bufio.Reader) bool {
	head, _ := b.Peek(b.Size()) // a shorter text than that is no error
	head = bytes.TrimLeft(bytes.TrimPrefix(head, []byte(utf8BOM)), " \t\r\n")
	return len(head) > 0 && head[0] == '{'
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
