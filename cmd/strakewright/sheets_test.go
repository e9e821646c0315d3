package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/export"
)

// TestSheetsStopped stops the program with Ctrl-C while it writes: what was in
// the folder stays, and nothing is added. On a busy machine the program may be
// done before the signal is sent; then it is run again.
func TestSheetsStopped(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("one process cannot press another's Ctrl-C there")
	}
	dir := t.TempDir()
	old := filepath.Join(dir, "booklet.pdf")
	program, plan := built(t), demoPlan(t)
	var out, messages bytes.Buffer
	var err error
	for tries := 0; tries < 20 && err == nil; tries++ {
		require.NoError(t, os.RemoveAll(dir))
		require.NoError(t, os.Mkdir(dir, 0o755))
		require.NoError(t, os.WriteFile(old, []byte("old"), 0o600))
		out.Reset()
		messages.Reset()
		err = stoppedWriting(t, exec.Command(program, "sheets", plan, "-o", dir, "--replace"), dir, &out, &messages)
	}
	var exit *exec.ExitError
	require.ErrorAs(t, err, &exit)
	assert.Equal(t, 1, exit.ExitCode())
	assert.Contains(t, messages.String(), "stopped: nothing was written.")
	assert.Empty(t, out.String())
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, left, 1)
	data, err := os.ReadFile(old)
	require.NoError(t, err)
	assert.Equal(t, "old", string(data))
}

// stoppedWriting runs a command, presses its Ctrl-C once it has begun to write
// into a folder, and gives what it ended with.
func stoppedWriting(t *testing.T, c *exec.Cmd, dir string, out, messages *bytes.Buffer) error {
	t.Helper()
	c.Stdout, c.Stderr = out, messages
	require.NoError(t, c.Start())
	ended := make(chan error, 1)
	go func() { ended <- c.Wait() }()
	for {
		hidden, err := filepath.Glob(filepath.Join(filepath.Dir(dir), ".strakewright-*", "making", "*"))
		require.NoError(t, err)
		if len(hidden) > 0 {
			_ = c.Process.Signal(os.Interrupt) // it may have ended
			return <-ended
		}
		select {
		case err := <-ended:
			return err
		case <-time.After(time.Millisecond):
		}
	}
}

// A stop is a stop, whichever flag the work was done for.
func TestStoppedForAFlag(t *testing.T) {
	var messages bytes.Buffer
	code := exitCode(misused("--bands: %w", fmt.Errorf("the laying was stopped: %w", context.Canceled)), &messages)
	assert.Equal(t, 1, code)
	assert.Equal(t, "strakewright: stopped: nothing was written.\n", messages.String())
}

// TestMeter: silent for a second, then a line a second in a log; on a terminal
// one line, cleared at the end.
func TestMeter(t *testing.T) {
	now := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	run := func(line bool) string {
		var b bytes.Buffer
		m := &meter{w: &b, line: line, moment: func() time.Time { return now }, after: now.Add(patience)}
		for i := range 31 {
			m.tell(export.Progress{Done: i, All: 30, What: "page"})
			now = now.Add(patience / 10)
		}
		m.end()
		m.end()
		return b.String()
	}
	assert.Equal(t, "strakewright: 10 of 30: page\nstrakewright: 20 of 30: page\n", run(false))
	got := run(true)
	assert.Contains(t, got, "\r\x1b[K10 of 30: page\r\x1b[K11 of 30: page")
	assert.NotContains(t, got, "\n")
	assert.NotContains(t, got, " 9 of")
	assert.Regexp(t, "29 of 30: page\r\x1b\\[K$", got)
}
