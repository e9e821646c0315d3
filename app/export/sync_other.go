//go:build !unix

package export

// syncFolder ensures that the names in a folder are on the disk, which cannot be
// requested here.
func syncFolder(string) error { return nil }

// writable reports whether files may be made in a folder: here only the attempt
// shows it.
func writable(string) bool { return true }
