package stock

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// Panel is the panel for choosing and buying the wood, beside the strake
// table. Only the part that is shown is brought up to date.
type Panel struct {
	desk    *desk.Desk
	Tabs    *container.AppTabs
	parts   []stockPart
	Shown   func() bool // whether the panel is in sight
	compare *stockCompare
	mix     *stockMix
	wood    *stockWood
	box     *stockBox
	cutting *stockCutting
	seams   *stockSeams
}

// stockPart is one part of the panel.
type stockPart interface {
	object() fyne.CanvasObject
	sync() // brings it up to date, when it is in sight
}

// New makes the panel of a desk, which follows it while it is shown.
func New(d *desk.Desk) *Panel {
	s := &Panel{desk: d, Shown: func() bool { return false }}
	s.compare, s.mix, s.wood = newStockCompare(d), newStockMix(d), newStockWood(d)
	s.box, s.cutting, s.seams = newStockBox(d), newStockCutting(d), newStockSeams(d)
	s.parts = []stockPart{s.compare, s.mix, s.wood, s.box, s.cutting, s.seams}
	var items []*container.TabItem
	for i, name := range []string{tongue.T("Compare"), tongue.T("Mix"), tongue.T("Wood"), tongue.T("My strips, Suppliers"), tongue.T("Cutting"), tongue.T("Seams")} {
		items = append(items, container.NewTabItem(name, container.New(layout.NewCustomPaddedLayout(2, 2, 2, 2), s.parts[i].object())))
	}
	s.Tabs = container.NewAppTabs(items...)
	s.Tabs.OnSelected = func(tab *container.TabItem) {
		s.Sync()
		d.Shows(tab)
	}
	d.Lazy = append(d.Lazy, s.Sync)
	return s
}

// Object is what the panel shows.
func (s *Panel) Object() fyne.CanvasObject {
	return kit.TippedTabs(s.Tabs, tongue.T("Strips of several widths, thicknesses and woods, side by side"), tongue.T("Up to three widths that leave the least to plane off or to fill"),
		tongue.T("What soaking does to the strips, and woods of your own"), tongue.T("The strips you own, those on sale, and the rules of cutting"), tongue.T("Every strake cut from strips, and what to buy"), tongue.T("The seams of an outer layer, kept clear of those below"))
}

// Sync brings the part in sight up to date, but not while a handle is dragged.
func (s *Panel) Sync() {
	if i := s.Tabs.SelectedIndex(); s.Shown() && s.desk.Grip == nil && i >= 0 {
		s.parts[i].sync()
	}
}

// formula shows how a figure is reckoned, and by what source.
func formula(d *desk.Desk, key string) {
	f := answer.FigureOf(key)
	if f.Key == "" {
		return
	}
	text := widget.NewLabel(f.Formula)
	text.Wrapping = fyne.TextWrapWord
	source := widget.NewLabel(tongue.T("Source: %s.", f.Source))
	source.Wrapping = fyne.TextWrapWord
	source.TextStyle.Italic = true
	shown := d.Shown(kit.SentenceStart(f.Name), container.NewVScroll(container.NewVBox(text, source)))
	shown.Resize(fyne.NewSize(460, 240))
	shown.Show()
}

// asked is a button that shows a figure's formula.
func asked(d *desk.Desk, key string) fyne.CanvasObject {
	b := d.Button(answer.FigureOf(key).Name+"  ?", tongue.T("Shows how it is reckoned"), func() { formula(d, key) })
	b.Importance = widget.LowImportance
	return b
}

// editWood changes what the plan says of the wood, which must be such that its
// file can be read again.
func editWood(d *desk.Desk, what string, f func(*hull.Plan)) bool { return d.Edit(what, woodEdit(f)) }

// woodEdit is a change that is not made where it does not fit the rest of the plan.
func woodEdit(f func(*hull.Plan)) func(*hull.Plan) error {
	return func(p *hull.Plan) error {
		f(p)
		if found := p.Check(); len(found) > 0 {
			return found[0]
		}
		return nil
	}
}

// errChanged tells that what was reckoned is of a plan no longer there.
var errChanged = tongue.New("the plan has changed in the meantime: do it again")

// staleText is told where the plan has changed since something was reckoned.
func staleText() string {
	return tongue.T("The plan has changed since this was reckoned: do it again.") + " "
}
