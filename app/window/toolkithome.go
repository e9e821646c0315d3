package window

import (
	"os"
	"path/filepath"
)

// settingsAway keeps the toolkit from making its settings, and its list of fonts, in the
// folder in which the program was started, as it does where the system names no folder
// for them, or names one by a path that begins nowhere. Then they are in none, which is
// told.
func settingsAway() {
	if dir, err := os.UserCacheDir(); err == nil && !filepath.IsAbs(dir) {
		_ = os.Unsetenv("HOME") // of a relative one all folders are; the name is a good one
	}
	if dir, err := os.UserConfigDir(); err != nil || !filepath.IsAbs(dir) {
		_ = os.Setenv("XDG_CONFIG_HOME", os.DevNull) // under which nothing can be made
	}
}
