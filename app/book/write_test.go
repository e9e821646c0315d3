package book

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/assets"
)

var leads = regexp.MustCompile(`(?:href|src)="([^"]+)"`)

// Every link and picture of the pages leads to a file that is written, every page can be
// reached from the first, and every picture is shown.
func TestEveryPageAndPictureIsReached(t *testing.T) {
	folder := t.TempDir()
	first, err := Write(folder)
	require.NoError(t, err)
	reached := map[string]bool{}
	var follow func(path string)
	follow = func(path string) {
		if reached[path] {
			return
		}
		reached[path] = true
		if !strings.HasSuffix(path, ".html") {
			return
		}
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.NotContains(t, string(text), "{{", path)
		assert.NotContains(t, string(text), "%%", path)
		for _, to := range leads.FindAllStringSubmatch(string(text), -1) {
			at := filepath.Join(folder, filepath.FromSlash(to[1]))
			_, err := os.Stat(at)
			assert.NoError(t, err, "%s leads to %s", path, to[1])
			follow(at)
		}
	}
	follow(first)
	require.NoError(t, filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		assert.True(t, d.IsDir() || reached[path], "nothing leads to %s", path)
		return err
	}))
	assert.GreaterOrEqual(t, len(reached), 12)

	again, err := Write(folder)
	require.NoError(t, err, "it is written again over what is there")
	assert.Equal(t, first, again)
}

// The book is carried along in the program: it is to stay small.
func TestBookIsSmall(t *testing.T) {
	all := int64(0)
	require.NoError(t, fs.WalkDir(assets.Book(), ".", func(_ string, d fs.DirEntry, err error) error {
		require.NoError(t, err)
		info, err := d.Info()
		all += info.Size()
		return err
	}))
	assert.Less(t, all, int64(5)<<19, "bytes of pages and pictures")
}
