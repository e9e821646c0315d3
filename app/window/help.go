package window

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"

	"github.com/strakewright/strakewright/app/window/help"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/photo"
	"github.com/strakewright/strakewright/app/window/tracing"
)

// helpBeside is the help that stands beside the work.
type helpBeside struct {
	split *container.Split // the work, and the help
	room  *fyne.Container  // which holds the pane once it is asked for
	pane  *help.Pane       // nil until then
}

// Where the help begins across the window at first, the bounds in which a kept place is
// believed, and under what name it is kept.
const (
	helpAt              = 0.72
	helpLeast, helpMost = 0.3, 0.9
	helpKey             = "window.help"
)

// withHelp puts the help beside the work. It is put away at first.
func (w *mainWindow) withHelp(work fyne.CanvasObject) fyne.CanvasObject {
	at := w.desk.App.Preferences().FloatWithFallback(helpKey, helpAt)
	if !(at >= helpLeast && at <= helpMost) {
		at = helpAt
	}
	w.help.room = container.NewStack()
	w.help.room.Hide()
	w.help.split = kit.Split(container.NewHSplit(work, w.help.room), at)
	return w.help.split
}

// keepHelp keeps how wide the help is.
func (w *mainWindow) keepHelp() {
	w.desk.App.Preferences().SetFloat(helpKey, w.help.split.Offset)
}

// helpButton shows the help, or puts it away.
func (w *mainWindow) helpButton() fyne.CanvasObject {
	b := w.desk.Button("Help", "Shows the help beside the work, or puts it away; F1 opens the page about what has the focus", w.switchHelp)
	b.Icon = theme.HelpIcon()
	return b
}

// helpItems are the menu of the help.
func (w *mainWindow) helpItems() []*fyne.MenuItem {
	return []*fyne.MenuItem{
		keyed("Help on what has the focus", fyne.KeyF1, 0, w.helpAtHand), // which a widget that has the keys hands on
		plain("All topics", "", func() { w.showHelp("") }),
		plain("The first steps", "", func() { w.showHelp("window") }),
		plain("Picture book", "", w.openBook),
		plain("List of keys", "", func() { w.showHelp("keys") }),
	}
}

// switchHelp shows the list of topics, or puts the help away.
func (w *mainWindow) switchHelp() {
	if w.help.room.Visible() {
		w.putHelpAway()
		return
	}
	topic := ""
	if w.help.pane != nil {
		topic = w.help.pane.Shown()
	}
	w.showHelp(topic)
}

// showHelp shows a topic of the help beside the work; none for the list of all.
func (w *mainWindow) showHelp(topic string) {
	h := &w.help
	if h.pane == nil {
		h.pane = help.NewPane(w.desk.Notices, help.Topics(w.keysText()), w.putHelpAway)
		h.pane.Book = w.openBook
		h.room.Add(h.pane.Object)
	}
	h.pane.Open(topic)
	if !h.room.Visible() {
		h.room.Show()
		h.split.Refresh()
	}
}

func (w *mainWindow) putHelpAway() {
	w.help.room.Hide()
	w.help.split.Refresh()
}

// helpIn shows a topic in a dialog of a window.
func (w *mainWindow) helpIn(n *kit.Notices, topic string) {
	pane := help.NewPane(n, help.Topics(w.keysText()), nil)
	pane.Book = w.openBook
	pane.Open(topic)
	shown := n.Shown("Help", pane.Object)
	s := n.Win.Canvas().Size()
	shown.Resize(fyne.NewSize(fyne.Min(640, s.Width*0.9), fyne.Min(600, s.Height*0.9)))
	shown.Show()
}

// helpAtHand shows the topic of what has the focus: of a dialog in one of its own, since
// the window behind it takes no clicks meanwhile.
func (w *mainWindow) helpAtHand() {
	title, dialog := w.desk.DialogTitle()
	switch {
	case !dialog:
		w.showHelp(w.topicAtHand())
	case title != "Help" && !w.desk.Working:
		w.helpIn(w.desk.Notices, topicOfDialog(title))
	}
}

