// Command book makes the picture book again: its pages from their sources and the
// program's answers, and its pictures. It is run by "go run ./cmd/dev book", which builds
// the program first.
//
//	book PROGRAM FOLDER
//
// FOLDER holds the sources, in the folder source, and the hull with which the book
// begins.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/app/book/quote"
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "usage: book PROGRAM FOLDER")
		os.Exit(2)
	}
	if err := remake(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintln(os.Stderr, "book:", err)
		os.Exit(1)
	}
}

// remake makes the book in a folder with a program.
func remake(program, folder string) error {
	program, err := filepath.Abs(program)
	if err != nil {
		return err
	}
	bench, err := os.MkdirTemp("", "strakewright-book-")
	if err != nil {
		return err
	}
	defer func() { _ = os.RemoveAll(bench) }() // a folder for the time being
	pages, err := quote.Begin(folder, bench)
	if err != nil {
		return err
	}
	f := &quote.Filler{Folder: bench, Run: func(args ...string) (string, error) { return told(program, bench, args...) }}
	for _, p := range pages {
		text, err := f.Fill(p.Source)
		if err != nil {
			return fmt.Errorf("%s: %w", p.Name, err)
		}
		if err := os.WriteFile(filepath.Join(folder, p.Name), []byte(text), 0o644); err != nil {
			return err
		}
		fmt.Println(p.Name)
	}
	if err := kept(f.Saved, bench, filepath.Join(folder, "plans")); err != nil {
		return err
	}
	return pictures(f.Pictures, program, bench, filepath.Join(folder, "pictures"))
}

// told runs the program in a folder, without a display, and returns what it
// prints.
func told(program, folder string, args ...string) (string, error) {
	cmd := exec.Command(program, args...)
	cmd.Dir = folder
	var complaint strings.Builder
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	if err != nil {
		err = fmt.Errorf("%w: %s", err, complaint.String())
	}
	return string(out), err
}

// kept copies files from a folder into another, which then holds no others.
func kept(names []string, from, to string) error {
	if err := emptied(to); err != nil {
		return err
	}
	for _, name := range names {
		data, err := os.ReadFile(filepath.Join(from, name))
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(to, filepath.Base(name)), data, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// pictures draws all pictures, and then puts them into their folder, which then holds no
// others.
func pictures(all []quote.Picture, program, bench, to string) error {
	drawn := filepath.Join(bench, "pictures")
	if err := os.Mkdir(drawn, 0o755); err != nil {
		return err
	}
	var names []string
	for _, p := range all {
		name := filepath.Join("pictures", p.Name+".png")
		if slices.Contains(names, name) {
			return fmt.Errorf("two pictures are named %s", p.Name)
		}
		names = append(names, name)
		img, err := picture(p, program, bench)
		if err == nil {
			err = small(filepath.Join(bench, name), img)
		}
		if err != nil {
			return fmt.Errorf("picture %s: %w", p.Name, err)
		}
		fmt.Println(name)
	}
	return kept(names, bench, to)
}

// emptied makes a folder, or empties it.
func emptied(folder string) error {
	if err := os.RemoveAll(folder); err != nil {
		return err
	}
	return os.MkdirAll(folder, 0o755)
}
