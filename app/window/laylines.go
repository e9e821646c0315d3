package window

import (
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"strakewright/hull"
)

// layLines asks for a number of bands and lays all their lines.
func (d *desk) layLines() {
	bands := float64(max(len(d.planLayer().Bands), 2))
	n := newNumber(d.notices, 1, whole, func() float64 { return bands }, func(v float64) bool {
		bands = max(1, min(v, hull.LinedBands.High))
		return true
	})
	n.sync()
	text := widget.NewLabel("The middle line is laid free at the frame of greatest girth, the others\nwith the least edge-set between it and the limits.\nThe lines there are now are replaced; undo brings them back.")
	dialog.ShowCustomConfirm("Lay all band lines", "Lay them", "Cancel", container.NewVBox(text, row("Bands", n.box)), func(yes bool) {
		n.commit()
		if yes {
			d.laid(int(bands))
		}
	}, d.win)
}
