package main

import (
	"strconv"
	"strings"
)

// perOp is the unit of a benchmark's time as go test writes it, ns per
// operation.
const perOp = "ns/op"

// limit is the highest value that a benchmark may reach in one of its units.
type limit struct {
	bench string // the benchmark's name without "Benchmark"
	what  string
	unit  string  // perOp, or one that the benchmark reports
	most  float64 // in that unit
	cores int
	needs string // the outside tool without which it is not measured; often none
}

// A time as a limit, in perOp.
const (
	millisecond = 1e6
	second      = 1e9
)

// limits are for 25 frames, 3 bands and 30 strakes a side: a hull of the size
// that a builder has on the bench. Those of the window are for the demo plan.
var limits = []limit{
	{"Replank", "recompute after a handle moves", perOp, 1 * millisecond, 1, ""},
	{"ReplankStrip", "the same, the line as its strip lies", perOp, 3 * millisecond, 1, ""},
	{"StripBeside", "find the strip beside a line that is dragged", perOp, 3 * millisecond, 1, ""},
	{"Loft", "loft the hull", perOp, 2 * millisecond, 1, ""},
	{"Cut", "cut 500 pieces from strips", perOp, 1 * second, 1, ""},
	{"Straight", "straight cuts of a strake", perOp, 1 * millisecond, 1, ""},
	{"Lay", "lay 36 curved pieces on sheets", perOp, 1 * second, 1, ""},
	{"StrakesProcess", "strakes from the shell, whole process", perOp, 150 * millisecond, 2, ""},
	{"HullView", "draw the lofted view, 1000 x 600", perOp, 15 * millisecond, 2, ""},
	{"Booklet", "the booklet of 60 strakes", perOp, 3 * second, 2, ""},
	{"WindowDrag1920", "mouse to finished frame, median", "p50-ms", 16.7, 2, "Xvfb"},
	{"WindowDrag1920", "mouse to finished frame, 99th percentile", "p99-ms", 33, 2, "Xvfb"},
	{"WindowStart", "start to the first painted window", "start-ms", 700, 2, "Xvfb"},
	{"WindowStart", "memory of the open window", "rss-MiB", 150, 2, "Xvfb"},
	{"SimulatedBench/rough,_all_read_last/program", "the last strake's miss, in 95 % of builds at the worst frame", "miss-mm", 0.3, 2, ""},
	{"Fairing", "slips of an inch missed, exact hulls", "missed-percent", 5, 1, ""},
	{"Fairing", "points suspected that are right, a hull", "false-alarms", 0.1, 1, ""},
	{"Fairing", "rounding to eighths that fairing leaves", "eighths-left-percent", 66.7, 1, ""},
	{"Fairing", "rounding to inches that fairing leaves", "inches-left-percent", 50, 1, ""},
	{"Fairing", "most that an exact point is moved", "moved-mm", 0.02, 1, ""},
	{"AgainstGeodSolve", "free lines on a spheroid, largest miss", "miss-mm", 0.02, 2, "GeodSolve"},
}

// outside are the tools that benchmarks run, and what is not measured without
// them.
var outside = []struct{ tool, without string }{
	{"Xvfb", "the real window is not measured"},
	{"GeodSolve", "free lines on a spheroid are not timed beside it"},
	{"glpsol", "cutting lists are not timed beside it"},
}

// untold gives a sentence for each tool that is not installed.
func untold(has func(tool string) bool) []string {
	var out []string
	for _, o := range outside {
		if !has(o.tool) {
			out = append(out, o.tool+" is not installed, so "+o.without+".")
		}
	}
	return out
}

// wanted are the limits of the benchmarks that a run measures: those whose tools
// are available and whose names the pattern matches.
func wanted(all []limit, only func(name string) bool, has func(tool string) bool) []limit {
	var out []limit
	for _, l := range all {
		if only("Benchmark"+l.bench) && (l.needs == "" || has(l.needs)) {
			out = append(out, l)
		}
	}
	return out
}

func (l limit) covers(name string) bool { return within(name, l.bench) }

// inUnit writes a value with its unit as a person reads it: a time per
// operation in ms, a number of bytes in kB.
func inUnit(value float64, unit string) string {
	number := func(v float64, digits int) string { return strconv.FormatFloat(v, 'f', digits, 64) }
	switch unit {
	case perOp:
		return number(value/millisecond, 3) + " ms"
	case "B/op":
		return number(value/1000, 1) + " kB"
	case "allocs/op":
		return number(value, 0)
	}
	name := unit[strings.LastIndexByte(unit, '-')+1:]
	switch {
	case strings.HasSuffix(name, "/s"):
		return number(value, 0) + " " + name
	case name == "cost":
		return number(value, 2)
	case name == "mm":
		return number(value, 4) + " " + name
	}
	return number(value, 2) + " " + name
}

// moreIsBetter reports whether a unit is a rate, and not a time, a size or a
// miss.
func moreIsBetter(unit string) bool { return strings.HasSuffix(unit, "/s") }
