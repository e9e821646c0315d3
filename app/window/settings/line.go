package settings

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// LinePart is the panel's part for the chosen band line and its handle.
func (p Settings) LinePart() []fyne.CanvasObject {
	d := p.desk
	lines := p.Choice(d.LineNames, func() int { return d.Choice.Line }, func(i int) { d.Choose(d.Choice.WithLine(i)) })
	lines.PlaceHolder = "(none)"
	none := p.Text(func() string {
		if len(d.PlanLayer().Lines) == 0 {
			return "This layer is one band. Add a line to split it."
		}
		if d.Choice.Limit != views.NoLimit && d.Choice.Frame >= 0 {
			return d.LimitText(d.Choice.Limit, d.Choice.Frame) + ". A right click on its handle releases it there. How a strip lies by itself is told of band lines, not of limits."
		}
		if d.Line() == nil {
			return "Choose a band line here or on the drawings."
		}
		return lineSummary(d)
	})
	one := container.NewVBox(p.mannerPart(), p.followPart(), p.handlePart(), p.freePart())
	p.Keep(func() { kit.Show(one, d.Line() != nil) })
	return []fyne.CanvasObject{ // what grows and shrinks stands under what is pressed, which keeps its place
		kit.TippedRow("Band line", "The band line that the rest of this tab is about", lines),
		container.NewGridWithColumns(2,
			d.Button("Add line", "Splits the band of the chosen strake, or the one below the chosen line", func() { AddLine(d) }),
			p.removeButton("Makes one band of the two beside it")),
		d.Button("Lay all lines…", "Searches for band lines in whole strips, and shows the ways there are", func() { LayLines(d) }),
		widget.NewSeparator(), one, none, widget.NewSeparator(),
		p.marchPart(),
		kit.Heading("Handles"),
		kit.LegendText("●  held      ○  released\n■  hold      ◆  aim of a free line"),
		kit.Caution("a strip forced sideways by more than a few tenths of a percent fights the glue; that is a rule of thumb, and your wood has the last word."),
	}
}

// removeButton takes the chosen line away, while there is one.
func (p Settings) removeButton(tip string) fyne.CanvasObject {
	b := p.desk.Button("Remove line", tip, func() { RemoveLine(p.desk) })
	p.Keep(func() { kit.Able(p.desk.Line() != nil, b) })
	return b
}

func (p Settings) mannerPart() fyne.CanvasObject {
	d := p.desk
	s := p.Choice(func() []string {
		if d.Shapeless() {
			return mannerNames[:1]
		}
		return mannerNames
	}, func() int {
		if b := d.Line(); b != nil {
			for i, m := range manners {
				if m == b.LineType {
					return i
				}
			}
		}
		return -1
	}, func(i int) { SetLineType(d, manners[i]) })
	why := p.Text(func() string {
		if d.Shapeless() {
			return needsShape
		}
		return ""
	})
	p.Keep(func() { kit.Show(why, d.Shapeless()) })
	return container.NewVBox(kit.TippedRow("Line type", "What the line runs as: through its handles, as a strip that is not forced, or the easiest way between the handles held", s), why)
}

// followPart is whose unstressed course the line follows, or is told by.
func (p Settings) followPart() fyne.CanvasObject {
	d := p.desk
	row := kit.TippedRow("Follows", "Whose unforced course the line is compared with, and a free line runs as", p.Choice(func() []string { return followNames }, func() int {
		if b := d.Line(); b != nil {
			return slices.Index(follows, b.Follows)
		}
		return -1
	}, func(i int) { setFollows(d, follows[i]) }))
	p.Keep(func() { kit.Show(row, !d.Shapeless()) })
	return row
}

// handlePart is the chosen handle: its frame, place, and whether it is held.
func (p Settings) handlePart() fyne.CanvasObject {
	d := p.desk
	frames := p.Choice(d.FrameNames, func() int { return d.Choice.Frame }, func(i int) { d.Choose(d.Choice.WithFrame(i)) })
	down := p.Number(kit.NewLength(d.Notices, &d.Units, 0.1, d.HandleDown, func(mm float64) bool {
		c := d.Choice
		return d.Edit(fmt.Sprintf("move line %d at frame %s", c.Line+1, d.FrameName(c.Frame)),
			edit.MoveHandle(c.Layer, c.Line, c.Frame, d.OnFrame(c.Frame, mm)))
	}))
	held := widget.NewCheck("held here", nil)
	heldTip := kit.Tipped(held, "Holds the line at this handle; released, it takes its easiest course here")
	held.OnChanged = func(on bool) {
		if !p.Busy {
			hold(d, on)
		}
	}
	p.Keep(func() {
		b := d.Line()
		on := b != nil && d.Choice.Frame >= 0
		down.Able(on)
		kit.Show(heldTip, on && b.LineType != hull.Free)
		if on && held.Checked != b.Handles[d.Choice.Frame].Held {
			held.SetChecked(b.Handles[d.Choice.Frame].Held)
		}
	})
	name := widget.NewLabel("")
	p.Keep(func() { kit.SetText(name, "Down ("+d.Units.Name()+")") })
	return container.NewVBox(kit.TippedRow("Handle at frame", "The frame whose handle is set here; the arrow keys on the drawings go from frame to frame", frames), kit.Tipped(container.New(&kit.RowLayout{}, name, down.Box), "How far the line lies below the upper limit on this frame, along its girth"), heldTip)
}

