package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"text/tabwriter"
	"time"
)

// limit is the longest that one operation of a benchmark may take.
type limit struct {
	bench string // the benchmark's name without "Benchmark"
	what  string
	most  time.Duration
	cores int
}

// limits are for 25 frames, 3 bands and 30 strakes a side: a hull of the size
// that a builder has on the bench.
var limits = []limit{
	{"Replank", "recompute after a handle moves", 3 * time.Millisecond, 1},
	{"Loft", "loft the hull", 10 * time.Millisecond, 1},
	{"Cut", "cut 500 pieces from strips", time.Second, 1},
	{"StrakesProcess", "strakes from the shell, whole process", 150 * time.Millisecond, 2},
	{"HullView", "draw the lofted view, 1000 x 600", 15 * time.Millisecond, 2},
	{"Booklet", "the booklet of 60 strakes", 3 * time.Second, 2},
}

// repeats of each benchmark are run; their median is compared with the limit,
// so that one disturbed run says nothing.
const repeats = "3"

var benchPackages = []string{"./loft/...", "./app/...", "./cmd/strakewright"}

// bench runs the benchmarks and prints each beside its limit. It fails if one
// is over its limit or was not measured.
func bench(s *shop) error {
	if err := s.ready(runtime.GOOS, forBuild...); err != nil {
		return err
	}
	alone := oneCore()
	measured, err := s.measure("-cpu=1", "-bench="+alone)
	if err != nil {
		return err
	}
	rest, err := s.measure("-cpu=2", "-bench=.", "-skip="+alone)
	if err != nil {
		return err
	}
	rows := compare(limits, append(measured, rest...))
	s.say("\n%s", table(rows))
	return tooSlow(rows)
}

// oneCore is a pattern for the benchmarks whose limit is for one core.
func oneCore() string {
	var names []string
	for _, l := range limits {
		if l.cores == 1 {
			names = append(names, l.bench)
		}
	}
	return "^Benchmark(" + strings.Join(names, "|") + ")$"
}

// measure runs go test with the flags and gives what it measured.
func (s *shop) measure(flags ...string) ([]measurement, error) {
	args := append([]string{"test", "-run=^$", "-benchmem", "-count=" + repeats}, flags...)
	args = append(args, benchPackages...)
	m := newMeter(s.out, "measuring")
	defer m.stop()
	var out, complaint bytes.Buffer
	cmd := s.command(withC, "go", args...)
	cmd.Stdout, cmd.Stderr = io.MultiWriter(&out, benchProgress{m}), &complaint
	if err := s.wait(cmd); err != nil {
		return nil, fmt.Errorf("running the benchmarks: %w", withComplaint(err, out.String()+complaint.String()))
	}
	return parseBenchmarks(out.String()), nil
}

// benchProgress notes on a meter the benchmark that is running.
type benchProgress struct{ m *meter }

func (b benchProgress) Write(p []byte) (int, error) {
	for line := range strings.Lines(string(p)) {
		if name, ok := benchName(strings.TrimSpace(line)); ok {
			b.m.at(name)
		}
	}
	return len(p), nil
}

// table writes the rows under headings.
func table(rows []row) string {
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "what\tbenchmark\tmeasured\tlimit\tcores\tmemory\tallocations\t")
	for _, r := range rows {
		fmt.Fprintln(w, r)
	}
	_ = w.Flush() // a strings.Builder takes every write
	return strings.TrimRight(b.String(), "\n")
}

// tooSlow is nil if every limit is kept, and else names those that are not.
func tooSlow(rows []row) error {
	var over, missing []string
	for _, r := range rows {
		switch r.verdict() {
		case "over":
			over = append(over, r.name)
		case "missing":
			missing = append(missing, r.name)
		}
	}
	var faults []string
	if len(over) > 0 {
		faults = append(faults, "over the limit: "+strings.Join(over, ", "))
	}
	if len(missing) > 0 {
		faults = append(faults, "not measured: "+strings.Join(missing, ", "))
	}
	if len(faults) == 0 {
		return nil
	}
	return errors.New(strings.Join(faults, "; "))
}
