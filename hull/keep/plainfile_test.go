package keep

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFoldersAndLargeFilesAreRefusedUnread(t *testing.T) {
	dir := t.TempDir()
	sparse := filepath.Join(dir, "sparse.strakeplan")
	require.NoError(t, os.WriteFile(sparse, []byte("{"), 0o644))
	if err := os.Truncate(sparse, 30e9); err != nil {
		t.Skipf("no sparse files here: %v", err)
	}
	whole := filepath.Join(dir, "whole")
	require.NoError(t, os.WriteFile(whole, []byte("four"), 0o644))
	long := filepath.Join(dir, strings.Repeat("n", 5000))

	for path, want := range map[string]string{
		dir:                        "it is a folder; name a file in it.",
		sparse:                     "the file is larger than 64 MB, the most that the program reads; check that it is the right file, and leave out what you do not need.",
		long:                       "; choose a shorter name or folder.",
		filepath.Join(dir, "none"): "; check its name and folder.",
		filepath.Join(dir, "\xff"): "the name is not UTF-8 text; name the file and its folders with letters and figures.",
	} {
		_, err := ReadPlain(path, 64<<20)
		require.Error(t, err, path)
		assert.Contains(t, err.Error(), want)
	}
	_, err := ReadPlain(whole, 3)
	assert.ErrorContains(t, err, "larger")
	data, err := ReadPlain(whole, 4)
	require.NoError(t, err)
	assert.Equal(t, "four", string(data))
}

func TestNothingIsWrittenUnderANameThatCannotBeTold(t *testing.T) {
	err := ReplaceFile(filepath.Join(t.TempDir(), "\xff.strakeplan"), planks)
	assert.ErrorContains(t, err, "the name is not UTF-8 text")
	err = ReplaceFile(filepath.Join(t.TempDir(), strings.Repeat("n", 5000)), planks)
	assert.ErrorContains(t, err, "; choose a shorter name or folder.")
}
