// Package autosave writes what is worked on to the disk, soon after each change and
// off the goroutine that makes it, so that no crash loses more than a moment's work.
//
//	s := autosave.New(func(p *Plan) error { return save(p) }, nil)
//	s.Note(plan)  // after each change; written after Delay
//	s.Flush()     // before the program ends
package autosave

import (
	"sync"
	"time"
)

// Delay is how soon after a change it begins to be written, and how soon a writing that
// failed is tried again. Further changes do not put it off, so with half a second for the
// writing no more than two seconds of work are ever lost.
const Delay = 1500 * time.Millisecond

// Saver writes what was noted last. What is noted must not be changed any more. Its
// methods may be called from any goroutine.
type Saver[T comparable] struct {
	write func(T) error
	again func(error) bool

	disk sync.Mutex // held while something is written or taken away; taken before mu

	mu      sync.Mutex // guards what follows
	noted   T
	waiting bool // noted is to be written
	timer   *time.Timer
	over    bool
	err     error
	told    []func(error)
}

// New gives a saver that writes by a function, one call at a time. After an error
// for which again is true it tries again; a nil again is never.
func New[T comparable](write func(T) error, again func(error) bool) *Saver[T] {
	if again == nil {
		again = func(error) bool { return false }
	}
	return &Saver[T]{write: write, again: again}
}

// Note has something written soon. It does not wait for the disk.
func (s *Saver[T]) Note(v T) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if !s.over {
		s.wait(v)
	}
}

// wait has something written when the time comes. mu is held.
func (s *Saver[T]) wait(v T) {
	if !s.waiting {
		s.timer = time.AfterFunc(Delay, s.Flush)
	}
	s.noted, s.waiting = v, true
}

// Flush writes what was noted last, if it is not dropped meanwhile, and waits until
// it is written.
func (s *Saver[T]) Flush() {
	s.disk.Lock()
	defer s.disk.Unlock()
	s.mu.Lock()
	v, waiting := s.noted, s.waiting
	s.forget() // what is noted meanwhile is written after
	s.mu.Unlock()
	if waiting {
		_ = s.put(v) // it is told, and tried again
	}
}

// Now writes something at once and tells whether it is on the disk.
func (s *Saver[T]) Now(v T) error {
	s.disk.Lock()
	defer s.disk.Unlock()
	return s.put(v)
}

// put writes something, and tries again later where that fails. disk is held.
func (s *Saver[T]) put(v T) error {
	err := s.write(v)
	s.mu.Lock()
	switch {
	case err == nil && s.waiting && s.noted == v:
		s.forget()
	case err != nil && !s.waiting && !s.over && s.again(err):
		s.wait(v)
	}
	tell := s.failed(err)
	s.mu.Unlock()
	tell()
	return err
}

// Forget drops what was noted. It does not wait for the disk.
func (s *Saver[T]) Forget() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.forget()
}

// forget drops what was noted. mu is held.
func (s *Saver[T]) forget() {
	if s.timer != nil {
		s.timer.Stop()
	}
	var none T
	s.noted, s.waiting, s.timer = none, false, nil
}

// Drop drops what was noted, and does something more, as taking away what was
// written, while nothing is being written. No error stands after it.
func (s *Saver[T]) Drop(also func()) {
	s.disk.Lock()
	defer s.disk.Unlock()
	s.Forget()
	also()
	s.mu.Lock()
	tell := s.failed(nil)
	s.mu.Unlock()
	tell()
}

// Close drops for good: what is noted after it is not written.
func (s *Saver[T]) Close(also func()) {
	s.mu.Lock()
	s.over = true
	s.mu.Unlock()
	s.Drop(also)
}

// failed keeps the error of the last writing and gives what tells those who asked
// of a change. mu is held; it is not to be while they are told.
func (s *Saver[T]) failed(err error) (tell func()) {
	changed := (err == nil) != (s.err == nil) || err != nil && err.Error() != s.err.Error()
	s.err = err
	told := s.told
	return func() {
		for _, f := range told {
			if changed {
				f(err)
			}
		}
	}
}

// Err tells why the last writing failed, or nil.
func (s *Saver[T]) Err() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.err
}

// OnError has f called when writing begins to fail, with the error, and when it is
// mended, with nil, on the goroutine that wrote.
func (s *Saver[T]) OnError(f func(error)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.told = append(s.told, f)
}
