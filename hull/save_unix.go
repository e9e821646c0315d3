//go:build !windows

package hull

import (
	"io"
	"path/filepath"

	"github.com/google/renameio/v2"
)

// replace puts what write gives in the place of the file, by way of a new one
// in its folder.
func replace(path string, write func(io.Writer) error) error {
	t, err := renameio.NewPendingFile(path,
		renameio.WithTempDir(filepath.Dir(path)),
		renameio.WithPermissions(0o644),
		renameio.WithExistingPermissions())
	if err != nil {
		return err
	}
	defer t.Cleanup() // after a success it does nothing
	if err := write(t); err != nil {
		return err
	}
	return t.CloseAtomicallyReplace()
}
