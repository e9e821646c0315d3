package keep

import "os"

// ProcessRuns tells whether a process of this computer may still run: that of
// the number, begun when ProcessStart gave that. Where the system does not say
// when it began, the number alone counts.
func ProcessRuns(pid int, start string) bool {
	if pid <= 0 {
		return false
	}
	if pid != os.Getpid() && !processThere(pid) {
		return false
	}
	now := ProcessStart(pid)
	return now == start || now == "" || start == ""
}
