//go:build !linux && !darwin && !windows

package keep

import "os"

// inheritAttributes is for systems with extended attributes.
func inheritAttributes(*os.File, string) []string { return nil }
