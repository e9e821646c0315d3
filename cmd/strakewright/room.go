package main

import "runtime/debug"

// readingRoom is the memory, in bytes, that the program keeps to while it reads a
// file: the nearer it comes to that, the sooner it gives back what it needs no more.
// No reader holds as much at once of the largest file that it takes.
const readingRoom = 300 << 20

// sparing has the program keep to that room until done is called.
func sparing() (done func()) {
	before := debug.SetMemoryLimit(readingRoom)
	return func() { debug.SetMemoryLimit(before) }
}
