package main

import (
	"encoding/xml"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

func TestInstallFillsItsPlacesAndRemovesThem(t *testing.T) {
	root, below := t.TempDir(), filepath.Join(t.TempDir(), "own $ place")
	writeFile(t, root, "assets/strakewright.svg", "<svg/>")
	writeFile(t, root, "strakewright", "#!/bin/sh\n")
	to, err := placesBelow(below, func(string) string { return "" })
	if err != nil {
		t.Fatal(err)
	}
	for range 2 { // and over itself
		if err := to.fill(root, filepath.Join(root, "strakewright"), to.program, words{manual: ".TH x", bash: "complete"}); err != nil {
			t.Fatal(err)
		}
	}
	info, err := os.Stat(to.program)
	if err != nil {
		t.Fatal(err)
	}
	if runtime.GOOS != "windows" && info.Mode()&0o111 == 0 {
		t.Errorf("%s cannot be run: %v", to.program, info.Mode())
	}
	entry, err := os.ReadFile(to.entry)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"[Desktop Entry]\nType=Application\n", "own \\\\$ place", "strakewright\" %f\n", "Icon=strakewright\n", "MimeType=" + planType + ";\n"} {
		if !strings.Contains(string(entry), want) {
			t.Errorf("the entry lacks %q:\n%s", want, entry)
		}
	}
	mine := filepath.Join(filepath.Dir(to.entry), "of-another.desktop")
	writeFile(t, filepath.Dir(mine), filepath.Base(mine), "[Desktop Entry]\n")
	for range 2 {
		if err := to.remove(); err != nil {
			t.Fatal(err)
		}
	}
	for _, path := range to.all() {
		if _, err := os.Stat(path); err == nil {
			t.Errorf("%s is left", path)
		}
	}
	if _, err := os.Stat(mine); err != nil {
		t.Errorf("what another program installed is gone: %v", err)
	}
}

func TestExecIsQuotedWhereItMust(t *testing.T) {
	for path, want := range map[string]string{
		"strakewright": "strakewright", "/usr/local/bin/strakewright": "/usr/local/bin/strakewright",
		"/my place/x": `"/my place/x"`, "/100%/x": `"/100%%/x"`, `/a"b`: `"/a\\"b"`,
	} {
		if got := quotedExec(path); got != want {
			t.Errorf("%s: %s, not %s", path, got, want)
		}
	}
}

func TestInstalledKindOfPlans(t *testing.T) {
	var kinds struct {
		Type []struct {
			Type string `xml:"type,attr"`
			Glob struct {
				Pattern string `xml:"pattern,attr"`
			} `xml:"glob"`
		} `xml:"mime-type"`
	}
	if err := xml.Unmarshal([]byte(planTypes), &kinds); err != nil {
		t.Fatal(err)
	}
	if len(kinds.Type) != 1 || kinds.Type[0].Type != planType || kinds.Type[0].Glob.Pattern != "*.strakeplan" {
		t.Errorf("%+v", kinds)
	}
}

func TestInstallGoesWhereTheUsersDataIs(t *testing.T) {
	dir := t.TempDir()
	env := map[string]string{"HOME": dir, "XDG_DATA_HOME": filepath.Join(dir, "data")}
	to, err := placesBelow("", func(name string) string { return env[name] })
	if err != nil || to.program != filepath.Join(dir, ".local", "bin", "strakewright") || to.entry != filepath.Join(dir, "data", "applications", "strakewright.desktop") {
		t.Errorf("%+v, %v", to, err)
	}
	if _, err := placesBelow("", func(string) string { return "" }); err == nil {
		t.Error("no home, and no word of it")
	}
	if _, err := parse([]string{"install", "--here"}); err == nil {
		t.Error("a flag that is not known is taken")
	}
}
