package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// panel is what can be set: the chosen band line, the bands, the wood; and the
// notes.
type panel struct {
	*form
	desk  *desk
	tabs  *container.AppTabs
	bench *benchPanel
}

func newPanel(d *desk) *panel {
	p := &panel{form: &form{}, desk: d}
	set := settings{p.form, d}
	line, bands := p.tab("Line", set.linePart), p.tab("Bands", set.bandPart)
	wood, notes := p.tab("Wood", set.woodPart), p.tab("Notes", set.notesPart)
	p.bench = newBenchPanel(p.form, d, func() bool { return p.selected(p.bench.item) })
	p.tabs = container.NewAppTabs(line, bands, wood, p.bench.item, notes)
	p.tabs.OnSelected = func(*container.TabItem) { p.update() }
	d.lazy = append(d.lazy, func() {
		p.update()
		if d.grip != nil {
			return // a tab's name has all tabs laid out anew: it follows when the drag is over
		}
		if name := notesName(d); name != notes.Text {
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

// selected tells whether a tab is the one shown.
func (p *panel) selected(item *container.TabItem) bool {
	return p.tabs != nil && p.tabs.Selected() == item
}

// The room that the bench and the panel of the wood need, so that nothing shifts
// when they are first shown.
var benchLeast, stockLeast = fyne.NewSize(296, 270), fyne.NewSize(416, 323)

// veil veils the tabs that are not shown first.
func (p *panel) veil() {
	for _, t := range p.tabs.Items[1:] {
		room := fyne.NewSize(32, 32)
		if t == p.bench.item {
			room = benchLeast
		}
		t.Content = veiled(room, t.Content)
	}
}
