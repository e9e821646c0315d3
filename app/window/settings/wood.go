package settings

import (
	"slices"
	"strings"

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

// WoodPart is the panel's part for the layer shown and the strips it is laid with.
func (p Settings) WoodPart() []fyne.CanvasObject {
	d := p.desk
	layers := p.Choice(d.LayerNames, func() int { return d.Choice.Layer }, func(k int) { ShowLayer(d, k) })
	stock := func(step string, by float64, of func(*hull.Stock) *float64) fyne.CanvasObject {
		n := p.Number(kit.NewLength(d.Notices, &d.Units, by, func() float64 { return *of(&d.PlanLayer().Stock) }, func(mm float64) bool {
			return d.Edit(step, edit.OnLayer(d.Choice.Layer, func(l *hull.Layer) { *of(&l.Stock) = mm }))
		}))
		return n.Box
	}
	return slices.Concat([]fyne.CanvasObject{
		kit.TippedRow(tongue.T("Layer shown"), tongue.T("The layer that all views and the rest of this tab are about"), layers),
		container.NewGridWithColumns(2,
			d.Button(tongue.T("Add layer"), tongue.T("A thin layer over the outermost one"), func() { AddLayer(d) }),
			d.Button(tongue.T("Remove outer"), tongue.T("Takes away the outermost layer"), func() { d.Edit(tongue.T("remove the outer layer"), edit.RemoveLayer) })),
	}, p.stretchRow(), []fyne.CanvasObject{
		widget.NewSeparator(),
		kit.TippedRow(tongue.T("Strip width"), tongue.T("How wide the strips of this layer are"), stock(tongue.T("set the strip's width"), 0.1, func(s *hull.Stock) *float64 { return &s.Width })),
		kit.TippedRow(tongue.T("Thickness"), tongue.T("How thick the strips of this layer are"), stock(tongue.T("set the strip's thickness"), 0.1, func(s *hull.Stock) *float64 { return &s.Thickness })),
		kit.TippedRow(tongue.T("Length"), tongue.T("How long the strips are, as they are bought"), stock(tongue.T("set the strip's length"), 10, func(s *hull.Stock) *float64 { return &s.Length })),
		kit.TippedRow(tongue.T("Wood"), tongue.T("What wood this layer is laid in: its limits of bending and its swelling follow"), p.species()),
		kit.TippedRow(tongue.T("Build-up per strip"), tongue.T("How much more room each strip takes up, once laid, than its own width"), p.Number(kit.NewLength(d.Notices, &d.Units, 0.01, func() float64 { return d.PlanLayer().Creep }, func(mm float64) bool {
			return d.Edit(tongue.T("set the build-up"), edit.OnLayer(d.Choice.Layer, func(l *hull.Layer) { l.Creep = mm }))
		})).Box),
		p.edges(),
		d.Button(tongue.T("Compare strips…"), tongue.T("Lays the layer in strips of several widths, thicknesses and woods"), d.CompareWidths),
		p.Text(func() string { return bendingCard(d) }),
		kit.Caution(tongue.T("with a bending iron or steam, mind burns, and keep leads away from the soaking water. Bevel edges against a straight edge, fingers behind the blade; sand with extraction and a mask. Glues and solvents: ventilate, and follow the makers' sheets and local rules.")),
	})
}

// species is a wood that can be chosen or typed.
func (p Settings) species() fyne.CanvasObject {
	d := p.desk
	names := woodNames(d)
	e := kit.NewFieldOfChoice()
	e.SetOptions(names)
	set := func(name string) {
		name = strings.TrimSpace(name)
		if p.Busy || name == d.PlanLayer().Stock.Species {
			return
		}
		d.Edit(tongue.T("set the wood"), edit.OnLayer(d.Choice.Layer, func(l *hull.Layer) { l.Stock.Species = name }))
	}
	e.OnSubmitted = set
	e.OnChanged = func(name string) {
		if slices.Contains(names, name) {
			set(name)
		}
	}
	own := -1
	p.Keep(func() {
		if n := len(d.Plan().Woods); n != own {
			own, names = n, woodNames(d)
			e.SetOptions(names)
		}
		if c := fyne.CurrentApp().Driver().CanvasForObject(e); c != nil && c.Focused() == fyne.Focusable(e) {
			return
		}
		if s := d.PlanLayer().Stock.Species; e.Text != s {
			e.SetText(s)
		}
	})
	return e
}

// woodNames are the species offered: the plan's own, then those of the table.
func woodNames(d *desk.Desk) []string {
	var out []string
	for _, w := range d.Plan().Woods {
		out = append(out, w.Name)
	}
	for _, w := range hull.UsualWoods() {
		if !slices.Contains(out, w.Name) {
			out = append(out, w.Name)
		}
	}
	return out
}

// edges switches between bevelled and square edges.
func (p Settings) edges() fyne.CanvasObject {
	d := p.desk
	kinds := []hull.Edges{hull.Bevelled, hull.Square}
	s := p.Choice(func() []string { return []string{tongue.T("bevelled until closed"), tongue.T("left square")} }, func() int {
		if d.PlanLayer().Edges == hull.Square {
			return 1
		}
		return 0
	}, func(i int) {
		d.Edit(tongue.T("set the edges"), edit.OnLayer(d.Choice.Layer, func(l *hull.Layer) { l.Edges = kinds[i] }))
	})
	return kit.TippedRow(tongue.T("Edges"), tongue.T("Whether the edges of the strips are bevelled until they close, or left square"), s)
}

// bendingCard tells how hard the layer's strips are bent.
func bendingCard(d *desk.Desk) string {
	if d.Shapeless() {
		return tongue.T("How hard the strips are bent needs the hull's shape: try one against the frames.")
	}
	var worst *loft.Strake
	for _, s := range d.Layer().Strakes {
		if s.FaceRadiusMin > 0 && (worst == nil || s.Making.Bend.Harder(worst.Making.Bend)) {
			worst = s
		}
	}
	limits := answer.LimitsText(loft.BendingOf(d.Plan(), d.PlanLayer().Stock.Species))
	if worst == nil {
		return tongue.T("No strake is bent about its face. %s", limits)
	}
	text := tongue.T("%s %s. Tightest bend: strake %s to a radius of %s", answer.VerdictMark(worst.Making.Bend.Kind),
		kit.SentenceStart(answer.VerdictText(worst.Making.Bend, d.FrameName)), worst.ID, d.Units.Long(worst.FaceRadiusMin))
	if form := answer.FormText(d.Layer().BendOf(worst).Form, d.Units); form != "" {
		text += ", " + form
	}
	text += ". "
	if k := worst.Making.Bend.Kind; k == loft.NeedsSoaking || k == loft.NeedsHeat {
		text += tongue.T("Let it dry before it is glued, since it swells when wet.") + " "
	}
	return text + limits
}
