package keep

import (
	"fmt"

	"golang.org/x/sys/unix"
)

// ProcessStart distinguishes processes with the same number: when it started,
// in microseconds. It is empty where there is no such process.
func ProcessStart(pid int) string {
	p, err := unix.SysctlKinfoProc("kern.proc.pid", pid)
	if err != nil {
		return ""
	}
	return fmt.Sprintf("%d%06d", p.Proc.P_starttime.Sec, p.Proc.P_starttime.Usec)
}
