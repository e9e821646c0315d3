package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"
)

// usualGrace is how long a child may take to end after a signal has been passed
// to it, before it is killed: long enough for a window to write its autosave.
const usualGrace = 10 * time.Second

// shop is where commands are run: the module's root folder, the destination of
// their output, and the context that ends them.
type shop struct {
	ctx      context.Context
	root     string
	out      io.Writer
	messages io.Writer
	grace    time.Duration // for a child that was passed a signal; 0 means the usual
}

// moduleRoot gives the nearest folder at or above start that holds this
// project's go.mod.
func moduleRoot(start string) (string, error) {
	for dir := start; ; dir = filepath.Dir(dir) {
		text, err := os.ReadFile(filepath.Join(dir, "go.mod"))
		if err == nil && strings.HasPrefix(string(text), "module "+module+"\n") {
			return dir, nil
		}
		if dir == filepath.Dir(dir) {
			return "", fmt.Errorf("%s is not inside Strakewright's source: change to its folder and try again", start)
		}
	}
}

// command is a child in a process group of its own, run at the module's root
// with env added, so that a signal reaches it and everything that it started.
func (s *shop) command(env []string, name string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(s.ctx, name, args...)
	cmd.Dir = s.root
	cmd.Env = append(os.Environ(), env...)
	ownGroup(cmd)
	cmd.Cancel = func() error { return passSignal(cmd, s.signal()) }
	cmd.WaitDelay = cmp.Or(s.grace, usualGrace)
	return cmd
}

// wait runs a command to its end. For a command that the user stopped it
// returns the cause, and leaves no process behind.
func (s *shop) wait(cmd *exec.Cmd) error {
	if err := s.stopped(); err != nil {
		return err
	}
	err := cmd.Run()
	if cause := s.stopped(); cause != nil {
		killGroup(cmd)
		return cause
	}
	return err
}

// signal is the signal that stopped the work, to be passed on to a child.
func (s *shop) signal() syscall.Signal {
	if why, ok := errors.AsType[stopped](context.Cause(s.ctx)); ok {
		return why.sig
	}
	return syscall.SIGTERM
}

// stopped returns why the context ended, or nil if it has not.
func (s *shop) stopped() error {
	if s.ctx.Err() == nil {
		return nil
	}
	return context.Cause(s.ctx)
}

// reads returns the standard output of a short command. Its error carries what
// the command wrote to standard error.
func (s *shop) reads(env []string, name string, args ...string) (string, error) {
	return s.readsIn(s.root, env, name, args...)
}

// readsIn does so in a folder.
func (s *shop) readsIn(dir string, env []string, name string, args ...string) (string, error) {
	cmd := s.command(env, name, args...)
	cmd.Dir = dir
	var out, complaint bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &complaint
	if err := s.wait(cmd); err != nil {
		return out.String(), withComplaint(err, complaint.String())
	}
	return out.String(), nil
}

func withComplaint(err error, complaint string) error {
	if complaint = strings.TrimSpace(complaint); complaint != "" {
		return fmt.Errorf("%w: %s", err, complaint)
	}
	return err
}

// streams runs a command and shows its output as it arrives, with a line that
// shows the elapsed time while it is silent.
func (s *shop) streams(what string, env []string, name string, args ...string) error {
	m := newMeter(s.out, what)
	defer m.stop()
	cmd := s.command(env, name, args...)
	cmd.Stdout, cmd.Stderr = m, m
	return s.wait(cmd)
}

func (s *shop) say(format string, args ...any) {
	fmt.Fprintf(s.out, format+"\n", args...)
}
