package export

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A booklet that a killed run left for the printer is taken away; what is young, what
// holds a person's file and what is not named like ours stays.
func TestBookletsLeftForThePrinterAreTakenAway(t *testing.T) {
	at := t.TempDir()
	t.Setenv("TMPDIR", at)
	t.Setenv("TMP", at)
	long := time.Date(2001, 2, 3, 0, 0, 0, 0, time.UTC)
	leave := func(name string, old bool, files ...string) {
		dir := filepath.Join(at, name)
		require.NoError(t, os.Mkdir(dir, 0o700))
		for _, f := range files {
			require.NoError(t, os.WriteFile(filepath.Join(dir, f), []byte("%PDF"), 0o600))
			if old {
				require.NoError(t, os.Chtimes(filepath.Join(dir, f), long, long))
			}
		}
		if old {
			require.NoError(t, os.Chtimes(dir, long, long))
		}
	}
	leave("strakewright-123", true, printBooklet)
	leave("strakewright-124", true)
	leave("strakewright-125", false, printBooklet)
	leave("strakewright-126", true, "notes.txt")
	leave("strakewright-127", true, printBooklet, "notes.txt")
	leave("strakewright-mine", true, printBooklet)
	leave("other-128", true, printBooklet)
	sweepPrints()
	var left []string
	entries, err := os.ReadDir(at)
	require.NoError(t, err)
	for _, e := range entries {
		left = append(left, e.Name())
	}
	assert.Equal(t, []string{"other-128", "strakewright-125", "strakewright-126", "strakewright-127", "strakewright-mine"}, left)
}
