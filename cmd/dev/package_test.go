package main

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
)

const someChanges = "# X\n\n## Changes\n\n### 1.2.0, in preparation\n\nThe **first** one.\n\n- **Hull** from `points`\n  and more.\n- Lines.\n\n### 1.1.0, 2026-01-01\n\n- Old.\n"

func TestReleaseIsToldByTagAndChanges(t *testing.T) {
	const told = "0123456789abcdef0123456789abcdef01234567 1767323045\n" // 2026-01-02 03:04:05 UTC
	for _, c := range []struct{ status, tags, version string }{
		{"", "v1.2.0\n", "1.2.0"},
		{"", "wip\nv1.2.0\n", "1.2.0"},
		{"", "", "1.2.0~20260102.0123456789ab"},
		{" M README.md\n", "v1.2.0\n", "1.2.0~20260102.0123456789ab+changed"},
	} {
		changes := someChanges
		if c.tags != "" {
			changes = strings.Replace(changes, ", in preparation", ", 2026-01-02", 1)
		}
		r, err := releaseOf(changes, told, c.status, c.tags)
		if err != nil || r.version != c.version || r.commit != "0123456789ab" || r.epoch() != "SOURCE_DATE_EPOCH=1767323045" {
			t.Errorf("%q, %q: %+v, %v", c.status, c.tags, r, err)
		}
	}
	r, _ := releaseOf(someChanges, told, "?? new.go", "")
	if got := r.linked(); got != "-X main.released=v1.2.0~20260102.0123456789ab+changed -X 'main.commit=0123456789ab 2026-01-02 changed'" {
		t.Error(got)
	}
	for _, c := range [][3]string{{someChanges, told, "v1.1.0\n"}, {someChanges, told, "v1.2.0\n"}, {"# X\n", told, ""}, {someChanges, "fatal", ""}} {
		if _, err := releaseOf(c[0], c[1], "", c[2]); err == nil {
			t.Errorf("%q passed", c)
		}
	}
}

