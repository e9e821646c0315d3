package window

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strakewright/app"
	"strakewright/hull"
)

func TestLoadingPutsAnotherPlanInPlace(t *testing.T) {
	w := newWindow(t)
	old := w.desk.s
	other := filepath.Join(t.TempDir(), "other.csv")
	f, err := os.Create(other)
	require.NoError(t, err)
	require.NoError(t, hull.WritePoints(f, wigley()))
	require.NoError(t, f.Close())
	w.desk.load(other)
	until(t, func() bool { return w.desk.s != old })
	assert.Empty(t, w.desk.planLayer().Lines, "a hull source is one band")
	assert.Equal(t, -1, w.desk.choice.Line)
	for _, v := range w.desk.views {
		assert.NotNil(t, v.(*board).paint(300, 120))
	}
	w.desk.addLine()
	assert.Len(t, w.desk.planLayer().Lines, 1)
}

func TestLoadingABadFileLeavesThePlan(t *testing.T) {
	w := newWindow(t)
	var said string
	w.desk.say = func(s string) { said = s }
	old := w.desk.s
	bad := filepath.Join(t.TempDir(), "bad.csv")
	require.NoError(t, os.WriteFile(bad, []byte("frame,x_mm,y_mm,z_mm\nA,0,1,oak\n"), 0o600))
	w.desk.load(bad)
	until(t, func() bool { return said != "" })
	assert.Contains(t, said, "bad.csv")
	assert.Same(t, old, w.desk.s)
}

func TestWhatIsBeingTypedIsSaved(t *testing.T) {
	w := newWindow(t)
	d := w.desk
	v := 1.0
	n := newLength(d, 0.1, func() float64 { return v }, func(mm float64) bool { v = mm; return true })
	w.SetContent(n.box)
	n.sync()
	w.Canvas().Focus(n.entry)
	n.entry.SetText("2.5")
	d.save(func() {})
	assert.Equal(t, 2.5, v)
}

func TestTableIsExportedButNotOverAnother(t *testing.T) {
	w := newWindow(t)
	path := filepath.Join(t.TempDir(), "table.csv")
	write := func(p string, replace bool) error { return w.desk.s.ExportTable(p, replace) }
	w.desk.writePath(path, write)
	first, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.NotEmpty(t, first)
	w.desk.nudge(3)
	w.desk.writePath(path, write)
	again, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, first, again)
	test.Tap(buttonNamed(t, w.Canvas().Overlays().Top(), "Replace"))
	again, err = os.ReadFile(path)
	require.NoError(t, err)
	assert.NotEqual(t, first, again)
}

func TestAutosaveIsOfferedBackAfterACrash(t *testing.T) {
	if testing.Short() {
		t.Skip("waits for the autosave")
	}
	s := newSession(t)
	require.NoError(t, s.Edit("widen", func(p *hull.Plan) error { p.Layers[0].Stock.Width = 5.5; return nil }))
	require.Eventually(t, func() bool { _, ok := app.Recoverable(s.Path()); return ok }, 5*time.Minute, 50*time.Millisecond)
	again, err := app.Open(s.Path()) // the first session never closed
	require.NoError(t, err)
	w, err := New(test.NewApp(), again)
	require.NoError(t, err)
	assert.Equal(t, 5.0, w.desk.planLayer().Stock.Width)
	require.NotNil(t, w.Canvas().Overlays().Top())
	test.Tap(buttonNamed(t, w.Canvas().Overlays().Top(), "Take back"))
	assert.Equal(t, 5.5, w.desk.planLayer().Stock.Width)
	assert.True(t, again.Changed())
	again.Close()
}
