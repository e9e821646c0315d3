package main

import (
	"runtime"
	"runtime/debug"
)

// readingRoom is the memory, in bytes, that the program keeps to while it reads a
// file: the nearer it comes to that, the sooner it gives back what it needs no more.
// No reader holds as much at once of the largest file that it takes.
const readingRoom = 300 << 20

// sparing has the program keep to that room until done is called.
func sparing() (done func()) {
	before := debug.SetMemoryLimit(readingRoom)
	return func() { debug.SetMemoryLimit(before) }
}

// A command that is soon over need not look for memory that it no longer needs: it does
// so first when its heap has grown to sixteen times the least at which Go would, 4 MiB,
// and from then on as Go has it.
const (
	usualPercent = 100
	firstPercent = 16 * usualPercent
)

// unhurried puts off the first search for memory. A GOGC that the user has set is kept
// to.
func unhurried() {
	before := debug.SetGCPercent(firstPercent)
	if before != usualPercent {
		debug.SetGCPercent(before)
		return
	}
	type token struct{ _ *token } // with a pointer, so that it is not kept with other small things
	runtime.AddCleanup(new(token), func(percent int) { debug.SetGCPercent(percent) }, usualPercent)
}
