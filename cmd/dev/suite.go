package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"
)

// linter runs what .golangci.yml asks for, including go vet and staticcheck. Its
// version is pinned, so that a new release cannot fail an old commit.
const linter = "github.com/golangci/golangci-lint/v2/cmd/golangci-lint@v2.15.0"

// mustHaveTools is the variable that makes a check against an outside tool fail
// if the tool is missing; without it such a check is skipped.
const mustHaveTools = "STRAKEWRIGHT_EXTERNAL=1"

// step is one part of the suite.
type step struct {
	name string
	do   func(*shop) error
}

// outcome is the result of a step.
type outcome struct {
	name string
	took time.Duration
	err  error
}

// test installs what the checks need and runs them all, even after a failure;
// flags are passed to go test on everything.
func test(s *shop, flags []string) error {
	if err := s.ready(runtime.GOOS, slices.Concat(forBuild, forWindow, forTests)...); err != nil {
		return err
	}
	users, err := s.reads(nil, "go", "env", "GOFLAGS")
	if err != nil {
		return fmt.Errorf("asking go for its flags: %w", err)
	}
	// In the environment, since some tests build programs.
	if err := os.Setenv("GOFLAGS", thriftyFlags(runtime.GOOS, strings.TrimSpace(users))); err != nil {
		return fmt.Errorf("setting GOFLAGS: %w", err)
	}
	outcomes, err := s.each(suite(runtime.GOOS, flags))
	if err != nil {
		return err
	}
	s.say("\n%s", summary(outcomes))
	return failures(outcomes)
}

// suite is every check, the quick ones first. Each test is run once: hull and
// loft without C are built, including their tests, but not run again.
func suite(system string, flags []string) []step {
	external := toolEnv(system)
	return []step{
		{"gofmt", (*shop).formatted},
		{"imports go one way", (*shop).importsGoOneWay},
		{"the table of rooms is true", (*shop).roomsTold},
		{"the paths name what is there", (*shop).pathsTold},
		{"exported names are used", (*shop).exportedAreUsed},
		{"no test reads a clock", (*shop).readsNoClock},
		{"every text is translated", (*shop).wordsAreTranslated},
		{"hull and loft without C", func(s *shop) error {
			return s.streams("go test", []string{"CGO_ENABLED=0"}, "go", "test", "-run=^$", "./hull/...", "./loft/...")
		}},
		{"golangci-lint", func(s *shop) error {
			return s.streams("golangci-lint", slices.Concat(s.withC(), thriftyLint), "go", "run", linter, "run", "--allow-parallel-runners", "./...")
		}},
		{"go test", func(s *shop) error {
			return s.tested(append(s.withC(), external...), flags)
		}},
		{"every reader fuzzed", (*shop).fuzzed},
	}
}

// toolEnv demands the outside tools where this program installs them or names
// their packages: on every system but macOS and Windows.
func toolEnv(system string) []string {
	if system == "darwin" || system == "windows" {
		return nil
	}
	return []string{mustHaveTools}
}

// raceName is the variable that makes the tests of raced run again under the
// race detector; .ci/run sets it. They then take several times as long.
const raceName = "STRAKEWRIGHT_RACE"

// raced are the packages whose tests also run under the race detector, shortened: those
// that start goroutines, keep something shared by all of them, or are called by
// several. Left out are cmd, which opens real windows and starts processes of its own,
// and packages that only compute, which take ten times as long and offer nothing to
// find.
var raced = []string{
	"./hull", "./hull/keep", "./loft",
	"./app", "./app/autosave", "./app/draw", "./app/scene", "./app/trace", "./app/window/...",
}

// notRaced are tests that do not run under the race detector.
var notRaced = []string{
	// strace makes system calls fail in a process started by these tests; the detector
	// makes calls of its own, and makes each of the many processes start several times
	// as slowly.
	"EveryCallFails", "KilledAtEveryCall", "EverySystemCallFails", "KilledAtEverySystemCall",
	// Many processes write at once, or are killed; all they share is a file.
	"NotesAtTheSameTime", "KilledAtAnyMoment",
	// These have a memory limit, which the detector exceeds.
	"HostileSVG", "HostileDXF", "HostilePicturesAreRefusedAtOnce",
	// Long arithmetic or drawing in a single goroutine.
	"CutManyPieces", "CutFewPieces", "CutByHand", "SimulatedBench", "LongWorkIsStopped", "CuttingStops", "AnyReplankIsPlank",
	"Linings", "LiningAgainstEnumeration", "AnySheetPlan", "AnyFrames", "AnyActionsAreTakenBack", "AnyPlanHolds", "AnyLimitsHold", "CutsOfAnyPlan", "FrontTellsWhatIsGivenUp", "StockInBothUnits",
	"ABodyPlanSeenAslantIsTracedBack", "ACurveOnAPageIsMeasuredAsItWasDrawn", "EveryStepIsTakenBackAndMadeAgain", "SnapFindsAStraightOutline", "APageOfAPDF",
	"ComparisonLaysTheChosenStrips", "PaperFollowsItsSettings", "PaperThatCannotBeIsTold", "SheetsAreSetAndCut", "WhatIsNoWidthIsSaid",
	"ABodyPlanIsTracedByTheMouseAlone", "ElevenFramesInFortyClicks", "ALineIsFollowedBetweenTwoClicks", "CrossingLinesDoNotCatchTheWay", "FairingTellsTheBumpBySignAndWord",
	"TheTableTakesFiguresAndIsSorted", "HabitsOfTheWindow", "HelpAndTips", "PictureIsLightOrDark", "PictureShowsEveryPart", "ReturnBeginsTheLayingOfLines",
}

