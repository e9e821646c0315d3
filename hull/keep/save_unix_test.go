//go:build linux

package keep

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// A file keeps its extended attributes, where the file system has them.
func TestReplaceFileKeepsAttributes(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cutter.strakeplan")
	require.NoError(t, os.WriteFile(path, nil, 0o600))
	if err := unix.Setxattr(path, "user.bench", []byte("the near one"), 0); err != nil {
		t.Skipf("the file system has no extended attributes of the user's: %v", err)
	}
	lost, err := ReplaceFileTold(path, planks)
	require.NoError(t, err)
	assert.Empty(t, lost)
	value := make([]byte, 64)
	n, err := unix.Getxattr(path, "user.bench", value)
	require.NoError(t, err)
	assert.Equal(t, "the near one", string(value[:n]))
}

// A file keeps its owner and group if the one who saves is allowed to set them.
func TestReplaceFileKeepsTheOwner(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cutter.strakeplan")
	require.NoError(t, os.WriteFile(path, nil, 0o640))
	if os.Geteuid() != 0 {
		t.Skip("only root may give a file away")
	}
	require.NoError(t, os.Chown(path, 1234, 2345))
	lost, err := ReplaceFileTold(path, planks)
	require.NoError(t, err)
	assert.Empty(t, lost)
	info, err := os.Stat(path)
	require.NoError(t, err)
	is := info.Sys().(*syscall.Stat_t)
	assert.Equal(t, []uint32{1234, 2345}, []uint32{is.Uid, is.Gid})
	assert.Equal(t, os.FileMode(0o640), info.Mode().Perm())
}

// What cannot be kept is reported: a file with two names becomes two files.
func TestReplaceFileTellsWhatItCannotKeep(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cutter.strakeplan")
	require.NoError(t, os.WriteFile(path, []byte("old"), 0o600))
	other := filepath.Join(filepath.Dir(path), "other")
	require.NoError(t, os.Link(path, other))
	lost, err := ReplaceFileTold(path, planks)
	require.NoError(t, err)
	require.Len(t, lost, 1)
	assert.Contains(t, lost[0], "hard links")
	data, err := os.ReadFile(other)
	require.NoError(t, err)
	assert.Equal(t, "old", string(data))
}