// freePart is what a free line has beside: its hold and aim handles.
func (p Settings) freePart() fyne.CanvasObject {
	d := p.desk
	where := p.Text(func() string {
		b := d.Line()
		if b == nil || b.LineType != hull.Free {
			return ""
		}
		if b.Aim < 0 {
			return "Hold at frame " + d.FrameName(b.Hold) + ", default heading."
		}
		return "Hold at frame " + d.FrameName(b.Hold) + ", aimed at frame " + d.FrameName(b.Aim) + "."
	})
	part := container.NewVBox(
		container.NewGridWithColumns(2,
			d.Button("Hold here", "Moves the hold handle to the chosen frame", func() { holdHere(d) }),
			d.Button("Aim here", "Moves the aim handle to the chosen frame", func() { AimAt(d, d.Choice.Frame) })),
		d.Button("Default heading", "Lets go of the aim handle", func() { AimAt(d, -1) }), where)
	p.Keep(func() { kit.Show(part, d.Line() != nil && d.Line().LineType == hull.Free) })
	return part
}

// lineSummary tells how the strip along the chosen line lies.
func lineSummary(d *desk.Desk) string {
	if d.Shapeless() {
		return "Edge-set, lie-off and how the strip lies by itself are not known without a shape."
	}
	b := d.Layer().Lines[d.Choice.Line+1]
	set := 0.0
	for _, c := range b.EdgeSet {
		set = math.Max(set, math.Abs(float64(c)))
	}
	text := fmt.Sprintf("Edge-set at most %.2f 1/m. A strip along it, by its edge-set: %s.", hull.Curvature(set).PerMetre(), answer.VerdictText(d.Layer().JudgeLine(b), d.FrameName))
	if off, at := loft.Farthest(d.Layer().BattenOff(b)); at >= 0 {
		text += fmt.Sprintf(" A thin batten falls %s at frame %s.", d.Units.LieOff(off), d.FrameName(at))
	}
	return text + stripText(d) + besideText(d) + runoutText(d, b) + movedText(d, b)
}

// stripText tells how the strip itself lies beside the line.
func stripText(d *desk.Desk) string {
	if b := d.Strip(); b != nil {
		return "\n" + answer.StripText(b, d.Choice.Frame, d.FrameName, d.Units)
	}
	return "\nWhere the strip lies by itself is told when the handle is let go."
}

// besideText tells of the hardest strake in the bands above and below the chosen
// line: a line may lie by itself, and they not.
func besideText(d *desk.Desk) string {
	var out strings.Builder
	for i, where := range []string{"above", "below"} {
		if s := d.Layer().HardestIn(d.Choice.Line + i); s != nil {
			fmt.Fprintf(&out, "\nThe hardest strake %s it, %s: %s.", where, s.ID, answer.MakingText(s.Making, d.FrameName))
		}
	}
	return out.String()
}

// movedText tells where a line is moved most from where it is drawn; that a free
// line runs out says so already.
func movedText(d *desk.Desk, b *loft.BandLine) string {
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
	return fmt.Sprintf("\nLaid up to %s %s than it is drawn, most at frame %s: see Problems.", d.Units.Length(math.Abs(worst.By)), way, d.FrameName(worst.Frame))
}

func runoutText(d *desk.Desk, b *loft.BandLine) string {
	var out strings.Builder
	for _, r := range b.Runouts {
		limit := "under the lower limit"
		if r.Upper {
			limit = "over the upper limit"
		}
		fmt.Fprintf(&out, "\nRuns out %s at frame %s by %s.", limit, d.FrameName(r.Frame), d.Units.Length(r.By))
	}
	return out.String()
}

// needsShape says why a line cannot be free or of least edge-set on a hull of
// which only the girths are known.
const needsShape = "Of this hull only the girths are known. A line that lies free, or with the least edge-set, needs its shape: measure points of its frames, or take their outlines from a drawing."
