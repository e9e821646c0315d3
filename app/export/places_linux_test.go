package export

import (
	"bytes"
	"context"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// TestFoldersThatMayNotBeWrittenTo: if a part of the folder may not be changed,
// all of it stays as it was; a folder beside which nothing may be made will do.
func TestFoldersThatMayNotBeWrittenTo(t *testing.T) {
	coaster, skiff := treeOf(coasterSet...), treeOf(skiffSet...)
	for name, c := range map[string]struct {
		barred string
		want   map[string]string
		says   string
	}{
		"what it stands in": {"..", skiff, ""},
		"it":                {".", coaster, "bench: it cannot be written, permission denied"},
		"a folder of it":    {"svg", coaster, "bench/svg: it cannot be written, permission denied"},
		"a file of it":      {"svg/keel.svg", coaster, "bench/svg/keel.svg: the file is marked read-only"},
	} {
		t.Run(name, func(t *testing.T) {
			root := quickDir(t)
			require.NoError(t, os.Chmod(root, 0o755))
			dir := filepath.Join(root, "bench")
			replaced(t, dir, texts(coasterSet...))
			way := "write"
			if os.Geteuid() == 0 { // who is barred from nothing
				way = "as nobody"
				require.NoError(t, filepath.WalkDir(root, func(at string, _ fs.DirEntry, err error) error {
					require.NoError(t, err)
					return os.Chown(at, nobody, nobody)
				}))
			}
			barred := filepath.Join(dir, c.barred)
			require.NoError(t, os.Chmod(barred, 0o555))
			out, _ := childOf(t, way, dir).CombinedOutput()
			require.NoError(t, os.Chmod(barred, 0o755))
			assert.Contains(t, string(out), c.says)
			assert.Equal(t, c.want, tree(t, dir))
			there, err := os.ReadDir(root)
			require.NoError(t, err)
			assert.Len(t, there, 1, "nothing is left beside it")
		})
	}
}

// namespaceVar tells the test binary that it may mount anything, unseen by
// others.
const namespaceVar = "STRAKEWRIGHT_TEST_MOUNTS"

// TestFileSystemsOfTheirOwn: the folder is on a different file system from its
// parent, or one is mounted within it, or it is full.
func TestFileSystemsOfTheirOwn(t *testing.T) {
	if os.Getenv(namespaceVar) == "" {
		self, err := os.Executable()
		require.NoError(t, err)
		c := exec.Command(self, "-test.run=^TestFileSystemsOfTheirOwn$")
		c.Env = append(os.Environ(), namespaceVar+"=1")
		c.SysProcAttr = &syscall.SysProcAttr{Cloneflags: syscall.CLONE_NEWNS}
		if id := os.Geteuid(); id != 0 {
			c.SysProcAttr.Cloneflags |= syscall.CLONE_NEWUSER
			c.SysProcAttr.UidMappings = []syscall.SysProcIDMap{{HostID: id, Size: 1}}
			c.SysProcAttr.GidMappings = []syscall.SysProcIDMap{{HostID: os.Getegid(), Size: 1}}
		}
		var out bytes.Buffer
		c.Stdout, c.Stderr = &out, &out
		if err := c.Start(); err != nil {
			t.Skip("nothing may be mounted here: ", err)
		}
		if err := c.Wait(); err != nil {
			t.Error(out.String())
		}
		return
	}
	mount(t, "", "/", unix.MS_REC|unix.MS_PRIVATE, "")
	for name, lay := range map[string]func(t *testing.T, dir string){
		"its own": func(t *testing.T, dir string) { mount(t, "tmpfs", dir, 0, "size=256k") },
		"the same, mounted again": func(t *testing.T, dir string) {
			disk := filepath.Join(filepath.Dir(dir), "disk")
			require.NoError(t, os.Mkdir(disk, 0o755))
			mount(t, disk, dir, unix.MS_BIND, "")
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "bench")
			require.NoError(t, os.Mkdir(dir, 0o755))
			lay(t, dir)
			for _, s := range [][]string{coasterSet, skiffSet, coasterSet} {
				replaced(t, dir, texts(s...))
				assert.Equal(t, treeOf(s...), tree(t, dir))
			}
		})
	}
	t.Run("full", func(t *testing.T) {
		dir := filepath.Join(t.TempDir(), "bench")
		require.NoError(t, os.Mkdir(dir, 0o755))
		mount(t, "tmpfs", dir, 0, "size=256k")
		replaced(t, dir, texts(coasterSet...))
		big := file{"tables.xlsx", func(w io.Writer) error {
			_, err := w.Write(make([]byte, 1<<20))
			return err
		}}
		_, err := writeAll(context.Background(), dir, append(texts(skiffSet...), big), true, quiet)
		assert.ErrorContains(t, err, filepath.Join(dir, "tables.xlsx")+": no space left on device; nothing was changed")
		assert.Equal(t, treeOf(coasterSet...), tree(t, dir))
	})
	t.Run("mounted within", func(t *testing.T) {
		dir := filepath.Join(t.TempDir(), "bench")
		replaced(t, dir, texts(coasterSet...))
		before := tree(t, dir)
		mount(t, "tmpfs", filepath.Join(dir, "svg"), 0, "size=256k")
		put(t, dir, "svg/mine.svg", "mine")
		_, err := writeAll(context.Background(), dir, texts(skiffSet...), true, quiet)
		assert.ErrorContains(t, err, "it cannot be written")
		require.NoError(t, unix.Unmount(filepath.Join(dir, "svg"), 0))
		assert.Equal(t, before, tree(t, dir))
	})
}

// mount mounts something until the test ends.
func mount(t *testing.T, what, where string, flags uintptr, data string) {
	t.Helper()
	if err := unix.Mount(what, where, what, flags, data); err != nil {
		t.Skipf("nothing may be mounted here: %v", err)
	}
	t.Cleanup(func() { _ = unix.Unmount(where, unix.MNT_DETACH) })
}
