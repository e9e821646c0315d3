package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"time"
)

// report is the result of one run of the benchmarks, with the machine and the
// commit: it is kept as a JSON file, for comparison with a later run.
type report struct {
	Date    time.Time `json:"date"`
	Commit  string    `json:"commit"`
	Machine machine   `json:"machine"`
	Rows    []row     `json:"rows"`
	Growth  []growth  `json:"growth"`
}

// machine is a kind of machine; times from two of the same kind can be compared.
type machine struct {
	System    string `json:"system"`
	Processor string `json:"processor"`
	Cores     int    `json:"cores"`
	Go        string `json:"go"`
}

func (m machine) String() string {
	return fmt.Sprintf("%s, %s, %d cores, %s", m.System, m.Processor, m.Cores, m.Go)
}

var processorLine = regexp.MustCompile(`(?m)^cpu: (.*)$`)

// machineOf describes this machine; its processor is what go test printed.
func machineOf(out string) machine {
	m := machine{System: runtime.GOOS + "/" + runtime.GOARCH, Processor: "unknown processor", Cores: runtime.NumCPU(), Go: runtime.Version()}
	if found := processorLine.FindStringSubmatch(out); found != nil {
		m.Processor = strings.TrimSpace(found[1])
	}
	return m
}

// commit names the commit that is checked out, and says whether files differ
// from it.
func (s *shop) commit() string {
	name, err := s.reads(nil, "git", "rev-parse", "--short", "HEAD")
	if err != nil {
		return "unknown"
	}
	name = strings.TrimSpace(name)
	if changes, err := s.reads(nil, "git", "status", "--porcelain"); err != nil || changes != "" {
		name += " with changes"
	}
	return name
}

// write makes the file; an existing one is left as it is.
func (r report) write(path string) error {
	text, err := json.MarshalIndent(r, "", "  ")
	if err != nil {
		return fmt.Errorf("writing the report: %w", err)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fmt.Errorf("writing the report: %w", err)
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s: a file of that name exists: give another with -o", path)
	}
	if err != nil {
		return fmt.Errorf("writing the report: %w", err)
	}
	_, err = f.Write(append(text, '\n'))
	if err := errors.Join(err, f.Close()); err != nil {
		return fmt.Errorf("writing the report: %w", err)
	}
	return nil
}

// earlier is a report with which a run is compared.
type earlier struct{ report }

// readEarlier reads a report; nil if none is named.
func readEarlier(path string) (*earlier, error) {
	if path == "" {
		return nil, nil
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("reading the earlier report: %w", err)
	}
	var e earlier
	if err := json.Unmarshal(text, &e.report); err != nil || len(e.Rows) == 0 {
		return nil, fmt.Errorf("%s is no report of bench: name a file that bench wrote", path)
	}
	return &e, nil
}

// worse is how much greater a ratio may be before the row is marked.
const worse = 1.1

// cells are what the earlier report says about a row, the ratio of the new
// value to the old, and a mark where it became worse by more than a tenth.
func (e *earlier) cells(now row) []string {
	for _, was := range e.Rows {
		if was.Bench != now.Bench || was.Unit != now.Unit || was.Value == nil || now.Value == nil {
			continue
		}
		cells := []string{inUnit(*was.Value, was.Unit), "-", ""}
		if *was.Value > 0 {
			ratio := *now.Value / *was.Value
			cells[1], cells[2] = strconv.FormatFloat(ratio, 'f', 2, 64), mark(ratio, now.Unit)
		}
		return cells
	}
	return []string{"-", "-", ""}
}

// mark names what became worse.
func mark(ratio float64, unit string) string {
	if moreIsBetter(unit) {
		ratio = 1 / ratio
	}
	switch {
	case !(ratio > worse):
		return ""
	case unit == perOp || strings.HasSuffix(unit, "-ms") || moreIsBetter(unit):
		return "slower"
	}
	return "more"
}

// note says with what the comparison is made, and whether the machines differ.
func (e *earlier) note(now report) string {
	if e == nil {
		return ""
	}
	text := fmt.Sprintf("Compared with %s, commit %s.", e.Date.Format("2006-01-02 15:04"), e.Commit)
	if e.Machine != now.Machine {
		text += fmt.Sprintf(" That was another kind of machine (%s; this is %s), so the ratios tell of both.", e.Machine, now.Machine)
	}
	return text
}
