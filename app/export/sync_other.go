//go:build !unix

package export

// syncFolder brings the names in a folder to the disk, which cannot be asked for
// here.
func syncFolder(string) error { return nil }

// writable tells whether files may be made in a folder: the attempt will tell.
func writable(string) bool { return true }
