package main

import (
	"regexp"
	"strings"
	"testing"
	"time"
)

const printed = `goos: linux
pkg: strakewright/loft
BenchmarkReplank 	     500	   2500000 ns/op	   12800 B/op	      40 allocs/op
BenchmarkReplank 	     500	   2100000 ns/op	   12800 B/op	      40 allocs/op
BenchmarkReplank 	     500	   9900000 ns/op	   12800 B/op	      40 allocs/op
PASS
ok  	strakewright/loft	3.2s
BenchmarkLoft/coaster-2         	     100	  11000000 ns/op	  500.5 MB/s	    900 B/op	       3 allocs/op
BenchmarkLoft/skiff-2           	     100	   4000000 ns/op
BenchmarkLofting-2              	     100	      40.5 ns/op
--- FAIL: BenchmarkBroken
BenchmarkTorn-2
`

func TestParseBenchmarks(t *testing.T) {
	got := parseBenchmarks(printed)
	if len(got) != 6 {
		t.Fatalf("%d measurements, want 6: %v", len(got), got)
	}
	if want := (measurement{"Replank", 2500000, 12800, 40}); got[0] != want {
		t.Errorf("first %v, want %v", got[0], want)
	}
	if want := (measurement{"Loft/coaster", 11000000, 900, 3}); got[3] != want {
		t.Errorf("fourth %v, want %v", got[3], want)
	}
	if want := (measurement{"Lofting", 40.5, 0, 0}); got[5] != want {
		t.Errorf("last %v, want %v", got[5], want)
	}
}

func TestMedianIsHeldToTheLimit(t *testing.T) {
	rows := compare([]limit{{"Replank", "recompute", 3 * time.Millisecond, 1}}, parseBenchmarks(printed))
	if rows[0].measured.nsPer != 2500000 || rows[0].verdict() != "within" {
		t.Errorf("%v is %s, want the median 2.5 ms within", rows[0], rows[0].verdict())
	}
	if last := rows[len(rows)-1]; last.name != "Lofting" || last.verdict() != "" {
		t.Errorf("a benchmark without a limit: %v", last)
	}
}

func TestOverAndMissingFail(t *testing.T) {
	limits := []limit{
		{"Replank", "recompute", 3 * time.Millisecond, 1},
		{"Loft", "loft", 10 * time.Millisecond, 1},
		{"HullView", "draw", 15 * time.Millisecond, 2},
	}
	rows := compare(limits, parseBenchmarks(printed))
	err := tooSlow(rows)
	if want := "over the limit: Loft/coaster; not measured: HullView"; err == nil || err.Error() != want {
		t.Errorf("tooSlow = %v, want %s", err, want)
	}
	text := table(rows)
	for _, want := range []string{"2.500 ms", "within", "11.000 ms", "over", "missing", "15.000 ms"} {
		if !strings.Contains(text, want) {
			t.Errorf("the table lacks %q:\n%s", want, text)
		}
	}
	if err := tooSlow(compare(limits[:1], parseBenchmarks(printed))); err != nil {
		t.Errorf("all within: %v", err)
	}
}

func TestExactlyTheLimitIsWithin(t *testing.T) {
	l := limit{"Loft", "loft", 10 * time.Millisecond, 1}
	for ns, want := range map[float64]string{1e7: "within", 1e7 + 1: "over"} {
		if got := (row{"Loft", &l, &measurement{nsPer: ns}}).verdict(); got != want {
			t.Errorf("%v ns: %s, want %s", ns, got, want)
		}
	}
}

func TestOneCorePattern(t *testing.T) {
	pattern := regexp.MustCompile(oneCore())
	for name, want := range map[string]bool{
		"BenchmarkReplank": true, "BenchmarkReplanking": false, "BenchmarkHullView": false,
	} {
		if pattern.MatchString(name) != want {
			t.Errorf("%s matches %s: %v, want %v", oneCore(), name, !want, want)
		}
	}
}
