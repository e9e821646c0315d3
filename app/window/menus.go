package window

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"

	"strakewright/app/draw/views"
	"strakewright/hull"
)

// menuAt is the menu of a handle under the mouse, which is chosen, or of whatever
// a tap there chooses.
func (d *desk) menuAt(h views.Handle, on bool, tap func()) *fyne.Menu {
	if on {
		d.chooseHandle(h)
	} else {
		tap()
	}
	return d.boardMenu()
}

// boardMenu is the menu of what is chosen, on the drawings.
func (d *desk) boardMenu() *fyne.Menu {
	item := func(name string, f func()) *fyne.MenuItem { return fyne.NewMenuItem(name, f) }
	b := d.line()
	if d.choice.Limit != views.NoLimit {
		return d.limitMenu()
	}
	if b == nil {
		return fyne.NewMenu("",
			item("Split this band by a line", d.addLine),
			item("Lay all lines…", d.layLines),
			item("Compare strips…", d.compareWidths))
	}
	m := fyne.NewMenu("")
	for i, manner := range manners {
		it := item("Line "+mannerNames[i], func() { d.setManner(manner) })
		it.Checked = b.Manner == manner
		it.Disabled = d.shapeless() && manner != hull.Drawn
		m.Items = append(m.Items, it)
	}
	m.Items = append(m.Items, fyne.NewMenuItemSeparator())
	if f := d.choice.Frame; f >= 0 {
		m.Items = append(m.Items, d.handleItems(b, f)...)
		m.Items = append(m.Items, fyne.NewMenuItemSeparator())
	}
	m.Items = append(m.Items, item("Add a line below", d.addLine), item("Remove this line", d.removeLine), item("Lay all lines…", d.layLines))
	return m
}

// handleItems is what can be done with the chosen handle.
func (d *desk) handleItems(b *hull.BandLine, f int) []*fyne.MenuItem {
	at := " at frame " + d.frameName(f)
	if b.Manner == hull.Free {
		return []*fyne.MenuItem{
			fyne.NewMenuItem("Hold"+at, d.holdHere),
			fyne.NewMenuItem("Aim"+at, func() { d.aimAt(f) }),
			fyne.NewMenuItem("Default heading", func() { d.aimAt(-1) }),
		}
	}
	if b.Handles[f].Held {
		return []*fyne.MenuItem{fyne.NewMenuItem("Release"+at, func() { d.hold(false) })}
	}
	return []*fyne.MenuItem{fyne.NewMenuItem("Hold"+at, func() { d.hold(true) })}
}

// limitMenu is what can be done with the chosen limit.
func (d *desk) limitMenu() *fyne.Menu {
	l, f := d.choice.Limit, d.choice.Frame
	m := fyne.NewMenu("")
	if f >= 0 {
		name := d.frameName(f)
		release := fyne.NewMenuItem(fmt.Sprintf("Release the %s at frame %s", d.limitName(l), name), func() {
			d.edit(fmt.Sprintf("release the %s at frame %s", d.limitName(l), name), releaseLimit(l, name))
		})
		release.Disabled = !slices.ContainsFunc(*limitList(&d.plan().Hull, l), func(in hull.Inset) bool { return in.Frame == name })
		m.Items = append(m.Items, release)
	}
	m.Items = append(m.Items, fyne.NewMenuItem("Limits…", func() { d.setLimits() }))
	return m
}

// manners are the manners of a band line in the panel's order.
var manners = []hull.Manner{hull.Drawn, hull.Free, hull.Least}

var mannerNames = []string{"as drawn", "free: lies unstressed", "least edge-set"}
