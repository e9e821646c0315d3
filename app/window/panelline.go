package window

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"strakewright/app/draw/views"
	"strakewright/hull"
	"strakewright/loft"
)

// linePart is the panel's part for the chosen band line and its handle.
func (p settings) linePart() []fyne.CanvasObject {
	d := p.desk
	lines := p.choice(d.lineNames, func() int { return d.choice.Line }, func(i int) { d.choose(d.choice.WithLine(i)) })
	lines.PlaceHolder = "(none)"
	none := p.text(func() string {
		if len(d.planLayer().Lines) == 0 {
			return "This layer is one band. Add a line to split it."
		}
		if d.choice.Limit != views.NoLimit && d.choice.Frame >= 0 {
			return d.limitText(d.choice.Limit, d.choice.Frame) + ". A right click on its handle releases it there."
		}
		if d.line() == nil {
			return "Choose a band line here or on the drawings."
		}
		return lineSummary(d)
	})
	one := container.NewVBox(p.mannerPart(), p.handlePart(), p.freePart())
	p.keep(func() { show(one, d.line() != nil) })
	return []fyne.CanvasObject{
		row("Band line", lines), one, none, widget.NewSeparator(),
		container.NewGridWithColumns(2,
			d.button("Add line", "Splits the band of the chosen strake, or the one below the chosen line", d.addLine),
			d.button("Remove line", "Makes one band of the two beside it", d.removeLine)),
		d.button("Lay all lines…", "Finds every band line by itself", d.layLines),
		heading("Handles"),
		legendText("●  held      ○  released\n■  hold      ◆  aim of a free line"),
		caution("a strip forced sideways by more than a few tenths of a percent fights the glue; that is a rule of thumb, and your wood has the last word."),
	}
}

func (p settings) mannerPart() fyne.CanvasObject {
	d := p.desk
	s := p.choice(func() []string {
		if d.shapeless() {
			return mannerNames[:1]
		}
		return mannerNames
	}, func() int {
		if b := d.line(); b != nil {
			for i, m := range manners {
				if m == b.Manner {
					return i
				}
			}
		}
		return -1
	}, func(i int) { d.setManner(manners[i]) })
	why := p.text(func() string {
		if d.shapeless() {
			return needsShape
		}
		return ""
	})
	p.keep(func() { show(why, d.shapeless()) })
	return container.NewVBox(row("Manner", s), why)
}

// handlePart is the chosen handle: its frame, place, and whether it is held.
func (p settings) handlePart() fyne.CanvasObject {
	d := p.desk
	frames := p.choice(d.frameNames, func() int { return d.choice.Frame }, func(i int) { d.choose(d.choice.WithFrame(i)) })
	down := p.number(newLength(d.notices, &d.units, 0.1, d.handleDown, func(mm float64) bool {
		c := d.choice
		return d.edit(fmt.Sprintf("move line %d at frame %s", c.Line+1, d.frameName(c.Frame)),
			moveHandle(c.Layer, c.Line, c.Frame, d.onFrame(c.Frame, mm)))
	}))
	held := widget.NewCheck("held here", nil)
	held.OnChanged = func(on bool) {
		if !p.busy {
			d.hold(on)
		}
	}
	p.keep(func() {
		b := d.line()
		on := b != nil && d.choice.Frame >= 0
		down.able(on)
		show(held, on && b.Manner != hull.Free)
		if on && held.Checked != b.Handles[d.choice.Frame].Held {
			held.SetChecked(b.Handles[d.choice.Frame].Held)
		}
	})
	name := widget.NewLabel("")
	p.keep(func() { setText(name, "Down ("+d.units.Name()+")") })
	return container.NewVBox(row("Handle at frame", frames), container.New(&rowLayout{}, name, down.box), held)
}

// freePart is what a free line has beside: its hold and aim handles.
func (p settings) freePart() fyne.CanvasObject {
	d := p.desk
	where := p.text(func() string {
		b := d.line()
		if b == nil || b.Manner != hull.Free {
			return ""
		}
		if b.Aim < 0 {
			return "Hold at frame " + d.frameName(b.Hold) + ", default heading."
		}
		return "Hold at frame " + d.frameName(b.Hold) + ", aimed at frame " + d.frameName(b.Aim) + "."
	})
	part := container.NewVBox(where,
		container.NewGridWithColumns(2,
			d.button("Hold here", "Moves the hold handle to the chosen frame", func() { d.holdHere() }),
			d.button("Aim here", "Moves the aim handle to the chosen frame", func() { d.aimAt(d.choice.Frame) })),
		d.button("Default heading", "Lets go of the aim handle", func() { d.aimAt(-1) }))
	p.keep(func() { show(part, d.line() != nil && d.line().Manner == hull.Free) })
	return part
}

// lineSummary tells how the strip along the chosen line lies.
func lineSummary(d *desk) string {
	if d.shapeless() {
		return "Edge-set and lie-off are not known without a shape."
	}
	b := d.layer().Lines[d.choice.Line+1]
	set, off, at := 0.0, 0.0, -1
	for _, c := range b.EdgeSet {
		set = math.Max(set, math.Abs(float64(c)))
	}
	for f, o := range b.LieOff {
		if !math.IsNaN(o) && math.Abs(o) >= math.Abs(off) {
			off, at = o, f
		}
	}
	text := fmt.Sprintf("Edge-set at most %.2f 1/m: %s of strain in the strip's edge.", hull.Curvature(set).PerMetre(), percent(set*d.planLayer().Stock.Width/2))
	if at >= 0 {
		text += fmt.Sprintf(" A strip held straight falls %s at frame %s.", d.units.LieOff(off), d.frameName(at))
	}
	return text + runoutText(d, b) + movedText(d, b)
}

// movedText tells where a line is moved most from where it is drawn; that a free
// line runs out says so already.
func movedText(d *desk, b *loft.BandLine) string {
	if len(b.Moved) == 0 || len(b.Runouts) > 0 {
		return ""
	}
	worst := b.Moved[0]
	for _, m := range b.Moved {
		if math.Abs(m.By) > math.Abs(worst.By) {
			worst = m
		}
	}
	way := "lower"
	if worst.By < 0 {
		way = "higher"
	}
	return fmt.Sprintf("\nLaid up to %s %s than it is drawn, most at frame %s: see the Notes.", d.units.Length(math.Abs(worst.By)), way, d.frameName(worst.Frame))
}

func runoutText(d *desk, b *loft.BandLine) string {
	var out strings.Builder
	for _, r := range b.Runouts {
		limit := "under the lower limit"
		if r.Upper {
			limit = "over the upper limit"
		}
		fmt.Fprintf(&out, "\nRuns out %s at frame %s by %s.", limit, d.frameName(r.Frame), d.units.Length(r.By))
	}
	return out.String()
}

// needsShape says why a line cannot be free or of least edge-set on a hull of
// which only the girths are known.
const needsShape = "Of this hull only the girths are known. A line that lies free, or with the least edge-set, needs its shape: measure points of its frames, or take their outlines from a drawing."
