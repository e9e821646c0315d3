package app

import (
	"github.com/strakewright/strakewright/app/history"
	"github.com/strakewright/strakewright/hull"
)

// step leads from one plan to another. Most steps only move handles: those keep
// just the moves, so that unlimited undo stays small however long one drags.
// The others keep the plan, which shares its frames with the rest.
type step struct {
	moves []move
	plan  *hull.Plan // nil where the moves say everything
}

// move puts a handle in its place.
type move struct {
	layer, line, frame int32
	to                 hull.Handle
}

// stepTo gives the step from one plan to another.
func stepTo(from, to *hull.Plan) step {
	moves := movesTo(from, to)
	if !same(moved(from, moves), to) {
		return step{plan: to}
	}
	return step{moves: moves}
}

// from returns the plan to which the step leads from p, and the step back.
func (t step) from(p *hull.Plan) (to *hull.Plan, back step) {
	to = t.plan
	if to == nil {
		to = moved(p, t.moves)
	}
	return to, stepTo(to, p)
}

// movesTo gives the handles of to that differ from those of from, as far as the
// two have the same lines.
func movesTo(from, to *hull.Plan) []move {
	var out []move
	for i := range min(len(from.Layers), len(to.Layers)) {
		a, b := from.Layers[i].Lines, to.Layers[i].Lines
		for j := range min(len(a), len(b)) {
			for k := range min(len(a[j].Handles), len(b[j].Handles)) {
				if h := b[j].Handles[k]; h != a[j].Handles[k] {
					out = append(out, move{int32(i), int32(j), int32(k), h})
				}
			}
		}
	}
	return out
}

// moved gives a plan with handles moved.
func moved(p *hull.Plan, moves []move) *hull.Plan {
	out := clone(p)
	for _, m := range moves {
		out.Layers[m.layer].Lines[m.line].Handles[m.frame] = m.to
	}
	return out
}

// Undo undoes the last step and returns its name; ok is false where there is
// none. A drag under way is ended first, and so undone.
func (s *Session) Undo() (what string, ok bool) { return s.walk(history.Back) }

// Redo redoes the last step undone.
func (s *Session) Redo() (what string, ok bool) { return s.walk(history.Forward) }

// walk takes a step in a direction, after ending a drag.
func (s *Session) walk(d history.Direction) (what string, ok bool) {
	s.editing.Lock()
	ended := s.endDragHeld()
	what, ok = s.walkHeld(d)
	s.editing.Unlock()
	if ended || ok {
		s.tell()
	}
	return what, ok
}

func (s *Session) walkHeld(d history.Direction) (what string, ok bool) {
	s.mu.Lock()
	now := s.now
	t, ok := s.steps.Next(d)
	s.mu.Unlock()
	if !ok {
		return "", false
	}
	plan, back := t.To.from(now.plan)
	next, err := now.replanked(plan)
	if err != nil {
		// Only for a plan into which changes were merged: it goes no further back.
		s.mu.Lock()
		s.steps.Forget(d)
		s.mu.Unlock()
		return "", false
	}
	s.mu.Lock()
	s.steps.Gone(d, back)
	s.mu.Unlock()
	s.set(next)
	s.keep()
	return t.What, true
}

// CanUndo gives the name of the step that Undo would undo.
func (s *Session) CanUndo() (what string, ok bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.drag != nil {
		return s.drag.what, true
	}
	return s.steps.Can(history.Back)
}

// CanRedo gives the name of the step that Redo would redo.
func (s *Session) CanRedo() (what string, ok bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.steps.Can(history.Forward)
}

// Undoable gives the names of the steps that can be undone, the next one first,
// including a drag under way.
func (s *Session) Undoable() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	names := s.steps.Names(history.Back)
	if s.drag != nil {
		names = append([]string{s.drag.what}, names...)
	}
	return names
}

// Redoable gives the names of the steps that can be redone, the next one first.
func (s *Session) Redoable() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.steps.Names(history.Forward)
}
