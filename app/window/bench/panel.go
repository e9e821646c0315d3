package bench

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/settings"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// Panel is the panel's part for the work at the bench: what is noted, what
// follows from it, how a strake is laid, in which order, and day by day.
type Panel struct {
	*kit.Form
	desk    *desk.Desk
	bench   *desk.Bench
	shown   func() bool // whether the bench is the tab shown
	Item    *container.TabItem
	tabs    *container.AppTabs
	note    *container.TabItem
	ask     *measureAsked
	options *optionList
	outlook *outlook
}

// NewPanel makes the panel's tab, whose parts are of a form; shown tells
// whether it is the one shown.
func NewPanel(f *kit.Form, d *desk.Desk, shown func() bool) *Panel {
	b := &Panel{Form: f, desk: d, bench: d.Bench, shown: shown, Item: container.NewTabItem(tongue.T("Bench"), nil)}
	whole := func(o ...fyne.CanvasObject) fyne.CanvasObject { return o[0] }
	b.note = b.benchPart(tongue.T("Note"), kit.Scrolled, func(func() bool) []fyne.CanvasObject { return b.notePart() })
	b.tabs = container.NewAppTabs(
		b.note,
		b.benchPart(tongue.T("Remaining"), kit.Scrolled, b.restPart),
		b.benchPart(tongue.T("How to"), kit.Scrolled, b.stepsPart),
		b.benchPart(tongue.T("Order"), whole, b.orderPart),
		b.benchPart(tongue.T("History"), whole, b.daysPart),
	)
	b.tabs.OnSelected = func(tab *container.TabItem) {
		b.Update()
		b.desk.Shows(tab)
	}
	b.Part(b.shown)
	tabs := kit.TippedTabs(b.tabs, tongue.T("Notes what you did and measured"), tongue.T("What is left of the band, whether the rest fits, and ways to make it fit"),
		tongue.T("The laying of the chosen strake, step by step"), tongue.T("The strakes in the order of laying, to tick off"), tongue.T("The record day by day, as it stood then"))
	b.Item.Content = container.NewBorder(b.head(), b.foot(), nil, nil, tabs)
	return b
}

// inSight tells whether the bench is shown, and nothing is being dragged.
func (b *Panel) inSight() bool { return b.shown() && b.desk.Grip == nil }

// benchPart makes a tab of the bench. What costs much is only brought up to date
// while it is shown and nothing is being dragged, which shown tells.
func (b *Panel) benchPart(name string, in func(...fyne.CanvasObject) fyne.CanvasObject, parts func(shown func() bool) []fyne.CanvasObject) *container.TabItem {
	item := container.NewTabItem(name, nil)
	selected := func() bool { return b.shown() && b.tabs.Selected() == item }
	b.Part(selected)
	item.Content = in(parts(func() bool { return selected() && b.inSight() })...)
	return item
}

// head is what all parts share: the side, the layer, the strake and the frame.
func (b *Panel) head() fyne.CanvasObject {
	d := b.desk
	side := b.Choice(func() []string { return []string{desk.SideName(hull.Starboard), desk.SideName(hull.Port)} }, func() int {
		if b.bench.Side == hull.Port {
			return 1
		}
		return 0
	}, func(i int) { b.showSide(hull.Sides()[i]) })
	layer := b.Choice(d.LayerNames, func() int { return d.Choice.Layer }, func(k int) { settings.ShowLayer(d, k) })
	strake := b.Choice(d.StrakeNames, func() int { return d.Choice.Strake }, func(i int) { d.Choose(d.Choice.WithStrake(i)) })
	strake.PlaceHolder = tongue.T("(none)")
	frame := b.Choice(d.FrameNames, func() int { return d.Choice.Frame }, func(i int) { d.Choose(d.Choice.WithFrame(i)) })
	frame.PlaceHolder = tongue.T("(none)")
	return container.New(layout.NewCustomPaddedLayout(4, 2, 2, 6),
		container.NewGridWithColumns(2, kit.TippedNamed(tongue.T("Side"), tongue.T("The side of the ship that you are planking"), side), kit.TippedNamed(tongue.T("Strake"), tongue.T("The strake that the note is about"), strake), kit.TippedNamed(tongue.T("Layer"), tongue.T("The layer that you are laying"), layer), kit.TippedNamed(tongue.T("Frame"), tongue.T("The frame at which you measure"), frame)))
}

// foot tells that what is shown is past. It stands at the foot, so that nothing
// shifts under the pointer when one goes from day to day.
func (b *Panel) foot() fyne.CanvasObject {
	d := b.desk
	then := b.Text(func() string {
		if b.bench.Day == "" {
			return ""
		}
		return tongue.T("As of the end of %s: only to look at.", tongue.Day(b.bench.Day))
	})
	then.Importance = widget.WarningImportance
	now := d.Button(tongue.T("Back to now"), tongue.T("Shows the record as it stands"), func() { b.showDay("") })
	past := container.NewBorder(nil, nil, nil, now, then)
	b.Keep(func() { kit.Show(past, b.bench.Day != "") })
	return past
}

// showSide shows a side of the ship in all views that tell of the bench.
func (b *Panel) showSide(side hull.Side) {
	if side != b.bench.Side {
		b.bench.Side = side
		b.desk.Refresh()
	}
}

// showDay shows the record as of a day; empty for now.
func (b *Panel) showDay(day string) {
	if day != b.bench.Day {
		b.bench.Day = day
		b.desk.Refresh()
	}
}

// showStrake chooses a strake of a side, by its layer and its index there.
func (b *Panel) showStrake(side hull.Side, layer, strake int) {
	b.bench.Side = side
	c := b.desk.Choice
	c.Layer = layer
	b.desk.Choose(c.WithStrake(strake))
	b.desk.Refresh()
}

// dayBy is so many days after a date; the date itself where it is none.
func dayBy(date string, days int) string {
	t, err := time.Parse(time.DateOnly, date[:min(len(date), len(time.DateOnly))])
	if err != nil {
		return date
	}
	return t.AddDate(0, 0, days).Format(time.DateOnly)
}

// Topic is the page of the help about the part that is shown.
func (b *Panel) Topic() string {
	if b.tabs.SelectedIndex() == restTab {
		return "plan-again"
	}
	return "bench"
}

// restTab is the place of the tab that tells what is left.
const restTab = 1

// Show shows one of the bench's parts, from 0.
func (b *Panel) Show(part int) { b.tabs.SelectIndex(part) }
