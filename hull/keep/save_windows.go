package keep

import (
	"io/fs"
	"os"
)

// inherit leaves a new file with the rights that its folder gives it, as Windows
// does for every file made there.
func inherit(*os.File, string, fs.FileInfo) ([]string, error) { return nil, nil }

// syncFolder works only on systems that can sync a folder: Windows cannot, and
// does not promise that a rename survives a crash whole.
func syncFolder(string) error { return nil }
