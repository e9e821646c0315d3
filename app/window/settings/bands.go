package settings

import (
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// BandPart is the panel's part for the bands: how many strakes, and whose share
// is greater.
func (p Settings) BandPart() []fyne.CanvasObject {
	d := p.desk
	bands := p.Choice(d.BandNames, d.Band, func(i int) { chooseBand(d, i) })
	count := p.Number(kit.NewNumber(d.Notices, 1, kit.Whole, func() float64 { return float64(d.Layer().Bands[d.Band()].Strakes) },
		func(v float64) bool { return setStrakes(d, int(math.Round(v))) }))
	open := kit.NewCheck(tongue.T("fit automatically"), nil)
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
	verdict := kit.NewVerdict()
	p.Keep(func() {
		s := chosenStrake(d)
		if s != nil {
			verdict.Set(strakeVerdict(d, s))
		}
		kit.Show(verdict.Box, s != nil)
	})
	return []fyne.CanvasObject{
		kit.TippedRow(tongue.T("Band"), tongue.T("The band that the rest of this tab is about"), bands),
		container.NewGridWithColumns(2,
			d.Button(tongue.T("Add line"), tongue.T("Splits this band in two"), func() { AddLine(d) }),
			p.removeButton(tongue.T("Makes one band of the two beside the chosen line"))),
		kit.TippedRow(tongue.T("Strakes"), tongue.T("How many strakes the band is shared among"), count.Box), kit.Tipped(open, tongue.T("Chooses the number of strakes by the girth of the band")), widget.NewSeparator(),
		p.sharePart(), widget.NewSeparator(),
		p.Text(func() string { return bandSummary(d, d.Layer().Bands[d.Band()]) }),
		verdict.Box, p.Text(func() string { return strakeSummary(d) }),
		kit.Caution(tongue.T("taper strips against a straight edge, in several light scores, fingers behind the blade; carve away from the hand that holds the block, and mind that irons and steam burn. Sand with extraction and a mask: the dust of some hardwoods is a sensitiser.")),
	}
}

// sharePart makes the chosen strake wider or narrower than its neighbours.
func (p Settings) sharePart() fyne.CanvasObject {
	d := p.desk
	strakes := p.Choice(d.StrakeNames, func() int { return d.Choice.Strake }, func(i int) { d.Choose(d.Choice.WithStrake(i)) })
	strakes.PlaceHolder = tongue.T("(none)")
	share := p.Number(kit.NewNumber(d.Notices, 0.05, func(v float64) string { return tongue.T("%.2f", v) }, d.Share, func(w float64) bool { return setShare(d, w) }))
	p.Keep(func() { share.Able(d.Choice.Strake >= 0) })
	return container.NewVBox(kit.TippedRow(tongue.T("Strake"), tongue.T("The strake chosen, here and on the drawings"), strakes),
		d.Button(tongue.T("Choose the garboard"), tongue.T("The lowest strake"), func() { d.Choose(d.Choice.WithStrake(len(d.Layer().Strakes) - 1)) }),
		kit.TippedRow(tongue.T("Its share"), tongue.T("How wide the strake is against its neighbours: 1 is as wide, 2 twice as wide"), share.Box), kit.TippedRow(tongue.T("Made"), tongue.T("How the strake is made: left to the rules, sprung, spiled or carved"), p.made()))
}

// made chooses how the chosen strake is made.
func (p Settings) made() fyne.CanvasObject {
	d := p.desk
	s := p.Choice(func() []string { return modeNames(d) }, func() int { return modeChosen(d) }, func(i int) { setMode(d, modeOrder()[i]) })
	s.PlaceHolder = tongue.T("(choose a strake)")
	return s
}

// modeOrder is the order of the choices: first what leaves it to the rules.
func modeOrder() []hull.Mode { return append([]hull.Mode{""}, hull.Modes()...) }

// modeDeeds say what the modes are.
var modeDeeds = map[hull.Mode]string{hull.Sprung: tongue.Mark("sprung from a strip"), hull.Spiled: tongue.Mark("spiled: cut to shape from sheet"), hull.Block: tongue.Mark("carved from a block")}

// modeNames are the choices of the chosen strake; none where none is chosen.
func modeNames(d *desk.Desk) []string {
	s := chosenStrake(d)
	if s == nil {
		return nil
	}
	var out []string
	for _, m := range modeOrder() {
		if m == "" {
			out = append(out, tongue.T("by the rules"))
		} else {
			out = append(out, tongue.T(modeDeeds[m]))
		}
	}
	return out
}

// modeChosen is which of them the plan holds; -1 where no strake is chosen.
func modeChosen(d *desk.Desk) int {
	s := chosenStrake(d)
	if s == nil {
		return -1
	}
	return slices.Index(modeOrder(), d.PlanLayer().Bands[s.Band-1].Mode(s.Number-1))
}

// setMode has the chosen strake made in a mode, in one step.
func setMode(d *desk.Desk, m hull.Mode) {
	s := chosenStrake(d)
	if s == nil {
		return
	}
	d.Edit(modeStep(m, s.ID), edit.SetMode(d.Choice.Layer, s.Band-1, s.Number-1, m))
}

// modeStep names the step that has a strake made in a mode.
func modeStep(m hull.Mode, id string) string {
	switch m {
	case hull.Sprung:
		return tongue.T("make strake %s sprung", id)
	case hull.Spiled:
		return tongue.T("make strake %s spiled", id)
	case hull.Block:
		return tongue.T("carve strake %s from a block", id)
	}
	return tongue.T("leave strake %s to the rules", id)
}

// chosenStrake is the strake that is chosen, nil where none is.
func chosenStrake(d *desk.Desk) *loft.Strake {
	if d.Choice.Strake < 0 || d.Choice.Strake >= len(d.Layer().Strakes) {
		return nil
	}
	return d.Layer().Strakes[d.Choice.Strake]
}

func bandSummary(d *desk.Desk, b *loft.Band) string {
	most, at := 0.0, 0
	for f, g := range b.Girths {
		if g > most {
			most, at = g, f
		}
	}
	return tongue.T("Girth at most %s, at frame %s.", d.Units.Long(most), d.FrameName(at)) + " " + leftText(d, b, at)
}

// leftText tells what full strips leave of a band where the hull's girth is greatest, or
// by how much they overrun it there. At is the frame that has been named.
func leftText(d *desk.Desk, b *loft.Band, at int) string {
	mid := d.Layer().Greatest()
	left, name := d.Units.Length(math.Abs(b.Left)), d.FrameName(mid)
	switch {
	case mid == at && b.Left >= 0:
		return tongue.T("Full strips leave %s there.", left)
	case mid == at:
		return tongue.T("Full strips overrun it by %s there.", left)
	case b.Left >= 0:
		return tongue.T("Full strips leave %s at frame %s, where the hull's girth is greatest.", left, name)
	}
	return tongue.T("Full strips overrun it by %s at frame %s, where the hull's girth is greatest.", left, name)
}

// strakeVerdict tells how a strake is made: the mark of its verdict, what to do, and by
// which figure.
func strakeVerdict(d *desk.Desk, s *loft.Strake) (mark, says, figure string) {
	m := s.Making
	mark, says = answer.VerdictMark(m.Verdict.Kind), tongue.T("Strake %s: %s", s.ID, answer.MakingWord(m))
	if m.Reason == loft.ByChoice {
		return mark, says, tongue.T("The rules say %s.", answer.VerdictText(m.Verdict, d.FrameName))
	}
	return mark, says, answer.VerdictFigure(m.Verdict, d.FrameName)
}

// strakeSummary tells what stands behind the verdict on the chosen strake.
func strakeSummary(d *desk.Desk) string {
	s := chosenStrake(d)
	if s == nil {
		return tongue.T("Choose a strake to make it wider or narrower than its neighbours, as garboards often are.")
	}
	if d.Shapeless() {
		return tongue.T("%s long, measured straight from frame to frame. Edge-set, bend and twist need the hull's shape.", d.Units.Long(s.Length)) + cutsAfter(d, s)
	}
	m := s.Making
	text := ""
	for _, v := range []loft.Verdict{m.Edge, m.Bend} {
		if v != m.Verdict {
			text += kit.SentenceStart(answer.VerdictText(v, d.FrameName)) + ". "
		}
	}
	if s.FaceRadiusMin > 0 {
		text += tongue.T("Tightest bend %s", d.Units.Long(s.FaceRadiusMin))
		if form := answer.FormText(d.Layer().BendOf(s).Form, d.Units); form != "" {
			text += ", " + form
		}
		text += ". "
	}
	text += tongue.T("%s long, twist %.0f°.", d.Units.Long(s.Length), math.Round(s.Twist.Degrees())+0) // no nought with a sign
	if s.Garboard {
		text += " " + tongue.T("Its lower edge is cut to the rabbet line.")
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
