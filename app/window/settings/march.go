package settings

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// marchPart shows how far whole strips go from the free lines before one is forced:
// a switch, by which the profile shows the strips, a plot and what it means.
func (p Settings) marchPart() fyne.CanvasObject {
	d := p.desk
	on := kit.NewCheck(tongue.T("march out whole strips"), nil)
	onTip := kit.Tipped(on, tongue.T("Shows whole strips laid outwards from the free line, and where they are forced too far"))
	on.OnChanged = func(on bool) {
		if !p.Busy {
			d.ShowMarch(on)
		}
	}
	var v views.MarchPlot
	plot := kit.NewPlot(d.Notices, d.Look, fyne.NewSize(240, 170), func(w, h float64) *draw.Drawing {
		v.Drawing.Reset()
		if m := d.Marched(); m != nil && m.Err == nil {
			v.Draw(m.Layer, m.Ways, w, h)
		}
		return &v.Drawing
	}, func(draw.Point) {})
	means := p.Text(func() string { return marchText(d) })
	shown := container.NewVBox(plot, means)
	box := container.NewVBox(onTip, shown)
	var last *desk.Marched
	dark := false
	p.Keep(func() {
		if on.Checked != d.Marching() {
			on.SetChecked(d.Marching())
		}
		m := d.Marched()
		kit.Show(shown, d.Marching())
		kit.Show(plot, m != nil && m.Err == nil)
		if m != last || dark != d.Dark {
			last, dark = m, d.Dark
			box.Refresh()
		}
	})
	return box
}

// marchText tells what each way into a band comes to, those of the chosen line
// first.
func marchText(d *desk.Desk) string {
	m := d.Marched()
	switch {
	case !d.Marching():
		return ""
	case m == nil:
		return tongue.T("Reckoning strip after strip…")
	case m.Err != nil:
		return kit.Sentence(m.Err)
	}
	var ofLine, others []string
	for i := range m.Ways {
		way := &m.Ways[i]
		text := answer.MarchText(d.Planking(), m.Layer, way, d.Units)
		if d.Line() != nil && way.Line == d.Choice.Line+1 {
			ofLine = append(ofLine, text)
		} else {
			others = append(others, text)
		}
	}
	return strings.Join(append(ofLine, others...), "\n\n")
}
