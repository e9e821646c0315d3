package window

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/source"
)

func TestPlanOpenElsewhereIsWarnedOf(t *testing.T) {
	s := apptest.Session(t)
	mark := filepath.Join(filepath.Dir(s.Path()), "."+filepath.Base(s.Path())+".open")
	require.NoError(t, os.WriteFile(mark, []byte(`{"open":[{"pid":7,"host":"the other bench","since":"2026-03-01T10:00:00Z"}]}`), 0o600))
	a := test.NewApp()
	defer a.Quit()
	w, err := opened(a, s)
	require.NoError(t, err)
	require.NotNil(t, w.Canvas().Overlays().Top())
	assert.Contains(t, windowtest.Labels(w.Canvas().Overlays().Top()), "the other bench")
	text, err := os.ReadFile(mark)
	require.NoError(t, err)
	assert.Equal(t, 2, strings.Count(string(text), `"pid"`), "it is marked as open here too")
	w.desk.Gone = true
	w.desk.Mark.LetGo()
	text, err = os.ReadFile(mark)
	require.NoError(t, err)
	assert.Equal(t, 1, strings.Count(string(text), `"pid"`))
}

// What can be opened is listed whatever the case of its ending, and a picture goes
// to be traced.
func TestWhatCanBeOpened(t *testing.T) {
	for _, name := range []string{"a.strakeplan", "a.csv", "a.svg", "a.SVG", "a.dxf", "a.STL", "a.obj", "a.3mf", "a.Png", "a.jpg", "a.PDF"} {
		u := storage.NewFileURI("/" + strings.Replace(name, "Png", "PNG", 1))
		assert.True(t, openable.Matches(u), name)
	}
	assert.False(t, openable.Matches(storage.NewFileURI("/a.exe")))
	w := newWindow(t)
	var traced string
	w.desk.Picture = func(path string) { traced = path }
	load(w.desk, "/a.png.straketrace")
	assert.Equal(t, "/a.png", traced, "a tracing is gone on with on its picture")
	load(w.desk, "body plan.PNG")
	assert.Equal(t, "body plan.PNG", traced)
}

// A drawing that the program is started on is looked at once what a crash left has
// been answered.
func TestADrawingWaitsForWhatACrashLeft(t *testing.T) {
	w := newWindow(t)
	path := windowtest.DrawnFrames(t, "centre", func(i int) string { return fmt.Sprintf("%c-x-%d", 'A'+i, 40*i) })
	c := source.Check(path, drawing.Options{})
	ask := dialog.NewConfirm("Left", "Take it back?", func(bool) { w.desk.Offered = nil }, w)
	ask.Show()
	w.desk.Offered = ask
	lookAt(w.desk, path, &c)
	shown := len(w.Canvas().Overlays().List())
	assert.Equal(t, 1, shown, "nothing is laid over the question")
	ask.Confirm()
	windowtest.Until(t, func() bool {
		tops := w.Canvas().Overlays().List()
		return len(tops) == 1 && w.desk.Offered == nil
	})
}

// A double click on a file that cannot be read opens a window that says so.
func TestAFileThatCannotBeOpenedIsSaidInTheWindow(t *testing.T) {
	w := newWindow(t)
	path := filepath.Join(t.TempDir(), "torn.strakeplan")
	require.NoError(t, os.WriteFile(path, []byte("{"), 0o600))
	_, why := app.Open(path)
	require.Error(t, why)
	refused(w.desk, path, why)
	top := w.Canvas().Overlays().Top()
	require.NotNil(t, top)
	said := windowtest.Labels(top)
	assert.Contains(t, said, "torn.strakeplan cannot be opened")
	assert.Contains(t, said, kit.Sentence(why))
	test.Tap(windowtest.ButtonNamed(t, top, "Open another file…"))
	now := w.Canvas().Overlays().Top()
	require.NotNil(t, now)
	assert.NotSame(t, top, now, "it asks which")
}
