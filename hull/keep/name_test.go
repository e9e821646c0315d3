package keep

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTitle(t *testing.T) {
	for path, want := range map[string]string{"skiff.csv": "skiff", "a.b/skiff.v2.csv": "skiff.v2", "a.b/skiff": "skiff"} {
		assert.Equal(t, want, Title(path))
	}
	assert.Equal(t, "a.b/skiff.v2", WithoutEnding("a.b/skiff.v2.csv"))
}

func TestFree(t *testing.T) {
	path := filepath.Join(t.TempDir(), "skiff.csv")
	assert.NoError(t, Free(path, false))
	require.NoError(t, os.WriteFile(path, nil, 0o600))
	assert.NoError(t, Free(path, true))
	err := Free(path, false)
	assert.ErrorIs(t, err, fs.ErrExist)
	assert.ErrorContains(t, err, path+": ")
}
