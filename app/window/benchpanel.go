package window

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"strakewright/hull"
)

// benchPanel is the panel's part for the work at the bench: what is noted, what
// follows from it, how a strake is laid, in which order, and day by day.
type benchPanel struct {
	*form
	desk    *desk
	bench   *bench
	shown   func() bool // whether the bench is the tab shown
	item    *container.TabItem
	tabs    *container.AppTabs
	note    *container.TabItem
	ask     *measureAsked
	options *optionList
}

var sideNames = []string{"starboard", "port"}

// newBenchPanel makes the panel's tab, whose parts are of a form; shown tells
// whether it is the one shown.
func newBenchPanel(f *form, d *desk, shown func() bool) *benchPanel {
	b := &benchPanel{form: f, desk: d, bench: d.bench, shown: shown, item: container.NewTabItem("Bench", nil)}
	whole := func(o ...fyne.CanvasObject) fyne.CanvasObject { return o[0] }
	b.note = b.benchPart("Note", scrolled, func(func() bool) []fyne.CanvasObject { return b.notePart() })
	b.tabs = container.NewAppTabs(
		b.note,
		b.benchPart("Rest", scrolled, b.restPart),
		b.benchPart("Steps", scrolled, b.stepsPart),
		b.benchPart("Order", whole, b.orderPart),
		b.benchPart("Days", whole, b.daysPart),
	)
	b.tabs.OnSelected = func(*container.TabItem) { b.update() }
	b.part(b.shown)
	b.item.Content = container.NewBorder(b.head(), b.foot(), nil, nil, b.tabs)
	return b
}

// inSight tells whether the bench is shown, and nothing is being dragged.
func (b *benchPanel) inSight() bool { return b.shown() && b.desk.grip == nil }

// benchPart makes a tab of the bench. What costs much is only brought up to date
// while it is shown and nothing is being dragged, which shown tells.
func (b *benchPanel) benchPart(name string, in func(...fyne.CanvasObject) fyne.CanvasObject, parts func(shown func() bool) []fyne.CanvasObject) *container.TabItem {
	item := container.NewTabItem(name, nil)
	selected := func() bool { return b.shown() && b.tabs.Selected() == item }
	b.part(selected)
	item.Content = in(parts(func() bool { return selected() && b.inSight() })...)
	return item
}

// head is what all parts share: the side, the layer, the strake and the frame.
func (b *benchPanel) head() fyne.CanvasObject {
	d := b.desk
	side := b.choice(func() []string { return sideNames }, func() int {
		if b.bench.side == hull.Port {
			return 1
		}
		return 0
	}, func(i int) { b.showSide(hull.Sides[i]) })
	layer := b.choice(d.layerNames, func() int { return d.choice.Layer }, d.showLayer)
	strake := b.choice(d.strakeNames, func() int { return d.choice.Strake }, func(i int) { d.choose(d.choice.WithStrake(i)) })
	strake.PlaceHolder = "(none)"
	frame := b.choice(d.frameNames, func() int { return d.choice.Frame }, func(i int) { d.choose(d.choice.WithFrame(i)) })
	frame.PlaceHolder = "(none)"
	return container.New(layout.NewCustomPaddedLayout(4, 2, 2, 6),
		container.NewGridWithColumns(2, named("Side", side), named("Strake", strake), named("Layer", layer), named("Frame", frame)))
}

// foot tells that what is shown is past. It stands at the foot, so that nothing
// shifts under the pointer when one goes from day to day.
func (b *benchPanel) foot() fyne.CanvasObject {
	d := b.desk
	then := b.text(func() string {
		if b.bench.day == "" {
			return ""
		}
		return "As of the end of " + b.bench.day + ": only to look at."
	})
	then.Importance = widget.WarningImportance
	now := d.button("Back to now", "Shows the record as it stands", func() { b.showDay("") })
	past := container.NewBorder(nil, nil, nil, now, then)
	b.keep(func() { show(past, b.bench.day != "") })
	return past
}

// showSide shows a side of the ship in all views that tell of the bench.
func (b *benchPanel) showSide(side hull.Side) {
	if side != b.bench.side {
		b.bench.side = side
		b.desk.refresh()
	}
}

// showDay shows the record as of a day; empty for now.
func (b *benchPanel) showDay(day string) {
	if day != b.bench.day {
		b.bench.day = day
		b.desk.refresh()
	}
}

// showStrake chooses a strake of a side, by its layer and its index there.
func (b *benchPanel) showStrake(side hull.Side, layer, strake int) {
	b.bench.side = side
	c := b.desk.choice
	c.Layer = layer
	b.desk.choose(c.WithStrake(strake))
	b.desk.refresh()
}

// dayBy is so many days after a date; the date itself where it is none.
func dayBy(date string, days int) string {
	t, err := time.Parse(time.DateOnly, date[:min(len(date), len(time.DateOnly))])
	if err != nil {
		return date
	}
	return t.AddDate(0, 0, days).Format(time.DateOnly)
}
