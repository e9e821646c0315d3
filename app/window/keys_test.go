package window

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/window/settings"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

// press types a key as the screen does: to what has the focus, or else to the window.
func press(w *mainWindow, k fyne.KeyName) {
	if f := w.Canvas().Focused(); f != nil {
		f.TypedKey(&fyne.KeyEvent{Name: k})
		return
	}
	w.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: k})
}

func TestKeysActOnWhatHasTheFocusAlone(t *testing.T) {
	w := newWindow(t)
	w.Canvas().Unfocus()
	before, choice := w.desk.Plan(), w.desk.Choice
	for _, k := range []fyne.KeyName{fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight, fyne.KeyHome} {
		press(w, k)
	}
	assert.Same(t, before, w.desk.Plan())
	assert.Equal(t, choice, w.desk.Choice)
	w.Canvas().Focus(w.Long)
	press(w, fyne.KeyRight)
	assert.Equal(t, choice.Frame+1, w.desk.Choice.Frame)
}

func TestReturnPressesTheMainButtonOfADialog(t *testing.T) {
	w := newWindow(t)
	top := w.Canvas().Overlays().Top
	w.desk.Say("The hull folds at frame K.")
	require.NotNil(t, top())
	press(w, fyne.KeyReturn)
	assert.Nil(t, top(), "an error")

	exportTable(w.desk)
	require.NotNil(t, top())
	press(w, fyne.KeyReturn)
	assert.Nil(t, top(), "a file's name")
	table := filepath.Join(w.desk.Folder(), w.desk.FileName()+" strakes.csv")
	assert.FileExists(t, table)

	require.NoError(t, os.WriteFile(table, []byte("of another"), 0o600))
	exportTable(w.desk)
	press(w, fyne.KeyReturn)
	press(w, fyne.KeyReturn)
	assert.NotNil(t, top(), "what cannot be undone wants more than a Return")
	press(w, fyne.KeyEscape)
	kept, err := os.ReadFile(table)
	require.NoError(t, err)
	assert.Equal(t, "of another", string(kept))

	w.desk.Nudge(1)
	w.desk.AskFirst("close", func() {})
	press(w, fyne.KeyReturn)
	assert.Nil(t, top())
	assert.False(t, w.desk.Session.Changed(), "it saves")
}

func TestReturnBeginsTheLayingOfLines(t *testing.T) {
	w := newWindow(t)
	settings.LayLines(w.desk)
	asked := w.Canvas().Overlays().Top()
	press(w, fyne.KeyReturn)
	now := func() fyne.CanvasObject { return w.Canvas().Overlays().Top() }
	windowtest.Until(t, func() bool { return now() != asked && now() != nil && !w.desk.Working })
	assert.Contains(t, windowtest.Labels(now()), "Ways")
	press(w, fyne.KeyEscape)
}

func TestEscapeLeavesADialogFromItsFields(t *testing.T) {
	w := newWindow(t)
	load(w.desk, windowtest.DrawnFrames(t, "centre", func(i int) string { return "frame-" + string(rune('A'+i)) }))
	windowtest.Until(t, func() bool { return w.Canvas().Overlays().Top() != nil && !w.desk.Working })
	leavesFromFields(t, w, "a drawing's outlines")
	for _, name := range []string{"Limits…", "Rules of thumb…", "Full-size paper…", "Lay all lines…", "Save as…"} {
		menuItem(t, w, name).Action()
		leavesFromFields(t, w, name)
	}
}

// leavesFromFields types Escape in every field of the dialog on top.
func leavesFromFields(t *testing.T, w *mainWindow, name string) {
	t.Helper()
	top := w.Canvas().Overlays().Top()
	require.NotNil(t, top)
	tried := 0
	windowtest.Walk(top, func(o fyne.CanvasObject) {
		if f, ok := o.(interface {
			fyne.Focusable
			fyne.Disableable
			SelectedText() string
		}); ok && !f.Disabled() && o.Visible() {
			w.Canvas().Focus(f)
			press(w, fyne.KeyEscape)
			assert.Nil(t, w.Canvas().Overlays().Top(), "%T of %s", o, name)
			top.Show()
			tried++
		}
	})
	assert.Positive(t, tried, name)
	w.Canvas().Overlays().Remove(top)
}
