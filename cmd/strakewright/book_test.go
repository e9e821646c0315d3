package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/book/quote"
)

// The figures and sentences of the picture book are those that the program gives now, and
// so are the plans beside it.
func TestPictureBookSaysWhatTheProgramSays(t *testing.T) {
	folder, err := filepath.Abs("../../assets/book")
	require.NoError(t, err)
	bench := t.TempDir()
	t.Chdir(bench)
	pages, err := quote.Begin(folder, bench)
	require.NoError(t, err)
	require.NotEmpty(t, pages)
	f := &quote.Filler{Folder: bench, Run: func(args ...string) (string, error) {
		var out, messages strings.Builder
		if code := run(args, &out, &messages); code != 0 {
			return "", fmt.Errorf("exit %d: %s", code, &messages)
		}
		return out.String(), nil
	}}
	for _, p := range pages {
		text, err := f.Fill(p.Source)
		require.NoError(t, err, p.Name)
		kept, err := os.ReadFile(filepath.Join(folder, p.Name))
		require.NoError(t, err)
		assert.Equal(t, string(kept), text, "%s is out of date: go run ./cmd/dev book makes it anew", p.Name)
	}
	for _, name := range f.Saved {
		made, err := os.ReadFile(name)
		require.NoError(t, err)
		kept, err := os.ReadFile(filepath.Join(folder, "plans", name))
		require.NoError(t, err)
		assert.Equal(t, string(kept), string(made), "%s is out of date", name)
	}
	for _, p := range f.Pictures {
		assert.FileExists(t, filepath.Join(folder, "pictures", p.Name+".png"))
	}
}
