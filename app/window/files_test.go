package window

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/settings"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/keep"
	"github.com/strakewright/strakewright/hull/source"
)

func TestLoadingPutsAnotherPlanInPlace(t *testing.T) {
	w := newWindow(t)
	old := w.desk.Session
	other := filepath.Join(t.TempDir(), "other.csv")
	f, err := os.Create(other)
	require.NoError(t, err)
	require.NoError(t, source.WritePoints(f, apptest.Wigley()))
	require.NoError(t, f.Close())
	load(w.desk, other)
	windowtest.Until(t, func() bool { return w.desk.Session != old })
	assert.Empty(t, w.desk.PlanLayer().Lines, "a hull source is one band")
	assert.Equal(t, -1, w.desk.Choice.Line)
	assert.NotNil(t, w.Canvas().Capture())
	settings.AddLine(w.desk)
	assert.Len(t, w.desk.PlanLayer().Lines, 1)
}

func TestLoadingABadFileLeavesThePlan(t *testing.T) {
	w := newWindow(t)
	var said string
	w.desk.Say = func(s string) { said = s }
	old := w.desk.Session
	bad := filepath.Join(t.TempDir(), "bad.csv")
	require.NoError(t, os.WriteFile(bad, []byte("frame,x_mm,y_mm,z_mm\nA,0,1,oak\n"), 0o600))
	load(w.desk, bad)
	windowtest.Until(t, func() bool { return said != "" })
	assert.Contains(t, said, "bad.csv")
	assert.Same(t, old, w.desk.Session)
}

func TestWhatIsBeingTypedIsSaved(t *testing.T) {
	w := newWindow(t)
	d := w.desk
	v := 1.0
	n := kit.NewLength(d.Notices, &d.Units, 0.1, func() float64 { return v }, func(mm float64) bool { v = mm; return true })
	w.SetContent(n.Box)
	n.Sync()
	w.Canvas().Focus(n.Entry)
	n.Entry.SetText("2.5")
	d.Save(func() {})
	assert.Equal(t, 2.5, v)
}

func TestTableIsExportedButNotOverAnother(t *testing.T) {
	w := newWindow(t)
	path := filepath.Join(t.TempDir(), "table.csv")
	write := func(p string, replace bool) error { return w.desk.Session.ExportTable(p, replace) }
	w.desk.WritePath(path, write)
	first, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.NotEmpty(t, first)
	w.desk.Nudge(3)
	w.desk.WritePath(path, write)
	again, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, first, again)
	test.Tap(windowtest.ButtonNamed(t, w.Canvas().Overlays().Top(), "Replace"))
	again, err = os.ReadFile(path)
	require.NoError(t, err)
	assert.NotEqual(t, first, again)
}

// lostWork leaves a recovery file beside a plan as a run of the program that was
// killed does: of a process that is gone. It holds the plan with strips so wide.
func lostWork(t *testing.T, path string, width float64, mark string) string {
	t.Helper()
	c := exec.Command(os.Args[0], "-test.run=^$")
	require.NoError(t, c.Run())
	gone := keep.NewOwner()
	gone.PID, gone.Mark = c.Process.Pid, mark
	p, err := hull.OpenFile(path)
	require.NoError(t, err)
	p.Layers[0].Stock.Width = width
	left := keep.Beside(path, gone.String()+".autosave")
	require.NoError(t, hull.SaveFile(left, p))
	return left
}

func TestUnsavedWorkIsOfferedAfterACrash(t *testing.T) {
	s := apptest.Session(t)
	left := lostWork(t, s.Path(), 5.5, "00000001")
	w, err := opened(test.NewApp(), s)
	require.NoError(t, err)
	assert.Equal(t, 5.0, w.desk.PlanLayer().Stock.Width)
	top := w.Canvas().Overlays().Top()
	require.NotNil(t, top)
	assert.Contains(t, windowtest.Labels(top), "were not saved before the program ended")
	assert.Contains(t, windowtest.Labels(top), "The plan's file is earlier: it was written on")
	test.Tap(windowtest.ButtonNamed(t, top, "Restore unsaved work"))
	assert.Equal(t, 5.5, w.desk.PlanLayer().Stock.Width)
	assert.True(t, s.Changed())
	assert.NoFileExists(t, left, "the session keeps it itself now")
	s.Close()
}

func TestAllUnsavedWorkIsOffered(t *testing.T) {
	s := apptest.Session(t)
	later := time.Now().Add(time.Hour)
	require.NoError(t, os.Chtimes(s.Path(), later, later)) // the plan's file is newer than both
	first := lostWork(t, s.Path(), 5.5, "00000001")
	second := lostWork(t, s.Path(), 5.6, "00000002")
	require.NoError(t, os.Chtimes(first, later.Add(-time.Minute), later.Add(-time.Minute)))
	w, err := opened(test.NewApp(), s)
	require.NoError(t, err)
	top := w.Canvas().Overlays().Top()
	require.NotNil(t, top)
	assert.Contains(t, windowtest.Labels(top), "latest of 2")
	assert.Contains(t, windowtest.Labels(top), "The plan's file is later")
	test.Tap(windowtest.ButtonNamed(t, top, "Discard"))
	assert.NoFileExists(t, first)
	assert.FileExists(t, second, "the word was of the first alone")
	top = w.Canvas().Overlays().Top()
	require.NotNil(t, top)
	test.Tap(windowtest.ButtonNamed(t, top, "Decide later"))
	assert.FileExists(t, second)
	assert.Nil(t, w.Canvas().Overlays().Top())
	s.Close()
	assert.FileExists(t, second)
}

// What goes on in another window is not offered as if it had ended.
func TestWorkUnderWayElsewhereIsNotOffered(t *testing.T) {
	s := apptest.Session(t)
	require.NoError(t, s.Edit("widen", func(p *hull.Plan) error { p.Layers[0].Stock.Width = 5.5; return nil }))
	require.NoError(t, s.KeepNow())
	again, err := app.Open(s.Path())
	require.NoError(t, err)
	w, err := opened(test.NewApp(), again)
	require.NoError(t, err)
	assert.Nil(t, w.Canvas().Overlays().Top())
	again.Close()
	s.Close()
}

// A failing autosave is shown until it is mended.
func TestAFailingAutosaveIsShownUntilItIsMended(t *testing.T) {
	s := apptest.Session(t)
	w, err := opened(test.NewApp(), s)
	require.NoError(t, err)
	dir := filepath.Dir(s.Path())
	require.NoError(t, os.Rename(dir, dir+".away"))
	require.NoError(t, os.WriteFile(dir, nil, 0o600)) // no folder any more
	require.NoError(t, s.Edit("widen", func(p *hull.Plan) error { p.Layers[0].Stock.Width = 5.5; return nil }))
	require.Error(t, s.KeepNow())
	shown := func() bool {
		return strings.Contains(windowtest.Labels(w.Content()), "Your changes are not being kept")
	}
	windowtest.Until(t, shown)
	w.desk.Status("something else")
	assert.True(t, shown())
	windowtest.Walk(w.Content(), func(o fyne.CanvasObject) {
		if l, ok := o.(*widget.Label); ok && strings.HasPrefix(l.Text, "Your changes are not being kept") {
			assert.True(t, l.Visible())
			assert.GreaterOrEqual(t, l.Size().Height, l.MinSize().Height, "it has the room that it needs")
		}
	})
	require.NoError(t, os.Remove(dir))
	require.NoError(t, os.Rename(dir+".away", dir))
	require.NoError(t, s.KeepNow())
	windowtest.Until(t, func() bool { return !shown() })
	s.Close()
}
