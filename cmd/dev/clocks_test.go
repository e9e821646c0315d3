package main

import (
	"os"
	"slices"
	"strings"
	"testing"
)

func TestClocksInTestsAreFound(t *testing.T) {
	s, out := testShop(t)
	writeFile(t, s.root, "a/plain.go", "package a\n\nimport \"time\"\n\nvar begun = time.Now()\n")
	writeFile(t, s.root, "a/testdata/b_test.go", "package b\n\nimport \"time\"\n\nvar begun = time.Now()\n")
	writeFile(t, s.root, "a/good_test.go", `package a

import (
	"testing"
	"testing/synctest"
	"time"
)

func TestBubble(t *testing.T) { synctest.Test(t, func(t *testing.T) { _ = time.Since(time.Now()) }) }

func BenchmarkA(b *testing.B) { _ = b.Elapsed() + time.Since(time.Now()) }

func TestWaits(t *testing.T) { <-time.After(time.Minute) }
`)
	if err := s.readsNoClock(); err != nil {
		t.Errorf("nothing reads a clock, but: %v\n%s", err, out)
	}
	writeFile(t, s.root, "app/lock_test.go", `package app

import hour "time"

func TestOpenedElsewhere() { _ = hour.Since(hour.Now()) }

func TestAnother() { _ = hour.Now() }
`)
	writeFile(t, s.root, "b/c_test.go", `package b

import "os"

func cost(p *os.ProcessState) any {
	return p.UserTime() + p.SystemTime()
}
`)
	if err := s.readsNoClock(); err == nil {
		t.Error("no clock was found")
	}
	want := []string{"app/lock_test.go:5: Since", "app/lock_test.go:7: Now", "b/c_test.go:6: UserTime", "b/c_test.go:6: SystemTime"}
	if got := strings.Split(strings.TrimSpace(out.String()), "\n"); !slices.Equal(got, want) {
		t.Errorf("found\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// Each exception still exists, and is still needed.
func TestClocksExceptedAreThere(t *testing.T) {
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	root, err := moduleRoot(here)
	if err != nil {
		t.Fatal(err)
	}
	found, err := clocksRead(root)
	if err != nil || len(found) > 0 {
		t.Errorf("clocks are read at %v, error %v", found, err)
	}
	kept := clockFree
	defer func() { clockFree = kept }()
	clockFree = nil
	found, err = clocksRead(root)
	if err != nil {
		t.Fatal(err)
	}
	for place := range kept {
		file, _, _ := strings.Cut(place, ":")
		if !slices.ContainsFunc(found, func(f string) bool { return strings.HasPrefix(f, file+":") }) {
			t.Errorf("%s reads no clock: take it off the list", place)
		}
	}
}
