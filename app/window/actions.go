package window

import (
	"context"
	"errors"
	"fmt"

	"fyne.io/fyne/v2"

	"strakewright/app/draw/views"
	"strakewright/hull"
	"strakewright/loft"
)

// course is where the chosen line crosses every frame.
func (d *desk) course() []float64 { return crossings(d.layer(), d.choice.Line+1) }

func (d *desk) setManner(m hull.Manner) {
	if d.line() != nil {
		d.edit(fmt.Sprintf("change the manner of line %d", d.choice.Line+1), setManner(d.choice.Layer, d.choice.Line, m, d.course()))
	}
}

// chosenHandle tells whether a handle is chosen, and says so if not.
func (d *desk) chosenHandle() bool {
	if d.line() == nil || d.choice.Frame < 0 {
		d.say("Choose a band line and a frame first.")
		return false
	}
	return true
}

func (d *desk) hold(on bool) {
	if !d.chosenHandle() {
		return
	}
	what := "hold"
	if !on {
		what = "release"
	}
	d.edit(fmt.Sprintf("%s line %d at frame %s", what, d.choice.Line+1, d.frameName(d.choice.Frame)),
		setHeld(d.choice.Layer, d.choice.Line, d.choice.Frame, on, d.course()))
}

func (d *desk) holdHere() {
	if d.chosenHandle() {
		d.edit("set the hold handle", setHold(d.choice.Layer, d.choice.Line, d.choice.Frame, d.course()))
	}
}

func (d *desk) aimAt(frame int) {
	if d.chosenHandle() {
		d.edit("set the aim handle", setAim(d.choice.Layer, d.choice.Line, frame, d.course()))
	}
}

// addLine splits the band of the chosen strake, or the one below the chosen line.
func (d *desk) addLine() {
	band := d.band()
	if d.choice.Line >= 0 {
		band = d.choice.Line + 1
	}
	l := d.layer()
	if d.edit("add a band line", addLine(d.choice.Layer, band, crossings(l, band), crossings(l, band+1))) {
		d.choose(d.choice.WithLine(band))
	}
}

func (d *desk) removeLine() {
	if d.line() == nil {
		d.say("Choose a band line first.")
		return
	}
	d.edit(fmt.Sprintf("remove line %d", d.choice.Line+1), removeLine(d.choice.Layer, d.choice.Line))
}

// laid finds every band line of the layer shown; the plan is put in place only
// if nobody has stopped it.
func (d *desk) laid(bands int) {
	p, layer := d.plan(), d.choice.Layer
	var found *hull.Plan
	d.work("Laying the band lines…", func(ctx context.Context) error {
		q, err := loft.FairLines(ctx, p, layer, bands)
		found = q
		return err
	}, func() {
		d.edit("lay all band lines", func(now *hull.Plan) error {
			if layer >= len(now.Layers) {
				return errors.New("the layer is gone")
			}
			now.Layers[layer] = found.Layers[layer]
			return nil
		})
	})
}

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
	item := fyne.NewMenuItem
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
