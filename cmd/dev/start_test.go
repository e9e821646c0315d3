package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestBuildLogTellsProgressFromFaults(t *testing.T) {
	var out bytes.Buffer
	m := silent(&out, false)
	b := &buildLog{meter: m}
	// Written in pieces, as from a pipe.
	fmt.Fprint(b, "go: downloading gonum.org/v1/gonum v0.17.0\ninternal/byteor")
	fmt.Fprint(b, "der\nfyne.io/fyne/v2\n")
	if b.compiled != 2 || m.note != "2 packages begun, last fyne.io/fyne/v2" {
		t.Errorf("%d compiled, note %q", b.compiled, m.note)
	}
	fmt.Fprint(b, "# github.com/strakewright/strakewright/loft\nloft/lie.go:36:13: undefined: turn")
	if want := "# github.com/strakewright/strakewright/loft\nloft/lie.go:36:13: undefined: turn"; b.complaint() != want {
		t.Errorf("complaint %q, want %q", b.complaint(), want)
	}
}

// A module that does not compile: the compiler's message must reach the user.
func TestBuildSaysWhatTheCompilerSays(t *testing.T) {
	s, _ := testShop(t)
	writeFile(t, s.root, "go.mod", "module github.com/strakewright/strakewright\n\ngo 1.26\n")
	writeFile(t, s.root, "cmd/strakewright/main.go", "package main\n\nfunc main() { planks() }\n")
	_, err := s.build()
	if err == nil || !strings.Contains(err.Error(), "undefined: planks") {
		t.Errorf("error %v, want the compiler's", err)
	}
	if _, err := os.Stat(filepath.Join(s.root, "strakewright")); err == nil {
		t.Error("a program was left by a failed build")
	}
}

func TestBuildAndOpenHandTheFileOn(t *testing.T) {
	s, out := testShop(t)
	writeFile(t, s.root, "go.mod", "module github.com/strakewright/strakewright\n\ngo 1.26\n")
	writeFile(t, s.root, "cmd/strakewright/main.go",
		"package main\n\nimport (\n\t\"fmt\"\n\t\"os\"\n)\n\nfunc main() { fmt.Println(\"opened\", os.Args[1:]) }\n")
	program, err := s.build()
	if err != nil {
		t.Fatal(err)
	}
	for file, want := range map[string]string{"": "opened []", "/a b.strakeplan": "opened [/a b.strakeplan]"} {
		out.Reset()
		if err := s.open(program, file); err != nil || !strings.Contains(out.String(), want) {
			t.Errorf("open(%q): %v, output %q, want %q", file, err, out, want)
		}
	}
}

func TestExistingGivesAnAbsolutePath(t *testing.T) {
	got, err := existing("start_test.go")
	if err != nil || !filepath.IsAbs(got) {
		t.Errorf("existing = %q, %v", got, err)
	}
	if _, err := existing(t.TempDir()); err == nil {
		t.Error("a folder was taken for a file")
	}
}

func TestHasDisplay(t *testing.T) {
	none := func(string) string { return "" }
	wayland := func(name string) string { return map[string]string{"WAYLAND_DISPLAY": "wayland-0"}[name] }
	if hasDisplay("linux", none) {
		t.Error("no display was taken for one")
	}
	if !hasDisplay("linux", wayland) || !hasDisplay("windows", none) {
		t.Error("a display was not seen")
	}
}

func writeFile(t *testing.T, root, name, text string) {
	t.Helper()
	path := filepath.Join(root, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}
