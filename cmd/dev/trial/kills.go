//go:build linux

package trial

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// The kinds of kill come to 500.
func kills() []trial {
	const how = "kill -9 at random moments of "
	return []trial{
		{name: "kill-take-off", does: how + "`take-off`: the plan is the old one or the new one", full: 100, short: 1, once: killedTakeOff},
		{name: "kill-line", does: how + "`line -o`: likewise", full: 100, once: killedLine},
		{name: "kill-note", does: how + "`record note`: likewise, and what was said to be noted is in the file", full: 150, short: 1, once: killedNote},
		{name: "kill-sheets", does: how + "`sheets`: the folder holds the old set or the new one, whole", full: 50, once: killedSheets},
		{name: "kill-window", does: how + "the window while it edits: all but the last 2 s is kept and offered", full: 100, alone: true, needs: noScreen, once: killedWindow},
	}
}

// soon gives what kills a program at a random moment of the time that it usually
// takes; half of the times only once something has changed in a folder, so that it
// is killed while it writes.
func (a *attempt) soon(usual time.Duration, dir string) func(<-chan struct{}) bool {
	if a.n%2 == 0 {
		return after(time.Duration(a.rng.Int64N(int64(usual))))
	}
	const most = 4 * time.Millisecond
	wait := time.Duration(a.rng.Int64N(int64(most)))
	was := namesIn(dir)
	return func(ended <-chan struct{}) bool {
		for namesIn(dir) == was {
			select {
			case <-ended:
				return false
			case <-time.After(100 * time.Microsecond):
			}
		}
		return after(wait)(ended)
	}
}

// after kills after a time.
func after(wait time.Duration) func(<-chan struct{}) bool {
	return func(ended <-chan struct{}) bool {
		select {
		case <-ended:
			return false
		case <-time.After(wait):
			return true
		}
	}
}

// namesIn gives what stands in a folder as one text.
func namesIn(dir string) string {
	entries, _ := os.ReadDir(dir) // it may not be there yet
	var b strings.Builder
	for _, e := range entries {
		b.WriteString(e.Name() + "\n")
	}
	return b.String()
}

// written is what a command writes when nothing disturbs it, and how long it takes by
// the clock.
type written struct {
	text []byte
	took time.Duration
}

// undisturbed runs a command once for all attempts, and gives what it writes to a
// file of its folder.
func (a *attempt) undisturbed(name, asset, out string, args ...string) (written, error) {
	return kept(a.workshop, name, func() (written, error) {
		dir, err := os.MkdirTemp(a.workshop.dir, name)
		if err != nil {
			return written{}, err
		}
		b := &attempt{workshop: a.workshop, dir: dir}
		if _, _, err := b.asset(asset, asset); err != nil {
			return written{}, err
		}
		begun := time.Now()
		if err := b.run(args...).well(); err != nil {
			return written{}, err
		}
		took := time.Since(begun)
		text, err := os.ReadFile(b.in(out))
		return written{text, took}, err
	})
}

// oldOrNew is an error where a file is neither of two, or is not the new one though
// the program had ended.
func oldOrNew(path string, r ran, old, young []byte) error {
	is, err := os.ReadFile(path)
	switch {
	case os.IsNotExist(err) && old == nil && r.killed, bytes.Equal(is, old) && err == nil && r.killed, bytes.Equal(is, young) && err == nil:
		return nil
	case os.IsNotExist(err):
		return fmt.Errorf("there is no file: %v", r)
	case err != nil:
		return err
	}
	return fmt.Errorf("the file of %d bytes is neither the old one (%d) nor the new one (%d): %v", len(is), len(old), len(young), r)
}

// killedTakeOff kills take-off, over an older plan or over none, and has it done then.
func killedTakeOff(a *attempt) error {
	args := []string{"take-off", "coaster.csv", "-o", "out.strakeplan", "--replace"}
	usual, err := a.undisturbed("take-off", "coaster.csv", "out.strakeplan", args...)
	if err != nil {
		return err
	}
	if _, _, err := a.asset("coaster.csv", "coaster.csv"); err != nil {
		return err
	}
	return a.killedWriter(usual, args)
}

// killedWriter kills a command that writes out.strakeplan, over an older one or over
// none, and has it done then.
func (a *attempt) killedWriter(usual written, args []string) error {
	out := a.in("out.strakeplan")
	var old []byte
	if a.rng.IntN(2) == 0 {
		var err error
		if _, old, err = a.asset("skiff.strakeplan", "out.strakeplan"); err != nil {
			return err
		}
	}
	was, err := contents(a.dir)
	if err != nil {
		return err
	}
	r := a.runKilled(a.soon(usual.took, a.dir), args...)
	if err := oldOrNew(out, r, old, usual.text); err != nil {
		return err
	}
	if err := a.run(args...).well(); err != nil {
		return fmt.Errorf("after a kill: %w", err)
	}
	if err := oldOrNew(out, ran{}, nil, usual.text); err != nil {
		return fmt.Errorf("after a kill: %w", err)
	}
	return a.untouched(was, "out.strakeplan")
}

