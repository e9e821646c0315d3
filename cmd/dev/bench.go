package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"time"
)

// benching is what a command line asks of bench.
type benching struct {
	only    *regexp.Regexp // the benchmarks to run, by their functions' names; nil for all
	quick   bool           // each once and briefly, to see that it works
	against string         // an earlier report to compare with; empty for none
	to      string         // the report to write; empty for one named after the date
}

func parseBench(rest []string) (func(*shop) error, error) {
	var b benching
	flags := flag.NewFlagSet("bench", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	only := flags.String("only", "", "")
	flags.BoolVar(&b.quick, "quick", false, "")
	flags.StringVar(&b.against, "against", "", "")
	flags.StringVar(&b.to, "o", "", "")
	if err := flags.Parse(rest); err != nil {
		return nil, misuse("bench: " + err.Error())
	}
	if flags.NArg() > 0 {
		return nil, misuse(fmt.Sprintf("bench takes flags alone, got %q", flags.Arg(0)))
	}
	if *only != "" {
		var err error
		if b.only, err = regexp.Compile(*only); err != nil {
			return nil, misuse(fmt.Sprintf("bench: --only %q is no pattern: %v", *only, err))
		}
	}
	return b.run, nil
}

// takes reports whether a benchmark is to be run.
func (b benching) takes(function string) bool { return b.only == nil || b.only.MatchString(function) }

// run runs the benchmarks, prints each beside its limit and an earlier report,
// and writes a report. It fails if one is over its limit, was not measured, or
// grows faster than it may.
func (b benching) run(s *shop) error {
	earlier, err := readEarlier(b.against)
	if err != nil {
		return err
	}
	if err := s.ready(runtime.GOOS, slices.Concat(forBuild, forWindow)...); err != nil {
		return err
	}
	for _, sentence := range untold(onPath) {
		s.say("%s", sentence)
	}
	out, err := s.measureAll(b)
	if err != nil {
		return err
	}
	r := b.report(s, out, time.Now())
	s.say("\n%s", table(r.Rows, earlier))
	if len(r.Growth) > 0 {
		s.say("\n%s", growthTable(r.Growth))
	}
	if sentence := earlier.note(r); sentence != "" {
		s.say("\n%s", sentence)
	}
	if err := s.keep(r, b.to); err != nil {
		return err
	}
	return faults(r.Rows, r.Growth)
}

// report makes the report from what go test printed.
func (b benching) report(s *shop, out string, now time.Time) report {
	measured := mediansByName(parseBenchmarks(out))
	return report{
		Date:    now.UTC().Truncate(time.Second),
		Commit:  s.commit(),
		Machine: machineOf(out),
		Rows:    compare(wanted(limits, b.takes, onPath), measured),
		Growth:  growthOf(wantedGrowth(b.takes), measured),
	}
}

// keep writes the report and draws its curves.
func (s *shop) keep(r report, to string) error {
	if to == "" {
		to = filepath.Join(s.root, outFolder, "bench-"+r.Date.Format("2006-01-02-150405")+".json")
	}
	if err := r.write(to); err != nil {
		return err
	}
	s.say("\nWritten to %s; compare a later run with it by --against.", to)
	if len(r.Growth) == 0 {
		return nil
	}
	to, err := filepath.Abs(to)
	if err != nil {
		return fmt.Errorf("finding the report: %w", err)
	}
	picture := strings.TrimSuffix(to, filepath.Ext(to)) + ".svg"
	if _, err := s.reads(s.withC(), "go", "run", "./cmd/dev/curves", to, picture); err != nil {
		return fmt.Errorf("drawing the curves: %w", err)
	}
	s.say("How the time grows with the frames: %s", picture)
	return nil
}

// group is a set of benchmarks that are run in the same way.
type group struct {
	cores string
	count string // how many times each is run; the median is taken
	time  string // how long each run lasts at least
	holds func(name string) bool
}

// Benchmarks whose own metrics are already medians, or do not vary, are run once.
var once = regexp.MustCompile(`^Benchmark(Window|Memory|Against|Simulated)`)

// groups are all benchmarks. Three runs of a third of a second each, whose median
// is taken, are as informative as one long run, and a disturbed run does no harm.
var groups = []group{
	{"1", "3", "300ms", oneCore},
	{"2", "3", "300ms", func(name string) bool { return !oneCore(name) && !once.MatchString(name) }},
	{"2", "1", "300ms", once.MatchString},
}

// oneCore reports which benchmarks are run on one core: those whose limit is
// for one, and those of growth.
func oneCore(function string) bool {
	name := strings.TrimPrefix(function, "Benchmark")
	return slices.ContainsFunc(limits, func(l limit) bool { return l.cores == 1 && l.bench == name }) ||
		slices.ContainsFunc(growthLimits, func(g growthLimit) bool { return g.bench == name })
}

// measureAll runs every benchmark asked for and returns what go test printed.
func (s *shop) measureAll(b benching) (string, error) {
	all, err := testFuncs(s.root, "Benchmark", "B")
	if err != nil {
		return "", fmt.Errorf("looking for benchmarks: %w", err)
	}
	all = slices.DeleteFunc(all, func(f testFunc) bool { return !b.takes(f.name) })
	if len(all) == 0 {
		return "", errors.New("no benchmark has such a name")
	}
	m := newMeter(s.out, "measuring")
	defer m.stop()
	printed := ""
	for _, g := range groups {
		words := g.words(all, b.quick)
		if words == nil {
			continue
		}
		out, err := s.measure(m, words)
		if err != nil {
			return "", err
		}
		printed += out
	}
	return printed, nil
}

// words are the arguments of go test for the group's benchmarks, and only for
// their packages; nil if there is none.
func (g group) words(all []testFunc, quick bool) []string {
	var names, packages []string
	for _, f := range all {
		if g.holds(f.name) {
			names, packages = append(names, f.name), append(packages, f.pkg)
		}
	}
	if len(names) == 0 {
		return nil
	}
	count, time := g.count, g.time
	if quick {
		count, time = "1", "50ms"
	}
	slices.Sort(packages)
	words := []string{"test", "-run=^$", "-benchmem", "-cpu=" + g.cores, "-count=" + count, "-benchtime=" + time,
		"-bench=^(" + strings.Join(names, "|") + ")$"}
	return append(words, slices.Compact(packages)...)
}

// measure runs go test and returns what it printed.
func (s *shop) measure(m *meter, words []string) (string, error) {
	var out, complaint bytes.Buffer
	cmd := s.command(s.withC(), "go", words...)
	cmd.Stdout, cmd.Stderr = io.MultiWriter(&out, benchProgress{m}), &complaint
	if err := s.wait(cmd); err != nil {
		return "", fmt.Errorf("running the benchmarks: %w", withComplaint(err, out.String()+complaint.String()))
	}
	return out.String(), nil
}

// benchProgress shows on a meter which benchmark is running.
type benchProgress struct{ m *meter }

func (b benchProgress) Write(p []byte) (int, error) {
	for line := range strings.Lines(string(p)) {
		if name, ok := benchName(strings.TrimSpace(line)); ok {
			b.m.at(name)
		}
	}
	return len(p), nil
}

// faults is nil if every limit is kept, and otherwise names those that are not.
func faults(rows []row, grown []growth) error {
	var over, missing, growing []string
	for _, r := range rows {
		switch r.verdict() {
		case "over":
			over = append(over, r.name())
		case "not measured":
			missing = append(missing, r.name())
		}
	}
	for _, g := range grown {
		switch g.verdict() {
		case "over":
			growing = append(growing, g.Bench)
		case "not measured":
			missing = append(missing, g.Bench)
		}
	}
	var told []string
	for _, f := range []struct {
		what string
		of   []string
	}{{"over the limit", over}, {"growing too fast", growing}, {"not measured", missing}} {
		if len(f.of) > 0 {
			told = append(told, f.what+": "+strings.Join(f.of, ", "))
		}
	}
	if len(told) == 0 {
		return nil
	}
	return errors.New(strings.Join(told, "; "))
}
