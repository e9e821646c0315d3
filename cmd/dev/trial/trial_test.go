//go:build linux

package trial

import (
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

func TestMutantsComeOfTheSeedAlone(t *testing.T) {
	text := offsetsTable()
	make := func(seed uint64) []string {
		r := rand.New(rand.NewPCG(seed, 1))
		var out []string
		for range 50 {
			out = append(out, mutated(r, text))
		}
		return out
	}
	if !slices.Equal(make(1), make(1)) {
		t.Error("the same seed gives other mutants")
	}
	if slices.Equal(make(1), make(2)) {
		t.Error("another seed gives the same mutants")
	}
	for _, empty := range []string{"", "x"} {
		r := rand.New(rand.NewPCG(1, 1))
		for range 500 {
			mutated(r, empty) // which it survives
		}
	}
}

func TestWhatIsNoPlainSentenceIsTold(t *testing.T) {
	for said, want := range map[string]string{
		"strakewright: a.csv: there is nothing in it; give it rows.\n":               "",
		"strakewright: 3 of 9: lines\nstrakewright: a.csv: nothing; give it rows.\n": "",
		"":                            "said nothing",
		"panic: runtime error\n":      "innards",
		"strakewright: no full stop":  "no plain sentence",
		"strakewright: \x1b[31mred.":  "steers a terminal",
		"strakewright: \u202etxt.":    "steers a terminal",
		"strakewright: a.\nand b.\n":  "more than one sentence",
		"strakewright: a.\xff is b.n": "steers a terminal",
	} {
		err := ran{args: []string{"girths"}, code: 1, said: said}.plain()
		if want == "" && err != nil || want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
			t.Errorf("%q: %v, not %q", said, err, want)
		}
	}
	for _, r := range []ran{{code: 2, said: "strakewright: a."}, {code: -1}, {took: 2 * mostProcessor}} {
		if r.plain() == nil {
			t.Errorf("%v passes", r)
		}
	}
}

func TestFiguresAreThoseOfAnyLanguage(t *testing.T) {
	if got, want := figures("fit 0.05 mm, strake 1.02 at 12"), figures("Planke 1.02 bei 12: Spiel 0.05 mm"); !slices.Equal(got, want) {
		t.Errorf("%q, not %q", got, want)
	}
	if slices.Equal(figures("0.05 mm"), figures("0,05 mm")) {
		t.Error("a comma passes for a point")
	}
}

func TestChangesOfAFolderAreTold(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("kept", "a")
	write("changed", "a")
	write("gone", "a")
	was, err := contents(dir)
	if err != nil {
		t.Fatal(err)
	}
	write("changed", "b")
	write(".new", "")
	if err := os.Remove(filepath.Join(dir, "gone")); err != nil {
		t.Fatal(err)
	}
	is, err := contents(dir)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{`".new" is new`, `"changed" is changed`, `"gone" is gone`}
	if got := changes(was, is); !slices.Equal(got, want) {
		t.Errorf("%q, not %q", got, want)
	}
}

// A program that fails in every way is found out: of each trial that is made of it
// every attempt fails, and is named so that it can be made again.
func TestABadProgramIsFoundOut(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	bad := filepath.Join(t.TempDir(), "bad")
	if err := os.WriteFile(bad, []byte("#!/bin/sh\necho junk >junk; echo 'panic: x' >&2; exit 2\n"), 0o755); err != nil {
		t.Fatal(err)
	}
	root, err := filepath.Abs("../../..")
	if err != nil {
		t.Fatal(err)
	}
	s := Settings{Program: bad, Root: root, Seed: 3, Count: 2, Only: regexp.MustCompile("^(vanishing|links-modes|clock-back|home|names|output-full|kill-take-off|mutants-points)$")}
	results, err := Run(t.Context(), s)
	if err != nil {
		t.Fatal(err)
	}
	if len(results) != 8 || Failed(results) != 16 {
		t.Errorf("%d of %d are found out:\n%s", Failed(results), 16, Table(results))
	}
	for _, r := range results {
		if len(r.Failures) == 0 || !strings.Contains(r.Failures[0], "--seed 3 --at ") {
			t.Errorf("%s: %q does not say how to try it again", r.Name, r.Failures)
		}
	}
}

func TestAStoppedTrialTellsWhatWasMade(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	why := errors.New("enough")
	ctx, stop := context.WithCancelCause(t.Context())
	stop(why)
	results, err := Run(ctx, Settings{Program: "/bin/false", Root: "."})
	if !errors.Is(err, why) || len(results) > 0 {
		t.Errorf("%v, %v", results, err)
	}
	if _, err := Run(t.Context(), Settings{Only: regexp.MustCompile("^nothing$")}); !errors.Is(err, errNone) {
		t.Error(err)
	}
}

func TestTheTableCountsAndGroups(t *testing.T) {
	results := []Result{{Name: "a", Does: "`a`", Made: 1}, {Name: "b", Does: "b", Made: 12345, Failures: []string{"b --at 2: it broke"}}, {Name: "c", Does: "c", Untried: "no screen"}}
	want := "| test | count | failures |\n| --- | ---: | ---: |\n| `a` | 1 | 0 |\n| b | 12,345 | 1 |\n| c | not tried: no screen |  |\n| all | 12,346 | 1 |\n"
	if got := Markdown(results); got != want {
		t.Errorf("%s\nnot\n%s", got, want)
	}
	if table := Table(results); !strings.Contains(table, "b --at 2: it broke") {
		t.Error(table)
	}
}
