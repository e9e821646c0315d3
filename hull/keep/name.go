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

// WithoutEnding is a path without the extension of its file's name: "a/skiff.v2"
// for "a/skiff.v2.csv".
func WithoutEnding(path string) string { return strings.TrimSuffix(path, filepath.Ext(path)) }

// Title is a file's name without its folder and its extension, which names what is
// made from the file.
func Title(path string) string { return WithoutEnding(filepath.Base(path)) }

// Free reports whether a file may be written at a path: an existing one, even a
// broken link, is replaced only on request. Otherwise the error wraps
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
