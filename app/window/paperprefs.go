package window

import (
	"fyne.io/fyne/v2"

	"strakewright/app/export"
)

// The settings of paper are those of a printer, not of a plan: they are kept
// from one run of the program to the next.
const (
	paperKey    = "paper.size"
	rollKey     = "paper.roll"
	barXKey     = "paper.bar.across"
	barYKey     = "paper.bar.down"
	overhangKey = "paper.overhang"
)

func paperSettings(p fyne.Preferences) export.Settings {
	s := export.Usual()
	if paper, err := export.ReadPaper(p.StringWithFallback(paperKey, string(s.Paper))); err == nil {
		s.Paper = paper
	}
	s.RollWidth = p.FloatWithFallback(rollKey, s.RollWidth)
	s.BarX = p.FloatWithFallback(barXKey, s.BarX)
	s.BarY = p.FloatWithFallback(barYKey, s.BarY)
	s.Overhang = p.FloatWithFallback(overhangKey, s.Overhang)
	return s
}

func keepPaperSettings(p fyne.Preferences, s export.Settings) {
	p.SetString(paperKey, string(s.Paper))
	p.SetFloat(rollKey, s.RollWidth)
	p.SetFloat(barXKey, s.BarX)
	p.SetFloat(barYKey, s.BarY)
	p.SetFloat(overhangKey, s.Overhang)
}
