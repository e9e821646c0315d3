package main

import (
	"strings"
	"testing"
)

// pathsGuide has a path of two steps; what is outside it names nothing.
var pathsGuide = strings.ReplaceAll(`# A guide

1. A step of 'nothing.Ours'.

## Paths through the rooms

A path names 'folder.Function'.

### A plank laid

1. 'app/draw.Sheet.Draw' draws it, once it
   was cut by 'hull.cut'.
2. 'hull.Pair.First' is laid.

## Other things

1. Another step of 'nothing.Ours'.
`, "'", "`")

func pathsShop(t *testing.T, text string) (*shop, func() string) {
	s, out := testShop(t)
	writeFile(t, s.root, guide, text)
	writeFile(t, s.root, "app/draw/sheet.go", "package draw\n\ntype Sheet int\n\nfunc (s *Sheet) Draw() {}\n")
	writeFile(t, s.root, "hull/cut_windows.go", "package hull\n\nfunc cut() {}\n")
	writeFile(t, s.root, "hull/pair.go", "package hull\n\ntype Pair[A, B any] struct {\n\ta A\n\tb B\n}\n\nfunc (p Pair[A, B]) First() A { return p.a }\n")
	writeFile(t, s.root, "hull/pair_test.go", "package hull\n\nfunc second() {}\n")
	return s, out.String
}

func TestPathsThatNameWhatIsTherePass(t *testing.T) {
	s, shown := pathsShop(t, pathsGuide)
	if err := s.pathsTold(); err != nil {
		t.Errorf("%v\n%s", err, shown())
	}
}

func TestEachNameThatIsNotThereIsTold(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"hull.cut", "hull.saw", "DEVELOPERS.md:11: there is no function \"saw\" in `hull`: name what does this step now\n"},
		{"hull.Pair.First", "hull.First", "DEVELOPERS.md:13: there is no function \"First\" in `hull`: name what does this step now\n"},
		{"hull.cut", "hull.second", "DEVELOPERS.md:11: there is no function \"second\" in `hull`: name what does this step now\n"},
		{"hull.cut", "hull", "DEVELOPERS.md:11: there is no function \"\" in `hull`: name what does this step now\n"},
		{"`hull.Pair.First` is", "It is", "DEVELOPERS.md:13: this step names no function: write one as `folder.Function` or `folder.Type.Method`\n"},
		{pathsHead, "## Paths", "DEVELOPERS.md has no steps under \"## Paths through the rooms\"\n"},
	} {
		s, shown := pathsShop(t, strings.Replace(pathsGuide, c.old, c.new, 1))
		if err := s.pathsTold(); err == nil || shown() != c.want {
			t.Errorf("%s for %s: error %v\n got %q\nwant %q", c.new, c.old, err, shown(), c.want)
		}
	}
}

func TestAFolderThatIsNotThereIsTold(t *testing.T) {
	s, _ := pathsShop(t, strings.Replace(pathsGuide, "hull.cut", "hulk.cut", 1))
	if err := s.pathsTold(); err == nil || !strings.HasPrefix(err.Error(), "DEVELOPERS.md:11: reading hulk: ") {
		t.Errorf("error %v", err)
	}
}
