package paper

import (
	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/app/export"
	"github.com/strakewright/strakewright/hull"
)

// The settings of a printer, not of a plan, are kept from one run of the
// program to the next.
const (
	paperKey = "paper.size"
	rollKey  = "paper.roll"
	barXKey  = "paper.bar.across"
	barYKey  = "paper.bar.down"
)

func paperSettings(p fyne.Preferences, plan *hull.Plan) export.Settings {
	s := export.Usual(plan)
	if paper, err := export.ReadPaper(p.StringWithFallback(paperKey, string(s.Paper))); err == nil {
		s.Paper = paper
	}
	s.RollWidth = p.FloatWithFallback(rollKey, s.RollWidth)
	s.BarX = p.FloatWithFallback(barXKey, s.BarX)
	s.BarY = p.FloatWithFallback(barYKey, s.BarY)
	return s
}

func keepPaperSettings(p fyne.Preferences, s export.Settings) {
	p.SetString(paperKey, string(s.Paper))
	p.SetFloat(rollKey, s.RollWidth)
	p.SetFloat(barXKey, s.BarX)
	p.SetFloat(barYKey, s.BarY)
}
