package main

import (
	"slices"
	"strings"
	"testing"
)

const printed = `goos: linux
pkg: github.com/strakewright/strakewright/loft
cpu: Some Processor
BenchmarkReplank 	     500	   2500000 ns/op	   12800 B/op	      40 allocs/op
BenchmarkReplank 	     500	   2100000 ns/op	   12900 B/op	      40 allocs/op
BenchmarkReplank 	     500	   9900000 ns/op	   12700 B/op	      40 allocs/op
PASS
ok  	github.com/strakewright/strakewright/loft	3.2s
BenchmarkLoft/coaster-2         	     100	  11000000 ns/op	  500.5 MB/s	    900 B/op	       3 allocs/op
BenchmarkLoft/skiff-2           	     100	   4000000 ns/op
BenchmarkLofting-2              	     100	      40.5 ns/op
BenchmarkWindowDrag-2           	       1	5000000000 ns/op	        12.50 p50-ms	        40.00 p99-ms	     61.0 frames/s
--- FAIL: BenchmarkBroken
BenchmarkTorn-2
`

// Limits that the printed benchmarks keep and break.
var (
	replankLimit = limit{"Replank", "recompute", perOp, 3 * millisecond, 1, ""}
	loftLimit    = limit{"Loft", "loft", perOp, 10 * millisecond, 1, ""}
	viewLimit    = limit{"HullView", "draw", perOp, 15 * millisecond, 2, ""}
	medianLimit  = limit{"WindowDrag", "median", "p50-ms", 16.7, 2, ""}
	worstLimit   = limit{"WindowDrag", "99th percentile", "p99-ms", 33, 2, ""}
)

func parsed() []measurement { return mediansByName(parseBenchmarks(printed)) }

func TestParseBenchmarks(t *testing.T) {
	got := parseBenchmarks(printed)
	if len(got) != 7 {
		t.Fatalf("%d measurements, want 7: %v", len(got), got)
	}
	for i, want := range map[int]struct {
		name, unit string
		value      float64
	}{
		0: {"Replank", perOp, 2500000},
		3: {"Loft/coaster", "allocs/op", 3},
		5: {"Lofting", perOp, 40.5},
		6: {"WindowDrag", "p99-ms", 40},
	} {
		if got[i].name != want.name || got[i].values[want.unit] != want.value {
			t.Errorf("place %d is %v, want %v", i, got[i], want)
		}
	}
}

func TestMedianIsHeldToTheLimit(t *testing.T) {
	rows := compare([]limit{replankLimit}, parsed())
	if *rows[0].Value != 2500000 || *rows[0].Bytes != 12800 || rows[0].verdict() != "within" {
		t.Errorf("%v is %s, want the median 2.5 ms within", rows[0].cells(), rows[0].verdict())
	}
	if last := rows[len(rows)-4]; last.Bench != "Lofting" || last.verdict() != "" {
		t.Errorf("a benchmark without a limit: %v", last.cells())
	}
}

// A limit may be on a unit that the benchmark reports itself; its other units
// are shown, and the time of the whole run is not.
func TestOwnUnitsAreHeldToLimits(t *testing.T) {
	rows := compare([]limit{medianLimit, worstLimit}, parsed())
	var got []string
	for _, r := range rows {
		if r.Bench == "WindowDrag" {
			got = append(got, r.name()+" "+r.verdict())
		}
	}
	if want := []string{"WindowDrag p50-ms within", "WindowDrag p99-ms over", "WindowDrag frames/s "}; !slices.Equal(got, want) {
		t.Errorf("rows %q, want %q", got, want)
	}
	if err := faults(rows, nil); err == nil || err.Error() != "over the limit: WindowDrag p99-ms" {
		t.Errorf("faults = %v", err)
	}
}

func TestOverAndMissingFail(t *testing.T) {
	rows := compare([]limit{replankLimit, loftLimit, viewLimit}, parsed())
	err := faults(rows, []growth{{Bench: "GrowthLoft"}})
	if want := "over the limit: Loft/coaster; not measured: HullView, GrowthLoft"; err == nil || err.Error() != want {
		t.Errorf("faults = %v, want %s", err, want)
	}
	text := table(rows, nil)
	for _, want := range []string{"2.500 ms", "within", "11.000 ms", "over", "not measured", "15.000 ms", "12.8 kB", "61 frames/s"} {
		if !strings.Contains(text, want) {
			t.Errorf("the table lacks %q:\n%s", want, text)
		}
	}
	if err := faults(compare([]limit{replankLimit}, parsed()), nil); err != nil {
		t.Errorf("all within: %v", err)
	}
}

