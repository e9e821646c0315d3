package app

import (
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// Drag is a change under way that is tried out many times and counts as one
// step to undo.
type Drag struct {
	s    *Session
	what string
	base state // as it was at the start
	over bool  // guarded by the session's mu
}

// errDragOver is given to who tries on after the end.
var errDragOver = tongue.New("this drag is over")

// Begin starts a drag; what names it for undo. One under way is ended first. An
// edit under way is waited for: the drag begins from what comes of it.
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

// Try shows the plan with a change made to it as it was at the start of the
// drag. After an error the last trial that went well stays.
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

// Cancel ends the drag and puts all back as it was at its start.
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

// endHeld is end for who holds the editing lock, and tells everyone after it:
// first is false where there is nothing to tell.
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

// endDragHeld is endDrag for who holds the editing lock, so that no other drag
// begins before the change that it makes way for. It tells whether there was one.
func (s *Session) endDragHeld() bool {
	s.mu.Lock()
	d := s.drag
	s.mu.Unlock()
	return d != nil && d.endHeld(d.settle)
}
