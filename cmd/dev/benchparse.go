package main

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// measurement is one line of a benchmark: its name without "Benchmark" and the
// suffix that go test adds for the cores, and what one operation took.
type measurement struct {
	name   string
	nsPer  float64 // ns an operation
	bytes  float64 // bytes an operation
	allocs float64 // allocations an operation
}

// benchHead is a benchmark's name at the head of a line: parts of the name may
// follow after slashes, then the number of cores unless that is one.
var benchHead = regexp.MustCompile(`^Benchmark([A-Z]\S*?)(-\d+)?(\s|$)`)

// benchName gives the name at the head of a line of go test -bench.
func benchName(line string) (string, bool) {
	found := benchHead.FindStringSubmatch(line)
	if found == nil {
		return "", false
	}
	return found[1], true
}

// parseBenchmarks reads the result lines of go test -bench, a name, a count and
// pairs of a number and its unit, and leaves all other lines aside. The format
// is that of golang.org/design/14313-benchmark-format.
func parseBenchmarks(text string) []measurement {
	var out []measurement
	for line := range strings.Lines(text) {
		if m, ok := parseBenchmark(strings.TrimSpace(line)); ok {
			out = append(out, m)
		}
	}
	return out
}

func parseBenchmark(line string) (measurement, bool) {
	name, ok := benchName(line)
	fields := strings.Fields(line)
	if !ok || len(fields) < 4 {
		return measurement{}, false
	}
	m, timed := measurement{name: name}, false
	for i := 2; i+1 < len(fields); i += 2 {
		value, err := strconv.ParseFloat(fields[i], 64)
		if err != nil {
			return measurement{}, false
		}
		switch fields[i+1] {
		case "ns/op":
			m.nsPer, timed = value, true
		case "B/op":
			m.bytes = value
		case "allocs/op":
			m.allocs = value
		}
	}
	return m, timed
}

// row is a line of the table: a benchmark beside its limit, if it has one.
type row struct {
	name     string
	limit    *limit
	measured *measurement // the median of the repeats; nil if there is none
}

// compare gives a row for each limit, in order, then one for each benchmark
// without a limit. A benchmark in parts is held to its limit by each part.
func compare(limits []limit, all []measurement) []row {
	var rows []row
	medians := mediansByName(all)
	for _, l := range limits {
		rows = append(rows, rowsOf(l, medians)...)
	}
	for _, m := range medians {
		if !slices.ContainsFunc(limits, func(l limit) bool { return l.covers(m.name) }) {
			rows = append(rows, row{name: m.name, measured: &m})
		}
	}
	return rows
}

func rowsOf(l limit, medians []measurement) []row {
	var rows []row
	for _, m := range medians {
		if l.covers(m.name) {
			rows = append(rows, row{name: m.name, limit: &l, measured: &m})
		}
	}
	if len(rows) == 0 {
		return []row{{name: l.bench, limit: &l}}
	}
	return rows
}

func (l limit) covers(name string) bool { return within(name, l.bench) }

// mediansByName gives one measurement a name, that of the median time, in the
// order in which the names first come.
func mediansByName(all []measurement) []measurement {
	var order []string
	byName := map[string][]measurement{}
	for _, m := range all {
		if byName[m.name] == nil {
			order = append(order, m.name)
		}
		byName[m.name] = append(byName[m.name], m)
	}
	var out []measurement
	for _, name := range order {
		same := byName[name]
		slices.SortFunc(same, func(a, b measurement) int { return cmp.Compare(a.nsPer, b.nsPer) })
		out = append(out, same[len(same)/2])
	}
	return out
}

// verdict is "within", "over" or "missing", or "" where there is no limit.
func (r row) verdict() string {
	switch {
	case r.limit == nil:
		return ""
	case r.measured == nil:
		return "missing"
	case r.measured.nsPer > float64(r.limit.most.Nanoseconds()):
		return "over"
	}
	return "within"
}

func (r row) String() string {
	what, most, cores := "", "-", "-"
	if r.limit != nil {
		what, most, cores = r.limit.what, milliseconds(float64(r.limit.most)), strconv.Itoa(r.limit.cores)
	}
	took, memory, allocs := "-", "-", "-"
	if m := r.measured; m != nil {
		took = milliseconds(m.nsPer)
		memory = fmt.Sprintf("%.1f kB", m.bytes/1000)
		allocs = fmt.Sprintf("%.0f", m.allocs)
	}
	return strings.Join([]string{what, r.name, took, most, cores, memory, allocs, r.verdict()}, "\t")
}

func milliseconds(ns float64) string {
	return strconv.FormatFloat(ns/float64(time.Millisecond), 'f', 3, 64) + " ms"
}
