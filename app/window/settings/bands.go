package settings

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/loft"
)

// BandPart is the panel's part for the bands: how many strakes, and whose share
// is greater.
func (p Settings) BandPart() []fyne.CanvasObject {
	d := p.desk
	bands := p.Choice(d.BandNames, d.Band, func(i int) { chooseBand(d, i) })
	count := p.Number(kit.NewNumber(d.Notices, 1, kit.Whole, func() float64 { return float64(d.Layer().Bands[d.Band()].Strakes) },
		func(v float64) bool { return setStrakes(d, int(math.Round(v))) }))
	open := widget.NewCheck("as many as the girth takes", nil)
	open.OnChanged = func(on bool) {
		if p.Busy {
			return
		}
		n := 0
		if !on {
			n = d.Layer().Bands[d.Band()].Strakes
		}
		setStrakes(d, n)
	}
	p.Keep(func() { open.SetChecked(d.PlanLayer().Bands[d.Band()].Strakes == 0) })
	return []fyne.CanvasObject{
		kit.Row("Band", bands), kit.Row("Strakes", count.Box), open,
		p.Text(func() string { return bandSummary(d, d.Layer().Bands[d.Band()]) }),
		widget.NewSeparator(),
		p.sharePart(),
		d.Button("Choose the garboard", "The lowest strake", func() { d.Choose(d.Choice.WithStrake(len(d.Layer().Strakes) - 1)) }),
		container.NewGridWithColumns(2,
			d.Button("Add line", "Splits this band in two", func() { AddLine(d) }),
			d.Button("Remove line", "Makes one band of the two beside the chosen line", func() { RemoveLine(d) })),
		kit.Caution("taper strips against a straight edge, in several light scores, fingers behind the blade. Sand with extraction and a mask: the dust of some hardwoods is a sensitiser."),
	}
}

// sharePart makes the chosen strake wider or narrower than its neighbours.
func (p Settings) sharePart() fyne.CanvasObject {
	d := p.desk
	strakes := p.Choice(d.StrakeNames, func() int { return d.Choice.Strake }, func(i int) { d.Choose(d.Choice.WithStrake(i)) })
	strakes.PlaceHolder = "(none)"
	share := p.Number(kit.NewNumber(d.Notices, 0.05, func(v float64) string { return fmt.Sprintf("%.2f", v) }, d.Share, func(w float64) bool { return setShare(d, w) }))
	p.Keep(func() { share.Able(d.Choice.Strake >= 0) })
	return container.NewVBox(kit.Row("Strake", strakes), kit.Row("Its share", share.Box),
		p.Text(func() string { return strakeSummary(d) }))
}

func bandSummary(d *desk.Desk, b *loft.Band) string {
	most, at := 0.0, 0
	for f, g := range b.Girths {
		if g > most {
			most, at = g, f
		}
	}
	text := fmt.Sprintf("Girth at most %s, at frame %s. ", d.Units.Long(most), d.FrameName(at))
	where := "there"
	if mid := d.Layer().Greatest(); mid != at {
		where = "at frame " + d.FrameName(mid) + ", of the hull's greatest girth"
	}
	if b.Left >= 0 {
		return text + fmt.Sprintf("Full strips leave %s %s.", d.Units.Length(b.Left), where)
	}
	return text + fmt.Sprintf("Full strips overrun it by %s %s.", d.Units.Length(-b.Left), where)
}

func strakeSummary(d *desk.Desk) string {
	if d.Choice.Strake < 0 || d.Choice.Strake >= len(d.Layer().Strakes) {
		return "Choose a strake to make it wider or narrower than its neighbours, as garboards often are."
	}
	s := d.Layer().Strakes[d.Choice.Strake]
	if d.Shapeless() {
		return d.Units.Long(s.Length) + " long, the straight way from frame to frame. Edge-set, bend and twist need the hull's shape." + cutsAfter(d, s)
	}
	text := fmt.Sprintf("%s long; edge-set at most %s of strain", d.Units.Long(s.Length), desk.Percent(float64(s.EdgeSetMax)*d.PlanLayer().Stock.Width/2))
	if s.FaceRadiusMin > 0 {
		bend := d.PlanLayer().Stock.Thickness / 2 / s.FaceRadiusMin
		text += fmt.Sprintf("; tightest bend %s, %s of strain in its faces", d.Units.Long(s.FaceRadiusMin), desk.Percent(bend))
	}
	text += fmt.Sprintf("; twist %.0f°.", s.Twist.Degrees())
	if s.Garboard {
		text += " Its lower edge is cut to the rabbet line."
	}
	return text + cutsAfter(d, s)
}

// cutsAfter tells a strake's straight cuts after what else is told of it.
func cutsAfter(d *desk.Desk, s *loft.Strake) string {
	if text := d.CutsText(s); text != "" {
		return " " + text
	}
	return ""
}
