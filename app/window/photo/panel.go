package photo

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/sight"
)

// panel is what is set beside the photo.
type panel struct {
	*kit.Form
	p     *photo
	list  *kit.List
	table *kit.Table
	rows  []int      // of the list: indices of the photo's rows
	cells [][]string // of the table
	busy  bool       // the list follows, and is not chosen from
}

func newPanel(p *photo) *panel {
	n := &panel{Form: &kit.Form{}, p: p}
	n.Part(func() bool { return true })
	return n
}

// side is how wide the panel is.
const side = 370

func (n *panel) content() fyne.CanvasObject {
	top := container.NewVBox(n.picturePart()...)
	marks := container.NewBorder(container.NewVBox(n.groupPart()), container.NewVBox(n.markPart()...), nil, nil, room(n.markList(), 120))
	read := container.NewBorder(container.NewVBox(kit.Heading(tongue.T("What is left")), n.Text(n.fitText)), n.finish(), nil, nil, room(n.readings(), 100))
	both := container.NewGridWithRows(2, marks, read)
	all := container.NewBorder(top, nil, nil, nil, both)
	return container.New(layout.NewCustomPaddedLayout(3, 3, 4, 8), container.NewStack(wide(side), all))
}

// wide holds a panel to a width.
func wide(w float32) fyne.CanvasObject {
	r := canvas.NewRectangle(nil)
	r.SetMinSize(fyne.NewSize(w, 0))
	return r
}

// room gives an object so much height at least.
func room(o fyne.CanvasObject, height float32) fyne.CanvasObject {
	r := canvas.NewRectangle(nil)
	r.SetMinSize(fyne.NewSize(0, height))
	return container.NewStack(r, o)
}

func (n *panel) picturePart() []fyne.CanvasObject {
	p := n.p
	open := p.Button(tongue.T("Open a photo…"), tongue.T("Opens a photo of this side of the hull"), p.openPicture)
	open.Icon = theme.FolderOpenIcon()
	crop := kit.NewCheck(tongue.T("part of a larger picture"), func(on bool) {
		if on != p.cropped {
			p.cropped = on
			p.changed()
		}
	})
	n.Keep(func() { crop.SetChecked(p.cropped) })
	return []fyne.CanvasObject{
		n.Text(func() string {
			if p.side == hull.Port {
				return tongue.T("What is left to port of band %d in layer %d.", p.band+1, p.layerAt+1)
			}
			return tongue.T("What is left to starboard of band %d in layer %d.", p.band+1, p.layerAt+1)
		}),
		container.NewGridWithColumns(2, open, kit.Tipped(crop, tongue.T("The photo was cropped: its middle is not the middle of the lens"))), n.Text(n.pictureText),
	}
}

func (n *panel) pictureText() string {
	if n.p.pic == nil {
		return tongue.T("Stand well back with a long lens, and have the gap face the camera.")
	}
	w, h := n.p.pic.Size()
	return tongue.T("%s, %d x %d pixels", n.p.pic.Name, w, h)
}

// groupPart chooses what is marked: first places that are known, then the edges.
func (n *panel) groupPart() fyne.CanvasObject {
	p := n.p
	return kit.TippedRow(tongue.T("Mark"), tongue.T("What is marked: known places first, then the edges of what is left"), n.Choice(func() []string {
		var out []string
		for g, name := range groupNames {
			done, all := 0, 0
			for i := range p.rows {
				if p.rows[i].group == group(g) {
					all++
					if _, ok := p.set[p.key(&p.rows[i])]; ok {
						done++
					}
				}
			}
			out = append(out, tongue.T("%s (%d of %d)", tongue.T(name), done, all))
		}
		return out
	}, func() int { return int(p.group) }, func(i int) { p.take(group(i)) }))
}

