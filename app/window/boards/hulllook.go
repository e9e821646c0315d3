package boards

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/scene"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// prospects are the named views of the hull, in the order of their keys, 1 and on.
var prospects = []struct {
	of   scene.Prospect
	name string
}{
	{scene.OffTheBow, tongue.Mark("Off the bow")},
	{scene.FromBow, tongue.Mark("Bow")},
	{scene.Abeam, tongue.Mark("Beam")},
	{scene.FromStern, tongue.Mark("Stern")},
	{scene.OffTheStern, tongue.Mark("Off the stern")},
	{scene.FromAbove, tongue.Mark("Above")},
	{scene.FromBelow, tongue.Mark("Below")},
	{scene.AtTheBench, tongue.Mark("At the bench, keel up")},
}

// lookBar is the row of buttons over the hull: from where it is looked at, what it
// shows, and how large.
type lookBar struct {
	view   *hullView
	shows  *kit.Button
	full   *kit.Button
	object *container.Scroll
}

func newLookBar(v *hullView) *lookBar {
	b, d := &lookBar{view: v}, v.desk
	then := func(f func()) func() {
		return func() {
			f()
			v.board.focus()
		}
	}
	var from *kit.Button
	from = d.Button(tongue.T("View"), tongue.T("Looks at the hull from bow, stern, beam, above, below, or keel up as at the bench (keys 1 to 8)"), func() { below(from, v.prospectMenu()...) })
	from.Icon, from.IconPlacement = theme.MenuDropDownIcon(), widget.ButtonIconTrailingText
	b.shows = d.Button(tongue.T(tintings[v.tinting].name), tongue.T("Shows the wood, or a map of how far the strakes are bent sideways, or of how the strips fill their places"), func() { below(b.shows, v.tintingMenu()...) })
	b.shows.Icon, b.shows.IconPlacement = theme.MenuDropDownIcon(), widget.ButtonIconTrailingText
	fit := d.Button(tongue.T("Fit"), tongue.T("Shows the whole hull, as large as the pane takes it (Home)"), then(v.refitted))
	b.full = d.Button("", tongue.T("Shows the hull over all the drawings, or back in its pane (F)"), then(v.switchFull))
	b.full.Icon = theme.ViewFullScreenIcon()
	b.object = container.NewHScroll(container.NewHBox(from, b.shows, fit, b.full))
	return b
}

// below opens a menu under a button.
func below(b *kit.Button, items ...*fyne.MenuItem) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(b); c != nil {
		widget.ShowPopUpMenuAtRelativePosition(fyne.NewMenu("", items...), c, fyne.NewPos(0, b.Size().Height), b)
	}
}

// show brings the buttons up to date.
func (b *lookBar) show() {
	if name := tongue.T(tintings[b.view.tinting].name); b.shows.Text != name {
		b.shows.SetText(name)
	}
	kit.Able(!b.view.strip.on, b.shows)
	icon := theme.ViewFullScreenIcon()
	if b.view.isFull {
		icon = theme.ViewRestoreIcon()
	}
	if b.full.Icon != icon {
		b.full.SetIcon(icon)
	}
	if on := !b.view.desk.Shapeless(); on != b.object.Visible() {
		if on {
			b.object.Show()
		} else {
			b.object.Hide()
		}
	}
}

// prospectMenu is the named views, each with its key.
func (v *hullView) prospectMenu() []*fyne.MenuItem {
	var out []*fyne.MenuItem
	for i, p := range prospects {
		m := fyne.NewMenuItem(tongue.T(p.name)+"  ("+string(rune('1'+i))+")", func() {
			v.lookFrom(p.of)
			v.board.focus()
		})
		m.Checked = v.turned && v.prospect == p.of && !v.moved
		out = append(out, m)
	}
	return out
}

// tintingMenu is what the hull can show.
func (v *hullView) tintingMenu() []*fyne.MenuItem {
	var out []*fyne.MenuItem
	for _, t := range maps {
		m := fyne.NewMenuItem(tongue.T(tintings[t].told), func() {
			v.tinting = t
			v.follow()
			v.board.Refresh()
			v.board.focus()
		})
		m.Checked = v.tinting == t
		out = append(out, m)
	}
	return out
}

// lookFrom looks at the hull from one of the named places.
func (v *hullView) lookFrom(p scene.Prospect) {
	v.prospect, v.turned, v.moved, v.fitted = p, true, false, false
	v.follow()
	v.board.Refresh()
}

// refitted shows the whole again from where the eye is.
func (v *hullView) refitted() {
	v.fitted = false
	v.board.Refresh()
}

// switchFull gives the hull the whole board, or takes it back.
func (v *hullView) switchFull() {
	v.isFull = !v.isFull
	v.full(v.isFull)
	v.follow()
}

// nearerBy is how much nearer a press of + brings the hull.
const nearerBy = 1.25

// middle is that of the view, in the board's own units.
func (v *hullView) middle() draw.Point {
	w, h := v.board.size()
	return draw.Pt(w/2, h/2)
}

// keys are those of the named views, those that bring the hull nearer or farther, and
// that of the whole board.
func (v *hullView) keys() kit.Keys {
	last := rune('0' + len(prospects))
	numbers := ""
	for r := '1'; r <= last; r++ {
		numbers += string(r)
	}
	return kit.Keys{
		{Runes: numbers, Shown: tongue.T("1 to %s", string(last)), Does: tongue.T("looks from a named place, in the order of the View menu over the hull"), Type: func(r rune) { v.lookFrom(prospects[r-'1'].of) }},
		{Runes: "+=", Does: tongue.T("nearer"), Type: func(rune) { v.wheel(v.middle(), nearerBy) }},
		{Runes: "-", Shown: "−", Does: tongue.T("farther"), Type: func(rune) { v.wheel(v.middle(), 1/nearerBy) }},
		{Runes: "fF", Does: tongue.T("shows the hull over all the drawings, or back in its pane"), Type: func(rune) { v.switchFull() }},
		{Names: []fyne.KeyName{fyne.KeyEscape}, Does: tongue.T("puts the hull back in its pane"), Press: func(fyne.KeyName) bool { return v.desk.Grip == nil && v.leaveFull() }},
	}
}

// rune takes a character.
func (v *hullView) rune(r rune) {
	if !v.desk.Shapeless() {
		v.keys().Type(r)
	}
}

// leaveFull takes the whole board back, and tells whether the hull had it.
func (v *hullView) leaveFull() bool {
	if !v.isFull {
		return false
	}
	v.isFull = false
	v.full(false)
	v.look.show()
	return true
}

// camera is from where the hull is looked at anew, fitted to a view of w x h pixels.
func (v *hullView) camera(w, h int) scene.Camera {
	s := v.made.scene
	if v.moved {
		c := scene.Facing(s, v.cam.Yaw, v.cam.Pitch)
		c.KeelUp = v.cam.KeelUp
		return c.Fit(s, w, h)
	}
	c := scene.From(v.prospect, s, v.desk.Plan().Hull.Bow == hull.BowFirst, w, h)
	if k := v.made.strip; k.from != nil && !v.turned {
		c.Pitch = pitchTo(k.from)
		c = c.Fit(s, w, h)
	}
	return c
}

// menu is that of the right button: all that the buttons do.
func (v *hullView) menu(draw.Point) *fyne.Menu {
	items := append(v.tintingMenu(), fyne.NewMenuItemSeparator())
	items = append(items, v.prospectMenu()...)
	return fyne.NewMenu("", append(items, fyne.NewMenuItemSeparator(), fyne.NewMenuItem(tongue.T("Show the whole hull"), v.refitted))...)
}
