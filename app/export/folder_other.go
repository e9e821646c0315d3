//go:build !linux

package export

import (
	"errors"
	"os"
)

// swapFolders exchanges two folders in one step, which is not possible here.
func swapFolders(string, string) error { return errors.ErrUnsupported }

// replaceable reports whether another folder could take the place of one.
func replaceable(string) bool { return false }

// own reports whether something belongs to this user, as far as that is known.
func own(os.FileInfo) bool { return true }
