package trace

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
)

// paperAt writes an empty sheet and opens it.
func paperAt(t *testing.T, path string, w, h int) *Picture {
	t.Helper()
	f, err := os.Create(path)
	require.NoError(t, err)
	require.NoError(t, png.Encode(f, image.NewGray(image.Rect(0, 0, w, h))))
	require.NoError(t, f.Close())
	p, err := Open(t.Context(), path, 1)
	require.NoError(t, err)
	return p
}

// worked is a tracing with everything that one can hold.
func worked(t *testing.T, dir string) *Trace {
	t.Helper()
	tr := New()
	tr.AddPicture(paperAt(t, filepath.Join(dir, "a.png"), 1000, 1000))
	c, err := ByTwo(Pt(100, 900), Pt(100, 100), 80, Upright)
	require.NoError(t, err)
	require.NoError(t, tr.Calibrate(c))
	require.NoError(t, tr.SetCentre(Pt(500, 0)))
	require.NoError(t, tr.SetBase(Pt(0, 900)))
	for i, w := range []float64{20, 30, 25} {
		require.NoError(t, tr.AddFrame([]string{"A", "B", "C"}[i], 30*float64(i)))
		clickMM(t, tr, box(w)...)
	}
	require.NoError(t, tr.SetKnuckle(0, 2, true))
	require.NoError(t, tr.Move(0, 1, Pt(751.25, 500.5), true))
	tr.AddPicture(paperAt(t, filepath.Join(dir, "b.png"), 800, 600))
	c, err = ByFour([4]Point{{100, 100}, {700, 120}, {690, 500}, {90, 480}}, 60, 40)
	require.NoError(t, err)
	require.NoError(t, tr.Calibrate(c))
	require.NoError(t, tr.AddFrame("D", 90))
	require.NoError(t, tr.SetOwn(true))
	require.NoError(t, tr.SetCentre(Pt(400, 300)))
	require.NoError(t, tr.SetBase(Pt(400, 480)))
	require.NoError(t, tr.Click(Pt(600, 200), false))
	require.NoError(t, tr.Click(Pt(410, 470), false))
	tr.SetBow(hull.BowLast)
	return tr
}

// resumed opens a tracing from its file together with its pictures.
func resumed(t *testing.T, path string) *Trace {
	t.Helper()
	k, err := ReadKept(path)
	require.NoError(t, err)
	var ps []*Picture
	for _, s := range k.Sources(path) {
		p, err := Open(t.Context(), s.Path, s.Page)
		require.NoError(t, err)
		ps = append(ps, p)
	}
	tr, err := Resume(k, ps)
	require.NoError(t, err)
	return tr
}

func TestATracingIsResumedAsItWas(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "plans")
	require.NoError(t, os.Mkdir(dir, 0o700))
	tr := worked(t, dir)
	k := NewKeeper("")
	k.Note(tr)
	k.Flush()
	require.NoError(t, k.Err())
	assert.Equal(t, filepath.Join(dir, "a.png"+KeptSuffix), k.Path())
	moved := dir + " moved" // the folder may move as a whole
	require.NoError(t, os.Rename(dir, moved))
	path, ok := FindKept(filepath.Join(moved, "a.png"))
	require.True(t, ok)
	back := resumed(t, path)
	require.Len(t, back.Grounds(), 2)
	for i, g := range tr.Grounds() {
		assert.Equal(t, g.Calibration, back.Grounds()[i].Calibration)
		assert.Equal(t, g.Datum, back.Grounds()[i].Datum)
	}
	assert.Equal(t, tr.Frames(), back.Frames())
	assert.Equal(t, tr.Bow(), back.Bow())
	assert.Equal(t, 3, back.Frame())
	assert.False(t, back.CanUndo())
}

func TestATracingIsWrittenByItself(t *testing.T) {
	dir := t.TempDir()
	tr := New()
	k := NewKeeper("")
	tr.AddPicture(paperAt(t, filepath.Join(dir, "a.png"), 1000, 1000))
	k.Note(tr)
	k.Flush()
	assert.Empty(t, k.Path(), "a picture that is only looked at leaves no file")
	require.NoError(t, tr.SetCentre(Pt(500, 0)))
	k.Note(tr)
	require.Eventually(t, func() bool { _, ok := FindKept(filepath.Join(dir, "a.png")); return ok }, 5*time.Minute, 20*time.Millisecond)
	assert.True(t, resumed(t, k.Path()).Lines().HasCentre)
}

