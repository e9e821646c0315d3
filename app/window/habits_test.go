package window

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

// The habits are tried one after the other in one window, which costs the most to make.
func TestHabitsOfTheWindow(t *testing.T) {
	w := newWindow(t)
	for _, habit := range []struct {
		name string
		has  func(*testing.T, *mainWindow)
	}{
		{"Undo names its steps and goes back to any", undoNamesItsStepsAndGoesBackToAny},
		{"The title tells the file and its changes", theTitleTellsTheFileAndItsChanges},
		{"Return presses the button that has the keys", returnPressesTheButtonThatHasTheKeys},
		{"The usual keys", theUsualKeys},
		{"A pane has all the room and gives it back", aPaneHasAllTheRoomAndGivesItBack},
		{"A view is kept as a picture", aViewIsKeptAsAPicture},
		{"The table is copied with its heads", theTableIsCopiedWithItsHeads},
		{"Length and verdict stay in the table", lengthAndVerdictStayInTheTable},
		{"The panel keeps its buttons under the pointer", thePanelKeepsItsButtonsUnderThePointer},
		{"The window is laid out for a task", theWindowIsLaidOutForATask},
	} {
		t.Run(habit.name, func(t *testing.T) { habit.has(t, w) })
		w.desk.Choose(views.Nothing.WithLine(0).WithFrame(5))
	}
}

