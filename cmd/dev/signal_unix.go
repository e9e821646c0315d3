//go:build unix

package main

import (
	"errors"
	"os"
	"os/exec"
	"syscall"
)

// ownGroup makes a command lead a process group of its own.
func ownGroup(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
}

// passSignal sends sig to a running command and to all that it started.
func passSignal(cmd *exec.Cmd, sig syscall.Signal) error {
	target := cmd.Process.Pid
	if leads(cmd) {
		target = -target
	}
	err := syscall.Kill(target, sig)
	if errors.Is(err, syscall.ESRCH) {
		return os.ErrProcessDone
	}
	return err
}

// killGroup ends what a stopped command has left behind. A group that is
// already empty is what is wanted, so no error is given.
func killGroup(cmd *exec.Cmd) {
	if cmd.Process != nil && leads(cmd) {
		_ = syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL)
	}
}

func leads(cmd *exec.Cmd) bool {
	return cmd.SysProcAttr != nil && cmd.SysProcAttr.Setpgid
}
