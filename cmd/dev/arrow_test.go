package main

import (
	"slices"
	"strings"
	"testing"
)

const sound = `github.com/strakewright/strakewright/hull|fmt os|fmt io os
github.com/strakewright/strakewright/hull [github.com/strakewright/strakewright/hull.test]|fmt os|fmt io os
github.com/strakewright/strakewright/hull.test|testing|fmt os testing github.com/strakewright/strakewright/hull [github.com/strakewright/strakewright/hull.test]
github.com/strakewright/strakewright/loft|math github.com/strakewright/strakewright/hull|fmt math os time github.com/strakewright/strakewright/hull
github.com/strakewright/strakewright/loft_test [github.com/strakewright/strakewright/loft.test]|os time github.com/strakewright/strakewright/loft [github.com/strakewright/strakewright/loft.test]|os time
github.com/strakewright/strakewright/app/scene|github.com/strakewright/strakewright/loft|github.com/strakewright/strakewright/hull github.com/strakewright/strakewright/loft
github.com/strakewright/strakewright/app/window|fyne.io/fyne/v2 github.com/strakewright/strakewright/app|fyne.io/fyne/v2 github.com/strakewright/strakewright/app
github.com/strakewright/strakewright/cmd/dev|os time golang/x|os time
github.com/strakewright/strakewright/cmd/dev/curves|os gonum.org/v1/plot|os gonum.org/v1/plot
`

func TestSoundImportsPass(t *testing.T) {
	if got := brokenImports(parseListing(sound)); len(got) > 0 {
		t.Errorf("complains: %q", got)
	}
}

func TestEachWrongImportIsNamed(t *testing.T) {
	for line, want := range map[string]string{
		"github.com/strakewright/strakewright/hull|fmt|fmt github.com/strakewright/strakewright/loft":                                                       "github.com/strakewright/strakewright/hull reaches github.com/strakewright/strakewright/loft, which it may not",
		"github.com/strakewright/strakewright/loft/cutstock|fmt|fmt github.com/strakewright/strakewright/hull":                                              "github.com/strakewright/strakewright/loft/cutstock reaches github.com/strakewright/strakewright/hull, which it may not",
		"github.com/strakewright/strakewright/loft|fmt|fmt fyne.io/fyne/v2/canvas":                                                                          "github.com/strakewright/strakewright/loft reaches fyne.io, which it may not",
		"github.com/strakewright/strakewright/loft.test||github.com/strakewright/strakewright/app [github.com/strakewright/strakewright/loft.test] testing": "a test of github.com/strakewright/strakewright/loft reaches github.com/strakewright/strakewright/app, which it may not",
		"github.com/strakewright/strakewright/loft/lie|time|time":                                                                                           "github.com/strakewright/strakewright/loft/lie imports time, but loft holds pure functions",
		"github.com/strakewright/strakewright/app/draw|image|image fyne.io/fyne/v2":                                                                         "github.com/strakewright/strakewright/app/draw reaches fyne.io, which it may not",
		"github.com/strakewright/strakewright/app||github.com/strakewright/strakewright/app/window fyne":                                                    "github.com/strakewright/strakewright/app reaches github.com/strakewright/strakewright/app/window, which it may not",
		"github.com/strakewright/strakewright/app/window||github.com/strakewright/strakewright/cmd/strakewright":                                            "github.com/strakewright/strakewright/app/window reaches github.com/strakewright/strakewright/cmd, which it may not",
		"github.com/strakewright/strakewright/cmd/dev|os gonum.org/v1/gonum/mat|os":                                                                         "github.com/strakewright/strakewright/cmd/dev imports gonum.org/v1/gonum/mat, but it must start with the standard library alone",
		"github.com/strakewright/strakewright/cmd/dev/meter|gonum.org/v1/plot|os":                                                                           "github.com/strakewright/strakewright/cmd/dev/meter imports gonum.org/v1/plot, but it must start with the standard library alone",
		"github.com/strakewright/strakewright/cmd/dev|github.com/strakewright/strakewright/cmd/dev/curves|gonum.org/v1/plot":                                "github.com/strakewright/strakewright/cmd/dev imports github.com/strakewright/strakewright/cmd/dev/curves, but it must start with the standard library alone",
		"github.com/strakewright/strakewright/cmd/dev|github.com/strakewright/strakewright/hull|os":                                                         "github.com/strakewright/strakewright/cmd/dev imports github.com/strakewright/strakewright/hull, but it must start with the standard library alone",
	} {
		if got := brokenImports(parseListing(sound + line + "\n")); !slices.Equal(got, []string{want}) {
			t.Errorf("%s\n got %q\nwant %q", line, got, want)
		}
	}
}

// A folder whose name merely begins like a room's is not that room.
func TestRoomsEndAtASlash(t *testing.T) {
	got := brokenImports(parseListing("github.com/strakewright/strakewright/apparatus|fyne.io/x|fyne.io/x\n"))
	if len(got) > 0 {
		t.Errorf("complains: %q", got)
	}
}

func TestAFolderWithoutPackagesFails(t *testing.T) {
	s, _ := testShop(t)
	writeFile(t, s.root, "go.mod", "module github.com/strakewright/strakewright\n\ngo 1.26\n")
	if err := s.importsGoOneWay(); err == nil {
		t.Error("nothing to check was called sound")
	}
}

func TestTheArrowReadsARealModule(t *testing.T) {
	s, out := testShop(t)
	writeFile(t, s.root, "go.mod", "module github.com/strakewright/strakewright\n\ngo 1.26\n")
	writeFile(t, s.root, "hull/hull.go", "package hull\n")
	writeFile(t, s.root, "loft/loft.go", "package loft\n\nimport _ \"github.com/strakewright/strakewright/hull\"\n")
	if err := s.importsGoOneWay(); err != nil {
		t.Errorf("sound module: %v\n%s", err, out)
	}
	writeFile(t, s.root, "hull/hull_test.go", "package hull_test\n\nimport _ \"github.com/strakewright/strakewright/loft\"\n")
	if err := s.importsGoOneWay(); err == nil || !strings.Contains(out.String(), "a test of github.com/strakewright/strakewright/hull reaches github.com/strakewright/strakewright/loft") {
		t.Errorf("a test that imports back up: %v\n%s", err, out)
	}
}
