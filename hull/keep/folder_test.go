//go:build linux

package keep

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestOurFolderIsNotWhereTheProgramIsStarted: whatever the surroundings name, our folder
// begins at the root or there is none, and asking for it or for a lock in it makes nothing
// in the folder of the start.
func TestOurFolderIsNotWhereTheProgramIsStarted(t *testing.T) {
	here := t.TempDir()
	t.Chdir(here)
	for _, c := range []struct{ home, cache, want string }{
		{"/home/a", "", "/home/a/.cache/strakewright"},
		{"/home/a", "/b", "/b/strakewright"},
		{"a/b", "/b", "/b/strakewright"},
		{"", "", ""},
		{"a/b", "", ""},
		{".", "", ""},
		{"~", "", ""},
		{"/home/a", "b", ""},
	} {
		t.Setenv("HOME", c.home)
		t.Setenv("XDG_CACHE_HOME", c.cache)
		dir, err := OwnFolder()
		assert.Equal(t, c.want, dir, "%+v", c)
		assert.Equal(t, c.want == "", err != nil, "%+v: %v", c, err)
		if c.want == "" {
			_, err = lockElsewhere("/a/plan")
			assert.Error(t, err, "%+v", c)
		}
	}
	made, err := filepath.Glob(filepath.Join(here, "*"))
	assert.NoError(t, err)
	assert.Empty(t, made)
}
