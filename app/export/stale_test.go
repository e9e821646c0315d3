package export

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/gofrs/flock"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestWhatKilledRunsLeftBeside: the next set takes away what runs for other folders
// beside it left when they were killed, and nothing of a live run, of one that was
// moving files, or of a person.
func TestWhatKilledRunsLeftBeside(t *testing.T) {
	root := t.TempDir()
	left := func(name string, files ...string) string {
		dir := filepath.Join(root, ".strakewright-"+name)
		require.NoError(t, os.Mkdir(dir, 0o700))
		for _, f := range files {
			put(t, dir, f, "")
		}
		return dir
	}
	gone := []string{left("empty"), left("locked", "lock"), left("made", "lock", "making/booklet.pdf", "making/svg/keel.svg")}
	live := left("live", "lock", "making/booklet.pdf")
	l := flock.New(filepath.Join(live, "lock"))
	held, err := l.TryLock()
	require.NoError(t, err)
	require.True(t, held)
	stays := []string{live, left("moving", "lock", "making/keel.svg", "journal"), left("swapping", "lock", "swap/keel.svg"),
		left("mine", "notes.txt"), left("other", "making/notes.txt")}
	put(t, root, ".strakewright-file", "mine")
	ages := time.Date(2026, 3, 1, 19, 30, 0, 0, time.UTC)
	require.NoError(t, filepath.WalkDir(root, func(at string, _ fs.DirEntry, err error) error {
		require.NoError(t, err)
		return os.Chtimes(at, ages, ages)
	}))
	stays = append(stays, left("young", "lock", "making/keel.svg"), filepath.Join(root, ".strakewright-file"))

	replaced(t, filepath.Join(root, "bench"), texts(skiffSet...))
	for _, dir := range gone {
		assert.NoDirExists(t, dir)
	}
	for _, at := range stays {
		_, err := os.Lstat(at)
		assert.NoError(t, err, at)
	}
	assert.FileExists(t, filepath.Join(live, "making", "booklet.pdf"))
	require.NoError(t, l.Unlock())
}
