package app

import (
	"strakewright/hull"
)

// step leads from one plan to another. Most steps only move handles: those
// keep the moves alone, so that undo without end stays small however long one
// drags; the others keep the plan, which shares its frames with the rest.
type step struct {
	what  string
	moves []move
	plan  *hull.Plan // nil where moves tell all
}

// move puts a handle in its place.
type move struct {
	layer, line, frame int32
	to                 hull.Handle
}

// stepTo gives the step from one plan to another.
func stepTo(what string, from, to *hull.Plan) step {
	moves := movesTo(from, to)
	if !same(moved(from, moves), to) {
		return step{what: what, plan: to}
	}
	return step{what: what, moves: moves}
}

// from gives the plan the step leads to from p, and the step back.
func (t step) from(p *hull.Plan) (to *hull.Plan, back step) {
	to = t.plan
	if to == nil {
		to = moved(p, t.moves)
	}
	return to, stepTo(t.what, to, p)
}

// movesTo gives the handles of to that differ from those of from, as far as
// the two have the same lines.
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

// Undo takes back the last step and gives its name; ok is false where there is
// none. A drag under way is ended first, and so taken back.
func (s *Session) Undo() (what string, ok bool) { return s.walk(&s.done, &s.undone) }

// Redo makes again the last step taken back.
func (s *Session) Redo() (what string, ok bool) { return s.walk(&s.undone, &s.done) }

// walk takes the last step of one list and puts the step back on the other.
func (s *Session) walk(take, put *[]step) (what string, ok bool) {
	s.editing.Lock()
	ended := s.endDragHeld()
	what, ok = s.walkHeld(take, put)
	s.editing.Unlock()
	if ended || ok {
		s.tell()
	}
	return what, ok
}

func (s *Session) walkHeld(take, put *[]step) (what string, ok bool) {
	what, ok = s.last(take)
	if !ok {
		return "", false
	}
	s.mu.Lock()
	now, t := s.now, (*take)[len(*take)-1]
	s.mu.Unlock()
	plan, back := t.from(now.plan)
	next, err := now.replanked(plan)
	if err != nil {
		// Only of a plan into which something was taken in: it goes no further back.
		s.mu.Lock()
		*take = nil
		s.mu.Unlock()
		return "", false
	}
	s.mu.Lock()
	(*take)[len(*take)-1] = step{}
	*take = (*take)[:len(*take)-1]
	*put = append(*put, back)
	s.mu.Unlock()
	s.set(next)
	s.keep()
	return what, true
}

// CanUndo gives the name of the step that Undo would take back.
func (s *Session) CanUndo() (what string, ok bool) {
	s.mu.Lock()
	d := s.drag
	s.mu.Unlock()
	if d != nil {
		return d.what, true
	}
	return s.last(&s.done)
}

// CanRedo gives the name of the step that Redo would make again.
func (s *Session) CanRedo() (what string, ok bool) { return s.last(&s.undone) }

func (s *Session) last(list *[]step) (what string, ok bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if n := len(*list); n > 0 {
		return (*list)[n-1].what, true
	}
	return "", false
}
