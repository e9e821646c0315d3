package settings

import (
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/hull"
)

// LayLines asks for a number of bands and lays all their lines.
func LayLines(d *desk.Desk) {
	bands := float64(max(len(d.PlanLayer().Bands), 2))
	n := kit.NewNumber(d.Notices, 1, kit.Whole, func() float64 { return bands }, func(v float64) bool {
		bands = max(1, min(v, hull.LinedBands.High))
		return true
	})
	n.Sync()
	text := widget.NewLabel("The middle line is laid free at the frame of greatest girth, the others\nwith the least edge-set between it and the limits.\nThe lines there are now are replaced; undo brings them back.")
	dialog.ShowCustomConfirm("Lay all band lines", "Lay them", "Cancel", container.NewVBox(text, kit.Row("Bands", n.Box)), func(yes bool) {
		n.Commit()
		if yes {
			laid(d, int(bands))
		}
	}, d.Win)
}
