package main

import (
	"slices"
	"strings"
	"testing"
)

// roomsTable is a table of five packages and a folder that holds none.
const roomsTable = `# A guide

| folder | holds | sees |
| --- | --- | --- |
| ` + "`hull`" + ` | frames | nothing of ours |
| ` + "`hull/visible`, `assets`" + ` | texts; pictures | the standard library alone |
| ` + "`app`" + ` | a session | ` + "`hull`, `hull/visible`" + ` |
| ` + "`app/window`" + ` | the window | ` + "`app`" + ` and Fyne |
| ` + "`testdata`" + ` | data | |

The table ends before | this line.
`

// roomsListing is what go list shows about these; the imports of tests are left
// out.
const roomsListing = `github.com/strakewright/strakewright/hull|fmt gonum.org/v1/gonum/mat|fmt
github.com/strakewright/strakewright/hull [github.com/strakewright/strakewright/hull.test]|fmt github.com/strakewright/strakewright/hull/visible|fmt
github.com/strakewright/strakewright/hull/visible|unicode/utf8|unicode/utf8
github.com/strakewright/strakewright/assets|embed|embed
github.com/strakewright/strakewright/app|github.com/strakewright/strakewright/hull github.com/strakewright/strakewright/hull/visible|
github.com/strakewright/strakewright/app/window|github.com/strakewright/strakewright/app fyne.io/fyne/v2/widget|
`

func roomFaults(table, listing string) []string {
	rows, faults := parseRooms(table)
	return append(faults, untrueRooms(rows, parseListing(listing))...)
}

func TestATrueTableOfRoomsPasses(t *testing.T) {
	if got := roomFaults(roomsTable, roomsListing); len(got) > 0 {
		t.Errorf("complains: %q", got)
	}
}

// Each change of the table or of the imports that makes the table untrue gives one
// sentence.
func TestEachLieOfTheTableIsNamed(t *testing.T) {
	row := func(cells ...string) string {
		return "| " + strings.ReplaceAll(strings.Join(cells, " | "), "'", "`") + " |\n"
	}
	appRow := row("'app'", "a session", "'hull', 'hull/visible'")
	for _, c := range []struct{ name, old, new, want string }{
		{"a missing row", row("'hull'", "frames", "nothing of ours"), "",
			"DEVELOPERS.md: package `hull` has no row in the table of rooms"},
		{"a row too many", appRow, appRow + row("'app/cellar'", "nothing", "'hull'"),
			"DEVELOPERS.md:8: `app/cellar` holds no package: take it out of the table, or leave the last cell blank"},
		{"a row twice", appRow, appRow + row("'app'", "a session", "'hull'"),
			"DEVELOPERS.md:8: `app` stands in line 7 already"},
		{"an import untold", appRow, row("'app'", "a session", "'hull'"),
			"DEVELOPERS.md:7: `app` imports `hull/visible`, which its row does not tell"},
		{"a name that is not imported", appRow, row("'app'", "a session", "'hull', 'hull/visible', 'assets'"),
			"DEVELOPERS.md:7: `app` does not import `assets`, though its row says that it sees it"},
		{"Fyne untold", "'app/window' | the window | 'app' and Fyne", "'app/window' | the window | 'app'",
			"DEVELOPERS.md:8: `app/window` imports Fyne, which its row does not tell"},
		{"Fyne not imported", "'hull', 'hull/visible' |", "'hull', 'hull/visible' and Fyne |",
			"DEVELOPERS.md:7: `app` does not import Fyne, though its row says that it sees it"},
		{"a package that nothing is told of", "nothing of ours", "",
			"DEVELOPERS.md:5: `hull` holds a package, but the last cell does not tell what it sees"},
		{"a library beside the standard one", "nothing of ours", "the standard library alone",
			"DEVELOPERS.md:5: `hull` imports gonum.org/v1/gonum/mat, so it sees more than the standard library alone"},
		{"other words", "nothing of ours", "all of the above",
			"DEVELOPERS.md:5: the last cell holds folders in backquotes with commas between, and after them \"and Fyne\", or \"the standard library alone\", or \"nothing of ours\", not \"all of the above\""},
	} {
		old, changed := strings.ReplaceAll(c.old, "'", "`"), strings.ReplaceAll(c.new, "'", "`")
		if !strings.Contains(roomsTable, old) {
			t.Fatalf("%s: the table holds no %q", c.name, old)
		}
		got := roomFaults(strings.Replace(roomsTable, old, changed, 1), roomsListing)
		if !slices.Contains(got, c.want) {
			t.Errorf("%s\n got %q\nwant %q", c.name, got, c.want)
		}
		// A row that cannot be read also leaves its package without a row.
		if most := 1 + strings.Count(c.want, "holds folders"); len(got) > most {
			t.Errorf("%s: more than one sentence: %q", c.name, got)
		}
	}
}

func TestAGuideWithoutTheTableIsNamed(t *testing.T) {
	got := roomFaults("# A guide\n", "")
	want := `DEVELOPERS.md has no table that begins with "| folder | holds | sees |"`
	if !slices.Equal(got, []string{want}) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestFoldersAreListedStrictly(t *testing.T) {
	for _, list := range []string{"hull", "`hull` , `loft`", "`hull`,`loft`", "`hull`, `hull`", "``", "`hull`, ", "`hull` and `loft`"} {
		if got, ok := quotedPaths(list); ok {
			t.Errorf("%q is taken for %q", list, got)
		}
	}
}

func TestTheRoomsOfARealModule(t *testing.T) {
	s, out := testShop(t)
	writeFile(t, s.root, "go.mod", "module github.com/strakewright/strakewright\n\ngo 1.26\n")
	writeFile(t, s.root, "hull/hull.go", "package hull\n")
	writeFile(t, s.root, "loft/loft.go", "package loft\n\nimport _ \"github.com/strakewright/strakewright/hull\"\n")
	table := strings.ReplaceAll(roomsHead+"\n| --- | --- | --- |\n| 'hull' | a | nothing of ours |\n| 'loft' | b | 'hull' |\n", "'", "`")
	writeFile(t, s.root, guide, table)
	if err := s.roomsTold(); err != nil {
		t.Errorf("a true table: %v\n%s", err, out)
	}
	writeFile(t, s.root, guide, table+"| `testdata` | c | |\n")
	if err := s.roomsTold(); err == nil || !strings.Contains(out.String(), "DEVELOPERS.md:5: there is no folder `testdata`") {
		t.Errorf("a folder that is not there: %v\n%s", err, out)
	}
}
