//go:build unix

package keep

import (
	"net"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestWhatNeverEndsIsNotOpened: if it were opened, this test would not end.
func TestWhatNeverEndsIsNotOpened(t *testing.T) {
	dir := t.TempDir()
	pipe, socket := filepath.Join(dir, "pipe"), filepath.Join(dir, "s")
	require.NoError(t, syscall.Mkfifo(pipe, 0o644))
	l, err := net.Listen("unix", socket)
	require.NoError(t, err)
	defer func() { _ = l.Close() }()
	for path, want := range map[string]string{
		pipe:        "it is a pipe, which may never end; name a plain file: copy the contents into one first.",
		socket:      "it is a socket; name a plain file.",
		"/dev/zero": "it is a device, which may never end; name a plain file: copy the contents into one first.",
	} {
		_, err := ReadPlain(path, 64<<20)
		assert.EqualError(t, err, path+": "+want)
	}
}
