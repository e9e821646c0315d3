package bench

import (
	"context"
	"fmt"
	"io"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/tables"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// orderList lists every piece in the order of laying, to be ticked off.
type orderList struct {
	b      *Panel
	shown  func() bool
	list   *kit.List
	rows   []answer.TickPiece
	of     *loft.Planking
	latest kit.Latest // the reckoning that goes on
	told   string     // why there is no list
	next   int        // the first row that is not laid, or -1
}

// orderPart is the list with what comes next above it.
func (b *Panel) orderPart(shown func() bool) []fyne.CanvasObject {
	d := b.desk
	o := &orderList{b: b, shown: shown, next: -1}
	o.list = kit.NewList(func() int { return len(o.rows) }, func() fyne.CanvasObject {
		l := widget.NewLabel("")
		l.Truncation = fyne.TextTruncateEllipsis
		return container.NewBorder(nil, nil, kit.Tipped(kit.NewCheck("", nil), tongue.T("Ticks the strake off as laid")), nil, l)
	}, o.row)
	o.list.OnSelected = func(i widget.ListItemID) {
		o.list.UnselectAll()
		r := o.rows[i]
		for n, s := range d.Planking().Layers[r.Layer-1].Strakes {
			if s.ID == r.ID {
				b.showStrake(hull.Side(r.Side), r.Layer-1, n)
			}
		}
	}
	b.Keep(o.sync)
	count := b.Text(func() string {
		if o.told != "" {
			return o.told
		}
		laid := 0
		for _, r := range o.rows {
			if r.Laid {
				laid++
			}
		}
		return tongue.T("%d of %d pieces laid. A tick notes the strake as glued, with all its pieces, under %s; taken away, as taken off.", laid, len(o.rows), tongue.Day(b.bench.Date))
	})
	head := container.NewVBox(b.nextButton(), b.nextPart(shown), count)
	export := d.Button(tongue.T("Export the order (CSV)…"), tongue.T("Writes the list to tick off as a table"), func() {
		rows := answer.TickOff{Pieces: o.rows}.Rows()
		d.AskFileName(tongue.T("Export the order of laying"), d.FileName()+" order.csv", func(path string, replace bool) error { return writeRows(d, path, replace, rows) })
	})
	return []fyne.CanvasObject{container.NewBorder(head, export, nil, nil, o.list)}
}

// sync lists the pieces anew where the plan has changed. Cutting them from the
// strips may take long, and is done aside.
func (o *orderList) sync() {
	b := o.b
	if !o.shown() || !b.bench.Reckon() || o.of == b.bench.K {
		return
	}
	o.of = b.bench.K
	if len(o.rows) == 0 {
		o.told = tongue.T("Reckoning…")
	}
	k := o.of
	o.latest.Start(b.desk.Background, func(ctx context.Context) func() {
		all, err := answer.TickOffOf(ctx, k)
		return func() {
			o.found(all.Pieces, err)
			b.Update()
		}
	})
}

// found shows the list.
func (o *orderList) found(rows []answer.TickPiece, err error) {
	o.rows, o.next, o.told = rows, -1, ""
	if err != nil {
		o.told = kit.Sentence(err)
	}
	for i, r := range rows {
		if !r.Laid {
			o.next = i
			break
		}
	}
	o.list.Refresh()
	if o.next >= 0 {
		o.list.ScrollTo(o.next)
	}
}

// row fills a row.
func (o *orderList) row(i widget.ListItemID, obj fyne.CanvasObject) {
	if i >= len(o.rows) {
		return
	}
	box := obj.(*fyne.Container)
	text, tick := box.Objects[0].(*widget.Label), box.Objects[1].(*kit.Tip).Content.(*kit.Check)
	r := o.rows[i]
	name := r.ID
	if r.Of > 1 {
		name = fmt.Sprintf("%s %d/%d", r.ID, r.Piece, r.Of)
	}
	line := fmt.Sprintf("%d  %s  %s  %s", r.Order, name, desk.SideName(hull.Side(r.Side)), o.b.desk.Units.Long(r.Length))
	if i == o.next {
		line = "▸ " + line
	}
	text.TextStyle.Bold = i == o.next
	text.SetText(line)
	tick.OnChanged = nil
	tick.SetChecked(r.Laid)
	kit.Able(o.b.bench.Day == "", tick)
	tick.OnChanged = func(on bool) { o.tick(i, on) }
}

// tick notes a strake as glued, or as taken off again.
func (o *orderList) tick(i int, on bool) {
	if i >= len(o.rows) || o.rows[i].Laid == on {
		return
	}
	r, b := o.rows[i], o.b
	doing := hull.Glued
	if !on {
		doing = hull.Removed
	}
	side, choice := b.bench.Side, b.desk.Choice
	b.bench.Side, b.desk.Choice.Layer = hull.Side(r.Side), r.Layer-1
	wet := b.bench.Wet
	b.bench.Wet = false
	ok := b.bench.Note(hull.Entry{EntryKind: doing, Strake: r.ID})
	b.bench.Side, b.desk.Choice, b.bench.Wet = side, choice, wet
	if !ok {
		o.list.Refresh()
	}
	b.desk.Refresh()
}

// writeRows writes a CSV file, whole or not at all.
func writeRows(d *desk.Desk, path string, replace bool, rows [][]string) error {
	lost, err := app.WriteFile(path, replace, func(w io.Writer) error { return tables.WriteRows(w, rows) })
	if err != nil {
		return err
	}
	d.Status(tongue.T("Written to %s", path))
	d.Tell(lost)
	return nil
}
