package keep

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull/fault"
)

// planks writes the contents to be kept.
func planks(w io.Writer) error {
	_, err := io.WriteString(w, "planks")
	return err
}

// onlyFile fails where something was left beside the file.
func onlyFile(t *testing.T, path string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	require.Len(t, entries, 1)
	assert.Equal(t, filepath.Base(path), entries[0].Name())
}

func TestFailedWriteLeavesTheOldFileWhole(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cutter.strakeplan")
	require.NoError(t, os.WriteFile(path, []byte("old"), 0o644))
	whole := func() {
		t.Helper()
		old, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, "old", string(old))
		onlyFile(t, path)
	}

	full := errors.New("the disk is full")
	err := ReplaceFile(path, func(w io.Writer) error {
		_, err := io.WriteString(w, "half a pl")
		require.NoError(t, err)
		return full
	})
	assert.ErrorIs(t, err, full)
	whole()

	err = ReplaceFile(path, func(io.Writer) error { return fault.Fault{What: "it is no plan"} })
	assert.EqualError(t, err, path+": it is no plan.")
	whole()

	require.NoError(t, os.Chmod(path, 0o444))
	err = ReplaceFile(path, planks)
	assert.EqualError(t, err, path+": the file is marked read-only; choose another name, or allow writing to it.")
	assert.ErrorIs(t, err, fs.ErrPermission)
	whole()
}

func TestReplaceFileWhereNothingCanBe(t *testing.T) {
	dir := t.TempDir()
	err := ReplaceFile(dir, planks)
	assert.EqualError(t, err, dir+": it is not a plain file; choose another name.")
	path := filepath.Join(dir, "none", "x.strakeplan")
	err = ReplaceFile(path, planks)
	assert.EqualError(t, err, path+": cannot be written (no such file or directory); check its name and folder.")
	assert.ErrorIs(t, err, fs.ErrNotExist)
}

func TestReplaceFileKeepsPermissions(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no permission bits")
	}
	path := filepath.Join(t.TempDir(), "cutter.strakeplan")
	require.NoError(t, os.WriteFile(path, nil, 0o600))
	require.NoError(t, ReplaceFile(path, planks))
	info, err := os.Stat(path)
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o600), info.Mode().Perm())
}

func TestReplaceFileKeepsLinks(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("links need a privilege")
	}
	dir := t.TempDir()
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "deep", "plans"), 0o755))
	require.NoError(t, os.Symlink(filepath.Join("deep", "plans"), filepath.Join(dir, "plans")))
	real := filepath.Join(dir, "deep", "real.strakeplan")
	link := filepath.Join(dir, "plans", "link.strakeplan")
	require.NoError(t, os.Symlink(filepath.Join("..", "real.strakeplan"), link))
	for range 2 { // the link at first points to nothing
		require.NoError(t, ReplaceFile(link, planks))
		info, err := os.Lstat(link)
		require.NoError(t, err)
		assert.NotZero(t, info.Mode()&fs.ModeSymlink)
		data, err := os.ReadFile(real)
		require.NoError(t, err)
		assert.Equal(t, "planks", string(data))
	}
	loop := filepath.Join(dir, "loop")
	require.NoError(t, os.Symlink("loop", loop))
	assert.EqualError(t, ReplaceFile(loop, planks), loop+": cannot be written (too many symbolic links in a row); choose another name or folder, or make room; the old file is unchanged.")
}
