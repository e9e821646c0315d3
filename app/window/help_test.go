package window

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/window/fairing"
	"github.com/strakewright/strakewright/app/window/help"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull/source/sourcetest"
)

// All of it is tried in one window, which takes longer to open than to try.
func TestHelpAndTips(t *testing.T) {
	w := newWindow(t)
	for _, what := range []struct {
		is  string
		try func(*testing.T, *mainWindow)
	}{
		{"a tip stands at the pointer", tipStandsAtThePointer},
		{"the help stands beside the work", helpStandsBesideTheWork},
		{"the list of keys is what binds them", listOfKeysIsWhatBindsThem},
		{"F1 opens the topic of what has the focus", f1OpensTheTopicOfWhatHasTheFocus},
		{"parts name topics that are there", partsNameTopicsThatAreThere},
		{"every control has a tip", everyControlHasATip},
		{"the picture book is opened", thePictureBookIsOpened},
	} {
		t.Run(what.is, func(t *testing.T) { what.try(t, w) })
	}
}

// The picture book is written where it can be opened, from the menu and from its topic.
func thePictureBookIsOpened(t *testing.T, w *mainWindow) {
	cache := t.TempDir()
	for _, of := range []string{"XDG_CACHE_HOME", "HOME", "LocalAppData"} { // by which systems name it
		t.Setenv(of, cache)
	}
	said, before := "", w.desk.Status
	w.desk.Status = func(text string) { said = text }
	defer func() { w.desk.Status = before }()
	menuItem(t, w, "Picture book").Action()
	require.Contains(t, said, "The picture book is ")
	path := strings.TrimPrefix(said, "The picture book is ")
	assert.True(t, strings.HasPrefix(path, cache), path)
	assert.FileExists(t, path)
	said = ""
	w.showHelp("book")
	w.help.pane.Book()
	assert.NotEmpty(t, said)
	w.putHelpAway()
}

// The help stands beside the work, which goes on; its lines are broken between words.
func helpStandsBesideTheWork(t *testing.T, w *mainWindow) {
	before := w.Long.Size().Width
	w.showHelp("lines")
	assert.Nil(t, w.Canvas().Overlays().Top(), "the work goes on")
	assert.Less(t, w.Long.Size().Width, before)
	rows := map[float32]string{} // by height
	windowtest.Walk(w.help.pane.Object, func(o fyne.CanvasObject) {
		if x, ok := o.(*canvas.Text); ok {
			rows[x.Position().Y] += x.Text
		}
	})
	assert.NotEmpty(t, rows)
	for _, text := range rows {
		assert.NotEqual(t, 1, len([]rune(strings.TrimSpace(text))), "a row of one letter: %q", text)
	}
	w.help.split.SetOffset(0.6)
	w.keepPlace()
	w.putHelpAway()
	assert.Equal(t, before, w.Long.Size().Width)
	assert.Equal(t, 0.6, w.desk.App.Preferences().Float(helpKey))
}

func f1OpensTheTopicOfWhatHasTheFocus(t *testing.T, w *mainWindow) {
	opens := func(why string) string {
		press(w, fyne.KeyF1)
		require.NotNil(t, w.help.pane, why)
		topic := w.help.pane.Shown()
		w.putHelpAway()
		return topic
	}
	w.Canvas().Unfocus()
	assert.Equal(t, firstTopic, opens("nothing"))
	for topic, o := range map[string]fyne.Focusable{"lines": w.Long, "hull-view": w.HullBoard} {
		w.Canvas().Focus(o)
		assert.Equal(t, topic, opens(topic))
	}
	w.Canvas().Focus(w.table.pick)
	w.Canvas().Unfocus()
	for tab, topic := range map[int]string{woodTab: "wood", benchTab: "bench", benchTab + 1: "problems"} {
		w.panel.tabs.SelectIndex(tab)
		assert.Equal(t, topic, opens(topic))
	}
	var field fyne.Focusable
	w.panel.tabs.SelectIndex(woodTab)
	windowtest.Walk(w.panel.tabs.Items[woodTab].Content, func(o fyne.CanvasObject) {
		if e, ok := o.(*kit.NumberEntry); ok && field == nil {
			field = e
		}
	})
	w.Canvas().Focus(field)
	assert.Equal(t, "wood", opens("a field hands it on"))
}

