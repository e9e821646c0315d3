package hull

import (
	"io"
	"os"
	"path/filepath"
)

// replace puts what write gives in the place of the file, by way of a new one
// in its folder. Package renameio does not do this on Windows, where a rename
// is not promised to be atomic; it is still all or nothing short of a crash of
// the system.
func replace(path string, write func(io.Writer) error) error {
	t, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+"*")
	if err != nil {
		return err
	}
	defer os.Remove(t.Name()) // after a success there is none
	if err := write(t); err != nil {
		t.Close()
		return err
	}
	if err := t.Sync(); err != nil {
		t.Close()
		return err
	}
	if err := t.Close(); err != nil {
		return err
	}
	return os.Rename(t.Name(), path)
}
