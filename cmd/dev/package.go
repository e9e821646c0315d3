package main

import (
	"debug/buildinfo"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"
)

// order is what package is asked for.
type order struct {
	folder string // to write into
	system string // to build for, by Go's name
	twice  bool
}

// parsePackage reads its flags.
func parsePackage(rest []string) (func(*shop) error, error) {
	o := order{folder: "out", system: runtime.GOOS}
	for i := 0; i < len(rest); i++ {
		switch {
		case rest[i] == "--twice":
			o.twice = true
		case rest[i] == "-o" && i+1 < len(rest):
			i++
			o.folder = rest[i]
		case rest[i] == "--for" && i+1 < len(rest):
			i++
			o.system = rest[i]
		default:
			return nil, misuse(fmt.Sprintf("package takes -o FOLDER, --for windows and --twice, not %q", rest[i]))
		}
	}
	if o.system != runtime.GOOS && o.system != "windows" {
		return nil, misuse(fmt.Sprintf("what is for %s is made on that system: a compiler from elsewhere is known for windows alone", o.system))
	}
	return func(s *shop) error { return s.pack(o) }, nil
}

// pack writes what is released into a folder, with the checksums of everything.
func (s *shop) pack(o order) error {
	wanted := forBuild
	if o.system != runtime.GOOS {
		wanted = slices.Concat(wanted, forWindows)
	} else if o.system == "linux" {
		wanted = slices.Concat(wanted, forDebian)
	}
	if err := s.ready(runtime.GOOS, wanted...); err != nil {
		return err
	}
	r, err := s.release()
	if err != nil {
		return err
	}
	if r.changed && o.twice {
		return fmt.Errorf("--twice builds a clone of the commit, and the source here was changed after it: commit the changes first")
	}
	made, err := s.packages(r, o.system)
	if err != nil {
		return err
	}
	if o.twice {
		if err := s.again(r, o.system, made); err != nil {
			return err
		}
	}
	folder := o.folder
	if !filepath.IsAbs(folder) {
		folder = filepath.Join(s.root, folder)
	}
	all, err := r.archivesIn(folder)
	if err != nil {
		return err
	}
	maps.Copy(all, made)
	made[sumsFile] = []byte(sums(all))
	for _, name := range slices.Sorted(maps.Keys(made)) {
		if err := putFile(filepath.Join(folder, name), made[name], false); err != nil {
			return err
		}
		s.say("%s", filepath.Join(o.folder, name))
	}
	return nil
}

// packages makes the packages, by file name.
func (s *shop) packages(r release, system string) (map[string][]byte, error) {
	work, err := os.MkdirTemp("", "strakewright-package-")
	if err != nil {
		return nil, err
	}
	defer func() { _ = os.RemoveAll(work) }() // a folder for the time being
	program := filepath.Join(work, "strakewright")
	if system == "windows" {
		program += ".exe"
	}
	// Without this machine's folders, the symbol table and the build ID, none of which
	// the program's own messages need.
	err = s.compile(program, compilerFor(system), "-trimpath", "-ldflags", "-s -w -buildid= "+r.linked())
	if err != nil {
		return nil, err
	}
	if err := s.licensed(program); err != nil {
		return nil, err
	}
	if system == "windows" {
		return s.windowsZip(r, program)
	}
	w, err := s.wordsOf(program, inEnglish...)
	if err != nil {
		return nil, err
	}
	name, archive, err := s.tarball(r, system, work, program, w)
	if err != nil {
		return nil, err
	}
	made := map[string][]byte{name: archive}
	if system != "linux" || !onPath("dpkg-deb") {
		return made, nil
	}
	s.say("Packing for Debian.")
	name, archive, err = s.debian(r, work, program, w)
	if err != nil {
		return nil, err
	}
	made[name] = archive
	return made, nil
}

// compilerFor is what go build needs in addition to build for another system.
//
// APIENTRY is what windows.h would make it: with it known beforehand the OpenGL bindings
// leave windows.h out, and cgo has less to read for each of their names.
func compilerFor(system string) []string {
	if system == runtime.GOOS {
		return nil
	}
	return []string{"GOOS=" + system, "GOARCH=amd64", "CC=x86_64-w64-mingw32-gcc", "CGO_CFLAGS=-O2 -g -DAPIENTRY=__stdcall " + quickNames}
}

// licensed fails if the program contains a module whose notices do not ship with
// it.
func (s *shop) licensed(program string) error {
	built, err := buildinfo.ReadFile(program)
	if err != nil {
		return fmt.Errorf("what %s is built of: %w", filepath.Base(program), err)
	}
	text, err := os.ReadFile(filepath.Join(s.root, noticesFile))
	if err != nil {
		return err
	}
	for _, m := range built.Deps {
		if !strings.Contains(string(text), "\n"+noticeMark+m.Path+" "+m.Version+"\n") {
			return fmt.Errorf("%s has no notice of %s %s: run go run ./cmd/dev licences", noticesFile, m.Path, m.Version)
		}
	}
	return nil
}

// settled gives a tree of files the modes and the time that they have in every package.
func settled(root string, when time.Time) error {
	return filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := e.Info()
		if err != nil {
			return err
		}
		mode := fs.FileMode(0o644)
		if e.IsDir() || info.Mode()&0o100 != 0 {
			mode = 0o755
		}
		if err := os.Chmod(path, mode); err != nil {
			return err
		}
		return os.Chtimes(path, when, when)
	})
}
