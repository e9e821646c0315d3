//go:build linux

package window

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestSettingsAreNotMadeWhereTheProgramIsStarted(t *testing.T) {
	for _, c := range []struct{ home, settings, want string }{
		{"/home/a", "", "/home/a/.config"},
		{"/home/a", "/b", "/b"},
		{"", "", os.DevNull},
		{"a/b", "", os.DevNull},
		{"/home/a", "b", os.DevNull},
		{"", "/b", "/b"},
	} {
		t.Setenv("HOME", c.home)
		t.Setenv("XDG_CONFIG_HOME", c.settings)
		t.Setenv("XDG_CACHE_HOME", "")
		settingsAway()
		dir, err := os.UserConfigDir()
		assert.NoError(t, err)
		assert.Equal(t, c.want, dir, "%+v", c)
		cache, err := os.UserCacheDir()
		assert.True(t, err != nil || filepath.IsAbs(cache), cache)
	}
}
