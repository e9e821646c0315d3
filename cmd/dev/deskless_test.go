package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// recorder is a program that behaves like ours: it prints a table, and makes
// the files that it is asked for.
const recorder = `package main

import (
	"fmt"
	"os"
	"path/filepath"
)

func main() {
	if filepath.Base(os.Args[2]) == "bent.csv" {
		fmt.Fprintln(os.Stderr, "strakewright: bent.csv:2: a frame folds.")
		os.Exit(1)
	}
	switch os.Args[1] {
	case "strakes":
		fmt.Println("table of", filepath.Base(os.Args[2]))
	case "sheets":
		os.Mkdir(os.Args[4], 0o755)
		os.WriteFile(filepath.Join(os.Args[4], "booklet.pdf"), []byte("pages"), 0o644)
	case "picture":
		os.WriteFile(os.Args[4], []byte("picture"), 0o644)
	}
}
`

// recorded is a shop whose program is recorder.
func recorded(t *testing.T) (s *shop, out interface{ String() string }, program string) {
	t.Helper()
	s, buffer := testShop(t)
	writeFile(t, s.root, "go.mod", "module github.com/strakewright/strakewright\n\ngo 1.26\n")
	writeFile(t, s.root, "cmd/strakewright/main.go", recorder)
	program, err := s.build()
	if err != nil {
		t.Fatal(err)
	}
	buffer.Reset()
	return s, buffer, program
}

func TestWithoutADisplayTheAnswersAreFiles(t *testing.T) {
	s, out, program := recorded(t)
	for _, c := range []struct{ file, name, folder string }{
		{"", "coaster.strakeplan", "out/coaster"},
		{"", "coaster.strakeplan", "out/coaster-2"},
		{"/bench/my hull.csv", "my hull.csv", "out/my hull"},
	} {
		if err := s.write(program, c.file); err != nil {
			t.Fatal(err)
		}
		folder := filepath.Join(s.root, filepath.FromSlash(c.folder))
		for name, want := range map[string]string{"strakes.txt": "table of " + c.name + "\n", "sheets/booklet.pdf": "pages", "window.png": "picture"} {
			path := filepath.Join(folder, filepath.FromSlash(name))
			got, err := os.ReadFile(path)
			if err != nil || string(got) != want {
				t.Errorf("%s holds %q, %v, want %q", path, got, err, want)
			}
			if !strings.Contains(out.String(), path) {
				t.Errorf("the output does not tell of %s:\n%s", path, out)
			}
		}
	}
	if !strings.Contains(out.String(), "There is no display to open a window on") {
		t.Errorf("it is not said that there is no display:\n%s", out)
	}
}

// What the program says about a faulty file reaches the user.
func TestWithoutADisplayAFaultIsTold(t *testing.T) {
	s, _, program := recorded(t)
	err := s.write(program, "/bench/bent.csv")
	if err == nil || !strings.Contains(err.Error(), "bent.csv:2: a frame folds.") {
		t.Errorf("error %v, want the program's", err)
	}
}