// markList lists what can be marked.
func (n *panel) markList() fyne.CanvasObject {
	p := n.p
	n.list = kit.NewList(func() int { return len(n.rows) }, func() fyne.CanvasObject { return widget.NewLabel("") }, func(i widget.ListItemID, o fyne.CanvasObject) {
		if i >= len(n.rows) {
			return
		}
		l := o.(*widget.Label)
		l.Truncation = fyne.TextTruncateEllipsis
		r := &p.rows[n.rows[i]]
		key := p.key(r)
		sign := "○ "
		if _, ok := p.set[key]; ok {
			sign = "● "
		}
		text := sign + p.name(r)
		if p.slips[key] {
			text = sign + tongue.T("%s: does not fit", p.name(r))
		}
		l.SetText(text)
	})
	n.list.HideSeparators = true
	n.list.OnSelected = func(i widget.ListItemID) {
		if !n.busy && i < len(n.rows) && n.rows[i] != p.at {
			p.at = n.rows[i]
			p.changed()
		}
	}
	n.Keep(func() {
		n.rows = p.shown()
		n.list.Refresh()
		for i, k := range n.rows {
			if k == p.at {
				n.busy = true
				n.list.Select(i)
				n.busy = false
			}
		}
	})
	return n.list
}

// markPart is what is set of the chosen mark.
func (n *panel) markPart() []fyne.CanvasObject {
	p := n.p
	face := kit.NewCheck(tongue.T("seen on the planks' outer face"), func(on bool) {
		x, ok := p.set[p.chosen]
		want := sight.OnFrame
		if on {
			want = sight.OnPlank
		}
		if ok && x.face != want {
			x.face = want
			p.set[p.chosen], p.fresh = x, true
			p.changed()
		}
	})
	unmark := p.Button(tongue.T("Unmark"), tongue.T("Takes the mark away (Delete)"), func() { p.unmark(p.chosen) })
	snap := kit.NewCheck(tongue.T("snap clicks to clear lines (not with Shift)"), func(on bool) { p.snap = on })
	n.Keep(func() {
		x, ok := p.set[p.chosen]
		face.SetChecked(ok && x.face == sight.OnPlank)
		kit.Able(ok, face, unmark)
		snap.SetChecked(p.snap)
	})
	return []fyne.CanvasObject{container.NewBorder(nil, nil, nil, unmark, kit.Tipped(face, tongue.T("The place was marked on the outer face of the planks, not on the frame"))), kit.Tipped(snap, tongue.T("Pulls clicks onto clear lines"))}
}

// fitText tells how well the known places fit, or what is still wanted.
func (n *panel) fitText() string {
	p := n.p
	switch {
	case p.pic == nil:
		return tongue.T("Mark six known places or more over several frames, or four of one frame; then the edges of what is left.")
	case p.seen == nil:
		return p.lack
	}
	text := p.told.Fit
	if len(p.told.LeftOut) > 0 {
		text += " " + tongue.T("Left out: %s.", strings.Join(p.told.LeftOut, "; "))
	}
	return text
}

// widths are those of the columns of the table of what is left.
var widths = []float32{52, 62, 78, 160}

// readings is the table of what is left.
func (n *panel) readings() fyne.CanvasObject {
	p := n.p
	n.table = kit.NewTable([]string{tongue.T("Frame"), tongue.In("remaining", "Left"), tongue.T("± at 95 %"), ""}, widths, func() [][]string { return n.cells }, func(int) bool { return false }, func(row int) {
		if why := p.told.Readings[row].Why; why != "" {
			p.Status(tongue.T("Frame %s: %s.", p.told.Readings[row].Frame, why))
		}
	})
	n.Keep(func() {
		n.cells = nil
		for _, r := range p.told.Readings {
			cell := []string{r.Frame, "–", "–", r.Why}
			if r.Given {
				cell = []string{r.Frame, p.main.Units.Number(r.Left), p.main.Units.Number(r.Bound), ""}
			}
			n.cells = append(n.cells, cell)
		}
		n.table.Refresh()
	})
	return n.table
}

// noteName is the name of the button that notes the readings.
func (p *photo) noteName() string {
	if n := len(p.entries()); n > 0 {
		return tongue.Count(n, "Note %d reading", "Note %d readings", n)
	}
	return tongue.T("Note them")
}

// finish is what is done with the whole.
func (n *panel) finish() fyne.CanvasObject {
	p := n.p
	note := p.Button(tongue.T("Note them"), tongue.T("Puts the readings into the record of the bench, as one step"), p.note)
	note.Importance = widget.HighImportance
	leave := p.Button(tongue.T("Close"), tongue.T("Closes the window (Escape)"), func() { p.leave(func() {}) })
	n.Keep(func() {
		list := p.entries()
		kit.Able(len(list) > 0 && p.fresh && p.main.Bench.Day == "", note)
		if name := p.noteName(); note.Text != name {
			note.SetText(name)
		}
	})
	return container.NewGridWithColumns(2, leave, note)
}
