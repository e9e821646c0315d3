package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"time"
)

// fuzzTimeName is the variable that says how long each fuzz target runs, as
// time.ParseDuration reads it; .ci/run sets it to a minute.
const fuzzTimeName = "STRAKEWRIGHT_FUZZ"

// briefFuzz is how long each target runs if the variable is not set: enough to
// see that the target works.
const briefFuzz = 3 * time.Second

// fuzzTime gives how long each target runs.
func fuzzTime() (time.Duration, error) {
	text := os.Getenv(fuzzTimeName)
	if text == "" {
		return briefFuzz, nil
	}
	d, err := time.ParseDuration(text)
	if err != nil || d <= 0 {
		return 0, fmt.Errorf("%s is %q: give a time above 0, such as 60s", fuzzTimeName, text)
	}
	return d, nil
}

// fuzzed runs every fuzz target, twice as many at once as there are cores, so that a minute
// for each takes half as long in all. A finding
// makes it fail, is shown, and stays in the package's testdata.
func (s *shop) fuzzed() error {
	forTime, err := fuzzTime()
	if err != nil {
		return err
	}
	targets, err := testFuncs(s.root, "Fuzz", "F")
	if err != nil {
		return fmt.Errorf("looking for fuzz targets: %w", err)
	}
	if len(targets) == 0 {
		return errors.New("no fuzz target was found: every reader of files has one")
	}
	return s.fuzzEach(targets, func(t testFunc) (string, error) { return s.fuzz(t, forTime) })
}

// fuzzEach runs the targets side by side and reports how each went.
func (s *shop) fuzzEach(targets []testFunc, run func(testFunc) (string, error)) error {
	m := newMeter(s.out, "fuzzing")
	defer m.stop()
	found := make([]error, len(targets))
	places := make(chan struct{}, 2*runtime.NumCPU())
	var all sync.WaitGroup
	for i, t := range targets {
		all.Go(func() {
			places <- struct{}{}
			defer func() { <-places }()
			report, err := run(t)
			if err == nil {
				fmt.Fprintf(m, "ok      %s: %s\n", t, report)
				return
			}
			fmt.Fprintf(m, "%s\nFAILED  %s: %v\n", report, t, err)
			found[i] = fmt.Errorf("%s: %w", t, err)
		})
	}
	all.Wait()
	return errors.Join(found...)
}

// fuzz runs one target in one process. The report is its last count of runs or,
// with an error, everything it wrote and the input that failed. An input that
// reaches new code is minimised in only a few tries: the usual minute for one
// of them would take all the time there is.
func (s *shop) fuzz(t testFunc, forTime time.Duration) (string, error) {
	out, err := s.reads(s.withC(), "go", "test", "-run=^$", "-fuzz=^"+t.name+"$",
		"-fuzztime="+forTime.String(), "-fuzzminimizetime=100x", "-parallel=1", t.pkg)
	if err != nil && !ranOutOfTime(out) {
		return out + failingInput(filepath.Join(s.root, t.pkg), out), err
	}
	count := lastCount(out)
	if count == "" {
		return out, errors.New("nothing was fuzzed")
	}
	return count, nil
}

// ranOutOfTime recognises a run whose only fault is that its time was up. Go's
// fuzzing closes the parent context before its child's, and if it looks in
// between it takes the end of -fuzztime for a failure (seen in internal/fuzz,
// CoordinateFuzzing, of Go 1.26). A finding always names its input.
func ranOutOfTime(out string) bool {
	return strings.Contains(out, "context deadline exceeded") &&
		!strings.Contains(out, "Failing input written to") && !strings.Contains(out, "panic")
}

// lastCount is the last line in which the fuzzing reports its runs, or empty.
func lastCount(out string) string {
	last := ""
	for line := range strings.Lines(out) {
		if strings.HasPrefix(line, "fuzz: elapsed") {
			last = strings.TrimSpace(strings.TrimPrefix(line, "fuzz: "))
		}
	}
	return last
}

var writtenTo = regexp.MustCompile(`Failing input written to (\S+)`)

// failingInput shows the file in which a finding was kept: on a machine used
// only for checks, the log is all that is left of it.
func failingInput(folder, out string) string {
	m := writtenTo.FindStringSubmatch(out)
	if m == nil {
		return ""
	}
	text, err := os.ReadFile(filepath.Join(folder, m[1]))
	if err != nil {
		return fmt.Sprintf("the input could not be shown: %v", err)
	}
	return m[1] + ":\n" + string(text)
}
