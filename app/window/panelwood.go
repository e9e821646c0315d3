package window

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"strakewright/app/answer"
	"strakewright/hull"
	"strakewright/loft"
)

// woodPart is the panel's part for the layer shown and the strips it is laid with.
func (p settings) woodPart() []fyne.CanvasObject {
	d := p.desk
	layers := p.choice(d.layerNames, func() int { return d.choice.Layer }, d.showLayer)
	stock := func(what string, step float64, of func(*hull.Stock) *float64) fyne.CanvasObject {
		n := p.number(newLength(d.notices, &d.units, step, func() float64 { return *of(&d.planLayer().Stock) }, func(mm float64) bool {
			return d.edit("set the strip's "+what, onLayer(d.choice.Layer, func(l *hull.Layer) { *of(&l.Stock) = mm }))
		}))
		return n.box
	}
	return []fyne.CanvasObject{
		row("Layer shown", layers),
		container.NewGridWithColumns(2,
			d.button("Add layer", "A thin layer over the outermost one", func() { d.addLayer() }),
			d.button("Remove outer", "Takes away the outermost layer", func() { d.edit("remove the outer layer", removeLayer) })),
		widget.NewSeparator(),
		row("Strip width", stock("width", 0.1, func(s *hull.Stock) *float64 { return &s.Width })),
		row("Thickness", stock("thickness", 0.1, func(s *hull.Stock) *float64 { return &s.Thickness })),
		row("Length", stock("length", 10, func(s *hull.Stock) *float64 { return &s.Length })),
		row("Wood", p.species()),
		row("Creep a strip", p.number(newLength(d.notices, &d.units, 0.01, func() float64 { return d.planLayer().Creep }, func(mm float64) bool {
			return d.edit("set the creep", onLayer(d.choice.Layer, func(l *hull.Layer) { l.Creep = mm }))
		})).box),
		p.edges(),
		d.button("Compare strips…", "Lays the layer in strips of several widths, thicknesses and woods", d.compareWidths),
		p.text(func() string { return bendingCard(d) }),
		caution("with a bending iron or steam, mind burns, and keep leads away from the soaking water. Bevel edges against a straight edge, fingers behind the blade; sand with extraction and a mask. Glues and solvents: ventilate, and follow the makers' sheets and local rules."),
	}
}

// species is a wood that can be chosen or typed.
func (p settings) species() fyne.CanvasObject {
	d := p.desk
	names := d.woodNames()
	e := widget.NewSelectEntry(names)
	set := func(name string) {
		name = strings.TrimSpace(name)
		if p.busy || name == d.planLayer().Stock.Species {
			return
		}
		d.edit("set the wood", onLayer(d.choice.Layer, func(l *hull.Layer) { l.Stock.Species = name }))
	}
	e.OnSubmitted = set
	e.OnChanged = func(name string) {
		if slices.Contains(names, name) {
			set(name)
		}
	}
	own := -1
	p.keep(func() {
		if n := len(d.plan().Woods); n != own {
			own, names = n, d.woodNames()
			e.SetOptions(names)
		}
		if c := fyne.CurrentApp().Driver().CanvasForObject(e); c != nil && c.Focused() == fyne.Focusable(e) {
			return
		}
		if s := d.planLayer().Stock.Species; e.Text != s {
			e.SetText(s)
		}
	})
	return e
}

// woodNames are the species offered: the plan's own, then those of the table.
func (d *desk) woodNames() []string {
	var out []string
	for _, w := range d.plan().Woods {
		out = append(out, w.Name)
	}
	table, err := answer.Woods()
	if err != nil {
		return out // any name can be typed
	}
	for _, w := range table {
		if !slices.Contains(out, w.Name) {
			out = append(out, w.Name)
		}
	}
	return out
}

// edges switches between bevelled and square edges.
func (p settings) edges() fyne.CanvasObject {
	d := p.desk
	kinds := []hull.Edges{hull.Bevelled, hull.Square}
	s := p.choice(func() []string { return []string{"bevelled until closed", "left square"} }, func() int {
		if d.planLayer().Edges == hull.Square {
			return 1
		}
		return 0
	}, func(i int) {
		d.edit("set the edges", onLayer(d.choice.Layer, func(l *hull.Layer) { l.Edges = kinds[i] }))
	})
	return row("Edges", s)
}

// bendingCard tells how hard the layer's strips are bent.
func bendingCard(d *desk) string {
	if d.shapeless() {
		return "How hard the strips are bent needs the hull's shape: try one against the frames."
	}
	var worst *loft.Strake
	for _, s := range d.layer().Strakes {
		if s.FaceRadiusMin > 0 && (worst == nil || s.FaceRadiusMin < worst.FaceRadiusMin) {
			worst = s
		}
	}
	if worst == nil {
		return "No strake is bent about its face."
	}
	strain := d.planLayer().Stock.Thickness / 2 / worst.FaceRadiusMin
	text := fmt.Sprintf("Tightest bend: strake %s to a radius of %s, %s of strain in its faces.", worst.ID, d.units.Long(worst.FaceRadiusMin), percent(strain))
	switch loft.RuleOfThumb.How(strain) {
	case loft.Heated:
		return text + " Over about 2 % (rule of thumb) soak it and bend it with heat; let it dry before it is glued, since it swells when wet."
	case loft.Soaked:
		return text + " Over about 1 % (rule of thumb) soak it; let it dry before it is glued, since it swells when wet."
	}
	return text + " Under about 1 % (rule of thumb) it bends cold."
}
