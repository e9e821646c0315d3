package draw

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestTheIndexOfFontsIsNotWhereTheProgramIsStarted: of a relative HOME, or none, it goes into
// a folder that goes again.
func TestTheIndexOfFontsIsNotWhereTheProgramIsStarted(t *testing.T) {
	here := t.TempDir()
	t.Chdir(here)
	t.Setenv("XDG_CACHE_HOME", "")
	for _, home := range []string{"a/b", ".", "~", ""} {
		t.Setenv("HOME", home)
		dir, done := indexFolder()
		assert.True(t, filepath.IsAbs(dir), dir)
		assert.NotContains(t, dir, here)
		done()
		assert.NoDirExists(t, dir)
	}
	made, err := os.ReadDir(here)
	require.NoError(t, err)
	assert.Empty(t, made)
}
