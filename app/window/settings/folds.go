package settings

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// way is one thing that can be done about a note: a button, and what it does as one
// step.
type way struct {
	name, hint string
	step       string // as undo tells it
	change     edit.Change
}

// settling is a note that something can be done about.
type settling struct {
	text  string
	ways  []way
	grave bool // to be settled; else the way back from what was settled
}

// settlings are the folds, blocks and own frames of all layers.
func settlings(d *desk.Desk) []settling {
	var out []settling
	for i, l := range d.Planking().Layers {
		blocks := 0
		for _, n := range l.Notes {
			s := settling{text: layerHead(d, l) + answer.NoteText(l, n, d.Units)}
			switch n := n.(type) {
			case loft.Folds:
				s.grave = true
				for _, r := range n.Remedies() {
					s.ways = append(s.ways, way{
						answer.RemedyName(l, r, d.Units), kit.SentenceStart(answer.RemedyText(l, r, d.Units)),
						tongue.T("settle the fold at frame %s", l.Surface.FrameName(n.At)), edit.Settle(i, r),
					})
				}
			case loft.MadeBlock:
				s.ways = []way{{tongue.T("Plank it instead"), tongue.T("Takes the block out of the layer"), tongue.T("take a block out"), edit.PlankBlock(i, blocks)}}
				blocks++
			case loft.LaidBetween:
				s.ways = []way{{tongue.T("Lay it all along"), tongue.T("Lays the layer wherever the hull is planked"), tongue.T("lay the layer all along"), edit.LayBetween(i, "", "")}}
			default:
				continue
			}
			out = append(out, s)
		}
	}
	return out
}

// layerHead names a layer before what is told of it, where there are several.
func layerHead(d *desk.Desk, l *loft.Layer) string {
	if len(d.Planking().Layers) < 2 {
		return ""
	}
	return tongue.T("Layer %d.", l.Number) + " "
}

// settlingPart shows them, each with its buttons below; it is made anew when they
// change.
func (p Settings) settlingPart() fyne.CanvasObject {
	d := p.desk
	box := container.NewVBox()
	var shown []string
	p.Keep(func() {
		now := settlings(d)
		var texts []string
		for _, s := range now {
			texts = append(texts, s.text)
		}
		if slices.Equal(texts, shown) {
			return
		}
		shown = texts
		box.RemoveAll()
		for _, s := range now {
			box.Add(kit.Wrapped(s.text))
			buttons := container.NewVBox()
			for _, w := range s.ways {
				buttons.Add(d.Button(w.name, w.hint, func() { d.Edit(w.step, w.change) }))
			}
			box.Add(buttons)
		}
		box.Refresh()
	})
	return box
}

// stretchRow chooses the frames between which the layer shown is laid.
func (p Settings) stretchRow() []fyne.CanvasObject {
	d := p.desk
	names := func() []string { return edit.FrameNames(&d.Plan().Hull) }
	ends := func() (from, to int) { return d.Plan().Laid(d.Choice.Layer) }
	lay := func(from, to int) {
		first, last := d.Plan().Hull.Planked()
		name := func(i, itself int) string {
			if i == itself {
				return ""
			}
			return d.FrameName(i)
		}
		d.Edit(tongue.T("set the frames of the layer"), edit.LayBetween(d.Choice.Layer, name(from, first), name(to, last)))
	}
	from := p.Choice(names, func() int { a, _ := ends(); return a }, func(i int) { _, b := ends(); lay(i, b) })
	to := p.Choice(names, func() int { _, b := ends(); return b }, func(i int) { a, _ := ends(); lay(a, i) })
	return []fyne.CanvasObject{kit.TippedRow(tongue.T("Laid from frame"), tongue.T("The frame at which this layer begins"), from), kit.TippedRow(tongue.T("to frame"), tongue.T("The frame at which this layer ends"), to)}
}