// Every topic that a part of the window names is there.
func partsNameTopicsThatAreThere(t *testing.T, w *mainWindow) {
	there := map[string]bool{}
	for _, topic := range help.Topics("") {
		there[topic.ID] = true
	}
	for _, d := range dialogTopics {
		assert.True(t, there[d.topic], d.begins)
	}
	for _, p := range w.helpParts() {
		assert.True(t, there[p.topic()])
	}
	for i := range w.panel.tabs.Items {
		w.panel.tabs.SelectIndex(i)
		assert.True(t, there[w.panel.topic()])
	}
	w.panel.tabs.SelectIndex(0)
}

// The list of keys is made of what binds them: each shortcut of the menus does what the
// list says, and each key of a board.
func listOfKeysIsWhatBindsThem(t *testing.T, w *mainWindow) {
	list := w.keysText()
	c := w.Canvas().(interface{ TypedShortcut(fyne.Shortcut) })
	shortcuts := 0
	w.eachItem(func(_ string, m *fyne.MenuItem) {
		s, ok := m.Shortcut.(*desktop.CustomShortcut)
		if !ok {
			return
		}
		shortcuts++
		assert.Contains(t, list, kit.KeyLine(kit.ShortcutName(s), strings.TrimSuffix(m.Label, "…")))
		was, done := m.Action, false
		m.Action = func() { done = true }
		if s.Modifier == 0 {
			w.Canvas().Unfocus()
			press(w, s.KeyName)
			assert.True(t, done, m.Label)
		}
		m.Action = was
	})
	assert.Greater(t, shortcuts, 15)
	hold := w.desk.Plan().Layers[0].Lines[0].Hold
	w.desk.Nudge(1)
	moved := down(w, 0, hold)
	for _, s := range w.stepKeys()[:2] {
		assert.Contains(t, list, kit.KeyLine(s.shown, s.does))
		c.TypedShortcut(s.keys)
		if s.does == "Undo" {
			assert.NotEqual(t, moved, down(w, 0, hold))
		}
	}
	assert.Equal(t, moved, down(w, 0, hold))
	for _, of := range w.Drawings.Keys() {
		assert.Contains(t, list, "## "+of.Of+"\n\n"+of.Keys.List())
	}
	windowtest.TypeKey(w.Long, fyne.KeyUp)
	assert.Less(t, down(w, 0, hold), moved, "what the list says of it")
}

// dialogOn waits for a dialog, and gives it.
func dialogOn(t *testing.T, w *mainWindow) fyne.CanvasObject {
	t.Helper()
	windowtest.Until(t, func() bool { return w.Canvas().Overlays().Top() != nil && !w.desk.Working })
	return w.Canvas().Overlays().Top()
}

