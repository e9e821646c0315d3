package export

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

const (
	printFolder  = "strakewright-" // how the folder begins in which a booklet is kept for the printer
	printBooklet = "booklet.pdf"
	// printKept is how long a booklet may be needed in the system's temporary folder: a
	// program to which it was handed may have it open.
	printKept = 24 * time.Hour
)

// sweepPrints takes away the folders with a booklet for the printer that killed runs
// left in the system's temporary folder: those of this user that hold that booklet alone,
// or nothing, and are a day old. It does no harm where one cannot be taken away.
func sweepPrints() {
	found, err := filepath.Glob(filepath.Join(os.TempDir(), printFolder+"*"))
	if err != nil {
		return
	}
	for _, dir := range found {
		info, err := os.Lstat(dir)
		if err != nil || !private(info) || !outlived(info) ||
			strings.Trim(filepath.Base(dir)[len(printFolder):], "0123456789") != "" {
			continue
		}
		entries, err := os.ReadDir(dir)
		if err != nil || len(entries) > 1 {
			continue
		}
		if len(entries) == 1 {
			file := filepath.Join(dir, printBooklet)
			if info, err := os.Lstat(file); err != nil || !info.Mode().IsRegular() || !outlived(info) || os.Remove(file) != nil {
				continue
			}
		}
		_ = os.Remove(dir)
	}
}

// outlived tells whether nothing has been written for longer than a booklet is kept.
func outlived(info fs.FileInfo) bool { return time.Since(info.ModTime()) > printKept }
