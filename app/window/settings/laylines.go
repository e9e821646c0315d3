package settings

import (
	"context"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// LayLines asks for a number of bands, searches the ways to line them off, and
// shows those that none beats.
func LayLines(d *desk.Desk) {
	from := float64(max(len(d.PlanLayer().Bands), 2))
	to := from
	number := func(of *float64) *kit.Number {
		n := kit.NewNumber(d.Notices, 1, kit.Whole, func() float64 { return *of }, func(v float64) bool {
			*of = max(1, min(v, hull.LinedBands.High))
			return true
		})
		n.Sync()
		return n
	}
	least, most := number(&from), number(&to)
	text := widget.NewLabel(tongue.T("Searches for lines between bands of whole strips: few strakes, few drops and\nwedges, little edge-set and little wood lost. You choose among what is found;\nnothing changes until then. More bands take longer to search."))
	ask := d.Ask(tongue.T("Lay all band lines"), tongue.T("Search"), container.NewVBox(text, kit.TippedRow(tongue.T("Bands, from"), tongue.T("The fewest bands to look for"), least.Box), kit.TippedRow(tongue.T("to"), tongue.T("The most bands to look for"), most.Box)), func() {
		least.Commit()
		most.Commit()
		searchLines(d, int(from), max(int(from), int(to)))
	})
	for _, n := range []*kit.Number{least, most} {
		n.Entry.OnSubmitted = func(string) { ask.Confirm() }
	}
	ask.Show()
	d.Win.Canvas().Focus(least.Entry)
}

// searchLines searches the ways to line off the layer shown and offers them.
func searchLines(d *desk.Desk, from, to int) {
	k, layer, units := d.Planking(), d.Choice.Layer, d.Units
	var ways []loft.Lining
	var front answer.Front
	d.Work(tongue.T("Searching for band lines…"), func(ctx context.Context) (err error) {
		if ways, err = loft.LineOff(ctx, k.Plan, layer, from, to, nil); err != nil {
			return err
		}
		front, err = answer.FrontOf(k, layer, ways, units)
		return err
	}, func() { newLiningFront(d, k, layer, ways, front).open() })
}