// tipless lists what can be set or pressed in something and has no tip.
func tipless(o fyne.CanvasObject, tipped bool, out *[]string) {
	name := ""
	switch o := o.(type) {
	case *kit.Tip:
		tipped = o.Text != ""
	case *kit.FieldTip:
		tipped = o.Text != ""
	case *kit.TabTips:
		for i, item := range o.Tabs.Items {
			if i >= len(o.Tips) || o.Tips[i] == "" {
				*out = append(*out, "tab "+item.Text)
			}
		}
		for _, c := range test.WidgetRenderer(o.Tabs).Objects() {
			tipless(c, tipped, out)
		}
		return
	case *container.AppTabs:
		*out = append(*out, "tabs")
	case *stepsButton:
		if o.Tip == "" {
			*out = append(*out, "button "+o.Text)
		}
		return
	case *kit.Button:
		if o.Tip == "" && !tipped {
			*out = append(*out, "button "+o.Text)
		}
		return
	case *widget.Button:
		if o.Text == "" { // that of the toolkit, for tabs that have no room
			return
		}
		name = "button " + o.Text
	case *widget.Check:
		name = "check " + o.Text
	case *kit.Check:
		name = "check " + o.Text
	case *kit.Select:
		name = "select " + strings.Join(o.Options, ", ")
	case *widget.CheckGroup:
		name = "checks " + strings.Join(o.Options, ", ")
	case *widget.RadioGroup:
		name = "radio " + strings.Join(o.Options, ", ")
	case *widget.Select:
		name = "select " + strings.Join(o.Options, ", ")
	case *widget.Slider:
		name = "slider"
	case *kit.Field:
		name = "field " + o.PlaceHolder + o.Text
	case *kit.FieldOfChoice:
		name = "field of choice " + o.Text
	case *kit.NumberEntry:
		name = "number " + o.Text
	case *widget.Entry:
		name = "entry " + o.Text
	}
	if name != "" {
		if !tipped {
			*out = append(*out, name)
		}
		return
	}
	switch o := o.(type) {
	case *fyne.Container:
		for _, c := range o.Objects {
			tipless(c, tipped, out)
		}
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(o).Objects() {
			tipless(c, tipped, out)
		}
	}
}

// eachPart opens the parts of the window, its dialogs and the windows beside it one after
// the other, and has each looked at.
func eachPart(t *testing.T, w *mainWindow, look func(where string, o fyne.CanvasObject)) {
	t.Helper()
	dialog := func(name string) {
		t.Helper()
		look(name, dialogOn(t, w).(*widget.PopUp).Content)
		w.Canvas().Overlays().Remove(w.Canvas().Overlays().Top())
	}
	w.help.room.RemoveAll() // which quotes itself
	w.help.pane = nil
	look("window", w.Canvas().Content())
	for i := range w.panel.tabs.Items {
		w.panel.tabs.SelectIndex(i)
		look(w.panel.tabs.Items[i].Text, w.panel.whole)
	}
	w.desk.ShowStock()
	for i := range w.stock.Tabs.Items {
		w.stock.Tabs.SelectIndex(i)
		tab := w.stock.Tabs.Items[i]
		look(tab.Text, tab.Content)
		for _, b := range buttonsOf(tab.Content, "Add…", "Add your own…") {
			b.Tapped(&fyne.PointEvent{})
			dialog(tab.Text + ": " + b.Text)
		}
	}
	w.showHelp("")
	look("help", w.help.pane.Object)
	load(w.desk, windowtest.DrawnFrames(t, "centre", func(i int) string { return "frame-" + string(rune('A'+i)) }))
	dialog("outlines")
	fairing.OpenSections(w.desk, skinWritten(t), nil)
	dialog("sections")
	for _, of := range [][2]string{{"Limits…", "limits"}, {"Rules of thumb…", "rules"}, {"Lay all lines…", "lay-all"}, {"Fair the frames…", "fair"},
		{"Export the strake table…", "widths"}, {"Save as…", firstTopic}, {"Full-size paper…", "paper"}} {
		name, topic := of[0], of[1]
		menuItem(t, w, name).Action()
		over, ok := dialogOn(t, w).(*widget.PopUp)
		require.True(t, ok, name)
		look(name, over.Content)
		title, _ := w.desk.DialogTitle()
		assert.Equal(t, topic, topicOfDialog(title), name)
		if topic == "limits" { // F1 shows it over the dialog, and Escape leaves that alone
			press(w, fyne.KeyF1)
			assert.NotSame(t, over, w.Canvas().Overlays().Top())
			press(w, fyne.KeyEscape)
			assert.Same(t, over, w.Canvas().Overlays().Top())
		}
		w.Canvas().Overlays().Remove(over)
	}
	for name, open := range map[string]func(){"tracing": func() { w.tracing.Show() }, "photo": w.photos.Show} {
		before := fyne.CurrentApp().Driver().AllWindows()
		open()
		for _, other := range fyne.CurrentApp().Driver().AllWindows() {
			if !slices.Contains(before, other) {
				look(name, other.Canvas().Content())
			}
		}
	}
	for _, holds := range []func(func()) bool{w.tracing.Holds, w.photos.Holds} {
		closed := false
		holds(func() { closed = true })
		assert.True(t, closed, "nothing is lost with it")
	}
}

