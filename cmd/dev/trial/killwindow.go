//go:build linux

package trial

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// What the window is killed at: the demo skiff, whose first line is dragged at one
// frame, step by step, each step by so many pixels; it goes so far and comes back.
const (
	dragPixels = -4
	dragSteps  = 9
)

// mayLose is what may be lost, by promise.
const mayLose = 2 * time.Second

// planned is the part of a plan that is looked at.
type planned struct {
	Layers []struct {
		Lines []struct {
			Hold    string // the frame by whose handle the line is held
			Handles []struct {
				Frame string
				Down  float64
			}
		}
	}
}

func readPlanned(text []byte) (planned, error) {
	var p planned
	err := json.Unmarshal(text, &p)
	if err == nil && (len(p.Layers) == 0 || len(p.Layers[0].Lines) == 0) {
		err = errors.New("it has no lines")
	}
	return p, err
}

// down is where the handle of the first line on a frame is; NaN where it has none.
func (p planned) down(frame string) float64 {
	for _, h := range p.Layers[0].Lines[0].Handles {
		if h.Frame == frame {
			return h.Down
		}
	}
	return math.NaN()
}

// course is where the handle is after each step: its place on the girth, mm, from
// the start on.
type course []float64

// nearest is the step after which the handle is at a place.
func (c course) nearest(down float64) (step int, off float64) {
	off = math.Inf(1)
	for i, at := range c {
		if d := math.Abs(at - down); d < off {
			step, off = i, d
		}
	}
	return step, off
}

// windowed is a plan that is worked on in a window.
type windowed struct {
	path  string
	text  []byte
	frame string // whose handle is dragged
}

func (a *attempt) windowed() (p windowed, err error) {
	if p.path, p.text, err = a.asset("skiff.strakeplan", "plan.strakeplan"); err != nil {
		return p, err
	}
	plan, err := readPlanned(p.text)
	if err != nil {
		return p, err
	}
	p.frame = plan.Layers[0].Lines[0].Hold
	return p, nil
}

// downOf is where the handle is in a file; NaN while it cannot be told.
func (p windowed) downOf(path string) float64 {
	text, err := os.ReadFile(path)
	if err != nil {
		return math.NaN()
	}
	plan, err := readPlanned(text)
	if err != nil {
		return math.NaN()
	}
	return plan.down(p.frame)
}

// recoveries are the files in which windows kept what was not saved.
func (p windowed) recoveries() []string {
	found, _ := filepath.Glob(filepath.Join(filepath.Dir(p.path), ".plan.strakeplan.*.autosave")) // the pattern is sound
	return found
}

// step drags the handle by one step, and waits until the window shows it.
func (w *window) step(frame string) error {
	var from handle
	err := w.await(func() bool {
		var there bool
		from, there = w.handleOf(frame)
		return there
	})
	if err != nil {
		return err
	}
	for range 5 { // a window that has just come may miss a press
		if err := w.drag(from, dragPixels); err != nil {
			return err
		}
		for range 150 { // three seconds: a busy machine shows it late
			if now, there := w.handleOf(frame); there && from.Y-now.Y > 1 {
				return nil
			}
			time.Sleep(20 * time.Millisecond)
		}
	}
	return errors.New("the handle does not follow the mouse")
}

// courseOf takes every step once, and reads where the handle is from what is kept.
func (a *attempt) courseOf() (course, error) {
	return kept(a.workshop, "course", func() (course, error) {
		dir, err := os.MkdirTemp(a.workshop.dir, "course")
		if err != nil {
			return nil, err
		}
		b := &attempt{workshop: a.workshop, dir: dir}
		p, err := b.windowed()
		if err != nil {
			return nil, err
		}
		w, err := b.open(0, p.path)
		if err != nil {
			return nil, err
		}
		defer w.kill()
		out := course{p.downOf(p.path)}
		for range dragSteps {
			if err := w.step(p.frame); err != nil {
				return nil, err
			}
			err := w.await(func() bool {
				left := p.recoveries()
				if len(left) != 1 {
					return false
				}
				down := p.downOf(left[0])
				return !math.IsNaN(down) && down != out[len(out)-1]
			})
			if err != nil {
				return nil, fmt.Errorf("nothing is kept of step %d: %w", len(out), err)
			}
			out = append(out, p.downOf(p.recoveries()[0]))
		}
		return out, nil
	})
}

