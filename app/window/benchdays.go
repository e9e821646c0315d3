package window

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"strakewright/app/answer"
	"strakewright/hull"
	"strakewright/loft"
)

// dayList is the record, the last entry first.
type dayList struct {
	b     *benchPanel
	shown func() bool
	list  *widget.List
	rows  []dayRow
	of    *loft.Planking
}

// dayRow is an entry of a side.
type dayRow struct {
	side  hull.Side
	index int
	hull.Entry
}

// daysPart is the record with a stepper from day to day.
func (b *benchPanel) daysPart(shown func() bool) []fyne.CanvasObject {
	d := b.desk
	l := &dayList{b: b, shown: shown}
	l.list = widget.NewList(func() int { return len(l.rows) }, func() fyne.CanvasObject {
		text := widget.NewLabel("")
		text.Wrapping = fyne.TextWrapWord
		strike := d.button("", "Strikes an entry noted by mistake out of the record; Undo brings it back", nil)
		strike.Icon = theme.DeleteIcon()
		return container.NewBorder(nil, nil, nil, strike, text)
	}, l.row)
	l.list.OnSelected = func(i widget.ListItemID) {
		l.list.UnselectAll()
		l.reveal(l.rows[i])
	}
	b.keep(l.sync)
	days := b.choice(l.names, l.chosen, func(i int) { b.showDay(l.day(i)) })
	before := d.button("‹", "Shows the record as of the day before on which anything was noted", func() { b.showDay(l.day(l.chosen() - 1)) })
	after := d.button("›", "Shows the record as of the day after", func() { b.showDay(l.day(l.chosen() + 1)) })
	b.keep(func() {
		able(l.chosen() > 0, before)
		able(l.chosen() < len(l.names())-1, after)
	})
	head := container.NewVBox(row("As of", container.NewBorder(nil, nil, before, after, days)),
		b.text(func() string {
			if len(l.rows) == 0 {
				return "Nothing was noted."
			}
			return "The last entry first. A tap shows the strake and the frame."
		}))
	export := d.button("Export the record (CSV)…", "Writes every entry of both sides as a table", func() {
		rows := answer.RecordRows(b.bench.record())
		d.askFileName("Export the bench record", d.fileName()+" record.csv", func(path string, replace bool) error { return writeRows(d, path, replace, rows) })
	})
	return []fyne.CanvasObject{container.NewBorder(head, export, nil, nil, l.list)}
}

// names are the days on which anything was noted, and now.
func (l *dayList) names() []string { return append(l.b.desk.plan().Record.Days(), "now") }

// chosen is the one shown.
func (l *dayList) chosen() int {
	names := l.names()
	if i := slices.Index(names, l.b.bench.day); i >= 0 {
		return i
	}
	return len(names) - 1
}

// day is the day at a place of the list; empty for now.
func (l *dayList) day(i int) string {
	if days := l.b.desk.plan().Record.Days(); i >= 0 && i < len(days) {
		return days[i]
	}
	return ""
}

// sync lists the entries anew where the record has changed.
func (l *dayList) sync() {
	b := l.b
	if !l.shown() {
		return
	}
	b.bench.reckon()
	if l.of != b.bench.k {
		l.of, l.rows = b.bench.k, nil
		for _, side := range hull.Sides {
			for i, e := range b.bench.record().Of(side) {
				l.rows = append(l.rows, dayRow{side, i, e})
			}
		}
		slices.Reverse(l.rows)
		slices.SortStableFunc(l.rows, func(a, b dayRow) int { return strings.Compare(b.Day(), a.Day()) })
	}
	l.list.Refresh()
}

// row fills a row.
func (l *dayList) row(i widget.ListItemID, o fyne.CanvasObject) {
	if i >= len(l.rows) {
		return
	}
	box := o.(*fyne.Container)
	text, strike := box.Objects[0].(*widget.Label), box.Objects[1].(*tipButton)
	r := l.rows[i]
	text.SetText(l.text(r))
	able(l.b.bench.day == "", strike)
	strike.OnTapped = func() { l.strike(r) }
	if w := text.Size().Width; w > 0 {
		if h := text.MinSize().Height; h > 0 {
			l.list.SetItemHeight(i, h)
		}
	}
}

func (l *dayList) text(r dayRow) string {
	return r.Date + " " + string(r.side) + ": " + l.b.desk.entryText(r.Entry)
}

// strike takes an entry out of the record.
func (l *dayList) strike(r dayRow) {
	d := l.b.desk
	if l.of != d.planking() {
		return
	}
	if err := d.s.Strike(r.side, r.index); err != nil {
		d.say(sentence(err))
		return
	}
	d.status("Struck: " + l.text(r) + ". Undo brings it back.")
}

// reveal shows what an entry is of.
func (l *dayList) reveal(r dayRow) {
	d := l.b.desk
	if r.Layer < 1 || r.Layer > len(d.planking().Layers) {
		return
	}
	strake, c := -1, d.choice
	for n, s := range d.planking().Layers[r.Layer-1].Strakes {
		if s.ID == r.Strake || r.Strake == "" && s.Band == r.Band && strake < 0 {
			strake = n
		}
	}
	if f := d.plan().Hull.FrameNamed(r.Frame); f >= 0 {
		d.choice = c.WithFrame(f)
	}
	if strake >= 0 {
		l.b.showStrake(r.side, r.Layer-1, strake)
	}
}
