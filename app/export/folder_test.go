package export

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func text(name, s string) file {
	return file{name, func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}}
}

func quiet(file) {}

// texts are files given as names and contents in turn.
func texts(namesAndTexts ...string) []file {
	var out []file
	for i := 0; i < len(namesAndTexts); i += 2 {
		out = append(out, text(namesAndTexts[i], namesAndTexts[i+1]))
	}
	return out
}

// treeOf is the tree of a folder with these files, their folders and their list.
func treeOf(namesAndTexts ...string) map[string]string {
	out := map[string]string{}
	l := listHead + "\n"
	for i := 0; i < len(namesAndTexts); i += 2 {
		name, text := namesAndTexts[i], namesAndTexts[i+1]
		out[name] = text
		if dir := path.Dir(name); dir != "." {
			out[dir+"/"] = ""
		}
		l += fmt.Sprintf("%x  %s\n", sha256.Sum256([]byte(text)), name)
	}
	out["sheets.sha256"] = l
	return out
}

// with adds a person's files to a tree.
func with(tree map[string]string, namesAndTexts ...string) map[string]string {
	out := maps.Clone(tree)
	for i := 0; i < len(namesAndTexts); i += 2 {
		out[namesAndTexts[i]] = namesAndTexts[i+1]
	}
	return out
}

// replaced writes files over what is there.
func replaced(t *testing.T, dir string, files []file) *changed {
	t.Helper()
	c, err := writeAll(context.Background(), dir, files, true, quiet)
	require.NoError(t, err)
	return c
}

// put plays somebody who writes a file.
func put(t *testing.T, dir, name, text string) {
	t.Helper()
	at := filepath.Join(dir, filepath.FromSlash(name))
	require.NoError(t, os.MkdirAll(filepath.Dir(at), 0o755))
	require.NoError(t, os.WriteFile(at, []byte(text), 0o600))
}

// tree gives every file below a folder with its contents.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		require.NoError(t, err)
		if rel, _ := filepath.Rel(dir, path); d.IsDir() && rel != "." {
			out[filepath.ToSlash(rel)+"/"] = ""
		} else if d.Type().IsRegular() {
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			out[filepath.ToSlash(rel)] = string(data)
		}
		return nil
	}))
	return out
}

func TestFilesAreWrittenIntoTheirFolders(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "deep")
	var told []string
	_, err := writeAll(context.Background(), dir, []file{text("a.txt", "A"), text("sub/b.txt", "B")}, false, func(f file) { told = append(told, f.name) })
	require.NoError(t, err)
	assert.Equal(t, treeOf("a.txt", "A", "sub/b.txt", "B"), tree(t, dir))
	assert.Equal(t, []string{"a.txt", "sub/b.txt"}, told)
}

func TestFilesThatExistAreNotReplacedUnlessAsked(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "b.txt"), []byte("old"), 0o600))
	files := []file{text("a.txt", "A"), text("b.txt", "B"), text("c.txt", "C")}
	_, err := writeAll(context.Background(), dir, files, false, quiet)
	require.ErrorIs(t, err, fs.ErrExist)
	assert.Contains(t, err.Error(), filepath.Join(dir, "b.txt"))
	assert.Equal(t, map[string]string{"b.txt": "old"}, tree(t, dir), "nothing was written")
	replaced(t, dir, files)
	assert.Equal(t, treeOf("a.txt", "A", "b.txt", "B", "c.txt", "C"), tree(t, dir))
	info, err := os.Stat(filepath.Join(dir, "b.txt"))
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o600), info.Mode().Perm(), "it kept its permissions")
}

func TestWhatIsNoPlainFileIsLeftAlone(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "a.txt"), 0o755))
	_, err := writeAll(context.Background(), dir, []file{text("a.txt", "A")}, true, quiet)
	assert.ErrorContains(t, err, "not a plain file")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "b.txt"), nil, 0o400))
	_, err = writeAll(context.Background(), dir, []file{text("b.txt", "B")}, true, quiet)
	assert.ErrorContains(t, err, "read-only")
	_, err = writeAll(context.Background(), filepath.Join(dir, "b.txt"), []file{text("b.txt", "B")}, true, quiet)
	assert.ErrorContains(t, err, "not a folder")
}

func TestAFailedWriteLeavesAllAsItWas(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "a.txt"), []byte("old"), 0o600))
	broken := file{"b.txt", func(w io.Writer) error {
		_, _ = io.WriteString(w, "half")
		return errors.New("the ink ran out")
	}}
	_, err := writeAll(context.Background(), dir, []file{text("a.txt", "A"), broken}, true, quiet)
	assert.ErrorContains(t, err, "b.txt: the ink ran out")
	assert.Equal(t, map[string]string{"a.txt": "old"}, tree(t, dir))
}

func TestStoppedWorkLeavesAllAsItWas(t *testing.T) {
	root := t.TempDir()
	dir := filepath.Join(root, "new", "deep")
	ctx, stop := context.WithCancel(context.Background())
	_, err := writeAll(ctx, dir, []file{text("a.txt", "A"), text("b.txt", "B")}, false, func(file) { stop() })
	require.ErrorIs(t, err, context.Canceled)
	assert.Empty(t, tree(t, root), "the folders made for it are gone too")

	// While writing a file.
	ctx, stop = context.WithCancel(context.Background())
	endless := file{"a.txt", func(w io.Writer) error {
		for i := 0; ; i++ {
			if i == 3 {
				stop()
			}
			if _, err := w.Write(make([]byte, 1<<10)); err != nil {
				return err
			}
		}
	}}
	_, err = writeAll(ctx, dir, []file{endless}, false, quiet)
	require.ErrorIs(t, err, context.Canceled)
	assert.Empty(t, tree(t, root))
}
