package app

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/tables"
	"github.com/strakewright/strakewright/assets"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/keep"
	"github.com/strakewright/strakewright/hull/mesh"
	"github.com/strakewright/strakewright/hull/source"
	"github.com/strakewright/strakewright/loft"
)

// Extension is the extension of a plan's file name.
const Extension = ".strakeplan"

// errNoPath is returned by Save if the plan has no file yet.
var errNoPath = tongue.New("the plan has no file yet; choose a name to save it under")

// ErrChangedOnDisk is wrapped by the error of Save if the file is no longer the
// one that was opened or saved.
var ErrChangedOnDisk = tongue.New("the file has been changed by another program since it was opened")

// NewDemo opens the demo plan, which has no file.
func NewDemo() (*Session, error) {
	p, err := hull.ReadPlan(bytes.NewReader(assets.Demo()), tongue.T("demo plan"))
	if err != nil {
		return nil, err
	}
	return start(p, "", tongue.T("demo plan"), fingerprint{})
}

// Open opens a plan, or a hull source as a new plan, which has no file. The
// error is the first fault of the file.
func Open(path string) (*Session, error) { return OpenContext(context.Background(), path) }

// OpenContext is Open; it stops, with an error that wraps the context's, when the
// context ends.
func OpenContext(ctx context.Context, path string) (*Session, error) {
	Tidy(path)
	return open(ctx, path)
}

func open(ctx context.Context, path string) (*Session, error) {
	disk := fingerprintOf(path) // first, so that a change while it is read is noticed
	p, kind, err := source.Open(path)
	if err != nil {
		return nil, err
	}
	if kind != source.PlanFile {
		return startContext(ctx, p, "", path, fingerprint{})
	}
	return startContext(ctx, p, path, path, disk)
}

// Tidy removes what runs of the program that have ended left beside a plan, and
// among the changes of plans without a file: locks, marks and half-written
// files, but nothing that was kept for the builder.
func Tidy(path string) {
	keep.Tidy(path)
	dropHolders(path)
	if dir := unsavedFolder(); dir != "" {
		keep.Tidy(filepath.Join(dir, unsavedName))
	}
}

// Check returns what could be read of a plan or hull source, as the contents show,
// and every fault found, including that it cannot be lofted or planked. For a hull
// source the plan has only a hull; the plan is nil if nothing could be read. kind
// is one of source.Kind, or empty; notes say what the builder should know about a
// source, a sentence each. how overrides what a drawing says itself. The fault of work
// that was stopped wraps the context's error.
func Check(ctx context.Context, path string, how drawing.Options) (kind string, p *hull.Plan, notes []string, faults []fault.Fault) {
	return checked(ctx, path, source.Check(path, how))
}

// CheckMesh is Check for a mesh, which may take long: the fault of work that
// was stopped wraps the context's error.
func CheckMesh(ctx context.Context, path string, how mesh.Options) (kind string, p *hull.Plan, notes []string, faults []fault.Fault) {
	return checked(ctx, path, source.CheckMesh(ctx, path, how))
}

func checked(ctx context.Context, path string, c source.Checked) (kind string, p *hull.Plan, notes []string, faults []fault.Fault) {
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
	k, err := loft.PlankContext(ctx, whole)
	if err != nil {
		return kind, p, c.Notes, []fault.Fault{fault.Fault{File: path, What: err.Error()}.Because(err)}
	}
	for _, l := range k.Layers {
		for _, n := range l.Notes {
			switch n := n.(type) {
			case loft.LinesCross:
				f := answer.CrossingFault(l, n, answer.MM{})
				f.File = path
				faults = append(faults, f)
			case loft.Folds:
				notes = append(notes, tongue.T("layer %d: %s", l.Number, answer.NoteText(l, n, answer.MM{})))
			}
		}
	}
	return kind, p, append(slices.Clone(c.Notes), notes...), faults
}

// Seen is the state of a file when it was looked at.
type Seen struct {
	path string // the real one
	disk fingerprint
}

// See looks at a file before it is read, so that Write can check whether it is
// still what was read.
func See(path string) Seen { return Seen{keep.RealPath(path), fingerprintOf(path)} }

// Write writes a plan to a file, whole or not at all. An existing file is replaced
// only on request; otherwise the error wraps fs.ErrExist. If it is the file from
// which the plan was made, as seen before it was read, it must be unchanged;
// otherwise the error wraps ErrChangedOnDisk. lost says, a sentence each, what
// could not be kept of an older file.
func Write(path string, p *hull.Plan, replace bool, read ...Seen) (lost []string, err error) {
	release, err := keep.HoldFile(context.Background(), path)
	if err != nil {
		return nil, err
	}
	defer release()
	if err := keep.Free(path, replace); err != nil {
		return nil, err
	}
	for _, was := range read {
		if now := See(path); now.path == was.path && now.disk != was.disk {
			return nil, tongue.Errorf("%s: %w; nothing was written: do it again", path, ErrChangedOnDisk)
		}
	}
	lost, _, err = write(path, p)
	return lost, err
}

