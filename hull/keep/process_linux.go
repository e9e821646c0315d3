package keep

import (
	"fmt"
	"os"
	"strings"
)

// ProcessStart distinguishes processes with the same number: when it started,
// in ticks since the system did, and which start of the system that was. It is
// empty where there is no such process, or the system does not say.
func ProcessStart(pid int) string {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return ""
	}
	// The name, in brackets, may hold anything; the start time is the 20th field
	// after it.
	const field = 19
	fields := strings.Fields(string(data[strings.LastIndexByte(string(data), ')')+1:]))
	if len(fields) <= field {
		return ""
	}
	boot, err := os.ReadFile("/proc/sys/kernel/random/boot_id")
	if err != nil {
		boot = nil
	}
	const digits = 8 // enough to distinguish two starts of one computer
	return fields[field] + "b" + string(boot[:min(digits, len(boot))])
}
