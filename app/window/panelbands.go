package window

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"strakewright/loft"
)

// bandPart is the panel's part for the bands: how many strakes, and whose share
// is greater.
func (p settings) bandPart() []fyne.CanvasObject {
	d := p.desk
	bands := p.choice(d.bandNames, d.band, func(i int) { d.chooseBand(i) })
	count := p.number(newNumber(d.notices, 1, whole, func() float64 { return float64(d.layer().Bands[d.band()].Strakes) },
		func(v float64) bool { return d.setStrakes(int(math.Round(v))) }))
	open := widget.NewCheck("as many as the girth takes", nil)
	open.OnChanged = func(on bool) {
		if p.busy {
			return
		}
		n := 0
		if !on {
			n = d.layer().Bands[d.band()].Strakes
		}
		d.setStrakes(n)
	}
	p.keep(func() { open.SetChecked(d.planLayer().Bands[d.band()].Strakes == 0) })
	return []fyne.CanvasObject{
		row("Band", bands), row("Strakes", count.box), open,
		p.text(func() string { return bandSummary(d, d.layer().Bands[d.band()]) }),
		widget.NewSeparator(),
		p.sharePart(),
		d.button("Choose the garboard", "The lowest strake", func() { d.choose(d.choice.WithStrake(len(d.layer().Strakes) - 1)) }),
		container.NewGridWithColumns(2,
			d.button("Add line", "Splits this band in two", d.addLine),
			d.button("Remove line", "Makes one band of the two beside the chosen line", d.removeLine)),
		caution("taper strips against a straight edge, in several light scores, fingers behind the blade. Sand with extraction and a mask: the dust of some hardwoods is a sensitiser."),
	}
}

// sharePart makes the chosen strake wider or narrower than its neighbours.
func (p settings) sharePart() fyne.CanvasObject {
	d := p.desk
	strakes := p.choice(d.strakeNames, func() int { return d.choice.Strake }, func(i int) { d.choose(d.choice.WithStrake(i)) })
	strakes.PlaceHolder = "(none)"
	share := p.number(newNumber(d.notices, 0.05, func(v float64) string { return fmt.Sprintf("%.2f", v) }, d.share, d.setShare))
	p.keep(func() { share.able(d.choice.Strake >= 0) })
	return container.NewVBox(row("Strake", strakes), row("Its share", share.box),
		p.text(func() string { return strakeSummary(d) }))
}

func bandSummary(d *desk, b *loft.Band) string {
	most, at := 0.0, 0
	for f, g := range b.Girths {
		if g > most {
			most, at = g, f
		}
	}
	text := fmt.Sprintf("Girth at most %s, at frame %s. ", d.units.Long(most), d.frameName(at))
	where := "there"
	if mid := d.layer().Greatest(); mid != at {
		where = "at frame " + d.frameName(mid) + ", of the hull's greatest girth"
	}
	if b.Left >= 0 {
		return text + fmt.Sprintf("Full strips leave %s %s.", d.units.Length(b.Left), where)
	}
	return text + fmt.Sprintf("Full strips overrun it by %s %s.", d.units.Length(-b.Left), where)
}

func strakeSummary(d *desk) string {
	if d.choice.Strake < 0 || d.choice.Strake >= len(d.layer().Strakes) {
		return "Choose a strake to make it wider or narrower than its neighbours, as garboards often are."
	}
	s := d.layer().Strakes[d.choice.Strake]
	if d.shapeless() {
		return d.units.Long(s.Length) + " long, the straight way from frame to frame. Edge-set, bend and twist need the hull's shape."
	}
	text := fmt.Sprintf("%s long; edge-set at most %s of strain", d.units.Long(s.Length), percent(float64(s.EdgeSetMax)*d.planLayer().Stock.Width/2))
	if s.FaceRadiusMin > 0 {
		bend := d.planLayer().Stock.Thickness / 2 / s.FaceRadiusMin
		text += fmt.Sprintf("; tightest bend %s, %s of strain in its faces", d.units.Long(s.FaceRadiusMin), percent(bend))
	}
	text += fmt.Sprintf("; twist %.0f°.", s.Twist.Degrees())
	if s.Garboard {
		text += " Its lower edge is cut to the rabbet line."
	}
	return text
}