// TestTarballsOfOneTreeAreTheSame: from two copies written in a different order, with
// different modes and times, in folders of different names.
func TestTarballsOfOneTreeAreTheSame(t *testing.T) {
	when := time.Date(2026, 1, 2, 3, 4, 5, 0, time.UTC)
	files := []string{"bin/run", "share/a", "share/b/c"}
	var made [][]byte
	for range 2 {
		dir := t.TempDir()
		for _, name := range files {
			writeFile(t, dir, name, "of "+name)
		}
		if err := os.Chmod(filepath.Join(dir, "bin/run"), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.Chmod(filepath.Join(dir, "share/a"), 0o640-0o040*os.FileMode(len(made))); err != nil {
			t.Fatal(err)
		}
		if err := settled(dir, when); err != nil {
			t.Fatal(err)
		}
		data, err := tarOf(dir, "top", when)
		if err != nil {
			t.Fatal(err)
		}
		made = append(made, data)
		slices.Reverse(files)
	}
	if !bytes.Equal(made[0], made[1]) {
		t.Error("the two differ")
	}
	z, err := gzip.NewReader(bytes.NewReader(made[0]))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for r := tar.NewReader(z); ; {
		h, err := r.Next()
		if errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		if !h.ModTime.Equal(when) || h.Uid != 0 || h.Uname != "root" {
			t.Errorf("%+v", h)
		}
		got = append(got, h.Name)
	}
	if want := []string{"top/", "top/bin/", "top/bin/run", "top/share/", "top/share/a", "top/share/b/", "top/share/b/c"}; !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
}

func TestDebianChangelogIsThatOfTheVersion(t *testing.T) {
	t.Setenv("DEBFULLNAME", "A Packer")
	t.Setenv("DEBEMAIL", "packer@example.org")
	got, err := debianChangelog(release{version: "1.2.0", when: time.Unix(1767323045, 0).UTC()}, someChanges)
	want := "strakewright (1.2.0) unstable; urgency=medium\n\n  * The first one.\n  * Hull from points and more.\n  * Lines.\n\n -- A Packer <packer@example.org>  Fri, 02 Jan 2026 03:04:05 +0000\n"
	if err != nil || got != want {
		t.Errorf("got\n%s%v", got, err)
	}
	if got := wrapped("one two three four", "* ", "  ", 9); got != "* one two\n  three\n  four\n" {
		t.Errorf("wrapped %q", got)
	}
}

func TestDependsNameWhatIsLoadedOnce(t *testing.T) {
	got := withLoaded("libc6 (>= 2.34), libx11-6 (>= 2:1.2), libgl1")
	if !strings.HasPrefix(got, "fonts-dejavu-core, libc6 (>= 2.34), libgl1, libx11-6 (>= 2:1.2), libx11-xcb1, ") || strings.Count(got, "libgl1") != 1 {
		t.Error(got)
	}
}

func TestPackagesThatDifferAreNamed(t *testing.T) {
	a := map[string][]byte{"one": []byte("1"), "two": []byte("2"), "three": nil}
	if got := differing(a, map[string][]byte{"one": []byte("1"), "two": []byte("x"), "four": nil}); !slices.Equal(got, []string{"four", "three", "two"}) {
		t.Errorf("%q", got)
	}
	if got := differing(a, a); got != nil {
		t.Errorf("%q", got)
	}
	if got := sums(map[string][]byte{"b": nil, "a": []byte("abc")}); got != "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad  a\n"+
		"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855  b\n" { // of "abc": FIPS 180-2, B.1
		t.Error(got)
	}
}

// TestDebianPackageIsWhatDpkgReads: a package made of a small tree holds what dpkg-deb
// reports.
func TestDebianPackageIsWhatDpkgReads(t *testing.T) {
	s := &shop{ctx: t.Context(), root: "../..", out: io.Discard, messages: io.Discard}
	for _, tool := range []string{"dpkg-deb", "dpkg-shlibdeps"} {
		installed(t, tool)
	}
	work, when := t.TempDir(), time.Unix(1767323045, 0).UTC()
	program := installed(t, "true") // any small one that is linked to a library
	name, data, err := s.debian(release{version: "1.2.0", when: when}, work, program, words{manual: ".TH X 1\n", bash: "complete"})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(name, "strakewright_1.2.0_") {
		t.Error(name)
	}
	writeFile(t, work, name, string(data))
	listed, err := s.reads(nil, "dpkg-deb", "--contents", filepath.Join(work, name))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"bin/strakewright", "share/man/man1/strakewright.1.gz", "share/doc/strakewright/copyright", "share/applications/strakewright.desktop", "share/zsh/vendor-completions/_strakewright"} {
		if !strings.Contains(listed, " ./usr/"+want+"\n") {
			t.Errorf("%s is missing from\n%s", want, listed)
		}
	}
	field, err := s.reads(nil, "dpkg-deb", "--field", filepath.Join(work, name), "Depends", "Package", "Version")
	if err != nil || !strings.Contains(field, "Version: 1.2.0\n") || !strings.Contains(field, "libgl1") {
		t.Errorf("%q, %v", field, err)
	}
}

// installed gives the path of an outside program; without it the test is skipped, or fails
// where all checks are asked for.
func installed(t *testing.T, program string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		if os.Getenv("STRAKEWRIGHT_EXTERNAL") != "" {
			t.Fatalf("%s is not installed: go run ./cmd/dev test installs it", program)
		}
		t.Skipf("%s is not installed", program)
	}
	return path
}

