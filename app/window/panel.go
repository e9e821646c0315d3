package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"github.com/strakewright/strakewright/app/window/bench"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/settings"
	"github.com/strakewright/strakewright/assets/tongue"
)

// panel is what can be set: the chosen band line, the bands, the wood; and the
// problems.
type panel struct {
	*kit.Form
	desk  *desk.Desk
	tabs  *container.AppTabs
	whole *kit.TabTips // these, with their tips
	bench *bench.Panel
}

func newPanel(d *desk.Desk) *panel {
	p := &panel{Form: &kit.Form{}, desk: d}
	set := settings.New(p.Form, d)
	line, bands := p.tab(tongue.T("Line"), set.LinePart), p.tab(tongue.T("Bands"), set.BandPart)
	wood, problems := p.tab(tongue.T("Wood"), set.WoodPart), p.tab(tongue.T("Problems"), set.ProblemsPart)
	p.bench = bench.NewPanel(p.Form, d, func() bool { return p.selected(p.bench.Item) })
	p.tabs = container.NewAppTabs(line, bands, wood, p.bench.Item, problems)
	p.whole = kit.TippedTabs(p.tabs, tongue.T("The chosen band line: its type, its handles, and how a strip lies along it"), tongue.T("How many strakes each band has, and how they share it"),
		tongue.T("The layers and their strips"), tongue.T("The record of what you lay and measure"), tongue.T("What has to be mended or looked at, the worst first"))
	p.tabs.OnSelected = func(tab *container.TabItem) {
		p.Update()
		p.desk.Shows(tab)
	}
	d.Lazy = append(d.Lazy, func() {
		p.Update()
		if d.Grip != nil {
			return // a tab's name has all tabs laid out anew: it follows when the drag is over
		}
		if name := settings.ProblemsName(d); name != problems.Text {
			problems.Text = name
			p.tabs.Refresh()
		}
	})
	p.Update()
	return p
}

// tab makes a tab of what parts makes, which is kept up to date while the tab is
// the one shown.
func (p *panel) tab(name string, parts func() []fyne.CanvasObject) *container.TabItem {
	item := container.NewTabItem(name, nil)
	p.Part(func() bool { return p.selected(item) })
	item.Content = kit.Scrolled(parts()...)
	return item
}

// showLine shows the tab of the band line.
func (p *panel) showLine() { p.tabs.SelectIndex(0) }

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
		if t == p.bench.Item {
			count := fyne.MeasureText(" (9)", theme.TextSize(), fyne.TextStyle{Bold: true}).Width
			room = benchLeast.Max(fyne.NewSize(p.whole.Names()+count, 0)) // in some languages the names take more
		}
		t.Content = kit.Veiled(room, t.Content)
	}
}
