//go:build !windows

package keep

import (
	"os"
	"syscall"
)

// processThere tells whether there is a process of that number.
func processThere(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	defer func() { _ = p.Release() }()
	err = p.Signal(syscall.Signal(0)) // asks only whether it is there
	return err == nil || os.IsPermission(err)
}
