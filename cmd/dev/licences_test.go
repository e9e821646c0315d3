package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestNoticesAreOfTheBuildList: the notices that ship are those of the modules that
// go.mod names, no more and no fewer, in those versions.
func TestNoticesAreOfTheBuildList(t *testing.T) {
	mod, err := os.ReadFile("../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile("../../" + noticesFile)
	if err != nil {
		t.Fatal(err)
	}
	want := append(required(string(mod)), "Go "+goVersion(string(mod)))
	slices.Sort(want)
	var got []string
	files := map[string]int{}
	for line := range strings.Lines(string(text)) {
		if name, ok := strings.CutPrefix(strings.TrimSpace(line), noticeMark); ok {
			got = append(got, name)
		} else if strings.HasPrefix(line, fileMark) && len(got) > 0 {
			files[got[len(got)-1]]++
		}
	}
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("%s tells of\n%s\nand go.mod names\n%s\nrun: go run ./cmd/dev licences", noticesFile, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	for _, name := range got {
		if files[name] == 0 {
			t.Errorf("%s has no notice of %s", noticesFile, name)
		}
	}
}

func TestEveryRequirementIsRead(t *testing.T) {
	mod := "module github.com/strakewright/strakewright\n\ngo 1.26.8\n\nrequire example.org/one v1.0.0\n\nrequire (\n\texample.org/two/v2 v2.0.0-2023+incompatible // indirect\n)\n"
	if got := required(mod); !slices.Equal(got, []string{"example.org/one v1.0.0", "example.org/two/v2 v2.0.0-2023+incompatible"}) {
		t.Errorf("read %q", got)
	}
	if goVersion(mod) != "1.26.8" {
		t.Errorf("read Go %q", goVersion(mod))
	}
}

func TestNoticesOfAModule(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"LICENSE": "Do as you like.\r\n" + noticeMark + "no heading\f\n", "src.go": "package x", "deep/COPYING.txt": "Other words.", "deep/more/LICENCE.md": "Other words.\n\n",
		"license.go": "package x", "testdata/LICENSE": "not shipped",
	} {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	text, err := notices([]dependency{{Path: "example.org/b", Version: "v1", Dir: dir}})
	want := "\n§ example.org/b v1\n\n— LICENSE\n\nDo as you like.\n § no heading\n\n— deep/COPYING.txt\n\nOther words.\n"
	if err != nil || !strings.HasSuffix(text, want) {
		t.Errorf("got %q, %v", text, err)
	}
	if _, err := notices([]dependency{{Path: "example.org/none", Version: "v1", Dir: t.TempDir()}}); err == nil {
		t.Error("a module without a notice was let pass")
	}
}
