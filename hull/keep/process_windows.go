package keep

import (
	"fmt"

	"golang.org/x/sys/windows"
)

// ofProcess asks something of a process; false where there is none.
func ofProcess(pid int, ask func(windows.Handle) error) bool {
	h, err := windows.OpenProcess(windows.PROCESS_QUERY_LIMITED_INFORMATION, false, uint32(pid))
	if err != nil {
		return false
	}
	defer func() { _ = windows.CloseHandle(h) }()
	return ask(h) == nil
}

// processThere reports whether a process with that number runs.
func processThere(pid int) bool {
	const stillActive = 259 // STILL_ACTIVE of the Windows headers
	var code uint32
	return ofProcess(pid, func(h windows.Handle) error { return windows.GetExitCodeProcess(h, &code) }) && code == stillActive
}

// ProcessStart distinguishes processes with the same number: when it started, in
// units of 100 ns. It is empty where there is no such process.
func ProcessStart(pid int) string {
	var made, ended, kernel, user windows.Filetime
	if !ofProcess(pid, func(h windows.Handle) error { return windows.GetProcessTimes(h, &made, &ended, &kernel, &user) }) {
		return ""
	}
	return fmt.Sprint(made.Nanoseconds() / 100)
}
