package app

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"strakewright/app/answer"
	"strakewright/app/tables"
	"strakewright/assets"
	"strakewright/hull"
	"strakewright/loft"
)

// Extension is the ending of a plan's file name.
const Extension = ".strakeplan"

// ErrNoPath is given by Save where the plan has no file yet.
var ErrNoPath = errors.New("the plan has no file yet; choose a name to save it under")

// ErrChangedOnDisk is wrapped by the error of Save where the file is no longer
// what was opened or saved.
var ErrChangedOnDisk = errors.New("the file has been changed by another program since it was opened")

// NewDemo opens the demo plan, which has no file.
func NewDemo() (*Session, error) {
	p, err := hull.ReadPlan(bytes.NewReader(assets.Demo()), "demo plan")
	if err != nil {
		return nil, err
	}
	return start(p, "", "demo plan", fingerprint{})
}

// Open opens a plan, or a hull source as a new plan, which has no file. The
// error is the first fault of the file.
func Open(path string) (*Session, error) { return OpenContext(context.Background(), path) }

// OpenContext is Open; it stops, with an error that wraps the context's, when the
// context ends.
func OpenContext(ctx context.Context, path string) (*Session, error) {
	disk := fingerprintOf(path) // first: a change while it is read is then noticed
	p, isPlan, err := read(path)
	if err != nil {
		return nil, err
	}
	if !isPlan {
		return startContext(ctx, p, "", path, fingerprint{})
	}
	return startContext(ctx, p, path, path, disk)
}

// Read reads a plan, or a hull source as a new plan. The error is the first
// fault of the file.
func Read(path string) (*hull.Plan, error) {
	p, _, err := read(path)
	return p, err
}

func read(path string) (p *hull.Plan, isPlan bool, err error) {
	c := hull.CheckFile(path)
	switch {
	case len(c.Faults) > 0:
		return nil, false, c.Faults[0]
	case c.Plan != nil:
		return c.Plan, true, nil
	}
	return hull.NewPlan(titleOf(path), *c.Hull), false, nil
}

// titleOf is a file's name without its ending.
func titleOf(path string) string {
	name := filepath.Base(path)
	return strings.TrimSuffix(name, filepath.Ext(name))
}

// Check gives what could be read of a plan or hull source, the one or the
// other by what stands in it, and every fault found, that it cannot be lofted
// or planked included. Of a hull source the plan has a hull alone; the plan is
// nil where nothing could be read. kind is one of hull.Kind, or empty; notes say
// what the builder should know of a source, a sentence each.
func Check(path string) (kind string, p *hull.Plan, notes []string, faults []hull.Fault) {
	return CheckAs(path, hull.Taking{})
}

// CheckAs is Check with how a drawing is to be taken off.
func CheckAs(path string, how hull.Taking) (kind string, p *hull.Plan, notes []string, faults []hull.Fault) {
	c := hull.CheckFileAs(path, how)
	switch {
	case c.Plan != nil:
		kind, p = string(c.Kind), c.Plan
	case c.Hull != nil:
		kind, p = string(c.Kind), &hull.Plan{Hull: *c.Hull}
	}
	if len(c.Faults) > 0 || p == nil {
		return kind, p, c.Notes, c.Faults
	}
	whole := p
	if c.Plan == nil {
		whole = hull.NewPlan("", p.Hull)
	}
	k, err := loft.Plank(whole)
	if err != nil {
		return kind, p, c.Notes, []hull.Fault{{File: path, What: err.Error()}}
	}
	for _, l := range k.Layers {
		for _, f := range l.Faults() {
			f.File = path
			faults = append(faults, f)
		}
	}
	return kind, p, c.Notes, faults
}

// Write writes a plan to a file, whole or not at all. A file that exists is
// replaced only if that is asked for; else the error wraps fs.ErrExist.
func Write(path string, p *hull.Plan, replace bool) error {
	if err := free(path, replace); err != nil {
		return err
	}
	return hull.SaveFile(path, p)
}

// free tells whether the path may be written to.
func free(path string, replace bool) error {
	if replace {
		return nil
	}
	if _, err := os.Lstat(path); err == nil {
		return fmt.Errorf("%s: %w; choose another name, or have it replaced", path, fs.ErrExist)
	}
	return nil
}

// Save writes the plan to its file. It is refused, with ErrChangedOnDisk,
// where another program has changed the file since.
func (s *Session) Save() error {
	s.endDrag()
	path := s.Path()
	if path == "" {
		return ErrNoPath
	}
	s.mu.Lock()
	known := s.disk
	s.mu.Unlock()
	if now := fingerprintOf(path); now != known && now != (fingerprint{}) {
		return fmt.Errorf("%s: %w; save under another name, or have it replaced", path, ErrChangedOnDisk)
	}
	return s.save(path, true)
}

// SaveAs writes the plan to another file, which is its file from then on. A
// file that exists is replaced only if that is asked for; else the error wraps
// fs.ErrExist.
func (s *Session) SaveAs(path string, replace bool) error {
	s.endDrag()
	return s.save(path, replace)
}

func (s *Session) save(path string, replace bool) error {
	s.editing.Lock()
	p := s.Plan()
	err := Write(path, p, replace)
	if err == nil {
		s.mu.Lock()
		s.path, s.saved, s.disk = path, p, fingerprintOf(path)
		s.mu.Unlock()
		s.keeper.move(autosavePath(path))
	}
	s.editing.Unlock()
	if err == nil {
		s.tell()
	}
	return err
}

// ExportTable writes the strake table as a CSV file, whole or not at all: one
// row a strake and frame. A file that exists is replaced only if that is asked
// for; else the error wraps fs.ErrExist.
func (s *Session) ExportTable(path string, replace bool) error {
	if err := free(path, replace); err != nil {
		return err
	}
	rows := answer.StrakesOf(s.Planking()).Rows()
	return hull.ReplaceFile(path, func(w io.Writer) error { return tables.WriteRows(w, rows) })
}

// fingerprint tells whether a file is still what it was; zero for one that
// cannot be read.
type fingerprint [sha256.Size]byte

func fingerprintOf(path string) fingerprint {
	data, err := hull.ReadPlain(path, hull.LargestFile)
	if err != nil {
		return fingerprint{}
	}
	return sha256.Sum256(data)
}
