package main

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"
)

func TestFuzzTargetsAreFound(t *testing.T) {
	s, _ := testShop(t)
	writeFile(t, s.root, "hull/points_test.go", "package hull\n\nfunc FuzzReadPoints(f *testing.F) {\n}\n\nfunc FuzzNot(t *testing.T) {\n}\n\nconst text = `\nfunc FuzzQuoted(f *testing.F) {\n}\n`\n")
	writeFile(t, s.root, "app/trace/picture_test.go", "package trace\n\nfunc FuzzPicture(f *testing.F) {}\nfunc FuzzPage(f *testing.F) {}\n")
	writeFile(t, s.root, "hull/points.go", "package hull\n\nfunc FuzzOutside(f *testing.F) {}\n")
	got, err := testFuncs(s.root, "Fuzz", "F")
	want := []testFunc{{"./app/trace", "FuzzPicture"}, {"./app/trace", "FuzzPage"}, {"./hull", "FuzzReadPoints"}}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("targets %v, error %v, want %v", got, err, want)
	}
}

// Every kind of hull file has a reader, and every reader a target.
func TestEveryReaderIsFuzzed(t *testing.T) {
	root, err := moduleRoot(".")
	if err != nil {
		root, err = moduleRoot("../..")
	}
	if err != nil {
		t.Fatal(err)
	}
	targets, err := testFuncs(root, "Fuzz", "F")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []testFunc{
		{"./hull", "FuzzReadPlan"}, {"./hull/source", "FuzzReadPoints"}, {"./hull/source", "FuzzReadOffsets"},
		{"./hull/source", "FuzzReadGirths"}, {"./hull/drawing", "FuzzReadSVG"}, {"./hull/drawing", "FuzzReadDXF"},
	} {
		if !slices.Contains(targets, want) {
			t.Errorf("there is no %s among %v", want, targets)
		}
	}
}

func TestFuzzTime(t *testing.T) {
	for _, c := range []struct {
		text string
		want time.Duration
	}{{"", briefFuzz}, {"60s", time.Minute}, {"1m", time.Minute}, {"60", 0}, {"-1s", 0}} {
		t.Setenv(fuzzTimeName, c.text)
		got, err := fuzzTime()
		if got != c.want || (err != nil) != (c.want == 0) {
			t.Errorf("fuzzTime of %q = %v, %v", c.text, got, err)
		}
	}
}

func TestAFindingFailsTheFuzzing(t *testing.T) {
	s, out := testShop(t)
	targets := []testFunc{{"./hull", "FuzzA"}, {"./hull", "FuzzB"}, {"./hull", "FuzzC"}}
	err := s.fuzzEach(targets, func(t testFunc) (string, error) {
		if t.name == "FuzzB" {
			return "what it wrote", errors.New("exit status 1")
		}
		return "9 runs", nil
	})
	if err == nil || err.Error() != "./hull FuzzB: exit status 1" {
		t.Errorf("error %v, want that of FuzzB alone", err)
	}
	for _, want := range []string{"ok      ./hull FuzzA: 9 runs", "what it wrote\nFAILED  ./hull FuzzB", "ok      ./hull FuzzC"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("output %q lacks %q", out, want)
		}
	}
}

// A target that fails on its seed fails for good, and one that does not ends
// well; this runs go itself.
func TestFuzzRunsGo(t *testing.T) {
	s, _ := testShop(t)
	writeFile(t, s.root, "go.mod", "module github.com/strakewright/strakewright\n\ngo 1.26\n")
	writeFile(t, s.root, "a/a.go", "package a\n")
	writeFile(t, s.root, "a/a_test.go", `package a

import "testing"

func FuzzGood(f *testing.F) {
	f.Add([]byte("x"))
	f.Fuzz(func(t *testing.T, b []byte) {})
}

func FuzzBad(f *testing.F) {
	f.Add([]byte("x"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) > 1 {
			t.Fatal("more than one")
		}
	})
}
`)
	report, err := s.fuzz(testFunc{"./a", "FuzzGood"}, time.Second)
	if err != nil || !strings.Contains(report, "execs") {
		t.Errorf("good: report %q, error %v", report, err)
	}
	if report, err = s.fuzz(testFunc{"./a", "FuzzNone"}, time.Second); err == nil {
		t.Errorf("a target that is not there was fuzzed: %q", report)
	}
	report, err = s.fuzz(testFunc{"./a", "FuzzBad"}, 5*time.Minute) // it ends at the first finding
	if err == nil || !strings.Contains(report, "more than one") || !strings.Contains(report, "go test fuzz v1") {
		t.Errorf("bad: error %v, report without the fault or the input: %q", err, report)
	}
}

func TestOnlyTheClockIsForgiven(t *testing.T) {
	clock := "fuzz: elapsed: 1m0s, execs: 9\n--- FAIL: FuzzA (60.01s)\n    context deadline exceeded\nFAIL\n"
	if !ranOutOfTime(clock) {
		t.Error("the end of the time was called a finding")
	}
	for _, finding := range []string{
		"--- FAIL: FuzzA (3s)\n    a.go:3: bent\n    Failing input written to testdata/fuzz/FuzzA/1\n    context deadline exceeded\n",
		"panic: context deadline exceeded\n",
		"--- FAIL: FuzzA (3s)\n    a.go:3: bent\n",
	} {
		if ranOutOfTime(finding) {
			t.Errorf("%q was forgiven", finding)
		}
	}
}
