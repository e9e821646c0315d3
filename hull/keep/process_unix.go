//go:build !windows

package keep

import (
	"os"
	"syscall"
)

// processThere reports whether a process with that number exists.
func processThere(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	defer func() { _ = p.Release() }()
	err = p.Signal(syscall.Signal(0)) // asks only whether it exists
	return err == nil || os.IsPermission(err)
}
