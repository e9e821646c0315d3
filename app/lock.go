package app

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"time"

	"strakewright/hull"
)

// Holder is a program that has a plan open.
type Holder struct {
	PID   int       `json:"pid"`
	Host  string    `json:"host"`
	Since time.Time `json:"since"`
	Start string    `json:"start,omitempty"` // which of all processes that ever had the number; empty where the system does not say
}

// holders is the file beside a plan that tells who has it open.
type holders struct {
	Open []Holder `json:"open"`
}

const holdersSuffix = ".open"

// holdersPath is where it stands.
func holdersPath(plan string) string {
	return filepath.Join(filepath.Dir(plan), "."+filepath.Base(plan)+holdersSuffix)
}

// OpenedElsewhere tells whether another program has the plan open, and which
// has had it longest. It only warns: reading is never barred. A program that
// ended without letting go is no longer counted, as far as that can be told; one
// on another computer is.
func OpenedElsewhere(path string) (Holder, bool) {
	for _, h := range readHolders(path) {
		if h.alive() && !h.own() {
			return h, true
		}
	}
	return Holder{}, false
}

// Warning says so in a sentence.
func (h Holder) Warning(path string) string {
	where := fmt.Sprintf("process %d", h.PID)
	if h.Host != hostName() {
		where += " on " + h.Host
	}
	return fmt.Sprintf("%s is open in another window since %s (%s): what is saved here it will not see, and the other way round.", path, h.Since.Format("2006-01-02 15:04"), where)
}

// HoldOpen marks the plan's file as open in this program, and gives what takes
// the mark away again. Where it cannot be marked, as in a folder that may not be
// written to, nothing is lost but the warning to others.
func HoldOpen(path string) (release func()) {
	own := Holder{PID: os.Getpid(), Host: hostName(), Since: time.Now().Truncate(time.Second), Start: processStart(os.Getpid())}
	if _, err := os.Stat(path); err != nil {
		return func() {}
	}
	change := func(with bool) {
		list := slices.DeleteFunc(readHolders(path), func(h Holder) bool { return h == own || h.own() || !h.alive() })
		if with {
			list = append(list, own)
		}
		writeHolders(path, list)
	}
	change(true)
	return func() { change(false) }
}

// readHolders reads the file; nobody where it is not there or makes no sense.
func readHolders(plan string) []Holder {
	data, err := hull.ReadPlain(holdersPath(plan), 1<<20)
	if err != nil {
		return nil
	}
	var all holders
	if json.Unmarshal(data, &all) != nil {
		return nil
	}
	return all.Open
}

// writeHolders writes the file, or takes it away where nobody is left.
func writeHolders(plan string, list []Holder) {
	path := holdersPath(plan)
	if len(list) == 0 {
		_ = os.Remove(path) // it may never have been written
		return
	}
	// Not being able to warn others is no reason to bar the plan from being opened.
	_ = hull.ReplaceFile(path, func(w io.Writer) error { return json.NewEncoder(w).Encode(holders{list}) })
}

// own tells whether the holder is this process.
func (h Holder) own() bool {
	return h.PID == os.Getpid() && h.Host == hostName() && h.Start == processStart(h.PID)
}

// alive tells whether the holder may still run.
func (h Holder) alive() bool {
	if h.Host != hostName() {
		return true // nobody can tell from here
	}
	return processRuns(h.PID) && h.Start == processStart(h.PID)
}

// processRuns tells whether there is a process of that number.
func processRuns(pid int) bool {
	if pid <= 0 {
		return false
	}
	if pid == os.Getpid() {
		return true
	}
	p, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	defer func() { _ = p.Release() }()
	if runtime.GOOS == "windows" {
		return true // there a process is only found while it runs
	}
	err = p.Signal(syscall.Signal(0)) // asks only whether it is there
	return err == nil || os.IsPermission(err)
}

// processStart tells processes of one number apart: when it started, in ticks
// since the system did, where the system tells; else empty.
func processStart(pid int) string {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return ""
	}
	// The name, in brackets, may hold anything; the start is the 20th field after.
	const field = 19
	_, after, _ := strings.Cut(string(data[strings.LastIndexByte(string(data), ')')+1:]), " ")
	fields := strings.Fields(after)
	if len(fields) <= field {
		return ""
	}
	return fields[field]
}

// hostName is this computer's, or empty.
func hostName() string {
	name, err := os.Hostname()
	if err != nil {
		return ""
	}
	return name
}
