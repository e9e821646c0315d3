package app

import (
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/keep"
)

// gone is the owner of work by a process that no longer runs.
func gone(t *testing.T) keep.Owner {
	t.Helper()
	o := keep.NewOwner()
	o.PID = ended(t)
	return o
}

// crashed leaves what a session that ended badly keeps of a plan, with the
// handle of frame 4 moved, and returns the plan's path and the recovery file.
func crashed(t *testing.T) (path, left string) {
	t.Helper()
	s := opened(t)
	require.NoError(t, s.Edit("move", to(4, 28)))
	require.NoError(t, s.KeepNow())
	return s.Path(), abandon(t, s)
}

// abandon turns a session's recovery file into that of a process that has ended.
func abandon(t *testing.T, s *Session) string {
	t.Helper()
	left := recoveryPath(s.Path(), gone(t))
	data, err := os.ReadFile(s.keeper.path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(left, data, 0o600))
	require.NoError(t, os.Remove(s.keeper.path))
	return left
}

func TestRecover(t *testing.T) {
	path, left := crashed(t)
	found := Recoverable(path)
	require.Len(t, found, 1)
	require.Equal(t, left, found[0].Path)
	require.Equal(t, filepath.Dir(path), filepath.Dir(left), "it stands beside the plan")
	require.Contains(t, found[0].Story(), "were not saved before the program ended")

	s, err := Open(path)
	require.NoError(t, err)
	t.Cleanup(s.Close)
	require.NoError(t, s.Recover(found[0]))
	require.True(t, s.Changed())
	require.Equal(t, path, s.Path())
	require.InDelta(t, 28, downAt(s, 4), 1e-6)
	require.NoFileExists(t, left)
	require.FileExists(t, s.keeper.path, "kept anew, since it is not yet saved")
	require.NoError(t, s.Save())
	require.NoFileExists(t, s.keeper.path)
	require.Empty(t, Recoverable(path))
}

func TestWhatIsNotRecoverable(t *testing.T) {
	s := opened(t)
	require.Empty(t, Recoverable(s.Path()), "there is nothing")

	require.NoError(t, s.Edit("move", to(4, 28)))
	require.NoError(t, s.KeepNow())
	require.Empty(t, Recoverable(s.Path()), "the session goes on")
	require.FileExists(t, s.keeper.path)

	path, left := crashed(t)
	require.NoError(t, hull.SaveFile(left, wigley()))
	require.Empty(t, Recoverable(path), "it holds nothing else than the plan")
	require.NoFileExists(t, left)

	path, left = crashed(t)
	require.NoError(t, os.WriteFile(left, []byte("{"), 0o600))
	require.Empty(t, Recoverable(path), "it cannot be read")
	require.FileExists(t, left, "but perhaps by another version")
}

// Unsaved work is offered whether the plan's file is older or newer, and both
// are mentioned.
func TestUnsavedWorkIsOfferedOlderOrNewer(t *testing.T) {
	path, left := crashed(t)
	at := time.Date(2026, 3, 1, 19, 30, 0, 0, time.Local)
	require.NoError(t, os.Chtimes(left, at, at))
	for _, by := range []time.Duration{-time.Hour, time.Hour} {
		require.NoError(t, os.Chtimes(path, at.Add(by), at.Add(by)))
		found := Recoverable(path)
		require.Len(t, found, 1)
		require.True(t, found[0].Kept.Equal(at))
		require.True(t, found[0].Saved.Equal(at.Add(by)))
		require.Contains(t, found[0].Story(), "1 March 2026, 19:30:00")
		require.Contains(t, found[0].Story(), at.Add(by).Format("15:04:05"))
	}
}

// Everything left is offered, and each answer removes one.
func TestAllUnsavedWorkIsFound(t *testing.T) {
	path, first := crashed(t)
	s, err := Open(path)
	require.NoError(t, err)
	require.NoError(t, s.Edit("move", to(4, 29)))
	require.NoError(t, s.KeepNow())
	second := abandon(t, s)
	later := time.Now().Add(time.Hour)
	require.NoError(t, os.Chtimes(first, later, later))
	found := Recoverable(path)
	require.Len(t, found, 2)
	require.Equal(t, first, found[0].Path, "the latest first")
	require.NoError(t, Discard(found[0]))
	found = Recoverable(path)
	require.Len(t, found, 1)
	require.Equal(t, second, found[0].Path)

	// Sessions that come and go meanwhile leave it alone.
	for _, change := range []bool{false, true} {
		other, err := Open(path)
		require.NoError(t, err)
		if change {
			require.NoError(t, other.Edit("move", to(3, 28)))
			require.NoError(t, other.KeepNow())
			require.NoError(t, other.Save())
		}
		other.Close()
		require.FileExists(t, second)
	}
}

// A note from a shell, or a second session that closes, leaves alone what
// another session keeps.
func TestEachSessionKeepsItsOwn(t *testing.T) {
	path := benchPlan(t)
	window, err := Open(path)
	require.NoError(t, err)
	defer window.Close()
	require.NoError(t, window.Edit("title", title("Hoy")))
	require.NoError(t, window.KeepNow())
	require.NoError(t, Amend(t.Context(), path, func() {}, func(s *Session) error { return s.Note(hull.Port, gluedOn("2026-03-01", "1.01")) }))
	require.FileExists(t, window.keeper.path)
	second, err := Open(path)
	require.NoError(t, err)
	require.NoError(t, second.Edit("title", title("Lighter")))
	require.NoError(t, second.KeepNow())
	second.Close()
	require.FileExists(t, window.keeper.path)
	left := abandon(t, window)
	found := Recoverable(path)
	require.Len(t, found, 1)
	require.Equal(t, left, found[0].Path)
}

