package settings

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// Settings are the parts of the panel about the planking as it is planned.
type Settings struct {
	*kit.Form
	desk *desk.Desk
}

// New gives the parts, to be kept up to date by a form.
func New(f *kit.Form, d *desk.Desk) Settings { return Settings{f, d} }

// ProblemsPart lists what the builder should know, the gravest first: what can be
// settled with a button, and the rest, each of which is shown where it lies by a click.
func (p Settings) ProblemsPart() []fyne.CanvasObject {
	return []fyne.CanvasObject{p.settlingPart(), p.problemsPart(), p.Text(func() string { return noProblem(p.desk) })}
}

// ProblemsName is the name of the tab, with the number of what is to be mended or
// looked at.
func ProblemsName(d *desk.Desk) string {
	n := len(d.Bench.Notes())
	for _, s := range settlings(d) {
		if s.grave {
			n++
		}
	}
	for _, p := range answer.Problems(d.Planking(), d.Units) {
		if p.Weight != answer.GoodToKnow {
			n++
		}
	}
	if n == 0 {
		return tongue.T("Problems")
	}
	return tongue.T("Problems (%d)", n)
}

// noProblem says so where there is nothing to tell.
func noProblem(d *desk.Desk) string {
	if len(settlings(d))+len(d.Bench.Notes())+len(answer.Problems(d.Planking(), d.Units)) > 0 {
		return ""
	}
	return tongue.T("No problems: every line stays in the planking, and no wedge or stealer is needed.")
}

// shownOfAKind is how many problems of one kind are shown before the rest are asked for.
const shownOfAKind = 2

// problemsPart shows the list. It is made anew when it changes.
func (p Settings) problemsPart() fyne.CanvasObject {
	d := p.desk
	box := container.NewVBox()
	var shown []answer.Problem
	open := map[string]bool{} // kinds all of which are shown
	var fill func()
	fill = func() {
		box.RemoveAll()
		for i := 0; i < len(shown); {
			if i == 0 || shown[i].Weight != shown[i-1].Weight {
				box.Add(widget.NewLabelWithStyle(weightName(shown[i].Weight), fyne.TextAlignLeading, fyne.TextStyle{Bold: true}))
			}
			end := i
			for end < len(shown) && shown[end].Kind == shown[i].Kind && shown[end].Weight == shown[i].Weight {
				end++
			}
			p.addKind(box, shown[i:end], open, fill)
			i = end
		}
		box.Refresh()
	}
	p.Keep(func() {
		now := answer.Problems(d.Planking(), d.Units)
		for _, note := range d.Bench.Notes() {
			now = append([]answer.Problem{{Weight: answer.LookAt, Kind: tongue.T("At the bench"), Text: note, At: answer.Place{Layer: -1, Line: -1, Strake: -1, Frame: -1}}}, now...)
		}
		slices.SortStableFunc(now, func(a, b answer.Problem) int { return int(a.Weight) - int(b.Weight) })
		if slices.Equal(now, shown) {
			return
		}
		shown = now
		fill()
	})
	return box
}

// addKind adds problems of one kind, folded where they are many.
func (p Settings) addKind(box *fyne.Container, all []answer.Problem, open map[string]bool, again func()) {
	kind, most := all[0].Kind, len(all)
	if most > shownOfAKind+1 && !open[kind] {
		most = shownOfAKind
	}
	for _, one := range all[:most] {
		if one.At.Layer < 0 {
			box.Add(kit.Wrapped(one.Text))
			continue
		}
		box.Add(kit.NewPick(one.Text, func() { show(p.desk, one.At) }))
	}
	fold := func(name, tip string, to bool) {
		b := p.desk.Button(name, tip, func() {
			open[kind] = to
			again()
		})
		b.Importance, b.Alignment = widget.LowImportance, widget.ButtonAlignLeading
		box.Add(b)
	}
	switch {
	case most < len(all):
		fold(tongue.T("▸ %s: %d more", kind, len(all)-most), tongue.T("Shows all of them"), true)
	case open[kind]:
		fold(tongue.T("▾ %s: fewer", kind), tongue.T("Shows the first of them alone"), false)
	}
}

// show chooses what lies at a place in all views.
func show(d *desk.Desk, at answer.Place) {
	c := views.Nothing
	c.Layer = at.Layer
	switch {
	case at.Strake >= 0:
		c = c.WithStrake(at.Strake)
	case at.Line >= 0:
		c = c.WithLine(at.Line)
	}
	d.Choose(c.WithFrame(at.Frame))
}

func weightName(w answer.Weight) string {
	switch w {
	case answer.Mend:
		return tongue.T("To mend before you plank")
	case answer.LookAt:
		return tongue.T("To look at")
	}
	return tongue.T("Good to know")
}
