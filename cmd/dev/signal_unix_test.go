//go:build unix

package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// The child records the signal that reaches it and ends; its own child, which
// ignores signals, must be gone as well. The grace period is longer than this
// test may take, so that it ends only if nobody waits for the period to pass.
func TestSignalReachesChildrenAndNoneIsLeft(t *testing.T) {
	ctx, cancel := context.WithCancelCause(context.Background())
	var out bytes.Buffer
	s := &shop{ctx: ctx, root: t.TempDir(), out: &out, messages: &out, grace: 24 * time.Hour}
	// "ready" comes last, when both shells have set their traps and the pid is
	// written: an earlier signal would end a shell that is not yet ready for it.
	script := `(trap "" INT TERM; echo > deaf; while :; do sleep 0.05; done) >/dev/null 2>&1 &
echo $! > pid
trap 'echo INT > heard; exit 0' INT
until [ -e deaf ]; do sleep 0.05; done
echo > ready
while :; do sleep 0.05; done`
	go func() {
		waitForFile(t, filepath.Join(s.root, "ready"))
		cancel(stopped{syscall.SIGINT})
	}()
	err := s.streams("waiting", nil, "sh", "-c", script)
	var why stopped
	if !errors.As(err, &why) || why.sig != syscall.SIGINT {
		t.Errorf("error %v, want stopped by SIGINT", err)
	}
	if heard := readFile(t, s.root, "heard"); heard != "INT" {
		t.Errorf("the child heard %q, want INT", heard)
	}
	assertGone(t, readFile(t, s.root, "pid"))
}

func TestNothingStartsAfterASignal(t *testing.T) {
	ctx, cancel := context.WithCancelCause(context.Background())
	cancel(stopped{syscall.SIGTERM})
	s := &shop{ctx: ctx, root: t.TempDir()}
	if _, err := s.reads(nil, "sh", "-c", "echo > begun"); !errors.Is(err, stopped{syscall.SIGTERM}) {
		t.Errorf("error %v, want stopped by SIGTERM", err)
	}
	if _, err := os.Stat(filepath.Join(s.root, "begun")); err == nil {
		t.Error("a command was started all the same")
	}
}

func waitForFile(t *testing.T, path string) {
	for range 12000 { // five minutes
		if _, err := os.Stat(path); err == nil {
			return
		}
		time.Sleep(25 * time.Millisecond)
	}
	t.Errorf("%s did not appear", path)
}

func readFile(t *testing.T, dir, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Error(err)
	}
	return strings.TrimSpace(string(text))
}

// assertGone waits, minutes at the most, since the kernel passes an orphan on before it
// is reaped; a zombie counts as gone.
func assertGone(t *testing.T, pid string) {
	t.Helper()
	if pid == "" {
		t.Fatal("no process is named")
	}
	for range 15000 {
		stat, err := os.ReadFile(filepath.Join("/proc", pid, "stat"))
		if err != nil || strings.Contains(string(stat), ") Z ") {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Errorf("process %s is still there", pid)
}