// killedWindow drags a handle, saves now and then, and kills the window at a random
// moment. The plan's file and what was kept beside it are whole, hold all that was done
// until two seconds before, and the next opening takes away what is of no use to anyone.
func killedWindow(a *attempt) error {
	way, err := a.courseOf()
	if err != nil {
		return fmt.Errorf("before any kill: %w", err)
	}
	p, err := a.windowed()
	if err != nil {
		return err
	}
	w, err := a.open(0, p.path)
	if err != nil {
		return err
	}
	defer w.kill()
	const most = 6 * time.Second
	end := time.Now().Add(time.Duration(a.rng.Int64N(int64(most))))
	done := []time.Time{time.Now()} // when each step was seen, the start first
	saved := false
	stop := time.AfterFunc(time.Until(end), w.kill)
	defer stop.Stop()
	for len(done) <= dragSteps && time.Now().Before(end) {
		if err := w.step(p.frame); err != nil && time.Now().Before(end) {
			return err
		} else if err != nil {
			break // it was killed meanwhile
		}
		done = append(done, time.Now())
		if a.rng.IntN(4) == 0 {
			saved = true
			_ = w.xdo("windowfocus", w.id, "key", "ctrl+s") // it may be killed by now
		}
		time.Sleep(time.Duration(a.rng.Int64N(int64(700 * time.Millisecond))))
	}
	<-w.ended
	killed := end
	if err := p.whole(way, done, killed, saved); err != nil {
		return err
	}
	return a.cleanAfter(p, w)
}

// whole looks at what a killed window left.
func (p windowed) whole(way course, done []time.Time, killed time.Time, saved bool) error {
	text, err := os.ReadFile(p.path)
	if err != nil {
		return err
	}
	if !saved && !bytes.Equal(text, p.text) {
		return errors.New("the plan's file is changed, though nothing was saved")
	}
	reached := -1
	for _, path := range append(p.recoveries(), p.path) {
		down := p.downOf(path)
		if math.IsNaN(down) {
			return fmt.Errorf("%s is not whole", filepath.Base(path))
		}
		step, off := way.nearest(down)
		const near = 0.2 // mm; a step is some 1.3 mm
		if off > near {
			return fmt.Errorf("%s has the handle at %g mm, which no step leads to: %g", filepath.Base(path), down, way)
		}
		reached = max(reached, step)
	}
	due := 0
	for i, at := range done {
		if killed.Sub(at) > mayLose {
			due = i
		}
	}
	if reached < due {
		return fmt.Errorf("step %d was made more than %v before the kill, and only step %d is kept", due, mayLose, reached)
	}
	return nil
}

// cleanAfter notes something from a shell, which opens the plan: locks, marks and half
// written files of the killed window go, and what it kept stays for the builder.
func (a *attempt) cleanAfter(p windowed, w *window) error {
	left := p.recoveries()
	if err := a.run(noteOf("plan.strakeplan", "port", "1.01", "glued", 1, "after")...).well(); err != nil {
		return fmt.Errorf("after a kill: %w", err)
	}
	want := map[string]bool{"plan.strakeplan": true}
	for _, path := range left {
		want[filepath.Base(path)] = true
	}
	for name := range strings.Lines(namesIn(a.dir)) {
		if name = strings.TrimSuffix(name, "\n"); !want[name] {
			return fmt.Errorf("%s is left after the next opening", name)
		}
	}
	if now := p.recoveries(); len(now) != len(left) {
		return fmt.Errorf("what the window kept was taken away unasked: %q became %q", left, now)
	}
	if said := w.said(); innards.MatchString(said) {
		return fmt.Errorf("the window said %.300q", said)
	}
	return nil
}
