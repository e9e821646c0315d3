package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// start builds the program and opens its window on a file, or on the welcome page
// if file is empty. It ends when the window does. Without a display it has the
// program write what the window would show.
func start(s *shop, file string) error {
	file, err := existing(file)
	if err != nil {
		return err
	}
	if err := s.ready(runtime.GOOS, forBuild...); err != nil {
		return err
	}
	program, err := s.build()
	if err != nil {
		return err
	}
	if !hasDisplay(runtime.GOOS, os.Getenv) {
		return s.write(program, file)
	}
	return s.open(program, file)
}

// existing gives a file's absolute path, since commands do not run where the
// user typed its name.
func existing(file string) (string, error) {
	if file == "" {
		return "", nil
	}
	path, err := filepath.Abs(file)
	if err != nil {
		return "", fmt.Errorf("finding %s: %w", file, err)
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "", fmt.Errorf("there is no file %s: name a plan or a hull source that exists", file)
	case err != nil:
		return "", fmt.Errorf("opening %s: %w", file, err)
	case info.IsDir():
		return "", fmt.Errorf("%s is a folder: name a plan or a hull source in it", file)
	}
	return path, nil
}

// build compiles ./cmd/strakewright into the module's root and returns its
// path.
func (s *shop) build() (string, error) {
	program := filepath.Join(s.root, "strakewright")
	if runtime.GOOS == "windows" {
		program += ".exe"
	}
	var flags []string
	if r, err := s.release(); err == nil { // without git the program shows no commit
		flags = []string{"-ldflags", r.linked()}
	}
	return program, s.compile(program, nil, flags...)
}

// compile builds ./cmd/strakewright as the file program, with the given flags of go
// build and with env added to the environment.
func (s *shop) compile(program string, env []string, flags ...string) error {
	s.say("Building the program: a minute or two the first time, seconds later.")
	m := newMeter(s.out, "building")
	progress := &buildLog{meter: m}
	words := append([]string{"build", "-v", "-buildvcs=false", "-o", program}, flags...)
	cmd := s.command(append(s.withC(), env...), "go", append(words, "./cmd/strakewright")...)
	cmd.Stdout, cmd.Stderr = progress, progress
	err := s.wait(cmd)
	took := m.stop()
	if err != nil {
		return fmt.Errorf("building ./cmd/strakewright: %w", withComplaint(err, progress.complaint()))
	}
	s.say("Built in %s.", clock(took))
	return nil
}

// buildLog reads what "go build -v" prints: a package's import path on a line
// as its compilation begins, which is progress, and anything else, which is
// kept in case the build fails.
type buildLog struct {
	meter    *meter
	partial  []byte
	compiled int
	other    []string
}

func (b *buildLog) Write(p []byte) (int, error) {
	b.partial = append(b.partial, p...)
	for {
		line, rest, whole := bytes.Cut(b.partial, []byte("\n"))
		if !whole {
			return len(p), nil
		}
		b.partial = rest
		b.read(string(line))
	}
}

func (b *buildLog) read(line string) {
	switch {
	case strings.HasPrefix(line, "go: downloading "):
		b.meter.at(strings.TrimPrefix(line, "go: "))
	case line != "" && !strings.ContainsAny(line, " \t:#"):
		b.compiled++
		b.meter.at(fmt.Sprintf("%d packages begun, last %s", b.compiled, line))
	default:
		b.other = append(b.other, line)
	}
}

func (b *buildLog) complaint() string {
	return strings.Join(append(b.other, string(b.partial)), "\n")
}

// hasDisplay reports whether there is a screen on which to open a window.
func hasDisplay(system string, env func(string) string) bool {
	return system == "darwin" || system == "windows" || env("DISPLAY") != "" || env("WAYLAND_DISPLAY") != ""
}

// open runs the program until its window is closed.
func (s *shop) open(program, file string) error {
	var args []string
	if file != "" {
		args = []string{file}
	}
	s.say("Opening the window; Ctrl-C here closes it.")
	cmd := s.command(nil, program, args...)
	cmd.Dir = ""
	cmd.Stdout, cmd.Stderr = s.out, s.messages
	if err := s.wait(cmd); err != nil {
		return fmt.Errorf("running %s: %w", filepath.Base(program), err)
	}
	return nil
}
