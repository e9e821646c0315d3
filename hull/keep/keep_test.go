package keep

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestOwnerInAName(t *testing.T) {
	o := NewOwner()
	got, ok := ParseOwner(o.String())
	require.True(t, ok)
	assert.Equal(t, o, got)
	assert.True(t, o.Here())
	assert.False(t, o.Gone())
	assert.NotEqual(t, o, NewOwner(), "each piece of work has an owner of its own")

	again := o
	again.Start += "0" // another process once had this number
	assert.True(t, again.Gone())
	far := again
	far.Host = "another"
	assert.False(t, far.Gone(), "of another computer nobody can tell")

	for _, text := range []string{"", "1", "7-1-00000000", "x-1-00000000@h", "7-1-0000000@h", "7-1-00000000@h.part", "99999999999-1-00000000@h"} {
		_, ok := ParseOwner(text)
		assert.False(t, ok, text)
	}
}

func TestProcessRuns(t *testing.T) {
	c := exec.Command(os.Args[0], "-test.run=^$")
	require.NoError(t, c.Start())
	start := ProcessStart(c.Process.Pid)
	require.NoError(t, c.Wait())
	assert.False(t, ProcessRuns(c.Process.Pid, start))
	assert.True(t, ProcessRuns(os.Getpid(), ProcessStart(os.Getpid())))
	assert.True(t, ProcessRuns(os.Getppid(), ProcessStart(os.Getppid())))
	assert.False(t, ProcessRuns(0, ""))
	assert.False(t, ProcessRuns(-1, ""))
}

// Names beside a plan fit a file system, distinguish plans, and hold whole
// characters.
func TestBesideLongNames(t *testing.T) {
	dir := t.TempDir()
	long := strings.Repeat("ß", 120)
	a, b := Beside(filepath.Join(dir, long+"a"), "lock"), Beside(filepath.Join(dir, long+"b"), "lock")
	assert.NotEqual(t, a, b)
	assert.Less(t, len(filepath.Base(a)), 100)
	assert.Equal(t, strings.ToValidUTF8(a, "?"), a)
}

func TestHoldFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cutter.strakeplan")
	release, err := HoldFile(t.Context(), path)
	require.NoError(t, err)
	ctx, stop := context.WithCancel(t.Context())
	stop()
	_, err = HoldFile(ctx, path)
	require.ErrorIs(t, err, context.Canceled)
	release()
	entries, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	assert.Empty(t, entries, "the lock goes with its holder")

	_, err = HoldFile(t.Context(), filepath.Join(filepath.Dir(path), "none", "x"))
	assert.ErrorContains(t, err, "check its name and folder")
}

// Only one holds it at any moment, although each removes the lock's file.
func TestHoldFileLetsOneInAtATime(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cutter.strakeplan")
	in, most, entries := 0, 0, 0
	var mu sync.Mutex
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for range 25 {
				release, err := HoldFile(t.Context(), path)
				if err != nil { // it did not get the lock in time
					assert.ErrorIs(t, err, ErrBusy)
					continue
				}
				mu.Lock()
				in, entries = in+1, entries+1
				most = max(most, in)
				mu.Unlock()
				runtime.Gosched()
				mu.Lock()
				in--
				mu.Unlock()
				release()
			}
		})
	}
	all.Wait()
	assert.Equal(t, 1, most)
	assert.Positive(t, entries)
}

func TestReplaceFileTakesAwayWhatAKilledRunLeft(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cutter.strakeplan")
	c := exec.Command(os.Args[0], "-test.run=^$")
	require.NoError(t, c.Run())
	gone := NewOwner()
	gone.PID = c.Process.Pid
	require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(path), ".cutter.strakeplan."+gone.String()+".part"), nil, 0o600))
	require.NoError(t, ReplaceFile(path, planks))
	onlyFile(t, path)
}