func killedLine(a *attempt) error {
	args := []string{"line", "skiff.strakeplan", "-o", "out.strakeplan", "--replace"}
	usual, err := a.undisturbed("line", "skiff.strakeplan", "out.strakeplan", args...)
	if err != nil {
		return err
	}
	if _, _, err := a.asset("skiff.strakeplan", "skiff.strakeplan"); err != nil {
		return err
	}
	return a.killedWriter(usual, args)
}

// noteOf is the command that notes something, on a day of March 2026.
func noteOf(plan, side, strake, doing string, day int, note string) []string {
	return []string{"record", plan, "note", "--side", side, "--strake", strake, "--doing", doing, "--date", fmt.Sprintf("2026-03-%02dT10:00:00", day), "--note=" + note}
}

func killedNote(a *attempt) error {
	note := noteOf("skiff.strakeplan", "port", "1.01", "glued", 1, "first")
	usual, err := a.undisturbed("note", "skiff.strakeplan", "skiff.strakeplan", note...)
	if err != nil {
		return err
	}
	path, old, err := a.asset("skiff.strakeplan", "skiff.strakeplan")
	if err != nil {
		return err
	}
	was, err := contents(a.dir)
	if err != nil {
		return err
	}
	r := a.runKilled(a.soon(usual.took, a.dir), note...)
	said := strings.Contains(r.out, "Written to")
	if said {
		old = usual.text // it is noted then, whatever came after
	}
	if err := oldOrNew(path, r, old, usual.text); err != nil {
		return err
	}
	if err := a.run(noteOf("skiff.strakeplan", "starboard", "1.01", "glued", 2, "second")...).well(); err != nil {
		return fmt.Errorf("after a kill: %w", err)
	}
	return a.untouched(was, "skiff.strakeplan")
}

// killedSheets kills the writing of a set of sheets, over an earlier set of another
// plan or into a new folder.
func killedSheets(a *attempt) error {
	sets, err := kept(a.workshop, "sets of sheets", a.setsOfSheets)
	if err != nil {
		return err
	}
	if _, _, err := a.asset("skiff.strakeplan", "skiff.strakeplan"); err != nil {
		return err
	}
	out, old := a.in("sheets"), map[string]string{}
	if a.rng.IntN(2) == 0 {
		old = sets.old
		if err := os.CopyFS(out, os.DirFS(sets.at)); err != nil {
			return err
		}
	}
	args := []string{"sheets", "skiff.strakeplan", "-o", "sheets", "--replace"}
	r := a.runKilled(a.soon(sets.took, a.dir), args...)
	is, err := filesOf(out)
	if err != nil {
		return err
	}
	if len(changes(old, is)) > 0 && len(changes(sets.young, is)) > 0 {
		return fmt.Errorf("the folder holds neither the old set nor the new one: %.3q: %v", changes(old, is), r)
	}
	if err := a.run(args...).well(); err != nil {
		return fmt.Errorf("after a kill: %w", err)
	}
	if is, err = filesOf(out); err != nil {
		return err
	}
	if c := changes(sets.young, is); len(c) > 0 {
		return fmt.Errorf("the set is not whole after a kill: %.5q", c)
	}
	if left := namesIn(a.dir); left != "sheets\nskiff.strakeplan\n" {
		return fmt.Errorf("something is left beside the folder: %q", left)
	}
	return nil
}

// setsOf are two sets of sheets: of an older plan, at a place, and of the plan that
// is printed, each as it is when nothing disturbs it.
type setsOf struct {
	at         string
	old, young map[string]string
	took       time.Duration
}

func (a *attempt) setsOfSheets() (s setsOf, err error) {
	dir, err := os.MkdirTemp(a.workshop.dir, "sets")
	if err != nil {
		return s, err
	}
	b := &attempt{workshop: a.workshop, dir: dir}
	if _, _, err = b.asset("skiff.strakeplan", "skiff.strakeplan"); err != nil {
		return s, err
	}
	if err := b.run("sheets", "skiff.strakeplan", "-o", "old", "--paper", "a3").well(); err != nil {
		return s, err
	}
	begun := time.Now()
	if err := b.run("sheets", "skiff.strakeplan", "-o", "young").well(); err != nil {
		return s, err
	}
	s.took, s.at = time.Since(begun), b.in("old")
	if s.old, err = filesOf(b.in("old")); err == nil {
		s.young, err = filesOf(b.in("young"))
	}
	return s, err
}

// filesOf is contents, but for the hidden files, which are the program's own, and
// the modes; of a folder that is not there it is empty.
func filesOf(dir string) (map[string]string, error) {
	if _, err := os.Stat(dir); os.IsNotExist(err) {
		return map[string]string{}, nil
	}
	all, err := contents(dir)
	for name, text := range all {
		if strings.HasPrefix(filepath.Base(name), ".") {
			delete(all, name)
			continue
		}
		_, all[name], _ = strings.Cut(text, " ")
	}
	return all, err
}
