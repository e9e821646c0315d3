package main

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
)

// sumsFile holds the checksums of what is released.
const sumsFile = "SHA256SUMS"

// again has the packages made once more, in the way that somebody else would make them:
// by the commit's own cmd/dev, from a clone, in other surroundings, with nothing built
// before. It compares the two.
func (s *shop) again(r release, system string, made map[string][]byte) error {
	s.say("Making them again from a clone, as somebody else would: other folders, home, language, time zone and rights of new files, and nothing built before.")
	elsewhere, err := os.MkdirTemp("", "strakewright-elsewhere-")
	if err != nil {
		return err
	}
	defer func() { _ = os.RemoveAll(elsewhere) }() // likewise
	clone := *s
	clone.root = filepath.Join(elsewhere, "another", "folder")
	if _, err := s.reads(nil, "git", "clone", "--quiet", "--no-hardlinks", s.root, clone.root); err != nil {
		return fmt.Errorf("cloning the source: %w", err)
	}
	if _, err := clone.reads(nil, "git", "checkout", "--quiet", "--detach", r.commit); err != nil {
		return fmt.Errorf("the commit %s in the clone: %w", r.commit, err)
	}
	env, err := s.elsewhere(elsewhere)
	if err != nil {
		return err
	}
	folder := filepath.Join(elsewhere, "made")
	words := guarded(runtime.GOOS, "go", "run", "./cmd/dev", "package", "-o", folder, "--for", system)
	if err := clone.streams("making them again", env, words[0], words[1:]...); err != nil {
		return fmt.Errorf("making the packages again: %w", err)
	}
	others, err := filesIn(folder)
	if err != nil {
		return err
	}
	delete(others, sumsFile)
	if told := differing(made, others); len(told) > 0 {
		return fmt.Errorf("not reproducible, two builds of one commit differ in %s", strings.Join(told, ", "))
	}
	s.say("Both are the same, byte for byte.")
	return nil
}

// elsewhere is an environment in which nothing that may not matter is as it is here: the
// home, the folders of Go and of temporary files, the user's name, the language and the
// time zone. The modules are unpacked anew from what Go has downloaded here.
func (s *shop) elsewhere(folder string) ([]string, error) {
	told, err := s.reads(nil, "go", "env", "GOMODCACHE", "GOPROXY", "GOFLAGS", "GOENV")
	if err != nil {
		return nil, err
	}
	of := strings.Split(strings.ReplaceAll(told, "\r\n", "\n"), "\n")
	if len(of) < 4 {
		return nil, fmt.Errorf("go env told %q", told)
	}
	env := []string{
		"GOPROXY=" + fileURL(filepath.Join(of[0], "cache", "download")) + "," + of[1],
		"GOFLAGS=" + strings.TrimSpace(of[2]+" -modcacherw"), // or the folder could not be removed
		"GOENV=" + of[3], // which otherwise goes with the home
		"USER=somebody", "LOGNAME=somebody",
		"LANGUAGE=de", "LC_ALL=de_DE.UTF-8", "TZ=Pacific/Kiritimati",
	}
	for name, in := range map[string]string{"HOME": "home", "TMPDIR": "temporary", "GOPATH": "go", "GOMODCACHE": "modules", "GOCACHE": "built"} {
		path := filepath.Join(folder, in)
		if err := os.Mkdir(path, 0o755); err != nil {
			return nil, err
		}
		env = append(env, name+"="+path)
	}
	// Or the go command would go on writing counters into that home while it is removed.
	if _, err := s.reads(env, "go", "telemetry", "off"); err != nil {
		return nil, err
	}
	return env, nil
}

// fileURL is a folder as a URL (RFC 8089).
func fileURL(path string) string {
	return "file:///" + strings.TrimPrefix(filepath.ToSlash(path), "/")
}

// guarded has a command make files that others may not read, where a system knows of
// such a default.
func guarded(system string, words ...string) []string {
	if system == "windows" {
		return words
	}
	return append([]string{"sh", "-c", `umask 077; exec "$@"`, "sh"}, words...)
}

// filesIn reads the files of a folder, by name.
func filesIn(folder string) (map[string][]byte, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	out := map[string][]byte{}
	for _, e := range entries {
		if e.IsDir() {
			continue
		}
		if out[e.Name()], err = os.ReadFile(filepath.Join(folder, e.Name())); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// archivesIn reads the archives of a release that are in a folder already, made for other
// systems: SHA256SUMS is to cover them too.
func (r release) archivesIn(folder string) (map[string][]byte, error) {
	all, err := filesIn(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return map[string][]byte{}, nil
	}
	ours := regexp.MustCompile(`^strakewright(-` + regexp.QuoteMeta(plainName(r.version)) + `-[a-z]+-[a-z0-9]+\.(tar\.gz|zip)|_` + regexp.QuoteMeta(r.version) + `_[a-z0-9]+\.deb)$`)
	maps.DeleteFunc(all, func(name string, _ []byte) bool { return !ours.MatchString(name) })
	return all, err
}

// differing names the files that differ between the two.
func differing(a, b map[string][]byte) []string {
	var out []string
	names := slices.Concat(slices.Collect(maps.Keys(a)), slices.Collect(maps.Keys(b)))
	slices.Sort(names)
	for _, name := range slices.Compact(names) {
		one, in := a[name]
		two, also := b[name]
		if in != also || string(one) != string(two) {
			out = append(out, name)
		}
	}
	return out
}

// sums are the lines that sha256sum -c reads.
func sums(made map[string][]byte) string {
	var b strings.Builder
	for _, name := range slices.Sorted(maps.Keys(made)) {
		fmt.Fprintf(&b, "%x  %s\n", sha256.Sum256(made[name]), name)
	}
	return b.String()
}
