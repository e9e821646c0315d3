package bench

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/record"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// dayList is the record, the last entry first.
type dayList struct {
	b     *Panel
	shown func() bool
	list  *kit.List
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
func (b *Panel) daysPart(shown func() bool) []fyne.CanvasObject {
	d := b.desk
	l := &dayList{b: b, shown: shown}
	l.list = kit.NewList(func() int { return len(l.rows) }, func() fyne.CanvasObject {
		text := widget.NewLabel("")
		text.Wrapping = fyne.TextWrapWord
		strike := d.Button("", tongue.T("Strikes an entry noted by mistake out of the record; Undo brings it back"), nil)
		strike.Icon = theme.DeleteIcon()
		return container.NewBorder(nil, nil, nil, strike, text)
	}, l.row)
	l.list.OnSelected = func(i widget.ListItemID) {
		l.list.UnselectAll()
		l.reveal(l.rows[i])
	}
	b.Keep(l.sync)
	days := b.Choice(l.names, l.chosen, func(i int) { b.showDay(l.day(i)) })
	before := d.Button("‹", tongue.T("Shows the record as of the day before on which anything was noted"), func() { b.showDay(l.day(l.chosen() - 1)) })
	after := d.Button("›", tongue.T("Shows the record as of the day after"), func() { b.showDay(l.day(l.chosen() + 1)) })
	b.Keep(func() {
		kit.Able(l.chosen() > 0, before)
		kit.Able(l.chosen() < len(l.names())-1, after)
	})
	head := container.NewVBox(kit.TippedRow(tongue.T("As of"), tongue.T("Shows the record as it stood on this day"), container.NewBorder(nil, nil, before, after, days)),
		b.Text(func() string {
			if len(l.rows) == 0 {
				return tongue.T("Nothing was noted.")
			}
			return tongue.T("The last entry first. A tap shows the strake and the frame.")
		}))
	export := d.Button(tongue.T("Export the record (CSV)…"), tongue.T("Writes every entry of both sides as a table"), func() {
		rows := answer.RecordRows(b.bench.Record())
		d.AskFileName(tongue.T("Export the bench record"), d.FileName()+" record.csv", func(path string, replace bool) error { return writeRows(d, path, replace, rows) })
	})
	return []fyne.CanvasObject{container.NewBorder(head, export, nil, nil, l.list)}
}

// names are the days on which anything was noted, and now.
func (l *dayList) names() []string {
	var out []string
	for _, day := range l.b.desk.Plan().Record.Days() {
		out = append(out, tongue.Day(day))
	}
	return append(out, tongue.T("now"))
}

// chosen is the one shown.
func (l *dayList) chosen() int {
	days := l.b.desk.Plan().Record.Days()
	if i := slices.Index(days, l.b.bench.Day); i >= 0 {
		return i
	}
	return len(days)
}

// day is the day at a place of the list; empty for now.
func (l *dayList) day(i int) string {
	if days := l.b.desk.Plan().Record.Days(); i >= 0 && i < len(days) {
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
	b.bench.Reckon()
	if l.of != b.bench.K {
		l.of, l.rows = b.bench.K, nil
		for _, side := range hull.Sides() {
			for i, e := range b.bench.Record().Of(side) {
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
	text, strike := box.Objects[0].(*widget.Label), box.Objects[1].(*kit.Button)
	r := l.rows[i]
	text.SetText(l.text(r))
	kit.Able(l.b.bench.Day == "", strike)
	strike.OnTapped = func() { l.strike(r) }
	if w := text.Size().Width; w > 0 {
		if h := text.MinSize().Height; h > 0 {
			l.list.SetItemHeight(i, h)
		}
	}
}

func (l *dayList) text(r dayRow) string {
	return tongue.Day(r.Date) + " " + desk.SideName(r.side) + ": " + record.Entry(l.b.desk.Units, r.Entry)
}

// strike takes an entry out of the record.
func (l *dayList) strike(r dayRow) {
	d := l.b.desk
	if l.of != d.Planking() {
		return
	}
	if err := d.Session.Strike(r.side, r.index); err != nil {
		d.Say(kit.Sentence(err))
		return
	}
	d.Status(tongue.T("Struck: %s. Undo brings it back.", l.text(r)))
}

// reveal shows what an entry is of.
func (l *dayList) reveal(r dayRow) {
	d := l.b.desk
	if r.Layer < 1 || r.Layer > len(d.Planking().Layers) {
		return
	}
	strake, c := -1, d.Choice
	for n, s := range d.Planking().Layers[r.Layer-1].Strakes {
		if s.ID == r.Strake || r.Strake == "" && s.Band == r.Band && strake < 0 {
			strake = n
		}
	}
	if f := d.Plan().Hull.FrameNamed(r.Frame); f >= 0 {
		d.Choice = c.WithFrame(f)
	}
	if strake >= 0 {
		l.b.showStrake(r.side, r.Layer-1, strake)
	}
}
