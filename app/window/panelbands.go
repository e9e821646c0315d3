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
func (p *panel) bandPart() []fyne.CanvasObject {
	d := p.desk
	bands := p.choice(d.bandNames, d.band, func(i int) { d.chooseBand(i) })
	count := p.number(newNumber(d, 1, whole, func() float64 { return float64(d.layer().Bands[d.band()].Strakes) },
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
func (p *panel) sharePart() fyne.CanvasObject {
	d := p.desk
	strakes := p.choice(d.strakeNames, func() int { return d.choice.Strake }, func(i int) { d.choose(d.choice.WithStrake(i)) })
	strakes.PlaceHolder = "(none)"
	share := p.number(newNumber(d, 0.05, func(v float64) string { return fmt.Sprintf("%.2f", v) }, d.share, d.setShare))
	p.keep(func() { share.able(d.choice.Strake >= 0) })
	return container.NewVBox(row("Strake", strakes), row("Its share", share.box),
		p.text(func() string { return strakeSummary(d) }))
}

func (d *desk) bandNames() []string {
	var out []string
	for k := range d.planLayer().Bands {
		out = append(out, fmt.Sprintf("%d", k+1))
	}
	return out
}

// band is the band of the choice: that of the strake, or the one above the
// line, or the first.
func (d *desk) band() int {
	last := len(d.planLayer().Bands) - 1
	switch c := d.choice; {
	case c.Strake >= 0 && c.Strake < len(d.layer().Strakes):
		return d.layer().Strakes[c.Strake].Band - 1
	case c.Line >= 0:
		return min(c.Line, last)
	}
	return 0
}

// chooseBand chooses the first strake of a band.
func (d *desk) chooseBand(band int) {
	for k, s := range d.layer().Strakes {
		if s.Band == band+1 {
			d.choose(d.choice.WithStrake(k))
			return
		}
	}
}

func (d *desk) strakeNames() []string {
	var out []string
	for _, s := range d.layer().Strakes {
		name := s.ID
		if s.Garboard {
			name += " garboard"
		}
		out = append(out, name)
	}
	return out
}

func (d *desk) setStrakes(n int) bool {
	return d.edit(fmt.Sprintf("set the strakes of band %d", d.band()+1), setStrakes(d.choice.Layer, d.band(), n))
}

// share is the chosen strake's share of its band, or NaN.
func (d *desk) share() float64 {
	if d.choice.Strake < 0 {
		return math.NaN()
	}
	s := d.layer().Strakes[d.choice.Strake]
	return d.planLayer().Bands[s.Band-1].Weight(s.Number - 1)
}

func (d *desk) setShare(w float64) bool {
	if d.choice.Strake < 0 {
		return false
	}
	s := d.layer().Strakes[d.choice.Strake]
	n := d.layer().Bands[s.Band-1].Strakes
	return d.edit("set the share of strake "+s.ID, setWeight(d.choice.Layer, s.Band-1, s.Number-1, n, w))
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