// TestPackagesAreMadeAgainInOtherSurroundings: nothing that the environment tells a
// program is as it is here, files begin with other rights, and what was made there is
// found.
func TestPackagesAreMadeAgainInOtherSurroundings(t *testing.T) {
	s := &shop{ctx: t.Context(), root: "../..", out: io.Discard, messages: io.Discard}
	folder := t.TempDir()
	env, err := s.elsewhere(folder)
	if err != nil {
		t.Fatal(err)
	}
	told, err := s.reads(env, "go", "env", "GOCACHE", "GOMODCACHE", "GOPATH")
	if err != nil || strings.Count(told, folder+string(filepath.Separator)) != 3 {
		t.Errorf("Go works in %q, %v", told, err)
	}
	for _, name := range []string{"HOME", "TMPDIR", "USER", "LC_ALL", "TZ"} {
		at := slices.IndexFunc(env, func(e string) bool { return strings.HasPrefix(e, name+"=") })
		if at < 0 || env[at] == name+"="+os.Getenv(name) {
			t.Errorf("%s is as it is here in %q", name, env)
		}
	}
	if runtime.GOOS != "windows" {
		words := guarded(runtime.GOOS, "sh", "-c", `mkdir -p "$1" && echo it > "$1/the file"`, "sh", filepath.Join(folder, "made"))
		if _, err := s.reads(env, words[0], words[1:]...); err != nil {
			t.Fatal(err)
		}
		info, err := os.Stat(filepath.Join(folder, "made", "the file"))
		if err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("%v, %v", info, err)
		}
		made, err := filesIn(filepath.Join(folder, "made"))
		if err != nil || differing(made, map[string][]byte{"the file": []byte("it\n")}) != nil {
			t.Errorf("%q, %v", made, err)
		}
	}
	for path, url := range map[string]string{"/a/b": "file:///a/b", "C:/a": "file:///C:/a"} {
		if got := fileURL(path); got != url {
			t.Errorf("%s is %s", path, got)
		}
	}
}

// TestSumsCoverWhatWasMadeForOtherSystems: of this version, and nothing else.
func TestSumsCoverWhatWasMadeForOtherSystems(t *testing.T) {
	folder := t.TempDir()
	r := release{version: "1.2.0"}
	if got, err := r.archivesIn(filepath.Join(folder, "new")); err != nil || len(got) != 0 {
		t.Errorf("%q, %v", got, err)
	}
	for _, name := range []string{"strakewright-1.2.0-linux-amd64.tar.gz", "strakewright_1.2.0_amd64.deb", "strakewright-1.2.0-windows-amd64.zip",
		"strakewright-1.1.0-linux-amd64.tar.gz", "strakewright-1.2.0-20260102.0123456789ab-linux-amd64.tar.gz", "SHA256SUMS", "SHA256SUMS.asc", "below/strakewright_1.2.0_amd64.deb"} {
		writeFile(t, folder, name, name)
	}
	got, err := r.archivesIn(folder)
	if want := []string{"strakewright-1.2.0-linux-amd64.tar.gz", "strakewright-1.2.0-windows-amd64.zip", "strakewright_1.2.0_amd64.deb"}; err != nil || !slices.Equal(slices.Sorted(maps.Keys(got)), want) {
		t.Errorf("%q, %v", got, err)
	}
}

// TestPackagesSpeakEnglish: whoever packs them.
func TestPackagesSpeakEnglish(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the program of this test is a script for sh")
	}
	t.Setenv("LANGUAGE", "de:fr")
	t.Setenv("LC_ALL", "de_DE.UTF-8")
	s := &shop{ctx: t.Context(), root: "../..", out: io.Discard, messages: io.Discard}
	program := filepath.Join(t.TempDir(), "tells")
	if err := os.WriteFile(program, []byte("#!/bin/sh\necho $1 $LANGUAGE $LC_ALL\n"), 0o755); err != nil {
		t.Fatal(err)
	}
	for want, env := range map[string][]string{"manual C\n": inEnglish, "manual de:fr de_DE.UTF-8\n": nil} {
		if w, err := s.wordsOf(program, env...); err != nil || w.manual != want {
			t.Errorf("%q, %v", w.manual, err)
		}
	}
}

func TestPackageTakesItsFlagsAlone(t *testing.T) {
	for _, line := range []string{"package --now", "package -o", "package --for plan9", "package more"} {
		if _, err := parse(strings.Fields(line)); err == nil {
			t.Errorf("%s is taken", line)
		}
	}
	for _, line := range []string{"package", "package -o dist --twice", "package --for windows"} {
		if _, err := parse(strings.Fields(line)); err != nil {
			t.Errorf("%s: %v", line, err)
		}
	}
}
