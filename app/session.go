// Package app holds a plan while it is worked on: opened, edited, undone, saved, with everything that
// follows from it always at hand. It shows nothing; the window and the shell are views of it.
//
//	s, err := app.Open("coaster.strakeplan")
//	defer s.Close()
//	s.OnChange(redraw)
//	drag := s.Begin("move the handle at frame K")
//	err = drag.Try(func(p *hull.Plan) error { p.Layers[0].Lines[0].Handles[7].Down = 31; return nil })
//	drag.Done() // one step to undo, however many trials
//	what, ok := s.Undo()
//	err = s.Save()
package app

import (
	"context"
	"fmt"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"sync"

	"github.com/strakewright/strakewright/app/history"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Session is a plan being worked on. Its methods may be called from any
// goroutine, but a change function given to it must not itself change the plan
// through the session.
type Session struct {
	editing sync.Mutex // held while the plan is being changed; taken before mu

	mu    sync.Mutex // guards what follows
	now   state
	saved *hull.Plan // as last opened or saved
	path  string     // empty while it has never been saved
	name  string     // its name until then
	disk  fingerprint
	steps history.Steps[step]
	drag  *Drag // the drag under way
	told  []func()
	lost  []string // what is to be reported about the last saves

	held   bool // the file is held for as long as the session lasts
	keeper *keeper
}

// state is a plan with everything that follows from it. Neither is ever
// changed.
type state struct {
	plan     *hull.Plan
	planking *loft.Planking
}

// start makes a session of a plan that has been read.
func start(p *hull.Plan, path, name string, disk fingerprint) (*Session, error) {
	return startContext(context.Background(), p, path, name, disk)
}

// startContext is start; it stops, with an error that wraps the context's, when
// the context ends.
func startContext(ctx context.Context, p *hull.Plan, path, name string, disk fingerprint) (*Session, error) {
	k, err := loft.PlankContext(ctx, p)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return &Session{now: state{p, k}, saved: p, path: path, name: filepath.Base(name), disk: disk, keeper: newKeeper(path)}, nil
}

// Plan is the current plan. It must not be changed.
func (s *Session) Plan() *hull.Plan { return s.state().plan }

// Planking is everything that follows from the current plan.
func (s *Session) Planking() *loft.Planking { return s.state().planking }

func (s *Session) state() state {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.now
}

// Path is the file in which the plan is saved; empty while it has none.
func (s *Session) Path() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.path
}

// Title names the plan for the head of a window: its own title, or otherwise
// its file's name.
func (s *Session) Title() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.now.plan.Title != "" {
		return s.now.plan.Title
	}
	if s.path != "" {
		return strings.TrimSuffix(filepath.Base(s.path), Extension)
	}
	return s.name
}

// Changed reports whether the plan differs from what was last opened or saved.
func (s *Session) Changed() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.changed()
}

func (s *Session) changed() bool { return !same(s.now.plan, s.saved) }

// same reports whether two plans hold the same decisions.
func same(a, b *hull.Plan) bool { return a == b || reflect.DeepEqual(a, b) }

// OnChange sets f to be called after every change of the plan, of its path or
// of whether it is saved, on the goroutine that made the change.
func (s *Session) OnChange(f func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.told = append(s.told, f)
}

// tell notifies everyone who asked for it. No lock may be held.
func (s *Session) tell() {
	s.mu.Lock()
	told := slices.Clone(s.told)
	s.mu.Unlock()
	for _, f := range told {
		f()
	}
}

// clone returns a copy to be changed. The frames are shared, since there are
// many and a drag changes none: whoever changes the hull gives it new ones.
func clone(p *hull.Plan) *hull.Plan {
	light := *p
	light.Hull.Frames = nil
	q := light.Clone()
	q.Hull.Frames = p.Hull.Frames
	return q
}

// Edit changes the plan and recomputes everything that follows from it, as one
// step to undo; what names it, such as "set the stock". After an error, from
// change or from recomputing, everything is as before. change must not write
// into Hull.Frames, which are shared, but may replace them. A drag under way is
// ended first.
func (s *Session) Edit(what string, change func(*hull.Plan) error) error {
	return s.edit(what, func(_ state, p *hull.Plan) error { return change(p) })
}

// edit is Edit for a change that looks at the state to which it is made: what
// it learns there cannot become untrue before the change is made.
func (s *Session) edit(what string, change func(before state, p *hull.Plan) error) error {
	s.editing.Lock()
	ended := s.endDragHeld()
	before := s.state()
	after, err := before.with(func(p *hull.Plan) error { return change(before, p) })
	if err == nil {
		s.settle(what, before, after)
	}
	s.editing.Unlock()
	if ended || err == nil {
		s.tell()
	}
	return err
}

// with returns the state after a change; the receiver stays as it is.
func (a state) with(change func(*hull.Plan) error) (state, error) {
	p := clone(a.plan)
	if err := change(p); err != nil {
		return state{}, err
	}
	if err := p.CheckFigures(); err != nil {
		return state{}, err
	}
	return a.replanked(p)
}

// replanked returns the state of another plan, sharing what it can.
func (a state) replanked(p *hull.Plan) (state, error) {
	k, err := a.planking.Replank(p)
	if err != nil {
		return state{}, err
	}
	return state{p, k}, nil
}

// settle makes after the current state and records the step back to before, if
// they differ.
func (s *Session) settle(what string, before, after state) {
	if same(before.plan, after.plan) {
		s.set(before)
		return
	}
	s.mu.Lock()
	s.steps.Made(what, stepTo(after.plan, before.plan))
	s.mu.Unlock()
	s.set(after)
	s.keep()
}

func (s *Session) set(a state) {
	s.mu.Lock()
	s.now = a
	s.mu.Unlock()
}

// keep has the current plan autosaved soon, or drops the autosave where there
// is nothing to lose.
func (s *Session) keep() {
	if p := s.Plan(); s.Changed() {
		s.keeper.Note(p)
	} else {
		s.keeper.drop()
	}
}

// Close ends the session: its recovery file is removed, whether the plan is
// saved or not. Ask before closing while it is Changed.
func (s *Session) Close() { s.keeper.close() }
