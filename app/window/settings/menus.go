package settings

import (
	"slices"

	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// MenuAt is the menu of a handle under the mouse, which is chosen, or of whatever
// a tap there chooses.
func MenuAt(d *desk.Desk, h views.Handle, on bool, tap func()) *fyne.Menu {
	if on {
		d.ChooseHandle(h)
	} else {
		tap()
	}
	return BoardMenu(d)
}

// BoardMenu is the menu of what is chosen, on the drawings.
func BoardMenu(d *desk.Desk) *fyne.Menu {
	item := fyne.NewMenuItem
	b := d.Line()
	if d.Choice.Limit != views.NoLimit {
		return limitMenu(d)
	}
	if b == nil {
		return fyne.NewMenu("", append(madeItems(d),
			item(tongue.T("Split this band by a line"), func() { AddLine(d) }),
			item(tongue.T("Lay all lines…"), func() { LayLines(d) }),
			item(tongue.T("Compare strips…"), d.CompareWidths))...)
	}
	m := fyne.NewMenu("")
	for i, of := range lineTypes {
		it := item(tongue.T("Line type: %s", typeNames()[i]), func() { SetLineType(d, of) })
		it.Checked = b.LineType == of
		it.Disabled = d.Shapeless() && of != hull.Drawn
		m.Items = append(m.Items, it)
	}
	m.Items = append(m.Items, fyne.NewMenuItemSeparator())
	if f := d.Choice.Frame; f >= 0 {
		m.Items = append(m.Items, handleItems(d, b, f)...)
		m.Items = append(m.Items, fyne.NewMenuItemSeparator())
	}
	m.Items = append(m.Items, item(tongue.T("Add a line below"), func() { AddLine(d) }), item(tongue.T("Remove this line"), func() { RemoveLine(d) }), item(tongue.T("Lay all lines…"), func() { LayLines(d) }))
	return m
}

// madeItems is how the chosen strake can be made, nothing where none is chosen.
func madeItems(d *desk.Desk) []*fyne.MenuItem {
	s := chosenStrake(d)
	if s == nil {
		return nil
	}
	parent := fyne.NewMenuItem(tongue.T("Strake %s is made", s.ID), nil)
	parent.ChildMenu = fyne.NewMenu("")
	for i, name := range modeNames(d) {
		m := modeOrder()[i]
		it := fyne.NewMenuItem(name, func() { setMode(d, m) })
		it.Checked = i == modeChosen(d)
		parent.ChildMenu.Items = append(parent.ChildMenu.Items, it)
	}
	return []*fyne.MenuItem{parent, fyne.NewMenuItemSeparator()}
}

// handleItems is what can be done with the chosen handle.
func handleItems(d *desk.Desk, b *hull.BandLine, f int) []*fyne.MenuItem {
	name := d.FrameName(f)
	if b.LineType == hull.Free {
		return []*fyne.MenuItem{
			fyne.NewMenuItem(tongue.T("Pin at frame %s", name), func() { pinHere(d) }),
			fyne.NewMenuItem(tongue.T("Point through frame %s", name), func() { AimAt(d, f) }),
			fyne.NewMenuItem(tongue.T("Reset direction"), func() { AimAt(d, -1) }),
		}
	}
	if b.Handles[f].Held {
		return []*fyne.MenuItem{fyne.NewMenuItem(tongue.T("Release at frame %s", name), func() { hold(d, false) })}
	}
	return []*fyne.MenuItem{fyne.NewMenuItem(tongue.T("Hold at frame %s", name), func() { hold(d, true) })}
}

// limitMenu is what can be done with the chosen limit.
func limitMenu(d *desk.Desk) *fyne.Menu {
	l, f := d.Choice.Limit, d.Choice.Frame
	m := fyne.NewMenu("")
	if f >= 0 {
		name := d.FrameName(f)
		release := fyne.NewMenuItem(tongue.T("Release the %s at frame %s", d.LimitName(l), name), func() {
			d.Edit(tongue.T("release the %s at frame %s", d.LimitName(l), name), edit.ReleaseLimit(l, name))
		})
		release.Disabled = !slices.ContainsFunc(*edit.LimitList(&d.Plan().Hull, l), func(in hull.Inset) bool { return in.Frame == name })
		m.Items = append(m.Items, release)
	}
	m.Items = append(m.Items, fyne.NewMenuItem(tongue.T("Limits…"), func() { SetLimits(d) }))
	return m
}

// lineTypes are the types of a band line in the panel's order.
var lineTypes = []hull.LineType{hull.Drawn, hull.Free, hull.Least}

// follows are the courses that a line can follow in the panel's order.
var follows = []hull.Follows{hull.ThinBatten, hull.StripItself}

func followNames() []string {
	return []string{tongue.In("follows", "a thin batten"), tongue.In("follows", "the strip itself")}
}

func typeNames() []string {
	var out []string
	for _, of := range lineTypes {
		out = append(out, answer.LineTypeName(of))
	}
	return out
}
