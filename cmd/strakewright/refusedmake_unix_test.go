//go:build unix

package main

import (
	"net"
	"os"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// makeSpecial makes what is no file with content.
func makeSpecial(t *testing.T, how, path string) {
	kind, what, _ := strings.Cut(how, " ")
	switch kind {
	case "folder":
		require.NoError(t, os.Mkdir(path, 0o755))
	case "pipe":
		require.NoError(t, syscall.Mkfifo(path, 0o644))
	case "socket":
		// A socket's whole path may have about a hundred characters alone.
		here, err := os.Getwd()
		require.NoError(t, err)
		require.NoError(t, os.Chdir(path[:strings.LastIndexByte(path, '/')]))
		l, err := net.Listen("unix", path[strings.LastIndexByte(path, '/')+1:])
		require.NoError(t, os.Chdir(here))
		require.NoError(t, err)
		t.Cleanup(func() { _ = l.Close() })
	case "link":
		require.NoError(t, os.Symlink(what, path))
	case "sparse":
		size, err := strconv.ParseInt(what, 10, 64)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(path, nil, 0o644))
		if err := os.Truncate(path, size); err != nil {
			t.Skipf("no sparse files here: %v", err)
		}
	case "missing":
	default:
		t.Fatalf("nothing is made by %q", how)
	}
}
