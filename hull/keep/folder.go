package keep

import (
	"os"
	"path/filepath"

	"github.com/strakewright/strakewright/assets/tongue"
)

// OwnFolder is the folder for our files that can't stand beside a file of the user's: in
// the user's cache. It need not exist yet. There is none, and an error, where the system
// names no cache, or names it by a path that does not begin at a root, as it does of a
// relative HOME: our files would then be made wherever the program is started.
func OwnFolder() (string, error) {
	cache, err := os.UserCacheDir()
	if err != nil {
		return "", err
	}
	if !filepath.IsAbs(cache) {
		return "", tongue.Errorf("the user's folder for passing files, %s, is not named from the root; correct HOME", cache)
	}
	return filepath.Join(cache, "strakewright"), nil
}
