package app

import (
	"github.com/strakewright/strakewright/app/autosave"
	"github.com/strakewright/strakewright/hull/source"
	"os"
	"path/filepath"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"
)

func TestAutosaveComesSoonAfterAChange(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := opened(t)
		require.NoError(t, s.Edit("move", to(4, 26)))
		for i := range 10 { // someone who never pauses is autosaved all the same
			time.Sleep(autosave.Delay / 8)
			require.NoError(t, s.Edit("move", to(4, 27+float64(i)/10)))
		}
		synctest.Wait()
		first, _, err := source.Open(s.keeper.path)
		require.NoError(t, err)
		require.Greater(t, first.Layers[0].Lines[0].Handles[4].Down, 26.9)

		time.Sleep(autosave.Delay + time.Millisecond)
		synctest.Wait()
		kept, _, err := source.Open(s.keeper.path)
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
		time.Sleep(2 * autosave.Delay)
		synctest.Wait()
		require.NoFileExists(t, s.keeper.path)
		d.Done()
		time.Sleep(2 * autosave.Delay)
		synctest.Wait()
		require.FileExists(t, s.keeper.path)
	})
}

func TestNothingToLoseIsNotAutosaved(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := opened(t)
		require.NoError(t, s.Edit("move", to(4, 28)))
		s.Undo()
		time.Sleep(2 * autosave.Delay)
		synctest.Wait()
		require.NoFileExists(t, s.keeper.path)

		require.NoError(t, s.Edit("move", to(4, 28)))
		require.NoError(t, s.Save())
		time.Sleep(2 * autosave.Delay)
		synctest.Wait()
		require.NoFileExists(t, s.keeper.path)
	})
}

func TestAnAutosaveThatFailsIsTold(t *testing.T) {
	s := opened(t)
	require.NoError(t, s.Edit("move", to(4, 28)))
	require.NoError(t, os.RemoveAll(filepath.Dir(s.Path())))
	require.NoError(t, os.WriteFile(filepath.Dir(s.Path()), nil, 0o600)) // no longer a folder
	var told []error
	s.OnAutosave(func(err error) { told = append(told, err) })
	require.ErrorContains(t, s.KeepNow(), "autosave")
	require.ErrorContains(t, s.AutosaveError(), "autosave")
	require.Len(t, told, 1)

	require.NoError(t, os.Remove(filepath.Dir(s.Path())))
	require.NoError(t, os.Mkdir(filepath.Dir(s.Path()), 0o700))
	require.NoError(t, s.KeepNow())
	require.Len(t, told, 2)
	require.NoError(t, told[1], "it is mended")
}

// An autosave that failed is retried automatically.
func TestAnAutosaveIsTriedAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := opened(t)
		dir := filepath.Dir(s.Path())
		require.NoError(t, s.Edit("move", to(4, 28)))
		require.NoError(t, os.Rename(dir, dir+".away"))
		require.NoError(t, os.WriteFile(dir, nil, 0o600))
		time.Sleep(autosave.Delay + time.Millisecond)
		synctest.Wait()
		require.Error(t, s.AutosaveError())
		require.NoError(t, os.Remove(dir))
		require.NoError(t, os.Rename(dir+".away", dir))
		time.Sleep(autosave.Delay + time.Millisecond)
		synctest.Wait()
		require.NoError(t, s.AutosaveError())
		require.FileExists(t, s.keeper.path)
	})
}