func TestExactlyTheLimitIsWithin(t *testing.T) {
	for ns, want := range map[float64]string{1e7: "within", 1e7 + 1: "over"} {
		rows := compare([]limit{loftLimit}, []measurement{{"Loft", map[string]float64{perOp: ns}}})
		if got := rows[0].verdict(); got != want {
			t.Errorf("%v ns: %s, want %s", ns, got, want)
		}
	}
}

func TestValuesAreWrittenInTheirUnits(t *testing.T) {
	for _, c := range []struct {
		value float64
		unit  string
		want  string
	}{
		{2500000, perOp, "2.500 ms"},
		{16.704, "p50-ms", "16.70 ms"},
		{149.5, "rss-MiB", "149.50 MiB"},
		{26448.4, "theirs-points/s", "26448 points/s"},
		{0.00679, "miss-mm", "0.0068 mm"},
		{297.6, "ours-cost", "297.60"},
	} {
		if got := inUnit(c.value, c.unit); got != c.want {
			t.Errorf("%v %s is written %q, want %q", c.value, c.unit, got, c.want)
		}
	}
}

// Every benchmark is run in exactly one group.
func TestEveryBenchmarkIsInOneGroup(t *testing.T) {
	root, err := moduleRoot(".")
	if err != nil {
		root = "../.."
	}
	all, err := testFuncs(root, "Benchmark", "B")
	if err != nil || len(all) < 15 {
		t.Fatalf("%d benchmarks, %v", len(all), err)
	}
	for _, f := range all {
		in := 0
		for _, g := range groups {
			if g.holds(f.name) {
				in++
			}
		}
		if in != 1 {
			t.Errorf("%s is in %d groups", f, in)
		}
	}
}

func TestGroupsNameTheirBenchmarksAndPackages(t *testing.T) {
	all := []testFunc{{"./loft", "BenchmarkReplank"}, {"./loft", "BenchmarkGrowthLoft"}, {"./app/scene", "BenchmarkHullView"}, {"./loft", "BenchmarkReplanking"}}
	alone := strings.Join(groups[0].words(all, false), " ")
	if want := "test -run=^$ -benchmem -cpu=1 -count=3 -benchtime=300ms -bench=^(BenchmarkReplank|BenchmarkGrowthLoft)$ ./loft"; alone != want {
		t.Errorf("on one core\n got %s\nwant %s", alone, want)
	}
	rest := strings.Join(groups[1].words(all, true), " ")
	if want := "test -run=^$ -benchmem -cpu=2 -count=1 -benchtime=50ms -bench=^(BenchmarkHullView|BenchmarkReplanking)$ ./app/scene ./loft"; rest != want {
		t.Errorf("the rest, quick\n got %s\nwant %s", rest, want)
	}
	if words := groups[2].words(all, false); words != nil {
		t.Errorf("a group without benchmarks is run: %v", words)
	}
}

// Anything that needs a missing tool is reported as such, not as unmeasured.
func TestAMissingToolIsTold(t *testing.T) {
	all := func(string) bool { return true }
	none := func(string) bool { return false }
	for _, l := range wanted(limits, all, none) {
		if l.needs != "" {
			t.Errorf("%s is held to its limit without %s", l.bench, l.needs)
		}
	}
	if got := wanted(limits, all, all); len(got) != len(limits) {
		t.Errorf("%d of %d limits where all tools are there", len(got), len(limits))
	}
	told := strings.Join(untold(none), "\n")
	for _, l := range limits {
		if !strings.Contains(told, l.needs) {
			t.Errorf("nobody is told that %s is missing", l.needs)
		}
	}
	if len(untold(all)) > 0 {
		t.Error("a tool that is there is called missing")
	}
}

// A pattern selects benchmarks and their limits.
func TestOnlyTakesLimitsAlong(t *testing.T) {
	only := func(name string) bool { return strings.HasSuffix(name, "Loft") }
	if got := wanted(limits, only, func(string) bool { return true }); len(got) != 1 || got[0].bench != "Loft" {
		t.Errorf("limits %v", got)
	}
	if got := wantedGrowth(only); len(got) != 1 || got[0].bench != "GrowthLoft" {
		t.Errorf("growth %v", got)
	}
}