// Changes made through a link are offered under the real name, and the reverse.
func TestUnsavedWorkThroughALink(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("links need a privilege")
	}
	real := benchPlan(t)
	link := filepath.Join(t.TempDir(), "link.strakeplan")
	require.NoError(t, os.Symlink(real, link))
	s, err := Open(link)
	require.NoError(t, err)
	defer s.Close()
	require.NoError(t, s.Edit("title", title("Hoy")))
	require.NoError(t, s.KeepNow())
	left := abandon(t, s)
	for _, path := range []string{real, link} {
		found := Recoverable(path)
		require.Len(t, found, 1)
		require.Equal(t, left, found[0].Path)
	}
}

// Work left on another computer is offered with a remark about that, and only
// the builder's decision removes it.
func TestUnsavedWorkOfAnotherComputer(t *testing.T) {
	path, left := crashed(t)
	far := gone(t)
	far.Host = "the-shed"
	require.NoError(t, os.Rename(left, recoveryPath(path, far)))
	found := Recoverable(path)
	require.Len(t, found, 1)
	require.Contains(t, found[0].Story(), "another computer, the-shed, where the plan may still be open")
	s, err := Open(path)
	require.NoError(t, err)
	t.Cleanup(s.Close)
	require.NoError(t, s.Recover(found[0]))
	require.FileExists(t, found[0].Path)
	require.NoError(t, Discard(found[0]))
	require.NoFileExists(t, found[0].Path)
}

// A recovery file whose process cannot be seen, as from another container, but
// holds it, is in use.
func TestUnsavedWorkThatIsHeldIsNotOffered(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no lock lies on the file there")
	}
	path, left := crashed(t)
	release := keep.HoldAlive(left)
	require.Empty(t, Recoverable(path))
	release()
	require.Len(t, Recoverable(path), 1)
}

// What earlier versions kept, one file for all who had the plan open, is found.
func TestUnsavedWorkOfEarlierVersions(t *testing.T) {
	path, left := crashed(t)
	earlier := filepath.Join(filepath.Dir(path), ".wigley.strakeplan.autosave")
	require.NoError(t, os.Rename(left, earlier))
	found := Recoverable(path)
	require.Len(t, found, 1)
	require.Equal(t, earlier, found[0].Path)
	s, err := Open(path)
	require.NoError(t, err)
	require.NoError(t, s.Save())
	s.Close()
	require.FileExists(t, earlier)
	holdersOf(t, path, Holder{PID: os.Getppid(), Host: hostName(), Start: keep.ProcessStart(os.Getppid())})
	require.Empty(t, Recoverable(path), "whoever has it open may use it")
}

func TestRecoverAPlanNeverSaved(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir()) // Linux
	t.Setenv("HOME", t.TempDir())           // macOS
	t.Setenv("LocalAppData", t.TempDir())   // Windows
	require.Empty(t, Recoverable(""))

	s, err := Open(points(t))
	require.NoError(t, err)
	t.Cleanup(s.Close)
	require.NoError(t, s.Edit("stock", func(p *hull.Plan) error { p.Layers[0].Stock.Width = 4; return nil }))
	require.NoError(t, s.KeepNow())
	require.FileExists(t, s.keeper.path)
	require.Empty(t, Recoverable(""), "the process that writes it still runs")
	data, err := os.ReadFile(s.keeper.path)
	require.NoError(t, err)

	lost := abandon(t, s)
	earlier := filepath.Join(unsavedFolder(), unsavedPrefix+strconv.Itoa(ended(t))+Extension+autosaveSuffix)
	require.NoError(t, os.WriteFile(earlier, data, 0o600))
	at := time.Now().Add(-time.Hour)
	require.NoError(t, os.Chtimes(earlier, at, at))
	found := Recoverable("")
	require.Len(t, found, 2, "one of them of an earlier version")
	require.Equal(t, lost, found[0].Path)
	require.Equal(t, earlier, found[1].Path)
	require.Contains(t, found[0].Story(), "never saved under a name")

	again, err := Open(points(t))
	require.NoError(t, err)
	t.Cleanup(again.Close)
	require.NoError(t, again.Recover(found[0]))
	require.Equal(t, 4.0, again.Plan().Layers[0].Stock.Width)
	require.True(t, again.Changed())
	require.FileExists(t, again.keeper.path, "kept anew before the old one goes")
	require.NoFileExists(t, lost)
	require.FileExists(t, earlier)
}

func TestDiscard(t *testing.T) {
	path, left := crashed(t)
	require.Error(t, Discard(Recovery{Path: path}), "a plan is not a recovery file")
	require.FileExists(t, path)
	require.NoError(t, Discard(Recovery{Path: left}))
	require.Empty(t, Recoverable(path))
}

// Every name that a plan may have leaves room for our files beside it.
func TestUnsavedWorkOfAPlanWithALongName(t *testing.T) {
	s := opened(t)
	name := ""
	for len(name)+len("ß")+len(Extension) <= 255 {
		name += "ß"
	}
	path := filepath.Join(filepath.Dir(s.Path()), name+Extension)
	require.NoError(t, s.SaveAs(path, false))
	require.NoError(t, s.Edit("move", to(4, 28)))
	require.NoError(t, s.KeepNow())
	abandon(t, s)
	assert.Len(t, Recoverable(path), 1)
}
