package app

import (
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"strakewright/hull"
)

func TestAutosaveComesSoonAfterAChange(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := opened(t)
		require.NoError(t, s.Edit("move", to(4, 26)))
		for i := range 10 { // one who never rests is autosaved all the same
			time.Sleep(keepDelay / 8)
			require.NoError(t, s.Edit("move", to(4, 27+float64(i)/10)))
		}
		synctest.Wait()
		first, err := Read(s.keeper.path)
		require.NoError(t, err)
		require.Greater(t, first.Layers[0].Lines[0].Handles[4].Down, 26.9)

		time.Sleep(keepDelay + time.Millisecond)
		synctest.Wait()
		kept, err := Read(s.keeper.path)
		require.NoError(t, err)
		require.True(t, same(kept, s.Plan()))
		require.NoError(t, s.AutosaveError())
	})
}

func TestADragIsAutosavedAtItsEnd(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := opened(t)
		d := s.Begin("drag")
		require.NoError(t, d.Try(to(4, 28)))
		time.Sleep(2 * keepDelay)
		synctest.Wait()
		require.NoFileExists(t, s.keeper.path)
		d.Done()
		time.Sleep(2 * keepDelay)
		synctest.Wait()
		require.FileExists(t, s.keeper.path)
	})
}

func TestNothingToLoseIsNotAutosaved(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := opened(t)
		require.NoError(t, s.Edit("move", to(4, 28)))
		s.Undo()
		time.Sleep(2 * keepDelay)
		synctest.Wait()
		require.NoFileExists(t, s.keeper.path)

		require.NoError(t, s.Edit("move", to(4, 28)))
		require.NoError(t, s.Save())
		time.Sleep(2 * keepDelay)
		synctest.Wait()
		require.NoFileExists(t, s.keeper.path)
	})
}

func TestAnAutosaveThatFailsIsTold(t *testing.T) {
	s := opened(t)
	require.NoError(t, s.Edit("move", to(4, 28)))
	require.NoError(t, os.RemoveAll(filepath.Dir(s.Path())))
	require.NoError(t, os.WriteFile(filepath.Dir(s.Path()), nil, 0o600)) // no folder any more
	s.keeper.write()
	require.ErrorContains(t, s.AutosaveError(), "autosave")
}

// crashed leaves the autosave of a session that did not end well.
func crashed(t *testing.T) *Session {
	t.Helper()
	s := opened(t)
	require.NoError(t, s.Edit("move", to(4, 28)))
	s.keeper.write()
	return s
}

func TestRecover(t *testing.T) {
	lost := crashed(t)
	left, ok := Recoverable(lost.Path())
	require.True(t, ok)
	require.Equal(t, filepath.Dir(lost.Path()), filepath.Dir(left), "it stands beside the plan")

	s, err := Open(lost.Path())
	require.NoError(t, err)
	t.Cleanup(s.Close)
	require.NoError(t, s.Recover(left))
	require.True(t, s.Changed())
	require.Equal(t, lost.Path(), s.Path())
	require.InDelta(t, 28, downAt(s, 4), 1e-6)
	require.FileExists(t, left, "not yet saved")
	require.NoError(t, s.Save())
	require.NoFileExists(t, left)
	_, ok = Recoverable(s.Path())
	require.False(t, ok)
}

func TestWhatIsNotRecoverable(t *testing.T) {
	_, ok := Recoverable(opened(t).Path())
	require.False(t, ok, "there is no autosave")

	s := crashed(t)
	later := time.Now().Add(time.Hour)
	require.NoError(t, os.Chtimes(s.Path(), later, later))
	_, ok = Recoverable(s.Path())
	require.False(t, ok, "the plan was saved since")

	s = crashed(t)
	require.NoError(t, hull.SaveFile(s.keeper.path, s.saved))
	_, ok = Recoverable(s.Path())
	require.False(t, ok, "it holds nothing else than the plan")

	s = crashed(t)
	require.NoError(t, os.WriteFile(s.keeper.path, []byte("{"), 0o600))
	_, ok = Recoverable(s.Path())
	require.False(t, ok, "it cannot be read")
}

func TestRecoverAPlanNeverSaved(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir()) // Linux
	t.Setenv("HOME", t.TempDir())           // macOS
	t.Setenv("LocalAppData", t.TempDir())   // Windows
	_, ok := Recoverable("")
	require.False(t, ok)

	s, err := Open(points(t))
	require.NoError(t, err)
	t.Cleanup(s.Close)
	require.NoError(t, s.Edit("stock", func(p *hull.Plan) error { p.Layers[0].Stock.Width = 4; return nil }))
	s.keeper.write()
	require.FileExists(t, s.keeper.path)
	_, ok = Recoverable("")
	require.False(t, ok, "the process that writes it still runs")

	const noProcess = 1 << 30 // more than any system gives
	lost := filepath.Join(unsavedFolder(), unsavedPrefix+strconv.Itoa(noProcess)+Extension+autosaveSuffix)
	require.NoError(t, os.Rename(s.keeper.path, lost))
	left, ok := Recoverable("")
	require.True(t, ok)
	require.Equal(t, lost, left)

	again, err := Open(points(t))
	require.NoError(t, err)
	t.Cleanup(again.Close)
	require.NoError(t, again.Recover(left))
	require.Equal(t, 4.0, again.Plan().Layers[0].Stock.Width)
	require.True(t, again.Changed())
	require.FileExists(t, again.keeper.path, "kept anew before the old one goes")
	require.NoFileExists(t, lost)
}

func TestDiscard(t *testing.T) {
	s := crashed(t)
	require.Error(t, Discard(s.Path()), "a plan is no autosave")
	require.FileExists(t, s.Path())
	require.NoError(t, Discard(s.keeper.path))
	_, ok := Recoverable(s.Path())
	require.False(t, ok)
}
