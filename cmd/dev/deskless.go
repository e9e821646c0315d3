package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// demoPlan is the plan that the window opens if no file is named, below the
// module's root.
const demoPlan = "assets/coaster.strakeplan"

// outFolder is where commands write what they make, below the module's root. Git
// ignores it.
const outFolder = "out"

// write does the program's main job where there is no display: it writes the
// strake table, the sheets and a picture of the window into a new folder, and
// says where they are.
func (s *shop) write(program, file string) error {
	name := "the demo plan"
	if file == "" {
		file = filepath.Join(s.root, filepath.FromSlash(demoPlan))
	} else {
		name = filepath.Base(file)
	}
	s.say("There is no display to open a window on, so the answers for %s are written to files instead.", name)
	folder, err := newFolder(filepath.Join(s.root, outFolder), strings.TrimSuffix(filepath.Base(file), filepath.Ext(file)))
	if err != nil {
		return err
	}
	return s.writeInto(folder, program, file)
}

// writeInto writes all of this into a folder, with a line for each as it is
// done.
func (s *shop) writeInto(folder, program, file string) error {
	table := filepath.Join(folder, "strakes.txt")
	text, err := s.reads(nil, program, "strakes", file)
	if err == nil {
		err = os.WriteFile(table, []byte(text), 0o644)
	}
	if err != nil {
		return fmt.Errorf("writing the strake table: %w", err)
	}
	s.say("strake table           %s", table)
	sheets := filepath.Join(folder, "sheets")
	if _, err := s.reads(nil, program, "sheets", file, "-o", sheets); err != nil {
		return fmt.Errorf("writing the sheets: %w", err)
	}
	s.say("booklet                %s", filepath.Join(sheets, "booklet.pdf"))
	picture := filepath.Join(folder, "window.png")
	if _, err := s.reads(nil, program, "picture", file, "-o", picture); err != nil {
		return fmt.Errorf("drawing the window: %w", err)
	}
	s.say("picture of the window  %s", picture)
	return nil
}

// newFolder makes a folder below another, with the given name or, where that is
// taken, with the next free number added: what was written before stays.
func newFolder(below, name string) (string, error) {
	if err := os.MkdirAll(below, 0o755); err != nil {
		return "", fmt.Errorf("making the folder to write into: %w", err)
	}
	folder := filepath.Join(below, name)
	for n := 2; ; n++ {
		err := os.Mkdir(folder, 0o755)
		if !errors.Is(err, fs.ErrExist) {
			return folder, err
		}
		folder = filepath.Join(below, fmt.Sprintf("%s-%d", name, n))
	}
}
