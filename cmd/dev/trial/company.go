//go:build linux

package trial

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
)

func company() []trial {
	return []trial{
		{name: "shells", does: "eight shells note in one plan at once, two of them killed: what was said to be noted is there", full: 40, alone: true, once: manyShells},
		{name: "two-windows", does: "two windows and a shell on one plan, each changes it and saves: every note is there, the plan always whole", full: 12, alone: true, needs: noScreen, once: twoWindows},
		{name: "pulled-away", does: "the plan's file goes, is spoilt or made read only under an open window: its work is kept", full: 12, alone: true, needs: noScreen, once: pulledAway},
	}
}

// manyShells notes from several shells at the same time, and kills some.
func manyShells(a *attempt) error {
	const shells, each = 8, 3
	path, _, err := a.asset("skiff.strakeplan", "plan.strakeplan")
	if err != nil {
		return err
	}
	kills := make([]func(<-chan struct{}) bool, shells)
	for i := range kills {
		kills[i] = func(<-chan struct{}) bool { return false }
	}
	const most = 300e6 // ns
	kills[0], kills[1] = a.soon(most, a.dir), a.soon(most, a.dir)
	var mu sync.Mutex
	var noted []string
	var failed error
	var all sync.WaitGroup
	for i := range shells {
		all.Go(func() {
			for n := range each {
				note := fmt.Sprintf("shell %d note %d", i, n)
				r := a.runKilled(kills[i], noteOf("plan.strakeplan", "port", "1.01", "fitted", 1+n, note)...)
				mu.Lock()
				switch err := r.plain(); {
				case strings.Contains(r.out, "Written to"):
					noted = append(noted, note)
				case !r.killed && err != nil:
					failed = err
				}
				mu.Unlock()
			}
		})
	}
	all.Wait()
	if failed != nil {
		return failed
	}
	if err := a.run(noteOf("plan.strakeplan", "port", "1.01", "fitted", 28, "last")...).well(); err != nil {
		return err
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	for _, note := range noted {
		if !strings.Contains(string(text), note) {
			return fmt.Errorf("%q was said to be noted, and is not in the file", note)
		}
	}
	if left := namesIn(a.dir); left != "plan.strakeplan\n" {
		return fmt.Errorf("left beside the plan: %q", left)
	}
	return nil
}

// twoWindows has two windows change and save a plan by turns while a shell notes in it.
func twoWindows(a *attempt) error {
	p, err := a.windowed()
	if err != nil {
		return err
	}
	var windows [2]*window
	defer func() {
		for _, w := range windows {
			if w != nil {
				w.kill()
			}
		}
	}()
	for i := range windows {
		if windows[i], err = a.open(i, p.path); err != nil {
			return err
		}
	}
	var noted []string
	for n := range 4 + a.rng.IntN(4) {
		w := windows[a.rng.IntN(2)]
		switch a.rng.IntN(4) {
		case 0:
			note := fmt.Sprintf("note %d", n)
			if err := a.run(noteOf("plan.strakeplan", "port", "1.01", "fitted", 1+n, note)...).well(); err != nil {
				return err
			}
			noted = append(noted, note)
		case 1:
			if err := w.xdo("windowfocus", w.id, "key", "ctrl+s"); err != nil {
				return err
			}
		default:
			if err := w.xdo("windowfocus", w.id, "key", "Escape"); err != nil { // a question may stand before the handles
				return err
			}
			if h, there := w.handleOf(p.frame); there {
				if err := w.drag(h, dragPixels*pick(a.rng, 1, -1)); err != nil {
					return err
				}
			}
		}
		if math.IsNaN(p.downOf(p.path)) {
			return fmt.Errorf("the plan's file is not whole after %d changes", n+1)
		}
	}
	for _, w := range windows {
		if err := w.end(); err != nil {
			return err
		}
	}
	return a.allNoted(p, noted)
}

// allNoted looks for notes in the plan's file, and for what is left beside it.
func (a *attempt) allNoted(p windowed, noted []string) error {
	text, err := os.ReadFile(p.path)
	if err != nil {
		return err
	}
	for _, note := range noted {
		if !strings.Contains(string(text), note) {
			return fmt.Errorf("%q was said to be noted, and is not in the file", note)
		}
	}
	for _, path := range p.recoveries() {
		if math.IsNaN(p.downOf(path)) {
			return fmt.Errorf("%s is not whole", filepath.Base(path))
		}
	}
	for name := range strings.Lines(namesIn(a.dir)) {
		name = strings.TrimSuffix(name, "\n")
		if name != filepath.Base(p.path) && !strings.HasSuffix(name, ".autosave") {
			return fmt.Errorf("%s is left beside the plan", name)
		}
	}
	return nil
}

// pulledAway does something to the file under an open window, in which work goes on and
// is saved; then the window is ended by the system. The work is in the file or kept.
func pulledAway(a *attempt) error {
	way, err := a.courseOf()
	if err != nil {
		return err
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
	steps := 1 + a.rng.IntN(2)
	for range steps {
		if err := w.step(p.frame); err != nil {
			return err
		}
	}
	fault := [...]string{"gone", "short", "other", "folder", "touched", "read only"}[a.n%6]
	if fault == "read only" {
		err = os.Chmod(p.path, 0o444)
	} else {
		err = disturbed(p.path, fault, a.rng.Int64N(9000))
	}
	if err != nil {
		return err
	}
	if a.rng.IntN(3) > 0 {
		if err := w.xdo("windowfocus", w.id, "key", "ctrl+s", "sleep", "0.5"); err != nil {
			return err
		}
	}
	if err := w.end(); err != nil {
		return fmt.Errorf("%s: %w", fault, err)
	}
	for _, path := range append(p.recoveries(), p.path) {
		down := p.downOf(path)
		if step, off := way.nearest(down); !math.IsNaN(down) && step == steps && off < 0.2 {
			return nil
		}
	}
	return fmt.Errorf("%s: the work is neither in the file nor kept beside it: %q", fault, namesIn(a.dir))
}
