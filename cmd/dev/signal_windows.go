package main

import (
	"os/exec"
	"syscall"
)

// ownGroup leaves the command in the console's group: there Windows itself
// delivers Ctrl-C to every process.
func ownGroup(*exec.Cmd) {}

// passSignal does nothing: the console has already notified the command. One
// that does not end by itself is killed after the grace period.
func passSignal(*exec.Cmd, syscall.Signal) error { return nil }

func killGroup(*exec.Cmd) {}
