package bench

import (
	"slices"

	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// divisions are those of the rules that lie on a bench, mm: a rule of millimetres, of
// halves, and a calliper; in inches of 1/32, 1/64, and a calliper of thousandths.
func divisions(u views.Units) []float64 {
	if u == views.Inches {
		return []float64{u.ToMM(1.0 / 32), u.ToMM(1.0 / 64), u.ToMM(0.001)}
	}
	return []float64{1, 0.5, 0.1}
}

// fineness offers how finely is read: what none stands for, the usual divisions, and
// what is chosen where it is another.
func (b *Panel) fineness(none func() string, get func() float64, set func(mm float64)) fyne.CanvasObject {
	d := b.desk
	list := func() []float64 {
		out := append([]float64{0}, divisions(d.Units)...)
		if now := get(); !slices.Contains(out, now) {
			out = append(out, now)
		}
		return out
	}
	return b.Choice(func() []string {
		names := []string{none()}
		for _, mm := range list()[1:] {
			names = append(names, answer.RuleText(mm, d.Units))
		}
		return names
	}, func() int { return slices.Index(list(), get()) }, func(i int) { set(list()[i]) })
}

// ruleChoice is how finely the rule in use is divided.
func (b *Panel) ruleChoice() fyne.CanvasObject {
	d := b.desk
	return b.fineness(func() string { return tongue.T("not told") }, func() float64 { return d.Plan().Record.To }, func(mm float64) {
		if err := d.Session.SetRule(mm); err != nil {
			d.Say(kit.Sentence(err))
		}
	})
}

// finenesses is how finely the measurement entered is read.
func (m *measureAsked) finenesses() fyne.CanvasObject {
	d := m.b.desk
	return m.b.fineness(func() string {
		if to := d.Plan().Record.To; to > 0 {
			return tongue.T("as the rule in use, %s", answer.RuleText(to, d.Units))
		}
		return tongue.T("not told")
	}, func() float64 { return m.to }, func(mm float64) { m.to = mm })
}
