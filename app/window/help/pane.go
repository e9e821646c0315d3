package help

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// Pane shows the topics beside the work: one, all of them, or what a search finds.
type Pane struct {
	Object fyne.CanvasObject
	Book   func() // opens the picture book; nil where nothing does
	topics []Topic
	shown  string   // the topic shown; none where all are listed, or what was found
	before []string // those shown before, the last one last; none stands for the list
	opened bool
	search *kit.Field
	back   *kit.Button
	body   *container.Scroll
}

// NewPane makes one of some topics, which shows nothing till it is opened; close puts it
// away, and is nil where something else does.
func NewPane(n *kit.Notices, topics []Topic, close func()) *Pane {
	p := &Pane{topics: topics, search: kit.NewField(), body: container.NewVScroll(widget.NewLabel(""))}
	p.search.SetPlaceHolder(tongue.T("Search the help"))
	p.search.OnChanged = func(string) { p.find() }
	p.back = n.Button("", tongue.T("Goes back to the page before"), p.goBack)
	p.back.Icon = theme.NavigateBackIcon()
	all := n.Button(tongue.T("All topics"), tongue.T("Lists all pages of the help"), func() { p.Open("") })
	right := container.NewHBox(all)
	if close != nil {
		away := n.Button("", tongue.T("Puts the help away (F1 brings it back)"), close)
		away.Icon = theme.CancelIcon()
		right.Add(away)
	}
	head := container.NewBorder(nil, nil, p.back, right, kit.Tipped(p.search, tongue.T("Type words to find: the pages that hold all of them are listed")))
	p.Object = container.NewBorder(container.New(layout.NewCustomPaddedLayout(3, 3, 4, 4), head), nil, nil, nil, p.body)
	return p
}

// Shown is the topic shown; none while all are listed, or what was found.
func (p *Pane) Shown() string { return p.shown }

// Open shows a topic, or the list of all of them; the search is over.
func (p *Pane) Open(topic string) {
	if topic != p.shown && p.opened {
		p.before = append(p.before, p.shown)
	}
	p.shown = topic
	p.opened = true
	p.clear()
	p.show()
}

// bookLink is where a link to the picture book leads.
const bookLink = "book:"

// follow shows where a link leads, with the words that are searched for still marked.
func (p *Pane) follow(topic string) {
	if topic == bookLink {
		if p.Book != nil {
			p.Book()
		}
		return
	}
	p.before = append(p.before, p.shown)
	p.shown = topic
	p.show()
}

// goBack shows what was shown before.
func (p *Pane) goBack() {
	if n := len(p.before); n > 0 {
		p.shown, p.before = p.before[n-1], p.before[:n-1]
		p.show()
	}
}

// clear empties the search without anything following from it.
func (p *Pane) clear() {
	f := p.search.OnChanged
	p.search.OnChanged = nil
	p.search.SetText("")
	p.search.OnChanged = f
}

// find shows what the words searched for are found in.
func (p *Pane) find() {
	p.shown = ""
	p.show()
}

// show fills the pane.
func (p *Pane) show() {
	kit.Able(len(p.before) > 0, p.back)
	asked := p.search.Text
	text := p.list()
	if strings.TrimSpace(asked) != "" {
		text = p.found(asked)
	}
	for _, t := range p.topics {
		if t.ID == p.shown {
			text = t.Text
		}
	}
	p.body.Content = container.New(layout.NewCustomPaddedLayout(0, 8, 4, 12),
		kit.Prose(text, p.follow, func(s string) [][2]int { return marks(s, asked) }))
	p.body.ScrollToTop()
	p.body.Refresh()
}

// list is the list of all topics.
func (p *Pane) list() string {
	var b strings.Builder
	b.WriteString("# " + tongue.T("Help") + "\n\n")
	for _, t := range p.topics {
		b.WriteString("- " + linkTo(t) + "  " + t.Summary + "\n")
	}
	return b.String()
}

// found is what the words searched for are found in.
func (p *Pane) found(asked string) string {
	all := search(p.topics, asked)
	if len(all) == 0 {
		return tongue.T("Nothing found. Try fewer words, or the beginning of one.")
	}
	var b strings.Builder
	for _, f := range all {
		b.WriteString(linkTo(f.Topic) + "\n\n" + strings.Join(f.Passages, "\n\n") + "\n\n---\n\n")
	}
	return strings.TrimSuffix(b.String(), "---\n\n")
}

func linkTo(t Topic) string { return "[" + t.Title + "](" + t.ID + ")" }
