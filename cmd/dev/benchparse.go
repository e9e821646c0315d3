package main

import (
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// measurement is the result of a benchmark: its name without "Benchmark" and
// the suffix that go test adds for the cores, and its values by unit.
type measurement struct {
	name   string
	values map[string]float64
}

// benchHead is a benchmark's name at the head of a line: after slashes there
// may be parts of the name, then the number of cores unless it is one.
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
// pairs of a number and its unit, and ignores all other lines. The format is
// that of golang.org/design/14313-benchmark-format.
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
	m := measurement{name, map[string]float64{}}
	for i := 2; i+1 < len(fields); i += 2 {
		value, err := strconv.ParseFloat(fields[i], 64)
		if err != nil {
			return measurement{}, false
		}
		m.values[fields[i+1]] = value
	}
	return m, true
}

// mediansByName gives one measurement for each name, the median of each unit
// over all with that name, in the order in which the names first appear.
func mediansByName(all []measurement) []measurement {
	var out []measurement
	for _, m := range all {
		if !slices.ContainsFunc(out, func(o measurement) bool { return o.name == m.name }) {
			out = append(out, measurement{m.name, mediansOf(m.name, all)})
		}
	}
	return out
}

func mediansOf(name string, all []measurement) map[string]float64 {
	byUnit := map[string][]float64{}
	for _, m := range all {
		if m.name == name {
			for unit, v := range m.values {
				byUnit[unit] = append(byUnit[unit], v)
			}
		}
	}
	medians := map[string]float64{}
	for unit, values := range byUnit {
		slices.Sort(values)
		medians[unit] = values[len(values)/2]
	}
	return medians
}

// ownUnits are the units that the benchmark reports itself, in order.
func (m measurement) ownUnits() []string {
	units := slices.Sorted(maps.Keys(m.values))
	return slices.DeleteFunc(units, func(u string) bool {
		return u == perOp || u == "B/op" || u == "allocs/op" || u == "MB/s"
	})
}
