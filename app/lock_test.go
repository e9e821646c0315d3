package app

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull/keep"
)

func holdersOf(t *testing.T, path string, list ...Holder) {
	t.Helper()
	data, err := json.Marshal(holders{list})
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(holdersPath(path), data, 0o644))
}

// ended is the number of a process that no longer runs.
func ended(t *testing.T) int {
	t.Helper()
	c := exec.Command(os.Args[0], "-test.run=^$")
	require.NoError(t, c.Run())
	return c.Process.Pid
}

func TestOpenedElsewhere(t *testing.T) {
	path := benchPlan(t)
	_, yes := OpenedElsewhere(path)
	assert.False(t, yes, "nobody")

	// The process that runs this test is another program, and alive.
	parent := Holder{PID: os.Getppid(), Host: hostName(), Since: time.Now(), Start: keep.ProcessStart(os.Getppid())}
	holdersOf(t, path, parent)
	h, yes := OpenedElsewhere(path)
	require.True(t, yes)
	assert.Equal(t, parent.PID, h.PID)
	assert.Contains(t, h.Warning(path), "has been open in another window since")
	_, err := Open(path)
	assert.NoError(t, err, "it may be read all the same")

	if parent.Start != "" {
		again := parent
		again.Start = "1" // another process once had this number
		holdersOf(t, path, again)
		_, yes = OpenedElsewhere(path)
		assert.False(t, yes)
	}
	holdersOf(t, path, Holder{PID: ended(t), Host: hostName()})
	_, yes = OpenedElsewhere(path)
	assert.False(t, yes, "it has ended")
	holdersOf(t, path, Holder{PID: 1, Host: "another-computer"})
	h, yes = OpenedElsewhere(path)
	assert.True(t, yes)
	assert.Contains(t, h.Warning(path), "on another-computer")
	require.NoError(t, os.WriteFile(holdersPath(path), []byte("{"), 0o644))
	_, yes = OpenedElsewhere(path)
	assert.False(t, yes, "what makes no sense bars nothing")
}

func TestHoldOpen(t *testing.T) {
	path := benchPlan(t)
	release := HoldOpen(path)
	assert.FileExists(t, holdersPath(path))
	_, yes := OpenedElsewhere(path)
	assert.False(t, yes, "it is this program")
	release()
	assert.NoFileExists(t, holdersPath(path))

	parent := Holder{PID: os.Getppid(), Host: hostName(), Start: keep.ProcessStart(os.Getppid())}
	holdersOf(t, path, parent, Holder{PID: ended(t), Host: hostName()})
	release = HoldOpen(path)
	assert.Len(t, readHolders(path), 2, "those that ended are dropped")
	release()
	assert.Len(t, readHolders(path), 1, "the other's mark stays")

	HoldOpen(path + ".none")()
	assert.NoFileExists(t, holdersPath(path+".none"))
}

// Whatever a killed run left beside a plan is removed at the next opening,
// without asking; whatever a live run or another computer may use stays, and so
// does unsaved work.
func TestWhatAKilledRunLeftIsTidiedUp(t *testing.T) {
	path := benchPlan(t)
	dir := filepath.Dir(path)
	gone := keep.NewOwner()
	gone.PID = ended(t)
	far := keep.NewOwner()
	far.Host = "another-computer"
	put := func(name string) string {
		at := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(at, nil, 0o600))
		return at
	}
	stale := []string{
		put(".barge.strakeplan." + gone.String() + ".part"),
		put(".barge.strakeplan." + gone.String() + ".autosave." + gone.String() + ".part"),
		put(".barge.strakeplan.open." + gone.String() + ".part"),
		put(".barge.strakeplan.lock"),
	}
	holdersOf(t, path, Holder{PID: gone.PID, Host: hostName()})
	stale = append(stale, holdersPath(path))
	stays := []string{
		put(".barge.strakeplan." + far.String() + ".part"),
		put(".barge.strakeplan." + keep.NewOwner().String() + ".part"),
		put(".barge.strakeplan." + gone.String() + ".autosave"),
		put(".barge.strakeplan.mine.part"),
		put(".other.strakeplan." + gone.String() + ".part"),
	}
	s, err := Open(path)
	require.NoError(t, err)
	s.Close()
	for _, f := range stale {
		assert.NoFileExists(t, f)
	}
	for _, f := range stays {
		assert.FileExists(t, f)
	}
}
