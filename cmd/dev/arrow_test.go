package main

import (
	"slices"
	"strings"
	"testing"
)

const sound = `strakewright/hull|fmt os|fmt io os
strakewright/hull [strakewright/hull.test]|fmt os|fmt io os
strakewright/hull.test|testing|fmt os testing strakewright/hull [strakewright/hull.test]
strakewright/loft|math strakewright/hull|fmt math os time strakewright/hull
strakewright/loft_test [strakewright/loft.test]|os time strakewright/loft [strakewright/loft.test]|os time
strakewright/app/scene|strakewright/loft|strakewright/hull strakewright/loft
strakewright/app/window|fyne.io/fyne/v2 strakewright/app|fyne.io/fyne/v2 strakewright/app
strakewright/cmd/dev|os time golang/x|os time
strakewright/cmd/dev/curves|os gonum.org/v1/plot|os gonum.org/v1/plot
`

func TestSoundImportsPass(t *testing.T) {
	if got := brokenImports(parseListing(sound)); len(got) > 0 {
		t.Errorf("complains: %q", got)
	}
}

func TestEachWrongImportIsNamed(t *testing.T) {
	for line, want := range map[string]string{
		"strakewright/hull|fmt|fmt strakewright/loft":                               "strakewright/hull reaches strakewright/loft, which it may not",
		"strakewright/loft/cutstock|fmt|fmt strakewright/hull":                      "strakewright/loft/cutstock reaches strakewright/hull, which it may not",
		"strakewright/loft|fmt|fmt fyne.io/fyne/v2/canvas":                          "strakewright/loft reaches fyne.io, which it may not",
		"strakewright/loft.test||strakewright/app [strakewright/loft.test] testing": "a test of strakewright/loft reaches strakewright/app, which it may not",
		"strakewright/loft/lie|time|time":                                           "strakewright/loft/lie imports time, but loft holds pure functions",
		"strakewright/app/draw|image|image fyne.io/fyne/v2":                         "strakewright/app/draw reaches fyne.io, which it may not",
		"strakewright/app||strakewright/app/window fyne":                            "strakewright/app reaches strakewright/app/window, which it may not",
		"strakewright/app/window||strakewright/cmd/strakewright":                    "strakewright/app/window reaches strakewright/cmd, which it may not",
		"strakewright/cmd/dev|os gonum.org/v1/gonum/mat|os":                         "strakewright/cmd/dev imports gonum.org/v1/gonum/mat, but it must start with the standard library alone",
		"strakewright/cmd/dev/meter|gonum.org/v1/plot|os":                           "strakewright/cmd/dev/meter imports gonum.org/v1/plot, but it must start with the standard library alone",
		"strakewright/cmd/dev|strakewright/cmd/dev/curves|gonum.org/v1/plot":        "strakewright/cmd/dev imports strakewright/cmd/dev/curves, but it must start with the standard library alone",
		"strakewright/cmd/dev|strakewright/hull|os":                                 "strakewright/cmd/dev imports strakewright/hull, but it must start with the standard library alone",
	} {
		if got := brokenImports(parseListing(sound + line + "\n")); !slices.Equal(got, []string{want}) {
			t.Errorf("%s\n got %q\nwant %q", line, got, want)
		}
	}
}

// A folder whose name only begins like a room's is not that room.
func TestRoomsEndAtASlash(t *testing.T) {
	got := brokenImports(parseListing("strakewright/apparatus|fyne.io/x|fyne.io/x\n"))
	if len(got) > 0 {
		t.Errorf("complains: %q", got)
	}
}

func TestAFolderWithoutPackagesFails(t *testing.T) {
	s, _ := testShop(t)
	writeFile(t, s.root, "go.mod", "module strakewright\n\ngo 1.26\n")
	if err := s.importsGoOneWay(); err == nil {
		t.Error("nothing to check was called sound")
	}
}

func TestTheArrowReadsARealModule(t *testing.T) {
	s, out := testShop(t)
	writeFile(t, s.root, "go.mod", "module strakewright\n\ngo 1.26\n")
	writeFile(t, s.root, "hull/hull.go", "package hull\n")
	writeFile(t, s.root, "loft/loft.go", "package loft\n\nimport _ \"strakewright/hull\"\n")
	if err := s.importsGoOneWay(); err != nil {
		t.Errorf("sound module: %v\n%s", err, out)
	}
	writeFile(t, s.root, "hull/hull_test.go", "package hull_test\n\nimport _ \"strakewright/loft\"\n")
	if err := s.importsGoOneWay(); err == nil || !strings.Contains(out.String(), "a test of strakewright/hull reaches strakewright/loft") {
		t.Errorf("a test that imports back up: %v\n%s", err, out)
	}
}