// slowest are the packages whose tests take longest on one core. They go first, so that
// none of them runs alone at the end while another core is idle.
var slowest = []string{"./loft/fair", "./cmd/strakewright", "./app/export"}

// tested runs the tests of everything, and lists the slowest.
func (s *shop) tested(env, flags []string) error {
	runs := [][]string{testWords(flags, append(s.there(slowest), "./...")...)}
	if os.Getenv(raceName) != "" {
		s.say("After all tests those of %s once more, with the race detector.", strings.Join(raced, " "))
		runs = append(runs, testWords(append([]string{"-race", "-short", "-skip=^Test(" + strings.Join(notRaced, "|") + ")$"}, flags...), raced...))
	}
	return s.testRuns(env, runs...)
}

// there gives those of the packages that exist in this tree.
func (s *shop) there(packages []string) []string {
	return slices.DeleteFunc(slices.Clone(packages), func(p string) bool {
		at, err := os.Stat(filepath.Join(s.root, p))
		return err != nil || !at.IsDir()
	})
}

// testRuns runs go test with each set of arguments, even after a failure, and
// lists the slowest tests of all.
func (s *shop) testRuns(env []string, runs ...[]string) error {
	m := newMeter(s.out, "go test")
	all := slices.ContainsFunc(slices.Concat(runs...), func(f string) bool {
		return f == "-v" || f == "-v=true" || strings.HasPrefix(f, "-bench")
	})
	log := newTestLog(m, all)
	var faults []error
	for _, words := range runs {
		cmd := s.command(env, "go", words...)
		cmd.Stdout, cmd.Stderr = log, m
		faults = append(faults, s.wait(cmd))
	}
	m.stop()
	if left := log.rest(); left != "" {
		s.say("%s", left)
	}
	if slow := log.slowest(); slow != "" {
		s.say("The slowest tests:\n%s", slow)
	}
	return errors.Join(faults...)
}

// testWords puts the user's flags where go test reads them: before the
// packages, except for what follows -args. Results are never taken from the
// cache, which does not know about outside tools. Go's own limit of ten minutes
// a package is too short for a machine that is busy with other work; a test
// that hangs is ended all the same.
func testWords(flags []string, packages ...string) []string {
	words := []string{"test", "-json", "-count=1", "-timeout=1h", "-vet=off"}
	end := slices.IndexFunc(flags, func(f string) bool { return f == "-args" || f == "--args" })
	if end < 0 {
		end = len(flags)
	}
	words = append(words, flags[:end]...)
	words = append(words, packages...)
	return append(words, flags[end:]...)
}

// each runs the steps in turn, saying which one and how long it took. Its error
// is that of a user who stopped it.
func (s *shop) each(steps []step) ([]outcome, error) {
	var outcomes []outcome
	for _, st := range steps {
		s.say("== %s", st.name)
		begun := time.Now()
		err := st.do(s)
		if cause := s.stopped(); cause != nil {
			return outcomes, cause
		}
		o := outcome{st.name, time.Since(begun), err}
		s.say("%s", o)
		outcomes = append(outcomes, o)
	}
	return outcomes, nil
}

func (o outcome) String() string {
	if o.err != nil {
		return fmt.Sprintf("FAILED  %-26s %6.1f s  %v", o.name, o.took.Seconds(), o.err)
	}
	return fmt.Sprintf("ok      %-26s %6.1f s", o.name, o.took.Seconds())
}

func summary(outcomes []outcome) string {
	var lines []string
	for _, o := range outcomes {
		lines = append(lines, o.String())
	}
	return strings.Join(lines, "\n")
}

// failures is nil if every step went well, and otherwise names those that did
// not.
func failures(outcomes []outcome) error {
	var failed []string
	for _, o := range outcomes {
		if o.err != nil {
			failed = append(failed, o.name)
		}
	}
	if len(failed) == 0 {
		return nil
	}
	return fmt.Errorf("%d of %d steps failed: %s", len(failed), len(outcomes), strings.Join(failed, ", "))
}

// formatted fails if gofmt would change a file.
func (s *shop) formatted() error {
	goroot, err := s.reads(nil, "go", "env", "GOROOT")
	if err != nil {
		return fmt.Errorf("asking go where its tools are: %w", err)
	}
	gofmt := filepath.Join(strings.TrimSpace(goroot), "bin", "gofmt")
	out, err := s.reads(nil, gofmt, "-l", ".")
	if err != nil {
		return err
	}
	if out != "" {
		s.say("%s", strings.TrimSpace(out))
		return errors.New("gofmt would change the files above: run gofmt -w on them")
	}
	return nil
}
