package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"slices"
)

// panel is what can be set: the chosen band line, the bands, the wood; and the
// notes.
type panel struct {
	desk   *desk
	tabs   *container.AppTabs
	bench  *benchPanel
	parts  []*panelPart
	always []func() // what follows from a change whether or not it is shown
	busy   bool     // parts are being brought up to date and report nothing
}

// panelPart is what is brought up to date together: only while it is shown, and
// again when it comes to be shown.
type panelPart struct {
	shown func() bool
	sync  []func()
}

func newPanel(d *desk) *panel {
	p := &panel{desk: d}
	line, bands := p.tab("Line", p.linePart), p.tab("Bands", p.bandPart)
	wood, notes := p.tab("Wood", p.woodPart), p.tab("Notes", p.notesPart)
	p.bench = p.benchTab()
	p.tabs = container.NewAppTabs(line, bands, wood, p.bench.item, notes)
	p.tabs.OnSelected = func(*container.TabItem) { p.update() }
	d.lazy = append(d.lazy, func() {
		p.update()
		if d.grip != nil {
			return // a tab's name has all tabs laid out anew: it follows when the drag is over
		}
		if name := p.notesName(); name != notes.Text {
			notes.Text = name
			p.tabs.Refresh()
		}
	})
	p.update()
	return p
}

// tab makes a tab of what parts makes, which is kept up to date while the tab is
// the one shown.
func (p *panel) tab(name string, parts func() []fyne.CanvasObject) *container.TabItem {
	item := container.NewTabItem(name, nil)
	p.part(func() bool { return p.selected(item) })
	item.Content = scrolled(parts()...)
	return item
}

// scrolled is a column of parts that can be scrolled.
func scrolled(o ...fyne.CanvasObject) fyne.CanvasObject {
	return container.NewVScroll(container.New(layout.NewCustomPaddedLayout(4, 8, 2, 10), container.NewVBox(o...)))
}

// selected tells whether a tab is the one shown.
func (p *panel) selected(item *container.TabItem) bool {
	return p.tabs != nil && p.tabs.Selected() == item
}

// part begins a part: what is kept from now on belongs to it.
func (p *panel) part(shown func() bool) { p.parts = append(p.parts, &panelPart{shown: shown}) }

// update brings up to date what is shown.
func (p *panel) update() {
	p.busy = true
	defer func() { p.busy = false }()
	for _, f := range p.always {
		f()
	}
	for _, part := range p.parts {
		if !part.shown() {
			continue
		}
		for _, f := range part.sync {
			f()
		}
	}
}

// keep has f called whenever the plan or the choice changes while the part being
// made is shown, and when it comes to be shown.
func (p *panel) keep(f func()) {
	part := p.parts[len(p.parts)-1]
	part.sync = append(part.sync, f)
}

// number adds a number to what is kept up to date.
func (p *panel) number(n *number) *number {
	p.keep(n.sync)
	return n
}

// choice makes a list to choose from, whose options may change.
func (p *panel) choice(options func() []string, get func() int, set func(int)) *widget.Select {
	s := widget.NewSelect(nil, nil)
	s.OnChanged = func(string) {
		if i := s.SelectedIndex(); !p.busy && i >= 0 {
			set(i)
		}
	}
	p.keep(func() {
		now := options()
		if !slices.Equal(s.Options, now) {
			s.Options = now
			s.Refresh()
		}
		i := get()
		switch {
		case i < 0 || i >= len(now):
			if s.Selected != "" {
				s.ClearSelected()
			}
		case s.Selected != now[i]:
			s.SetSelectedIndex(i)
		}
	})
	return s
}

// followingText is a wrapped text that is brought up to date by what is kept.
func followingText(keep func(func()), get func() string) *widget.Label {
	l := widget.NewLabel("")
	l.Wrapping = fyne.TextWrapWord
	keep(func() { setText(l, get()) })
	return l
}

// setText has a label say something: one that says it already is not measured
// again.
func setText(l *widget.Label, text string) {
	if l.Text != text {
		l.SetText(text)
	}
}

// text makes a wrapped text that follows what it tells.
func (p *panel) text(get func() string) *widget.Label { return followingText(p.keep, get) }

// heading is the head of a part.
func heading(s string) fyne.CanvasObject {
	return widget.NewLabelWithStyle(s, fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
}

// caution is a caution where its step is set.
func caution(s string) fyne.CanvasObject {
	l := widget.NewLabel("Caution: " + s)
	l.Wrapping = fyne.TextWrapWord
	l.SizeName = theme.SizeNameCaptionText
	l.Importance = widget.WarningImportance
	return l
}

// show switches an object on or off the panel.
func show(o fyne.CanvasObject, on bool) {
	if on == o.Visible() {
		return
	}
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}
