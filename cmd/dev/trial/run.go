//go:build linux

package trial

import (
	"context"
	"errors"
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sync"
	"time"
)

// Settings are what is to be tried.
type Settings struct {
	Program string         // the program that is tried
	Root    string         // the module's folder, whose assets and tests are used
	Seed    uint64         // what all random choices come of
	Only    *regexp.Regexp // the trials to make, by name; nil for all
	Count   int            // attempts of each trial; 0 for as many as is usual
	At      int            // the one attempt to make, from 1; 0 for all
	Short   bool           // a few attempts of each trial that takes no time
	Race    bool           // the tests that are run with a count have the race detector
	Jobs    int            // attempts made at once, where they do not disturb each other; 0 for 1
	Tell    func(format string, args ...any)
}

// Result is what became of a trial.
type Result struct {
	Name     string
	Does     string // what is tried, for the reader of the table
	Made     int    // attempts
	Failures []string
	Untried  string // why it could not be made here; else empty
}

// trial is one thing that is tried many times.
type trial struct {
	name  string
	does  string
	full  int // attempts
	short int // attempts of the short form; 0 leaves it out
	alone bool
	// needs tells why it cannot be tried here; nil or empty where it can.
	needs func(*workshop) string
	once  func(*attempt) error
	// whole makes all attempts at once, by a test of the project, and tells how many
	// were made; it takes the place of once.
	whole func(w *workshop, count int) (made int, failures []string)
}

// trials are all of them, in the order of the table.
func trials() []trial {
	return slices.Concat(kills(), disks(), permissions(), fileFaults(), company(), surroundings(), mutants(), projectTests())
}

// Names gives the names of all trials.
func Names() []string {
	var out []string
	for _, t := range trials() {
		out = append(out, t.name)
	}
	return out
}

// errNone is given where nothing is to be tried.
var errNone = errors.New("no trial is called so")

// Run makes the trials. The error tells that they could not be made, or were
// stopped; what was made until then is given as well.
func Run(ctx context.Context, s Settings) ([]Result, error) {
	w, err := openWorkshop(ctx, s)
	if err != nil {
		return nil, err
	}
	defer w.close()
	var out []Result
	for _, t := range trials() {
		if s.Only != nil && !s.Only.MatchString(t.name) || s.Short && t.short == 0 {
			continue
		}
		r := w.make(t)
		if r.Made > 0 || r.Untried != "" {
			out = append(out, r)
		}
		if ctx.Err() != nil {
			return out, context.Cause(ctx)
		}
	}
	if len(out) == 0 {
		return nil, errNone
	}
	return out, nil
}

// workshop is what all attempts share.
type workshop struct {
	Settings
	ctx  context.Context
	dir  string // for all that is made
	home string // of the programs that are tried

	mu      sync.Mutex
	made    map[string]any // what is made once, by name
	closers []func()
}

func openWorkshop(ctx context.Context, s Settings) (*workshop, error) {
	dir, err := os.MkdirTemp("", "strakewright-trial")
	if err != nil {
		return nil, fmt.Errorf("a folder for the trials: %w", err)
	}
	if dir, err = filepath.EvalSymlinks(dir); err != nil {
		return nil, fmt.Errorf("a folder for the trials: %w", err)
	}
	const everybody = 0o755 // another user tries there as well
	if err := os.Chmod(dir, everybody); err != nil {
		return nil, fmt.Errorf("a folder for the trials: %w", err)
	}
	w := &workshop{Settings: s, ctx: ctx, dir: dir, home: filepath.Join(dir, "home"), made: map[string]any{}}
	if w.Tell == nil {
		w.Tell = func(string, ...any) {}
	}
	if err := os.Mkdir(w.home, everybody); err != nil {
		return nil, fmt.Errorf("a home for the trials: %w", err)
	}
	return w, nil
}

// close ends what was started, and takes everything away.
func (w *workshop) close() {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, f := range slices.Backward(w.closers) {
		f()
	}
	_ = filepath.WalkDir(w.dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && d.IsDir() {
			_ = os.Chmod(path, 0o700) // a folder that nobody may write to cannot be emptied
		}
		return nil
	})
	_ = os.RemoveAll(w.dir)
}

