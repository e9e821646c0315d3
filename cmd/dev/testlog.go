package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
)

// shownSlowest is how many of the slowest tests are listed.
const shownSlowest = 10

// testEvent is a line of go test -json, as described by "go doc test2json".
type testEvent struct {
	Action  string
	Package string
	Test    string
	Elapsed float64 // s
	Output  string
}

// timed is how long a test took, including everything below it, in s.
type timed struct {
	name string // with its package
	took float64
}

// testLog reads what go test -json prints. It passes on what go test says about
// a package and the output of the tests that failed, or all output where that
// is asked for, and records how long each test took.
type testLog struct {
	to      io.Writer
	all     bool
	partial []byte
	held    map[string]string // the output of tests that have not ended
	took    []timed
}

func newTestLog(to io.Writer, all bool) *testLog {
	return &testLog{to: to, all: all, held: map[string]string{}}
}

func (l *testLog) Write(p []byte) (int, error) {
	l.partial = append(l.partial, p...)
	for {
		line, rest, whole := bytes.Cut(l.partial, []byte("\n"))
		if !whole {
			return len(p), nil
		}
		l.partial = rest
		if err := l.read(line); err != nil {
			return 0, err
		}
	}
}

// read takes a line; a line that is not an event is passed on.
func (l *testLog) read(line []byte) error {
	var e testEvent
	if json.Unmarshal(line, &e) != nil || e.Action == "" {
		_, err := fmt.Fprintf(l.to, "%s\n", line)
		return err
	}
	name := e.Package + " " + e.Test
	switch e.Action {
	case "output", "build-output":
		if e.Test != "" && !l.all {
			l.held[name] += e.Output
			return nil
		}
		if e.Output == "PASS\n" && !l.all {
			return nil
		}
		_, err := io.WriteString(l.to, e.Output)
		return err
	case "pass", "fail", "skip":
		return l.end(e, name)
	}
	return nil
}

// end records how long a test took and, if it failed, or was skipped and skips
// are shown, shows its output.
func (l *testLog) end(e testEvent, name string) error {
	if e.Test == "" {
		return nil
	}
	if !strings.Contains(e.Test, "/") {
		l.took = append(l.took, timed{name, e.Elapsed})
	}
	text := l.held[name]
	delete(l.held, name)
	if e.Action == "pass" {
		return nil
	}
	_, err := io.WriteString(l.to, text)
	return err
}

// rest returns the output of tests that never ended, as in a panic.
func (l *testLog) rest() string {
	var out strings.Builder
	for _, text := range l.held {
		out.WriteString(text)
	}
	return out.String()
}

// slowest lists the slowest tests, the slowest first.
func (l *testLog) slowest() string {
	slices.SortStableFunc(l.took, func(a, b timed) int { return cmp.Compare(b.took, a.took) })
	var lines []string
	for _, t := range l.took[:min(len(l.took), shownSlowest)] {
		lines = append(lines, fmt.Sprintf("%7.1f s  %s", t.took, t.name))
	}
	return strings.Join(lines, "\n")
}
