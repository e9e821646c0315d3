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
	desk  *desk
	tabs  *container.AppTabs
	bench *benchPanel
	sync  []func() // brings each part up to date
	busy  bool     // parts are being brought up to date and report nothing
}

func newPanel(d *desk) *panel {
	p := &panel{desk: d}
	tab := func(name string, o ...fyne.CanvasObject) *container.TabItem {
		return container.NewTabItem(name, container.NewVScroll(container.New(layout.NewCustomPaddedLayout(4, 8, 2, 10), container.NewVBox(o...))))
	}
	notes := tab("Notes", p.notesPart()...)
	p.bench = p.benchTab()
	p.tabs = container.NewAppTabs(
		tab("Line", p.linePart()...),
		tab("Bands", p.bandPart()...),
		tab("Wood", p.woodPart()...),
		p.bench.item,
		notes,
	)
	p.tabs.OnSelected = func(*container.TabItem) { p.update() }
	d.lazy = append(d.lazy, func() {
		p.update()
		notes.Text = p.notesName()
		p.tabs.Refresh()
	})
	p.update()
	return p
}

func (p *panel) update() {
	p.busy = true
	defer func() { p.busy = false }()
	for _, f := range p.sync {
		f()
	}
}

// keep has f called whenever the plan or the choice changes.
func (p *panel) keep(f func()) { p.sync = append(p.sync, f) }

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
	keep(func() {
		if t := get(); t != l.Text {
			l.SetText(t)
		}
	})
	return l
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