func TestATracingOfAnotherWindowIsNotOverwritten(t *testing.T) {
	dir := t.TempDir()
	tr := worked(t, dir)
	k := NewKeeper("")
	k.Note(tr)
	k.Flush()
	require.NoError(t, os.WriteFile(k.Path(), []byte("other"), 0o600))
	k.Note(tr)
	k.Flush()
	assert.ErrorContains(t, k.Err(), "another program or window")
	data, err := os.ReadFile(k.Path())
	require.NoError(t, err)
	assert.Equal(t, "other", string(data))
	aside, err := PutAside(k.Path())
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(k.Path(), []byte("more"), 0o600))
	again, err := PutAside(k.Path())
	require.NoError(t, err)
	assert.NotEqual(t, aside, again)
}

// Everything is undone and another picture opened: the tracing of the first is
// not overwritten.
func TestATracingOfAnotherPictureHasItsOwnFile(t *testing.T) {
	dir := t.TempDir()
	tr := worked(t, dir)
	k := NewKeeper("")
	k.Note(tr)
	k.Flush()
	first, err := os.ReadFile(k.Path())
	require.NoError(t, err)
	for tr.CanUndo() {
		_, _ = tr.Undo()
		k.Note(tr)
	}
	tr.AddPicture(paperAt(t, filepath.Join(dir, "c.png"), 600, 600))
	k.Note(tr)
	require.NoError(t, tr.SetCentre(Pt(300, 0)))
	k.Note(tr)
	k.Flush()
	require.NoError(t, k.Err())
	assert.Equal(t, filepath.Join(dir, "c.png"+KeptSuffix), k.Path())
	still, err := os.ReadFile(filepath.Join(dir, "a.png"+KeptSuffix))
	require.NoError(t, err)
	assert.Equal(t, first, still)
}

func TestATracingGoesToTheCacheWhereItsFolderCannotBeWritten(t *testing.T) {
	cache := t.TempDir()
	t.Setenv("XDG_CACHE_HOME", cache)
	t.Setenv("HOME", cache)
	t.Setenv("LocalAppData", cache)
	dir := filepath.Join(t.TempDir(), "stick")
	require.NoError(t, os.Mkdir(dir, 0o700))
	tr := worked(t, dir)
	require.NoError(t, os.RemoveAll(dir)) // as if the drive had been unplugged
	for range 2 {                         // the second time another tracing is there already
		k := NewKeeper("")
		k.Note(tr)
		k.Flush()
		require.NoError(t, k.Err())
		assert.True(t, strings.HasPrefix(k.Path(), cache), k.Path())
		path, ok := FindKept(filepath.Join(dir, "a.png"))
		assert.True(t, ok)
		assert.Equal(t, k.Path(), path)
		_, err := ReadKept(path)
		require.NoError(t, err)
	}
	old, err := filepath.Glob(filepath.Join(filepath.Dir(must(FindKept(filepath.Join(dir, "a.png")))), "*.old"))
	require.NoError(t, err)
	assert.Len(t, old, 1, "the first is put aside")
}

func must(path string, ok bool) string {
	if !ok {
		panic("no tracing")
	}
	return path
}

func TestDamagedTracingsAreToldOf(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.png"+KeptSuffix)
	require.NoError(t, worked(t, dir).Keep(path).Write(path))
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	whole := string(data)
	for says, change := range map[string]func(string) string{
		"not a tracing":    func(string) string { return "{}" },
		"or it is damaged": func(s string) string { return s[:len(s)/2] },
		"newer version":    func(s string) string { return strings.Replace(s, `"version": 1`, `"version": 2`, 1) },
		"has no picture":   func(s string) string { return strings.Replace(s, `"picture": 1`, `"picture": 7`, 1) },
		"there is a":       func(s string) string { return strings.Replace(s, `"name": "B"`, `"name": "A"`, 1) },
		"the distance is":  func(s string) string { return strings.Replace(s, `"distance": 80`, `"distance": -80`, 1) },
		"has no size":      func(s string) string { return strings.Replace(s, "1000", "0", 1) },
	} {
		changed := change(whole)
		require.NotEqual(t, whole, changed, says)
		require.NoError(t, os.WriteFile(path, []byte(changed), 0o600))
		_, err := ReadKept(path)
		require.ErrorContains(t, err, says)
		assert.NotContains(t, err.Error(), "\n")
	}
	require.NoError(t, os.WriteFile(path, data, 0o600))
	k, err := ReadKept(path)
	require.NoError(t, err)
	_, err = Resume(k, nil)
	assert.ErrorContains(t, err, "missing")
	other := newPicture(image.NewGray(image.Rect(0, 0, 500, 900)), "other")
	_, err = Resume(k, []*Picture{other, other})
	assert.ErrorContains(t, err, "not the picture")
}
