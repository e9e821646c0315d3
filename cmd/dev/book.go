package main

import (
	"fmt"
	"path/filepath"
	"runtime"
)

// bookFolder holds the picture book and the sources of its pages.
var bookFolder = filepath.Join("assets", "book")

// remakeBook makes the picture book again from the program as it is now.
func remakeBook(s *shop) error {
	if err := s.ready(runtime.GOOS, forBuild...); err != nil {
		return err
	}
	program, err := s.build()
	if err != nil {
		return err
	}
	if err := s.streams("making the book", s.withC(), "go", "run", "-buildvcs=false", "./cmd/dev/book", program, bookFolder); err != nil {
		return fmt.Errorf("making the book: %w", err)
	}
	s.say("The book is in %s.", bookFolder)
	return nil
}
