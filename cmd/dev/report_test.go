package main

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"
)

// aReport is a report on the printed benchmarks.
func aReport() report {
	return report{
		Date:    time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC),
		Commit:  "1a2b3c",
		Machine: machineOf(printed),
		Rows:    compare([]limit{replankLimit, medianLimit, viewLimit}, parsed()),
		Growth:  growthOf(growthLimits, times("GrowthLoft", 1.5, 0)),
	}
}

func TestAReportIsReadAsItWasWritten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out", "bench.json")
	if err := aReport().write(path); err != nil {
		t.Fatal(err)
	}
	got, err := readEarlier(path)
	if err != nil || !reflect.DeepEqual(got.report, aReport()) {
		t.Errorf("read %v, %v, want %v", got, err, aReport())
	}
	if err := aReport().write(path); err == nil || !strings.Contains(err.Error(), "exists") {
		t.Errorf("written over: %v", err)
	}
	if got.Machine.Processor != "Some Processor" {
		t.Errorf("machine %v", got.Machine)
	}
}

func TestNoReportIsAFault(t *testing.T) {
	path := filepath.Join(t.TempDir(), "bench.json")
	for _, text := range []string{"{}", "no JSON"} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := readEarlier(path); err == nil || !strings.Contains(err.Error(), "is no report") {
			t.Errorf("%q: %v", text, err)
		}
	}
	if _, err := readEarlier(path + "x"); err == nil {
		t.Error("a file that is not there was read")
	}
	if e, err := readEarlier(""); e != nil || err != nil {
		t.Errorf("none is named: %v, %v", e, err)
	}
}

// Anything that became worse by more than a tenth is marked: a time that is
// longer, a rate that is smaller, any other figure that is greater.
func TestMarks(t *testing.T) {
	for _, c := range []struct {
		ratio float64
		unit  string
		want  string
	}{
		{1.1, perOp, ""},
		{1.11, perOp, "slower"},
		{0.5, perOp, ""},
		{1.2, "p50-ms", "slower"},
		{1.2, "rss-MiB", "more"},
		{0.8, "ours-points/s", "slower"},
		{1.5, "ours-points/s", ""},
	} {
		if got := mark(c.ratio, c.unit); got != c.want {
			t.Errorf("%v of %s is marked %q, want %q", c.ratio, c.unit, got, c.want)
		}
	}
}

func TestTheTableShowsTheRatio(t *testing.T) {
	before := &earlier{aReport()}
	now := aReport()
	half := *now.Rows[0].Value * 1.5
	now.Rows[0].Value = &half
	now.Rows = append(now.Rows, row{Bench: "New", Unit: perOp, Value: &half})
	lines := strings.Split(table(now.Rows, before), "\n")
	for i, want := range map[int]string{0: "earlier ratio", 1: "over 2.500 ms 1.50 slower", 2: "within 12.50 ms 1.00", len(lines) - 1: "- - - -"} {
		if !strings.HasSuffix(strings.Join(strings.Fields(lines[i]), " "), want) {
			t.Errorf("line %d is %q, want it to end with %q", i, lines[i], want)
		}
	}
	if note := before.note(now); !strings.Contains(note, "2026-03-01 12:00, commit 1a2b3c") || strings.Contains(note, "another kind") {
		t.Errorf("note %q", note)
	}
	now.Machine.Cores++
	if note := before.note(now); !strings.Contains(note, "another kind of machine") {
		t.Errorf("note %q does not tell of the other machine", note)
	}
}
