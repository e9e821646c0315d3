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

// Extension is the ending of a plan's file name.
const Extension = ".strakeplan"

// errNoPath is given by Save where the plan has no file yet.
var errNoPath = tongue.New("the plan has no file yet; choose a name to save it under")

// ErrChangedOnDisk is wrapped by the error of Save where the file is no longer
// what was opened or saved.
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
	disk := fingerprintOf(path) // first: a change while it is read is then noticed
	p, kind, err := source.Open(path)
	if err != nil {
		return nil, err
	}
	if kind != source.PlanFile {
		return startContext(ctx, p, "", path, fingerprint{})
	}
	return startContext(ctx, p, path, path, disk)
}

// Tidy takes away what runs of the program that have ended left beside a plan,
// and among the changes of plans without a file: locks, marks and files half
// written, but nothing that was kept for the builder.
func Tidy(path string) {
	keep.Tidy(path)
	dropHolders(path)
	if dir := unsavedFolder(); dir != "" {
		keep.Tidy(filepath.Join(dir, unsavedName))
	}
}

// Check gives what could be read of a plan or hull source, the one or the
// other by what stands in it, and every fault found, that it cannot be lofted
// or planked included. Of a hull source the plan has a hull alone; the plan is
// nil where nothing could be read. kind is one of source.Kind, or empty; notes say
// what the builder should know of a source, a sentence each. how a drawing is taken
// off goes before what it says itself.
func Check(path string, how drawing.Options) (kind string, p *hull.Plan, notes []string, faults []fault.Fault) {
	return checked(path, source.Check(path, how))
}

// CheckMesh is Check of a mesh, which may take long: the fault of work that was
// stopped wraps the context's error.
func CheckMesh(ctx context.Context, path string, how mesh.Options) (kind string, p *hull.Plan, notes []string, faults []fault.Fault) {
	return checked(path, source.CheckMesh(ctx, path, how))
}

func checked(path string, c source.Checked) (kind string, p *hull.Plan, notes []string, faults []fault.Fault) {
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
		return kind, p, c.Notes, []fault.Fault{{File: path, What: err.Error()}}
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

// Seen is a file as it was when it was looked at.
type Seen struct {
	path string // the real one
	disk fingerprint
}

// See looks at a file before it is read, so that Write can tell whether it is
// still what was read.
func See(path string) Seen { return Seen{keep.RealPath(path), fingerprintOf(path)} }

// Write writes a plan to a file, whole or not at all. A file that exists is
// replaced only if that is asked for; else the error wraps fs.ErrExist. Where it
// is the file that the plan was made of, as seen before it was read, it must be so
// still; else the error wraps ErrChangedOnDisk. lost tells, a sentence each, what
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

// write writes a plan to a file and gives what tells it from others.
func write(path string, p *hull.Plan) (lost []string, disk fingerprint, err error) {
	sum := sha256.New()
	lost, err = keep.ReplaceFileTold(path, func(w io.Writer) error { return p.Write(io.MultiWriter(w, sum)) })
	return lost, fingerprint(sum.Sum(nil)), err
}

// WriteFile writes a file, whole or not at all. A file that exists is replaced only
// if that is asked for; else the error wraps fs.ErrExist. lost tells, a sentence
// each, what could not be kept of an older file.
func WriteFile(path string, replace bool, write func(io.Writer) error) (lost []string, err error) {
	if err := keep.Free(path, replace); err != nil {
		return nil, err
	}
	return keep.ReplaceFileTold(path, write)
}

// Save writes the plan to its file. What another program has written there since
// is taken in where the two go together, as notes made at the bench and a band
// line moved here do; where they do not, Save is refused with ErrChangedOnDisk.
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

// SaveAs writes the plan to another file, which is its file from then on. A
// file that exists is replaced only if that is asked for; else the error wraps
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

// saving has something written to a file while no other run of the program
// writes there.
func (s *Session) saving(path string, save func() error) error {
	s.editing.Lock()
	release, err := s.hold(path)
	if err == nil {
		err = save()
		release()
	}
	s.editing.Unlock()
	s.tell() // also of what was taken in before a save that failed
	return err
}

// hold holds the file, unless the session does so already.
func (s *Session) hold(path string) (release func(), err error) {
	if s.held {
		return func() {}, nil
	}
	return holdBriefly(context.Background(), path)
}

// holdBriefly holds a file for one who is waited for, as in a window.
func holdBriefly(ctx context.Context, path string) (release func(), err error) {
	const brief = time.Second
	ctx, stop := context.WithTimeout(ctx, brief)
	defer stop()
	return keep.HoldFile(ctx, path)
}

// holdTelling holds a file, and tells that it waits where that takes longer than a
// moment.
func holdTelling(ctx context.Context, path string, waiting func()) (release func(), err error) {
	release, err = holdBriefly(ctx, path)
	if errors.Is(err, keep.ErrBusy) && ctx.Err() == nil {
		waiting()
		release, err = keep.HoldFile(ctx, path)
	}
	return release, err
}

// put writes a plan to a file, which is the session's from then on, and drops the
// recovery file, which is of no use any more. editing and the file are held.
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
		s.disk = disk // what stands there is ours, and is not yet counted as saved
	}
	return err
}

// Told gives what the builder should know of the saves since it was asked last, a
// sentence each: what was taken in of another program's, and what of a file could
// not be kept.
func (s *Session) Told() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	lost := s.lost
	s.lost = nil
	return lost
}

// Amend opens a plan's file, has it changed and written, and lets nobody else
// write it from first to last. Such a session keeps no recovery file: what change
// does not get into the file is not kept anywhere. A hull source is no plan and
// gives a session without a path. waiting is called where it waits for another
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
// row a strake and frame. A file that exists is replaced only if that is asked
// for; else the error wraps fs.ErrExist.
func (s *Session) ExportTable(path string, replace bool) error {
	rows := answer.StrakesOf(s.Planking()).Rows()
	lost, err := WriteFile(path, replace, func(w io.Writer) error { return tables.WriteRows(w, rows) })
	s.mu.Lock()
	s.lost = append(s.lost, lost...)
	s.mu.Unlock()
	return err
}

// fingerprint tells whether a file is still what it was; zero for one that
// cannot be read.
type fingerprint [sha256.Size]byte

func fingerprintOf(path string) fingerprint {
	data, err := keep.ReadPlain(path, hull.LargestFile)
	if err != nil {
		return fingerprint{}
	}
	return sha256.Sum256(data)
}
