package main

import (
	"slices"
	"strings"
	"testing"
)

// plankSource has a name of each kind that is used, and of each that is not.
const plankSource = `package plank

// Used by package deck.
func New() *Plank { return nil }

// Plank is in the signature of New.
type Plank struct{ Grain Grain }

// Grain is in a field of Plank.
type Grain int

// Of these deck uses one.
const (
	Fine Grain = iota
	Coarse
)

// Rough is alone.
const Rough = 3

// Shave is called by deck, Split by nobody.
func (p *Plank) Shave() {}
func (p *Plank) Split() {}

// Lay is of an interface, String of one of the library's.
func (p *Plank) Lay()           {}
func (p *Plank) String() string { return "" }

type layer interface{ Lay() }

// Steam is in an example, Bend in a test alone.
func Steam() {}
func Bend()  {}

// Saw is called by this package alone; what it takes is nobody's either.
func Saw(b Blade) { Saw(b) }

type Blade int

type hidden int

// Of a type that nobody sees.
func (hidden) Sharpen() {}
`

const plankTest = `package plank_test

import "github.com/strakewright/strakewright/hold/plank"

func TestBend() { plank.Bend() }

func ExampleSteam() { plank.Steam() }
`

const deckSource = `package main

import wood "github.com/strakewright/strakewright/hold/plank"

func main() { wood.New().Shave(); _ = wood.Fine }
`

func TestNamesExportedForNobodyAreTold(t *testing.T) {
	s, out := testShop(t)
	writeFile(t, s.root, "hold/plank/plank.go", plankSource)
	writeFile(t, s.root, "hold/plank/plank_test.go", plankTest)
	writeFile(t, s.root, "deck/main.go", deckSource)
	idle, err := unusedNames(s.root)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range idle {
		got = append(got, e.name)
	}
	if want := []string{"Rough", "Split", "Bend", "Saw", "Blade"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	if err := s.exportedAreUsed(); err == nil {
		t.Error("the step went well")
	}
	want := "hold/plank/plank.go:23: plank.Plank.Split is exported, but nothing outside of hold/plank uses it, and no example: write it in lower case\n"
	if !strings.Contains(out.String(), want) {
		t.Errorf("shown\n%s\nwant in it\n%s", out, want)
	}
}
