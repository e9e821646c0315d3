// Package history keeps the steps of something that is worked on, so that each can
// be taken back and made again, without end.
//
//	var steps history.Steps[State]
//	steps.Made("move the handle", before)
//	what, ok := steps.Walk(history.Back, func(to State) State { was := now; now = to; return was })
package history

// Direction is one of the two ways to go.
type Direction int

// The directions.
const (
	Back    Direction = iota // takes a step back
	Forward                  // makes again one that was taken back
)

// Step is a step with its name, and what is needed to go it: the state it leads
// to, or the way there.
type Step[S any] struct {
	What string
	To   S
}

// Steps are the steps that can be gone from where one stands. The zero value has
// none. It is not safe for use by several goroutines at once.
type Steps[S any] struct {
	lists [2][]Step[S] // by direction, the next step last
}

// Made notes a step that was made, by what it takes to go back. What was taken
// back before can no longer be made again.
func (s *Steps[S]) Made(what string, back S) {
	s.lists[Back] = append(s.lists[Back], Step[S]{what, back})
	s.lists[Forward] = nil
}

// Next gives the step that is next in a direction; ok is false where there is none.
func (s *Steps[S]) Next(d Direction) (next Step[S], ok bool) {
	list := s.lists[d]
	if len(list) == 0 {
		return next, false
	}
	return list[len(list)-1], true
}

// Gone notes that the next step in a direction was gone, by what it takes to
// return. Where there is no next step it does nothing.
func (s *Steps[S]) Gone(d Direction, ret S) {
	list := s.lists[d]
	if len(list) == 0 {
		return
	}
	last := len(list) - 1
	what := list[last].What
	list[last] = Step[S]{} // so that what it held can be let go of
	s.lists[d] = list[:last]
	s.lists[1-d] = append(s.lists[1-d], Step[S]{what, ret})
}

// Walk goes a step: f goes it, and gives what it takes to return. It tells the
// step's name; ok is false where there is none.
func (s *Steps[S]) Walk(d Direction, f func(to S) (ret S)) (what string, ok bool) {
	next, ok := s.Next(d)
	if !ok {
		return "", false
	}
	s.Gone(d, f(next.To))
	return next.What, true
}

// Can tells whether there is a step in a direction, and its name.
func (s *Steps[S]) Can(d Direction) (what string, ok bool) {
	next, ok := s.Next(d)
	return next.What, ok
}

// Names gives the names of the steps in a direction, the next one first.
func (s *Steps[S]) Names(d Direction) []string {
	list := s.lists[d]
	out := make([]string, 0, len(list))
	for i := len(list) - 1; i >= 0; i-- {
		out = append(out, list[i].What)
	}
	return out
}

// Len is how many steps there are in a direction.
func (s *Steps[S]) Len(d Direction) int { return len(s.lists[d]) }

// Forget drops all steps in a direction.
func (s *Steps[S]) Forget(d Direction) { s.lists[d] = nil }

// Change puts another way in place of that of every step, the next ones first. A
// step for which there is none is dropped with all that lie beyond it.
func (s *Steps[S]) Change(f func(to S) (S, bool)) {
	for d, list := range s.lists {
		for i := len(list) - 1; i >= 0; i-- {
			to, ok := f(list[i].To)
			if !ok {
				s.lists[d] = append([]Step[S](nil), list[i+1:]...)
				break
			}
			list[i].To = to
		}
	}
}
