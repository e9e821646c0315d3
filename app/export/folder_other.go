//go:build !linux

package export

import (
	"errors"
	"os"
)

// swapFolders exchanges two folders in one step, which cannot be done here.
func swapFolders(string, string) error { return errors.ErrUnsupported }

// replaceable tells whether another folder could take the place of one.
func replaceable(string) bool { return false }

// own tells whether something is this user's, as far as that is known.
func own(os.FileInfo) bool { return true }
