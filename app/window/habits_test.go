package window

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/kit"
)

func TestTheTitleTellsTheFileAndItsChanges(t *testing.T) {
	w := newWindow(t)
	path := filepath.Join(t.TempDir(), "Fold.strakeplan")
	require.NoError(t, w.desk.Session.SaveAs(path, false))
	w.desk.Refresh()
	assert.Equal(t, "Fold.strakeplan – Strakewright", w.Title())
	w.desk.Nudge(0.1)
	assert.Equal(t, "• Fold.strakeplan – Strakewright", w.Title())
	w.desk.Undo()
	assert.Equal(t, "Fold.strakeplan – Strakewright", w.Title())
}

func TestFilesOpenedLastAreListed(t *testing.T) {
	w := newWindow(t)
	w.desk.ForgetFiles()
	assert.True(t, w.recentItem.Disabled)
	dir := t.TempDir()
	first, second := filepath.Join(dir, "first.strakeplan"), filepath.Join(dir, "second.strakeplan")
	for _, path := range []string{first, second} {
		require.NoError(t, w.desk.Session.SaveAs(path, false))
	}
	listed := w.recentItem.ChildMenu.Items
	require.Len(t, listed, 4, "both, a rule, and what clears the list")
	assert.Contains(t, listed[0].Label, "second.strakeplan")
	listed[1].Action()
	assert.Equal(t, first, w.desk.Session.Path())
	assert.Contains(t, w.recentItem.ChildMenu.Items[0].Label, "first.strakeplan")

	require.NoError(t, os.Remove(second))
	var said string
	w.desk.Say = func(s string) { said = s }
	w.recentItem.ChildMenu.Items[1].Action()
	assert.Contains(t, said, "second.strakeplan is no longer in")
	assert.Len(t, w.desk.Recent(), 1)
	w.recentItem.ChildMenu.Items[2].Action()
	assert.True(t, w.recentItem.Disabled)
	openDemo(w.desk)
	assert.Equal(t, dir, w.desk.Folder(), "where a file was opened last")
}

func TestUndoNamesItsStepsAndGoesBackToAny(t *testing.T) {
	w := newWindow(t)
	hold := w.desk.Plan().Layers[0].Lines[0].Hold
	start := down(w, 0, hold)
	for range 3 {
		w.desk.Nudge(0.5)
	}
	name := "nudge line 1 at frame " + w.desk.FrameName(hold)
	assert.Equal(t, "Undo: "+name, w.undoItem.Label)
	w.undo.MouseIn(&desktop.MouseEvent{})
	assert.Contains(t, w.status.Text, name)
	require.Len(t, w.undoListItem.ChildMenu.Items, 3)
	assert.Equal(t, "2  "+name, w.undoListItem.ChildMenu.Items[1].Label)
	w.undoListItem.ChildMenu.Items[1].Action()
	assert.InDelta(t, start+0.5, down(w, 0, hold), 1e-9)
	assert.Equal(t, "2 steps taken back, the last of them: "+name, w.status.Text)
	assert.Equal(t, "Redo: "+name, w.redoItem.Label)
	w.redo.TappedSecondary(&fyne.PointEvent{})
	assert.NotNil(t, w.Canvas().Overlays().Top(), "a right click lists them")
	w.redoListItem.ChildMenu.Items[1].Action()
	assert.InDelta(t, start+1.5, down(w, 0, hold), 1e-9)
	assert.Equal(t, "Redo", w.redoItem.Label)
	assert.True(t, w.redoListItem.Disabled)
}

func TestUnitsAndLightAreAsTheyWereLeft(t *testing.T) {
	w := newWindow(t)
	w.desk.SwitchUnits()
	w.desk.SwitchLight()
	again, err := made(w.desk.App, w.desk.Session)
	require.NoError(t, err)
	defer again.Window.Close()
	assert.Equal(t, views.Inches, again.desk.Units)
	assert.True(t, again.desk.Dark)
}

func TestReturnPressesTheButtonThatHasTheKeys(t *testing.T) {
	w := newWindow(t)
	w.desk.Nudge(1)
	done := ""
	w.desk.AskWhich("Save?", "It is not saved.", kit.Choice{Name: "Leave it", Do: func() { done = "left" }}, kit.Choice{Name: "Save", Do: func() { done = "saved" }})
	test.FocusNext(w.Canvas())
	test.FocusNext(w.Canvas())
	press(w, fyne.KeyReturn)
	assert.Equal(t, "left", done)
	w.desk.Confirm("Replace it?", "It exists.", "Replace", func() { done = "replaced" })
	test.FocusNext(w.Canvas())
	press(w, fyne.KeyEscape)
	assert.Nil(t, w.Canvas().Overlays().Top())
	assert.Equal(t, "left", done)
}

// keyOf gives the key of an item of the menu, with what is held.
func keyOf(t *testing.T, w *mainWindow, name string) desktop.CustomShortcut {
	t.Helper()
	return *menuItem(t, w, name).Shortcut.(*desktop.CustomShortcut)
}

func TestTheUsualKeys(t *testing.T) {
	w := newWindow(t)
	ctrl := fyne.KeyModifierShortcutDefault
	assert.Equal(t, desktop.CustomShortcut{KeyName: fyne.KeyW, Modifier: ctrl}, keyOf(t, w, "Close"))
	assert.Equal(t, desktop.CustomShortcut{KeyName: fyne.KeyS, Modifier: ctrl | fyne.KeyModifierShift}, keyOf(t, w, "Save as…"))
	seen := map[desktop.CustomShortcut]string{}
	for _, m := range w.MainMenu().Items {
		for _, it := range m.Items {
			if k, ok := it.Shortcut.(*desktop.CustomShortcut); ok {
				assert.Empty(t, seen[*k], "%s has the key of another", it.Label)
				seen[*k] = it.Label
			}
		}
	}
	w.Canvas().Focus(w.Long)
	press(w, fyne.KeyF11)
	assert.True(t, w.FullScreen())
	w.Canvas().Unfocus()
	press(w, fyne.KeyF11)
	assert.False(t, w.FullScreen())
}
