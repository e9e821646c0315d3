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

// passSignal sends sig to a running command and to everything that it started.
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

// killGroup ends whatever a stopped command has left behind. It returns no
// error for a group that is already empty, since that is what is wanted.
func killGroup(cmd *exec.Cmd) {
	if cmd.Process != nil && leads(cmd) {
		_ = syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL)
	}
}

func leads(cmd *exec.Cmd) bool {
	return cmd.SysProcAttr != nil && cmd.SysProcAttr.Setpgid
}
