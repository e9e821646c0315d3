package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// noticesFile holds the notices that ship with the program, from the module root.
const noticesFile = "assets/licences.txt"

// noticeMark begins the heading of a module in it, and fileMark that of a file.
const (
	noticeMark = "§ "
	fileMark   = "— "
)

// dependency is a module that go.mod names.
type dependency struct{ Path, Version, Dir, Error string }

func (d dependency) String() string { return d.Path + " " + d.Version }

// licences writes the notices of every module that go.mod names, and of Go
// itself, as they stand in the module cache.
func licences(s *shop) error {
	mod, err := os.ReadFile(filepath.Join(s.root, "go.mod"))
	if err != nil {
		return err
	}
	words := append([]string{"mod", "download", "-json"}, required(string(mod))...)
	for i := range words[3:] {
		words[3+i] = strings.Replace(words[3+i], " ", "@", 1)
	}
	listed, err := s.reads(nil, "go", words...)
	if err != nil {
		return fmt.Errorf("the modules of go.mod cannot be had: %w", err)
	}
	goRoot, err := s.reads(nil, "go", "env", "GOROOT")
	if err != nil {
		return err
	}
	all := []dependency{{Path: "Go", Version: goVersion(string(mod)), Dir: strings.TrimSpace(goRoot)}}
	for d := json.NewDecoder(strings.NewReader(listed)); ; {
		var m dependency
		if err := d.Decode(&m); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return fmt.Errorf("the list of modules: %w", err)
		}
		if m.Error != "" {
			return fmt.Errorf("%s: %s", m, m.Error)
		}
		all = append(all, m)
	}
	text, err := notices(all)
	if err != nil {
		return err
	}
	s.say("%s: the notices of %d modules", noticesFile, len(all))
	return os.WriteFile(filepath.Join(s.root, noticesFile), []byte(text), 0o644)
}

// requirement is a line of go.mod that names a module and its version.
var requirement = regexp.MustCompile(`(?m)^\s*(?:require\s+)?([\w./~-]+\.[\w./~-]+) (v[\w.+-]+)(?: // indirect)?$`)

// required gives every module that go.mod names, as "path version", in its order.
// Since Go 1.17 those are all that any package or test is built from.
func required(mod string) []string {
	var out []string
	for _, m := range requirement.FindAllStringSubmatch(mod, -1) {
		out = append(out, m[1]+" "+m[2])
	}
	return out
}

// goVersion is the version of Go that go.mod names.
func goVersion(mod string) string {
	if m := regexp.MustCompile(`(?m)^go (\S+)$`).FindStringSubmatch(mod); m != nil {
		return m[1]
	}
	return ""
}

// notices are those of all modules, by their paths. A text that stands in one of
// them more than once is written once.
func notices(all []dependency) (string, error) {
	slices.SortFunc(all, func(a, b dependency) int { return strings.Compare(a.Path, b.Path) })
	var b strings.Builder
	b.WriteString("Strakewright is built with the modules below, and with Go itself, all unchanged. The source of\n" +
		"each, such as those under the Mozilla Public License give a right to, can be had by its path and\n" +
		"version: go mod download PATH@VERSION. Their notices:\n")
	for _, d := range all {
		files, err := noticesIn(d.Dir)
		if err != nil {
			return "", fmt.Errorf("%s: %w", d, err)
		}
		fmt.Fprintf(&b, "\n%s%s\n", noticeMark, d)
		said := map[string]bool{}
		for _, file := range files {
			data, err := os.ReadFile(filepath.Join(d.Dir, file))
			if err != nil {
				return "", err
			}
			text := tidyNotice(string(data))
			if said[text] {
				continue
			}
			said[text] = true
			fmt.Fprintf(&b, "\n%s%s\n\n%s\n", fileMark, filepath.ToSlash(file), text)
		}
	}
	return b.String(), nil
}

// noticeName is what a file with a notice is called.
var noticeName = regexp.MustCompile(`(?i)^(un)?(licen[sc]e|copying|notice|copyright|patents|ofl)([._-].*)?$`)

// noticesIn finds the files with notices in a module, those of what it brings along
// included; of Go its own alone. None is an error: then it must be looked for.
func noticesIn(dir string) ([]string, error) {
	var out []string
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		below, relErr := filepath.Rel(dir, path)
		switch {
		case err != nil:
			return err
		case relErr != nil:
			return relErr
		case e.IsDir() && (e.Name() == "testdata" || path == filepath.Join(dir, "src") || path == filepath.Join(dir, "pkg") || path == filepath.Join(dir, "misc") || path == filepath.Join(dir, "test")):
			return fs.SkipDir
		case !e.IsDir() && noticeName.MatchString(e.Name()) && !strings.HasSuffix(e.Name(), ".go"):
			out = append(out, below)
		}
		return nil
	})
	if err == nil && len(out) == 0 {
		err = fmt.Errorf("no notice was found in %s", dir)
	}
	return out, err
}

// tidyNotice is a notice without what is no text, so that none can be taken for a
// heading of the file.
func tidyNotice(s string) string {
	s = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\f", "", "\ufeff", "").Replace(strings.ToValidUTF8(s, "?"))
	var lines []string
	for line := range strings.Lines(s) {
		line = strings.TrimRight(line, " \t\n")
		if strings.HasPrefix(line, noticeMark) || strings.HasPrefix(line, fileMark) {
			line = " " + line
		}
		lines = append(lines, line)
	}
	return strings.Trim(strings.Join(lines, "\n"), "\n")
}
