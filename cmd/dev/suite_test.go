package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
)

func TestTestWords(t *testing.T) {
	for _, c := range []struct{ flags, want string }{
		{"", "test -json -count=1 -timeout=1h -vet=off ./..."},
		{"-run TestLie -v", "test -json -count=1 -timeout=1h -vet=off -run TestLie -v ./..."},
		{"-v -args -x ./y", "test -json -count=1 -timeout=1h -vet=off -v ./... -args -x ./y"},
	} {
		if got := strings.Join(testWords(strings.Fields(c.flags), "./..."), " "); got != c.want {
			t.Errorf("testWords(%q) = %q, want %q", c.flags, got, c.want)
		}
	}
}

func TestEveryStepRunsAndFailuresAreNamed(t *testing.T) {
	s, out := testShop(t)
	var ran []string
	note := func(name string, err error) step {
		return step{name, func(*shop) error { ran = append(ran, name); return err }}
	}
	outcomes, err := s.each([]step{note("one", nil), note("two", errors.New("bent")), note("three", nil)})
	if err != nil || !slices.Equal(ran, []string{"one", "two", "three"}) {
		t.Fatalf("ran %v, error %v", ran, err)
	}
	if err := failures(outcomes); err == nil || err.Error() != "1 of 3 steps failed: two" {
		t.Errorf("failures = %v", err)
	}
	if failures(outcomes[:1]) != nil {
		t.Error("a step that went well was called a failure")
	}
	if !strings.Contains(out.String(), "FAILED  two") || !strings.Contains(out.String(), "bent") {
		t.Errorf("output %q does not show the failure", out)
	}
}

func TestAStoppedSuiteGoesNoFurther(t *testing.T) {
	s, _ := testShop(t)
	ctx, cancel := context.WithCancelCause(context.Background())
	s.ctx = ctx
	first := step{"first", func(*shop) error { cancel(stopped{syscall.SIGINT}); return errors.New("killed") }}
	second := step{"second", func(*shop) error { t.Error("ran after the signal"); return nil }}
	if _, err := s.each([]step{first, second}); !errors.Is(err, stopped{syscall.SIGINT}) {
		t.Errorf("error %v, want stopped by SIGINT", err)
	}
}

func TestToolsAreDemandedWhereTheyAreInstalled(t *testing.T) {
	if !slices.Contains(toolEnv("linux"), mustHaveTools) || len(toolEnv("darwin")) > 0 {
		t.Errorf("linux %v, darwin %v", toolEnv("linux"), toolEnv("darwin"))
	}
}

func TestFormattedFindsAnUnformattedFile(t *testing.T) {
	s, out := testShop(t)
	writeFile(t, s.root, "good.go", "package good\n")
	if err := s.formatted(); err != nil {
		t.Errorf("a good file: %v", err)
	}
	writeFile(t, s.root, "bad.go", "package good\nvar  x=1\n")
	if err := s.formatted(); err == nil || !strings.Contains(out.String(), "bad.go") {
		t.Errorf("error %v, output %q, want bad.go named", err, out)
	}
}

// Whatever goroutines share is tested again with the race detector, except for
// tests under strace.
func TestRaceIsTheSecondRun(t *testing.T) {
	t.Setenv(raceName, "1")
	s, out := testShop(t)
	writeFile(t, s.root, "go.mod", "module github.com/strakewright/strakewright\n\ngo 1.26\n")
	writeFile(t, s.root, "loft/fair/fair_test.go", racing("fair", "TestRacing", "race"))
	for _, folder := range raced {
		folder = strings.TrimSuffix(folder, "/...")
		name := filepath.Base(folder)
		writeFile(t, s.root, folder+"/a_test.go", racing(name, "TestRacing", "false"))
		writeFile(t, s.root, folder+"/b_test.go", racing(name, "TestEveryCallFails", "race"))
	}
	if err := s.tested(s.withC(), nil); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
	for want, times := range map[string]int{"ok  \tgithub.com/strakewright/strakewright/loft/fair": 1, "ok  \tgithub.com/strakewright/strakewright/app\t": 2, "The slowest tests:": 1} {
		if strings.Count(out.String(), want) != times {
			t.Errorf("%q is not shown %d times:\n%s", want, times, out)
		}
	}
}

// racing is a test that fails if a condition on race, which says whether it runs
// under the race detector, holds.
func racing(pkg, test, wrong string) string {
	return fmt.Sprintf(`package %s

import (
	"runtime/debug"
	"slices"
	"testing"
)

func %s(t *testing.T) {
	info, _ := debug.ReadBuildInfo()
	race := slices.Contains(info.Settings, debug.BuildSetting{Key: "-race", Value: "true"})
	if %s {
		t.Errorf("with the race detector: %%v", race)
	}
}
`, pkg, test, wrong)
}

// A test that fails makes the step fail, and its output is shown.
func TestAFailingTestFailsTheStep(t *testing.T) {
	s, out := testShop(t)
	writeFile(t, s.root, "go.mod", "module github.com/strakewright/strakewright\n\ngo 1.26\n")
	writeFile(t, s.root, "hull/hull_test.go", "package hull\n\nimport \"testing\"\n\nfunc TestBent(t *testing.T) { t.Error(\"bent\") }\n\nfunc TestGood(t *testing.T) { t.Log(\"unseen\") }\n")
	if err := s.tested(s.withC(), nil); err == nil {
		t.Error("the step went well")
	}
	if text := out.String(); !strings.Contains(text, "hull_test.go:5: bent") || strings.Contains(text, "unseen") {
		t.Errorf("output\n%s", text)
	}
}
