package app

import (
	"os"
	"os/exec"
	"os/signal"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
)

const fullDiskPlan = "STRAKEWRIGHT_TEST_FULL_DISK"

// TestFullDiskProcess is not a test of its own: it is a process that may write
// no file larger than half the plan, as on a full disk.
func TestFullDiskProcess(t *testing.T) {
	path := os.Getenv(fullDiskPlan)
	if path == "" {
		t.Skip("started by another test alone")
	}
	info, err := os.Stat(path)
	require.NoError(t, err)
	s, err := Open(path)
	require.NoError(t, err)
	signal.Ignore(syscall.SIGXFSZ)
	half := uint64(info.Size() / 2)
	require.NoError(t, syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: half, Max: half}))
	err = s.Note(hull.Port, gluedOn("2026-03-02", "1.02"))
	assert.ErrorIs(t, err, ErrNotKept)
	assert.ErrorContains(t, err, "make room")
	assert.Len(t, s.Plan().Record.Port, 1, "what is nowhere on the disk is not shown as noted")
}

// A write that fails leaves the old file whole, with its old record.
func TestFullDiskLeavesTheRecordWhole(t *testing.T) {
	path := benchPlan(t)
	s, err := Open(path)
	require.NoError(t, err)
	require.NoError(t, s.Note(hull.Port, gluedOn("2026-03-01", "1.01")))
	before, err := os.ReadFile(path)
	require.NoError(t, err)
	c := exec.Command(os.Args[0], "-test.run=^TestFullDiskProcess$")
	c.Env = append(os.Environ(), fullDiskPlan+"="+path)
	out, err := c.CombinedOutput()
	require.NoError(t, err, string(out))
	assert.NotContains(t, string(out), "SKIP")
	after, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(before), string(after))
}
