package keep

import "os"

// ProcessRuns reports whether a process of this computer may still run: the one
// with that number, started when ProcessStart gave start. Where the system does
// not say when it started, the number alone counts.
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
