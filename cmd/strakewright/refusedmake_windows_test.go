package main

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// makeSpecial makes what is no file with content, as far as there is such here.
func makeSpecial(t *testing.T, how, path string) {
	switch kind, _, _ := strings.Cut(how, " "); kind {
	case "folder":
		require.NoError(t, os.Mkdir(path, 0o755))
	case "missing":
	default:
		t.Skipf("there is no %s on this system", kind)
	}
}