func theTitleTellsTheFileAndItsChanges(t *testing.T, w *mainWindow) {
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
	windowtest.Until(t, func() bool { return w.desk.Session.Path() == first })
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

func undoNamesItsStepsAndGoesBackToAny(t *testing.T, w *mainWindow) {
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
	assert.Equal(t, "2 steps undone, the last of them: "+name, w.status.Text)
	assert.Equal(t, "Redo: "+name, w.redoItem.Label)
	w.redo.TappedSecondary(&fyne.PointEvent{})
	require.NotNil(t, w.Canvas().Overlays().Top(), "a right click lists them")
	w.Canvas().Overlays().Top().Hide()
	w.redoListItem.ChildMenu.Items[1].Action()
	assert.InDelta(t, start+1.5, down(w, 0, hold), 1e-9)
	assert.Equal(t, "Redo", w.redoItem.Label)
	assert.True(t, w.redoListItem.Disabled)
}

func returnPressesTheButtonThatHasTheKeys(t *testing.T, w *mainWindow) {
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

func theUsualKeys(t *testing.T, w *mainWindow) {
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

func aPaneHasAllTheRoomAndGivesItBack(t *testing.T, w *mainWindow) {
	before, whole := w.BodyPlan.Size(), w.Content().Size()
	enlarge := menuItem(t, w, "Enlarge one pane").ChildMenu.Items
	enlarge[2].Action()
	assert.Greater(t, w.BodyPlan.Size().Width, whole.Width*0.98)
	assert.Greater(t, w.BodyPlan.Size().Height, whole.Height*0.85)
	assert.False(t, w.Long.Visible())
	assert.Equal(t, "Show the other panes again", w.itemsOf(w.BodyPlan)[0].Label)
	enlarge[4].Action()
	assert.True(t, w.tables.Visible(), "from one to another")
	assert.False(t, w.BodyPlan.Visible())
	enlarge[4].Action()
	assert.Equal(t, before, w.BodyPlan.Size())

	put := menuItem(t, w, "Panes in sight").ChildMenu.Items
	put[5].Action()
	assert.False(t, w.panel.tabs.Visible())
	assert.False(t, put[5].Checked)
	assert.Greater(t, w.Long.Size().Width, whole.Width*0.98)
	menuItem(t, w, "Show all panes").Action()
	assert.True(t, put[5].Checked)
	assert.Equal(t, before, w.BodyPlan.Size())
}

func theWindowIsLaidOutForATask(t *testing.T, w *mainWindow) {
	layouts := menuItem(t, w, "Layout").ChildMenu.Items
	w.stock.Tabs.SelectIndex(4) // where nothing is reckoned unasked
	layouts[2].Action()
	assert.True(t, w.stock.Shown())
	assert.Equal(t, "Wood", w.panel.tabs.Selected().Text)
	layouts[3].Action()
	assert.False(t, w.stock.Shown())
	assert.Equal(t, "Bench", w.panel.tabs.Selected().Text)
	assert.Equal(t, benchWidth, w.table.figure)
	table := w.tables.Size()
	layouts[0].Action()
	assert.Less(t, w.tables.Size().Width, table.Width)
	assert.Equal(t, widthToCut, w.table.figure)
	assert.Equal(t, "Line", w.panel.tabs.Selected().Text)
}

func TestTheWindowOpensAsItWasLeft(t *testing.T) {
	w := newWindow(t)
	w.Resize(fyne.NewSize(1100, 700))
	w.splits[0].SetOffset(0.3)
	low := w.splits[3].Offset
	w.room.give(true, false) // more room, which is not what is kept
	w.keepPlace()
	w.desk.SwitchUnits()
	w.desk.SwitchLight()
	again, err := made(w.desk.App, w.desk.Session)
	require.NoError(t, err)
	defer again.Window.Close()
	assert.Equal(t, views.Inches, again.desk.Units)
	assert.True(t, again.desk.Dark)
	assert.Equal(t, fyne.NewSize(1100, 700), again.Canvas().Size())
	assert.InDelta(t, 0.3, again.splits[0].Offset, 1e-9)
	assert.InDelta(t, low, again.splits[3].Offset, 1e-9)
	w.desk.App.Preferences().SetFloatList(splitsKey, []float64{0.3, 7, 0.5, 0.5, 0.5})
	again.recallPlace()
	assert.InDelta(t, 0.3, again.splits[0].Offset, 1e-9, "what cannot be is left alone")
}

func aViewIsKeptAsAPicture(t *testing.T, w *mainWindow) {
	dir := t.TempDir()
	keep := menuItem(t, w, "Save a view as a picture").ChildMenu.Items
	require.Len(t, keep, 4)
	var said string
	w.desk.Say = func(s string) { said = s }
	written := func(item int, name string) []byte {
		t.Helper()
		said = ""
		keep[item].Action()
		path := filepath.Join(dir, name)
		typeInto(t, w, path)
		data, _ := os.ReadFile(path)
		return data
	}
	assert.Contains(t, string(written(0, "profile.svg")), "<svg")
	assert.Contains(t, string(written(1, "gauge.pdf"))[:8], "%PDF-")
	assert.Contains(t, string(written(2, "body.png"))[:8], "PNG")
	assert.Contains(t, string(written(3, "hull.png"))[:8], "PNG")
	assert.Empty(t, said)
	assert.Empty(t, written(0, "profile.bmp"))
	assert.Contains(t, said, ".svg, .pdf or .png")
	hull := string(written(3, "hull.svg"))
	assert.Contains(t, hull, `<g class="seam">`)
	assert.Greater(t, strings.Count(hull, "<polyline"), 40)
	assert.Contains(t, string(written(3, "hull.pdf"))[:8], "%PDF-")
}

// typeInto types a file's name into the dialog on top, and Return.
func typeInto(t *testing.T, w *mainWindow, path string) {
	t.Helper()
	field, ok := w.Canvas().Focused().(*kit.Field)
	require.True(t, ok)
	field.SetText(path)
	press(w, fyne.KeyReturn)
}

func theTableIsCopiedWithItsHeads(t *testing.T, w *mainWindow) {
	clip := w.desk.App.Clipboard()
	menuItem(t, w, "Copy the chosen strake's row").Action()
	assert.Contains(t, w.status.Text, "Choose a strake first")
	w.desk.Choose(w.desk.Choice.WithStrake(2))
	menuItem(t, w, "Copy the chosen strake's row").Action()
	lines := strings.Split(strings.TrimRight(clip.Content(), "\n"), "\n")
	require.Len(t, lines, 2)
	heads, row := strings.Split(lines[0], "\t"), strings.Split(lines[1], "\t")
	require.Len(t, row, len(heads))
	assert.Equal(t, []string{"strake", "length", "verdict"}, heads[:3])
	s := w.desk.Layer().Strakes[2]
	assert.True(t, strings.HasPrefix(row[0], s.ID))
	assert.Equal(t, w.desk.Units.Long(s.Length), row[1])
	f := slices.Index(heads, w.desk.FrameName(9))
	assert.True(t, strings.HasPrefix(row[f], w.desk.Units.Number(s.At[9].WidthCut)))
	menuItem(t, w, "Copy the strake table").Action()
	assert.Equal(t, len(w.desk.Layer().Strakes)+1, strings.Count(clip.Content(), "\n"))
}

// The strake's length and verdict stay in sight whatever frame the table is scrolled to,
// and a right click chooses what lies under it.
func lengthAndVerdictStayInTheTable(t *testing.T, w *mainWindow) {
	for _, f := range []int{len(w.desk.Plan().Hull.Frames) - 1, 0} {
		w.desk.Choose(views.Nothing.WithStrake(1).WithFrame(f))
		w.Canvas().Capture()
		for col := range pinned {
			assert.True(t, w.table.inView(1, col-len(pinned)), "column %d at frame %d", col, f)
		}
		assert.True(t, w.table.inView(1, f))
	}
	for o, id := range w.table.filled {
		if id.Row == 4 && id.Col == len(pinned)+1 {
			at := fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
			m := w.table.menuAt(at.AddXY(4, 4))
			assert.Equal(t, "Enter a figure…", m.Items[0].Label)
			assert.Equal(t, "Copy this row", m.Items[1].Label)
		}
	}
	assert.Equal(t, 4, w.desk.Choice.Strake)
	assert.Equal(t, 1, w.desk.Choice.Frame)
}

// A second click lands on what the first one landed on: nothing that is pressed in the
// panel moves away because something above it has grown, shrunk or gone.
func thePanelKeepsItsButtonsUnderThePointer(t *testing.T, w *mainWindow) {
	d := w.desk
	at := func(b fyne.CanvasObject) fyne.Position {
		w.panel.Update()
		w.Resize(fyne.NewSize(1280, 761)) // has all laid out anew, as a frame of the screen does
		w.Resize(fyne.NewSize(1280, 760))
		return fyne.CurrentApp().Driver().AbsolutePositionForObject(b)
	}
	for tab, names := range map[int][]string{
		lineTab:  {"Add line", "Reset direction", "Pin here", "Point through here", "Remove line", "Remove line"},
		bandsTab: {"Choose the garboard", "Add line", "+", "−", "Remove line"},
	} {
		w.panel.tabs.SelectIndex(tab)
		d.Choose(views.Nothing.WithLine(0).WithFrame(5))
		for _, name := range names {
			var b *kit.Button
			windowtest.Walk(w.panel.tabs.Selected().Content, func(o fyne.CanvasObject) {
				if k, ok := o.(*kit.Button); ok && k.Text == name && b == nil {
					b = k
				}
			})
			before := at(b)
			b.OnTapped()
			assert.Equal(t, before, at(b), "%s of %s", name, w.panel.tabs.Selected().Text)
			if d.Line() == nil {
				d.Undo()
				d.Choose(views.Nothing.WithLine(0).WithFrame(5))
			}
		}
	}
}