// atClose has something done when the trials are over.
func (w *workshop) atClose(f func()) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.closers = append(w.closers, f)
}

// kept makes something once, and gives the same to everyone who asks by that name.
func kept[T any](w *workshop, name string, make func() (T, error)) (T, error) {
	type outcome struct {
		once  sync.Once
		value T
		err   error
	}
	w.mu.Lock()
	o, ok := w.made[name].(*outcome)
	if !ok {
		o = &outcome{}
		w.made[name] = o
	}
	w.mu.Unlock()
	o.once.Do(func() { o.value, o.err = make() })
	return o.value, o.err
}

// make makes one trial.
func (w *workshop) make(t trial) Result {
	r := Result{Name: t.name, Does: t.does}
	if t.needs != nil {
		if r.Untried = t.needs(w); r.Untried != "" {
			w.Tell("%-18s not tried: %s", t.name, r.Untried)
			return r
		}
	}
	begun := time.Now()
	if t.whole != nil {
		r.Made, r.Failures = t.whole(w, w.count(t))
	} else {
		w.each(t, &r)
	}
	w.Tell("%-18s %d made, %d failed, %.0f s", t.name, r.Made, len(r.Failures), time.Since(begun).Seconds())
	return r
}

func (w *workshop) count(t trial) int {
	switch {
	case w.Count > 0:
		return w.Count
	case w.Short:
		return t.short
	}
	return t.full
}

// each makes the attempts of a trial, and tells how far it is every few seconds.
func (w *workshop) each(t trial, r *Result) {
	const every = 10 * time.Second
	first, last := 1, w.count(t)
	if w.At > 0 {
		first, last = w.At, w.At
	}
	jobs := max(w.Jobs, 1)
	if t.alone {
		jobs = 1
	}
	var mu sync.Mutex
	var all sync.WaitGroup
	told := time.Now()
	next := first
	for range jobs {
		all.Go(func() {
			for {
				mu.Lock()
				n := next
				next++
				if time.Since(told) > every {
					told = time.Now()
					w.Tell("%-18s %d of %d, %d failed", t.name, r.Made, last-first+1, len(r.Failures))
				}
				mu.Unlock()
				if n > last || w.ctx.Err() != nil {
					return
				}
				err := w.attempt(t, n)
				if w.ctx.Err() != nil {
					return // it was stopped, and did not fail
				}
				mu.Lock()
				r.Made++
				if err != nil {
					what := fmt.Sprintf("%s --seed %d --at %d: %v", t.name, w.Seed, n, err)
					r.Failures = append(r.Failures, what)
					w.Tell("FAILED %s", what)
				}
				mu.Unlock()
			}
		})
	}
	all.Wait()
}

// attempt is one attempt of a trial, in a folder of its own.
type attempt struct {
	*workshop
	n   int // from 1
	rng *rand.Rand
	dir string
	env []string // beside the usual
	uid int      // the user it is made as; 0 for the same
}

// attempt makes one attempt.
func (w *workshop) attempt(t trial, n int) error {
	dir, err := os.MkdirTemp(w.dir, t.name)
	if err != nil {
		return fmt.Errorf("a folder: %w", err)
	}
	const everybody = 0o755
	if err := os.Chmod(dir, everybody); err != nil {
		return fmt.Errorf("a folder: %w", err)
	}
	h := fnv.New64a()
	_, _ = fmt.Fprintf(h, "%s %d", t.name, n) // a hash takes all
	a := &attempt{workshop: w, n: n, rng: rand.New(rand.NewPCG(w.Seed, h.Sum64())), dir: dir}
	err = t.once(a)
	if err == nil || w.At == 0 {
		_ = os.RemoveAll(dir) // what stays goes at the end
	} else {
		copyOf := filepath.Join(os.TempDir(), fmt.Sprintf("strakewright-%s-%d", t.name, n))
		_ = os.RemoveAll(copyOf)
		if os.CopyFS(copyOf, os.DirFS(dir)) == nil {
			w.Tell("what it left is in %s", copyOf)
		}
	}
	return err
}

// in is a path in the attempt's folder.
func (a *attempt) in(name string) string { return filepath.Join(a.dir, name) }

// pick chooses one of several.
func pick[T any](rng *rand.Rand, from ...T) T { return from[rng.IntN(len(from))] }
