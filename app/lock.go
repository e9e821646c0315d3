package app

import (
	"context"
	"encoding/json"
	"io"
	"os"
	"slices"
	"time"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/keep"
)

// Holder is a program that has a plan open.
type Holder struct {
	PID   int       `json:"pid"`
	Host  string    `json:"host"`
	Since time.Time `json:"since"`
	Start string    `json:"start,omitempty"` // tells apart all processes that ever had this number; empty where the system does not say
}

// holders is the file beside a plan that says who has it open.
type holders struct {
	Open []Holder `json:"open"`
}

// holdersPath is where it stands.
func holdersPath(plan string) string { return keep.Beside(plan, "open") }

// OpenedElsewhere reports whether another program has the plan open, and which
// has had it longest. It only warns: reading is never blocked. A program that
// ended without releasing its mark is no longer counted, as far as that can be
// known; one on another computer is.
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
	where := tongue.T("process %d", h.PID)
	if h.Host != hostName() {
		where += tongue.T(" on %s", h.Host)
	}
	return tongue.T("%s has been open in another window since %s (%s): each window takes in what the other has saved when it next saves or notes anything, and asks where the two do not agree.", path, tongue.Moment(h.Since), where)
}

// HoldOpen marks the plan's file as open in this program, and returns the
// function that removes the mark. If it cannot be marked, as in a folder that
// may not be written to, only the warning to others is lost.
func HoldOpen(path string) (release func()) {
	own := Holder{PID: os.Getpid(), Host: hostName(), Since: time.Now().Truncate(time.Second), Start: keep.ProcessStart(os.Getpid())}
	if _, err := os.Stat(path); err != nil {
		return func() {}
	}
	setHolders(path, func(list []Holder) []Holder { return append(without(list, Holder.own), own) })
	return func() { setHolders(path, func(list []Holder) []Holder { return without(list, Holder.own) }) }
}

// dropHolders removes the marks of programs that have ended.
func dropHolders(path string) {
	if slices.ContainsFunc(readHolders(path), func(h Holder) bool { return !h.alive() }) {
		setHolders(path, func(list []Holder) []Holder { return list })
	}
}

// setHolders changes who has the plan open, while no other run of the program
// does so. The marks of programs that have ended are removed in any case.
func setHolders(path string, change func([]Holder) []Holder) {
	release, err := holdBriefly(context.Background(), path)
	if err != nil {
		return // only the warning to others is lost
	}
	defer release()
	writeHolders(path, change(without(readHolders(path), func(h Holder) bool { return !h.alive() })))
}

func without(list []Holder, is func(Holder) bool) []Holder { return slices.DeleteFunc(list, is) }

// readHolders reads the file; nobody if it does not exist or makes no sense.
func readHolders(plan string) []Holder {
	data, err := keep.ReadPlain(holdersPath(plan), 1<<20)
	if err != nil {
		return nil
	}
	var all holders
	if json.Unmarshal(data, &all) != nil {
		return nil
	}
	return all.Open
}

// writeHolders writes the file, or removes it if nobody is left.
func writeHolders(plan string, list []Holder) {
	path := holdersPath(plan)
	if len(list) == 0 {
		_ = os.Remove(path) // it may never have been written
		return
	}
	// Being unable to warn others is no reason to keep the plan from being opened.
	_ = keep.ReplaceFile(path, func(w io.Writer) error { return json.NewEncoder(w).Encode(holders{list}) })
}

// own reports whether the holder is this process.
func (h Holder) own() bool {
	return h.PID == os.Getpid() && h.Host == hostName() && h.Start == keep.ProcessStart(h.PID)
}

// alive reports whether the holder may still be running.
func (h Holder) alive() bool {
	return h.Host != hostName() || keep.ProcessRuns(h.PID, h.Start) // for another computer this cannot be known from here
}

// hostName is this computer's name, or empty.
func hostName() string {
	name, err := os.Hostname()
	if err != nil {
		return ""
	}
	return name
}
