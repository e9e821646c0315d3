package main

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"syscall"
	"testing"
)

func TestMisuseExitsTwoWithUsageOnMessages(t *testing.T) {
	for _, args := range [][]string{
		nil,
		{"launch"},
		{"-h"},
		{"start", "a.csv", "b.csv"},
		{"start", "--fast"},
		{"start", ""},
		{"test", "./hull"},
		{"bench", "-v"},
		{"bench", "Replank"},
		{"bench", "--only", "("},
	} {
		var out, messages bytes.Buffer
		if code := run(args, &out, &messages); code != 2 {
			t.Errorf("run(%q) = %d, want 2", args, code)
		}
		if out.Len() > 0 {
			t.Errorf("run(%q) wrote to standard output: %s", args, &out)
		}
		if !strings.HasSuffix(messages.String(), usage) {
			t.Errorf("run(%q) says %q, want it to end with the usage", args, &messages)
		}
	}
}

func TestGoodLinesParse(t *testing.T) {
	for _, args := range [][]string{
		{"start"}, {"start", "my hull.strakeplan"}, {"test"}, {"test", "-run", "TestLie", "-v"}, {"bench"},
		{"bench", "--quick", "--only", "Loft", "--against", "a.json", "-o", "b.json"},
	} {
		if do, err := parse(args); err != nil || do == nil {
			t.Errorf("parse(%q) = %v", args, err)
		}
	}
}

func TestExitCodes(t *testing.T) {
	for _, c := range []struct {
		err  error
		want int
	}{
		{nil, 0},
		{errors.New("a step failed"), 1},
		{misuse("what?"), 2},
		{fmt.Errorf("building: %w", stopped{syscall.SIGINT}), 130},
		{stopped{syscall.SIGTERM}, 143},
	} {
		if got := exitCode(c.err, &bytes.Buffer{}); got != c.want {
			t.Errorf("exitCode(%v) = %d, want %d", c.err, got, c.want)
		}
	}
}

func TestMissingFileIsSaidBeforeAnythingIsBuilt(t *testing.T) {
	var out, messages bytes.Buffer
	if code := run([]string{"start", "no-such.strakeplan"}, &out, &messages); code != 1 {
		t.Errorf("exit code %d, want 1", code)
	}
	if want := "no file no-such.strakeplan"; !strings.Contains(messages.String(), want) {
		t.Errorf("said %q, want %q in it", &messages, want)
	}
	if out.Len() > 0 {
		t.Errorf("something was begun: %s", &out)
	}
}
