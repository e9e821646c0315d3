//go:build linux

package trace

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull/tool"
)

// withTool puts a program of our own in poppler's place.
func withTool(t *testing.T, name, script string) (page string) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("#!/bin/sh\n"+script+"\n"), 0o755))
	t.Setenv("PATH", dir+string(os.PathListSeparator)+os.Getenv("PATH"))
	page = filepath.Join(dir, "page.pdf")
	require.NoError(t, os.WriteFile(page, []byte("%PDF-1.4\n"), 0o644))
	return page
}

func TestPageToolsAreBounded(t *testing.T) {
	told := filepath.Join(t.TempDir(), "limits")
	page := withTool(t, "pdftoppm", "ulimit -v >"+told+"; ulimit -t >>"+told+"; exit 3")
	_, err := Open(context.Background(), page, 2)
	assert.EqualError(t, err, "page.pdf: page 2 cannot be drawn; check the file, or save the page as PNG")
	limits, err := os.ReadFile(told)
	require.NoError(t, err)
	assert.Equal(t, []string{"2097152", "30"}, strings.Fields(string(limits)))
}

// TestAPageThatTakesAllMemory: the limit holds, and is reported.
func TestAPageThatTakesAllMemory(t *testing.T) {
	page := withTool(t, "pdftoppm", "exec dd if=/dev/zero of=/dev/null bs=4G count=1")
	_, err := Open(context.Background(), page, 1)
	assert.EqualError(t, err, "page.pdf: page 1 takes more than the 2 GiB of memory that drawing it may take; save the page as PNG at a lower resolution")
}

// TestAPageThatNeverEnds: it is ended by its processor time, so that a page may
// take as long as it needs on a busy computer.
func TestAPageThatNeverEnds(t *testing.T) {
	page := withTool(t, "pdftoppm", "ulimit -S -t 1; while :; do :; done")
	_, err := Open(context.Background(), page, 1)
	assert.EqualError(t, err, "page.pdf: page 1 could not be drawn in 30 seconds; save the page as PNG")
}

func TestPagesAreCountedBounded(t *testing.T) {
	page := withTool(t, "pdfinfo", `test "$(ulimit -v)" = 2097152 && echo "Pages: 7"`)
	assert.Equal(t, 7, Pages(context.Background(), page))
}

func TestOutOfMemoryIsTold(t *testing.T) {
	assert.True(t, tool.OutOfMemory("terminate called after throwing an instance of 'std::bad_alloc'"))
	assert.True(t, tool.OutOfMemory("Out of memory"))
	assert.False(t, tool.OutOfMemory("Syntax Error: Couldn't read xref table"))
}

// TestPicturesThatNeverEndAreNotOpened: if one were opened, this test would not
// end.
func TestPicturesThatNeverEndAreNotOpened(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"pipe.png", "pipe.pdf", "pipe.tracing"} {
		path := filepath.Join(dir, name)
		require.NoError(t, syscall.Mkfifo(path, 0o644))
		_, err := Open(context.Background(), path, 1)
		assert.EqualError(t, err, name+": it is a pipe, which may never end; name a plain file: copy the contents into one first.")
		_, err = ReadKept(path)
		assert.EqualError(t, err, name+": it is a pipe, which may never end; name a plain file: copy the contents into one first.")
	}
	sparse := filepath.Join(dir, "sparse.png")
	require.NoError(t, os.WriteFile(sparse, []byte("\x89PNG"), 0o644))
	require.NoError(t, os.Truncate(sparse, 30e9))
	_, err := Open(context.Background(), sparse, 1)
	assert.EqualError(t, err, "sparse.png: the file is larger than 64 MB, the most that the program reads; check that it is the right file, and leave out what you do not need.")
}
