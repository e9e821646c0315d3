package keep

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// WithoutEnding is a path without the ending of its file's name: "a/skiff.v2" of
// "a/skiff.v2.csv".
func WithoutEnding(path string) string { return strings.TrimSuffix(path, filepath.Ext(path)) }

// Title is a file's name without its folder and its ending, as what is made of the
// file is called.
func Title(path string) string { return WithoutEnding(filepath.Base(path)) }

// Free tells whether a file may be written at a path: one that exists, were it a
// broken link, is replaced only if that is asked for. Else the error wraps
// fs.ErrExist.
func Free(path string, replace bool) error {
	if replace {
		return nil
	}
	_, err := os.Lstat(path)
	switch {
	case err == nil:
		return tongue.Errorf("%s: %w; choose another name, or have it replaced", path, fs.ErrExist)
	case errors.Is(err, fs.ErrNotExist):
		return nil
	}
	return fault.OfFile(path, "cannot be written", unwritten, err)
}