// write writes a plan to a file and returns the file's fingerprint.
func write(path string, p *hull.Plan) (lost []string, disk fingerprint, err error) {
	sum := sha256.New()
	lost, err = keep.ReplaceFileTold(path, func(w io.Writer) error { return p.Write(io.MultiWriter(w, sum)) })
	return lost, fingerprint(sum.Sum(nil)), err
}

// WriteFile writes a file, whole or not at all. An existing file is replaced only
// on request; otherwise the error wraps fs.ErrExist. lost says, a sentence each,
// what could not be kept of an older file.
func WriteFile(path string, replace bool, write func(io.Writer) error) (lost []string, err error) {
	if err := keep.Free(path, replace); err != nil {
		return nil, err
	}
	return keep.ReplaceFileTold(path, write)
}

// Save writes the plan to its file. What another program has written there since
// is merged if the two are compatible, as are notes made at the bench and a band
// line moved here; if they are not, Save fails with ErrChangedOnDisk.
func (s *Session) Save() error {
	s.endDrag()
	path := s.Path()
	if path == "" {
		return errNoPath
	}
	return s.saving(path, func() error {
		if err := s.takeIn(path); err != nil {
			return err
		}
		return s.put(path, s.Plan())
	})
}

// SaveAs writes the plan to another file, which is its file from then on. An
// existing file is replaced only on request; otherwise the error wraps
// fs.ErrExist.
func (s *Session) SaveAs(path string, replace bool) error {
	s.endDrag()
	return s.saving(path, func() error {
		if err := keep.Free(path, replace); err != nil {
			return err
		}
		return s.put(path, s.Plan())
	})
}

// saving writes something to a file while no other run of the program writes
// there.
func (s *Session) saving(path string, save func() error) error {
	s.editing.Lock()
	release, err := s.hold(path)
	if err == nil {
		err = save()
		release()
	}
	s.editing.Unlock()
	s.tell() // including what was merged before a save that failed
	return err
}

// hold holds the file, unless the session does so already.
func (s *Session) hold(path string) (release func(), err error) {
	if s.held {
		return func() {}, nil
	}
	return holdBriefly(context.Background(), path)
}

// holdBriefly holds a file for a caller that somebody is waiting for, as in a
// window.
func holdBriefly(ctx context.Context, path string) (release func(), err error) {
	const brief = time.Second
	ctx, stop := context.WithTimeout(ctx, brief)
	defer stop()
	return keep.HoldFile(ctx, path)
}

// holdTelling holds a file, and reports that it is waiting if that takes longer
// than a moment.
func holdTelling(ctx context.Context, path string, waiting func()) (release func(), err error) {
	release, err = holdBriefly(ctx, path)
	if errors.Is(err, keep.ErrBusy) && ctx.Err() == nil {
		waiting()
		release, err = keep.HoldFile(ctx, path)
	}
	return release, err
}

// put writes a plan to a file, which is the session's from then on, and drops the
// recovery file, which is no longer needed. editing and the file are held.
func (s *Session) put(path string, p *hull.Plan) error {
	lost, disk, err := write(path, p)
	s.mu.Lock()
	defer s.mu.Unlock()
	switch {
	case err == nil:
		s.path, s.saved, s.disk = path, p, disk
		s.lost = append(s.lost, lost...)
		s.keeper.move(path)
	case errors.Is(err, keep.ErrUnsure) && path == s.path:
		s.disk = disk // the file there is ours, but does not count as saved yet
	}
	return err
}

// Told returns what the builder should know about the saves since the last call,
// a sentence each: what was merged from another program, and what could not be
// kept of a file.
func (s *Session) Told() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	lost := s.lost
	s.lost = nil
	return lost
}

// Amend opens a plan's file, has it changed and written, and keeps everyone else
// from writing it throughout. Such a session has no recovery file: a change that
// does not get into the file is not kept anywhere. A hull source is not a plan
// and gives a session without a path. waiting is called if it waits for another
// program for longer than a moment.
func Amend(ctx context.Context, path string, waiting func(), change func(*Session) error) error {
	Tidy(path)
	if _, err := os.Stat(path); err == nil {
		release, err := holdTelling(ctx, path, waiting)
		if err != nil {
			return notKept(err)
		}
		defer release()
	}
	s, err := open(context.Background(), path)
	if err != nil {
		return err
	}
	s.held = true
	s.keeper.stop()
	defer s.Close()
	return change(s)
}

// ExportTable writes the strake table as a CSV file, whole or not at all: one
// row a strake and frame. An existing file is replaced only on request;
// otherwise the error wraps fs.ErrExist.
func (s *Session) ExportTable(path string, replace bool) error {
	rows := answer.StrakesOf(s.Planking()).Rows()
	lost, err := WriteFile(path, replace, func(w io.Writer) error { return tables.WriteRows(w, rows) })
	s.mu.Lock()
	s.lost = append(s.lost, lost...)
	s.mu.Unlock()
	return err
}

// fingerprint shows whether a file has changed; zero for one that cannot be
// read.
type fingerprint [sha256.Size]byte

func fingerprintOf(path string) fingerprint {
	data, err := keep.ReadPlain(path, hull.LargestFile)
	if err != nil {
		return fingerprint{}
	}
	return sha256.Sum256(data)
}