// dialogTopics are the topics of dialogs, by how their titles begin.
var dialogTopics = []struct{ begins, topic string }{
	{"Outlines in ", "drawings"},
	{"Sections of ", "hull"},
	{"Read from ", "hull"},
	{"Which sheet of ", "hull"},
	{"Fair the frames", "fair"},
	{"Limits", "limits"},
	{"Lay all band lines", "lay-all"},
	{"Ways to line off", "lay-all"},
	{"Rules of thumb", "rules"},
	{"Full-size paper", "paper"},
	{"Writing the paper", "paper"},
	{"The paper is written", "paper"},
	{"Print the booklet", "paper"},
	{"A wood of your own", "wood"},
	{"Strips of one kind", "wood"},
	{"Sheets of one kind", "wood"},
	{"Export the bench record", "bench"},
	{"Export the order of laying", "bench"},
	{"The step's name", "bench"},
	{"Learn into your own file", "plan-again"},
	{"Export the strake table", "widths"},
	{kit.CellEntryTitle, "widths"},
	{"Save the view as a picture", "layout"},
}

// topicOfDialog is the topic of a dialog; the first of all for one that has none.
func topicOfDialog(title string) string {
	for _, d := range dialogTopics {
		if strings.HasPrefix(title, d.begins) {
			return d.topic
		}
	}
	return firstTopic
}

// firstTopic tells of the window as a whole.
const firstTopic = "window"

// helpPart is a part of the window with its topic as it stands now.
type helpPart struct {
	object fyne.CanvasObject
	topic  func() string
}

func (w *mainWindow) helpParts() []helpPart {
	always := func(topic string) func() string { return func() string { return topic } }
	return []helpPart{
		{w.Long, func() string {
			if w.desk.Marching() {
				return "march"
			}
			return "lines"
		}},
		{w.Gauge, always("widths")},
		{w.BodyPlan, always("lines")},
		{w.Hull, func() string {
			if w.StripLaid() {
				return "over-frames"
			}
			return "hull-view"
		}},
		{w.tables, func() string {
			if w.stock.Shown() {
				return "wood"
			}
			return "widths"
		}},
		{w.panel.tabs, w.panel.topic},
	}
}

// topicAtHand is the topic of the part that has the focus; where none has, that of the
// tab at the left or of the wood, once another than the first was chosen.
func (w *mainWindow) topicAtHand() string {
	if f, ok := w.Canvas().Focused().(fyne.CanvasObject); ok {
		for _, p := range w.helpParts() {
			if lies(f, p.object) {
				return p.topic()
			}
		}
	}
	switch {
	case w.tables.Visible() && w.stock.Shown():
		return "wood"
	case w.panel.tabs.Visible() && w.panel.tabs.SelectedIndex() > 0:
		return w.panel.topic()
	}
	return firstTopic
}

// lies tells whether the middle of an object lies within another, both in sight.
func lies(o, within fyne.CanvasObject) bool {
	d := fyne.CurrentApp().Driver()
	at, low := d.AbsolutePositionForObject(o).AddXY(o.Size().Width/2, o.Size().Height/2), d.AbsolutePositionForObject(within)
	s := within.Size()
	return within.Visible() && at.X >= low.X && at.Y >= low.Y && at.X < low.X+s.Width && at.Y < low.Y+s.Height
}

// topic is that of the tab shown.
func (p *panel) topic() string {
	if p.selected(p.bench.Item) {
		return p.bench.Topic()
	}
	topics := []string{lineTab: "lines", bandsTab: "lines", woodTab: "wood"}
	if i := p.tabs.SelectedIndex(); i >= 0 && i < len(topics) {
		return topics[i]
	}
	return "problems"
}

// keysText is the list of all keys in Markdown, made from what binds them.
func (w *mainWindow) keysText() string {
	var b strings.Builder
	head := ""
	under := func(of string) {
		if of != head {
			b.WriteString("\n## " + of + "\n\n")
			head = of
		}
	}
	under("Anywhere in the window")
	for _, s := range w.stepKeys() {
		b.WriteString(kit.KeyLine(s.shown, s.does))
	}
	uses := func(of string, keys []kit.KeyUse) {
		under(of)
		for _, k := range keys {
			b.WriteString(kit.KeyLine(k.Keys, k.Does))
		}
	}
	uses("Anywhere in the window", windowKeys)
	uses("In panels and dialogs", kit.ControlKeys)
	w.eachItem(func(of string, m *fyne.MenuItem) {
		if s, ok := m.Shortcut.(*desktop.CustomShortcut); ok {
			under(of)
			b.WriteString(kit.KeyLine(kit.ShortcutName(s), strings.TrimSuffix(m.Label, "…")))
		}
	})
	of := append(w.Drawings.Keys(), kit.KeysOf{Of: "Tracing a picture", Keys: tracing.Keys()}, kit.KeysOf{Of: "Reading a photo", Keys: photo.Keys()})
	for _, k := range of {
		under(k.Of)
		b.WriteString(k.Keys.List())
	}
	return strings.TrimSpace(b.String())
}
