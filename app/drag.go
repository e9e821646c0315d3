package app

import (
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// Drag is a change under way that is tried many times and counts as one step to
// undo.
type Drag struct {
	s    *Session
	what string
	base state // as it was at the start
	over bool  // guarded by the session's mu
}

// errDragOver is returned by a trial after the end of the drag.
var errDragOver = tongue.New("this drag is over")

// Begin starts a drag; what names it for undo. A drag under way is ended first.
// It waits for an edit under way, and begins from the result.
func (s *Session) Begin(what string) *Drag {
	s.editing.Lock()
	ended := s.endDragHeld()
	s.mu.Lock()
	d := &Drag{s: s, what: what, base: s.now}
	s.drag = d
	s.mu.Unlock()
	s.editing.Unlock()
	if ended {
		s.tell()
	}
	return d
}

// Try shows the plan as it was at the start of the drag with a change made to
// it. After an error the last successful trial stays.
func (d *Drag) Try(change func(*hull.Plan) error) error {
	s := d.s
	s.editing.Lock()
	err := d.try(change)
	s.editing.Unlock()
	if err == nil {
		s.tell()
	}
	return err
}

func (d *Drag) try(change func(*hull.Plan) error) error {
	if d.ended() {
		return errDragOver
	}
	trial, err := d.base.with(change)
	if err != nil {
		return err
	}
	d.s.set(trial)
	return nil
}

func (d *Drag) ended() bool {
	d.s.mu.Lock()
	defer d.s.mu.Unlock()
	return d.over
}

// Done ends the drag and keeps the last trial, as one step to undo.
func (d *Drag) Done() {
	d.end(d.settle)
}

func (d *Drag) settle() { d.s.settle(d.what, d.base, d.s.state()) }

// Cancel ends the drag and restores the plan as it was at its start.
func (d *Drag) Cancel() {
	d.end(func() { d.s.set(d.base) })
}

// end ends the drag once; a second end does nothing.
func (d *Drag) end(how func()) {
	d.s.editing.Lock()
	first := d.endHeld(how)
	d.s.editing.Unlock()
	if first {
		d.s.tell()
	}
}

// endHeld is end for a caller that holds the editing lock, and that notifies
// everyone afterwards: first is false where there is nothing to notify.
func (d *Drag) endHeld(how func()) (first bool) {
	s := d.s
	s.mu.Lock()
	first = !d.over
	d.over = true
	if s.drag == d {
		s.drag = nil
	}
	s.mu.Unlock()
	if first {
		how()
	}
	return first
}

// endDrag ends a drag under way as Done does.
func (s *Session) endDrag() {
	s.editing.Lock()
	ended := s.endDragHeld()
	s.editing.Unlock()
	if ended {
		s.tell()
	}
}

// endDragHeld is endDrag for a caller that holds the editing lock, so that no
// other drag begins before the change for which it makes way. It reports whether
// there was one.
func (s *Session) endDragHeld() bool {
	s.mu.Lock()
	d := s.drag
	s.mu.Unlock()
	return d != nil && d.endHeld(d.settle)
}