// buttonsOf gives the buttons of some names in an object.
func buttonsOf(o fyne.CanvasObject, names ...string) (out []*widget.Button) {
	windowtest.Walk(o, func(o fyne.CanvasObject) {
		if b, ok := o.(*kit.Button); ok && slices.Contains(names, b.Text) && !b.Disabled() {
			out = append(out, &b.Button)
		}
	})
	return out
}

// skinWritten is a file of the skin of Wigley's hull.
func skinWritten(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "skiff.stl")
	require.NoError(t, os.WriteFile(path, sourcetest.Skin(sourcetest.Wigley, -300, 300, 24, 10, 0).BinarySTL(), 0o600))
	return path
}

// What is shown anywhere has tips, and what the help names of it is there.
func everyControlHasATip(t *testing.T, w *mainWindow) {
	shown := labels{}
	eachPart(t, w, func(where string, o fyne.CanvasObject) {
		var out []string
		tipless(o, false, &out)
		assert.Empty(t, out, where)
		if where != "help" {
			shown.within(o)
		}
	})
	helpQuotesLabelsThatAreThere(t, w, shown)
}

// A tip comes beside the pointer when that has rested, lets every press through, and goes
// when the pointer moves.
func tipStandsAtThePointer(t *testing.T, w *mainWindow) {
	var waiting func()
	w.desk.After = func(_ time.Duration, f func()) func() {
		waiting = f
		return func() { waiting = nil }
	}
	tip := func() string {
		var out []string
		content := w.Canvas().Content().(*fyne.Container)
		if layer := content.Objects[1].(*fyne.Container); layer.Visible() {
			windowtest.Walk(layer, func(o fyne.CanvasObject) {
				_, hovered := o.(desktop.Hoverable)
				_, pressed := o.(fyne.Tappable)
				assert.False(t, hovered || pressed, "it takes no events")
				if x, ok := o.(*canvas.Text); ok {
					out = append(out, x.Text)
				}
			})
		}
		return strings.Join(out, " ")
	}
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(w.undo).AddXY(3, 3)
	event := func(by float32) *desktop.MouseEvent {
		return &desktop.MouseEvent{PointEvent: fyne.PointEvent{AbsolutePosition: at.AddXY(by, 0), Position: fyne.NewPos(3+by, 3)}}
	}
	w.undo.MouseIn(event(0))
	assert.Empty(t, tip(), "not at once")
	waiting()
	assert.Equal(t, w.undo.Tip, tip())
	w.undo.MouseMoved(event(1))
	assert.Empty(t, tip(), "gone with a move")
	waiting()
	assert.NotEmpty(t, tip())
	w.undo.MouseDown(event(1))
	assert.Empty(t, tip(), "gone with a press")
	w.undo.MouseMoved(event(2))
	w.undo.MouseOut()
	assert.Nil(t, waiting)

	test.MoveMouse(w.Canvas(), fyne.CurrentApp().Driver().AbsolutePositionForObject(w.table.pick).AddXY(4, 4))
	require.NotNil(t, waiting, "a list to choose from has one, too")
	waiting()
	assert.NotEmpty(t, tip())
	w.Canvas().Focus(w.Long)
	waiting()
	assert.Empty(t, tip(), "gone when the keys go elsewhere, as with a press")
	w.desk.After = nil
}
