package settings

import (
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
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// LinePart is the panel's part for the chosen band line and its handle.
func (p Settings) LinePart() []fyne.CanvasObject {
	d := p.desk
	lines := p.Choice(d.LineNames, func() int { return d.Choice.Line }, func(i int) { d.Choose(d.Choice.WithLine(i)) })
	lines.PlaceHolder = tongue.T("(none)")
	none := p.Text(func() string {
		if len(d.PlanLayer().Lines) == 0 {
			return tongue.T("This layer is one band. Add a line to split it.")
		}
		if d.Choice.Limit != views.NoLimit && d.Choice.Frame >= 0 {
			return d.LimitText(d.Choice.Limit, d.Choice.Frame) + ". " + tongue.T("A right click on its handle releases it there. How a strip lies is worked out for band lines, not for limits.")
		}
		if d.Line() == nil {
			return tongue.T("Choose a band line here or on the drawings.")
		}
		return lineSummary(d)
	})
	verdict := kit.NewVerdict()
	p.Keep(func() {
		if b := d.Line(); b != nil {
			mark, says, figure := lineVerdict(d)
			verdict.Set(mark, says, figure)
		}
		kit.Show(verdict.Box, d.Line() != nil)
	})
	one := container.NewVBox(p.typePart(), p.followPart(), p.handlePart(), p.freePart())
	p.Keep(func() { kit.Show(one, d.Line() != nil) })
	return []fyne.CanvasObject{ // what grows and shrinks stands under what is pressed, which keeps its place
		kit.TippedRow(tongue.T("Band line"), tongue.T("The band line that the rest of this tab is about"), lines),
		container.NewGridWithColumns(2,
			d.Button(tongue.T("Add line"), tongue.T("Splits the band of the chosen strake, or the one below the chosen line"), func() { AddLine(d) }),
			p.removeButton(tongue.T("Makes one band of the two beside it"))),
		d.Button(tongue.T("Lay all lines…"), tongue.T("Searches for band lines in whole strips, and shows the ways there are"), func() { LayLines(d) }),
		widget.NewSeparator(), one, verdict.Box, none, widget.NewSeparator(),
		p.marchPart(),
		kit.Heading(tongue.T("Handles")),
		kit.LegendText(tongue.T("●  held      ○  released\n■  pinned    ◆  pointed through")),
		kit.Caution(tongue.T("a strip forced sideways by more than a few tenths of a percent fights the glue. That is a rule of thumb: your wood has the last word.")),
	}
}

// removeButton takes the chosen line away, while there is one.
func (p Settings) removeButton(tip string) fyne.CanvasObject {
	b := p.desk.Button(tongue.T("Remove line"), tip, func() { RemoveLine(p.desk) })
	p.Keep(func() { kit.Able(p.desk.Line() != nil, b) })
	return b
}

func (p Settings) typePart() fyne.CanvasObject {
	d := p.desk
	s := p.Choice(func() []string {
		if d.Shapeless() {
			return typeNames()[:1]
		}
		return typeNames()
	}, func() int {
		if b := d.Line(); b != nil {
			for i, m := range lineTypes {
				if m == b.LineType {
					return i
				}
			}
		}
		return -1
	}, func(i int) { SetLineType(d, lineTypes[i]) })
	why := p.Text(func() string {
		if d.Shapeless() {
			return needsShape()
		}
		return ""
	})
	p.Keep(func() { kit.Show(why, d.Shapeless()) })
	return container.NewVBox(kit.TippedRow(tongue.T("Line type"), tongue.T("How the line runs: through its handles, as a strip that is not forced, or the easiest way between the handles held"), s), why)
}

// followPart is whose unstressed course the line follows, or is told by.
func (p Settings) followPart() fyne.CanvasObject {
	d := p.desk
	row := kit.TippedRow(tongue.T("Follows"), tongue.T("The unforced course that the line is compared with, and that a free line takes"), p.Choice(followNames, func() int {
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
		return d.Edit(tongue.T("move line %d at frame %s", c.Line+1, d.FrameName(c.Frame)),
			edit.MoveHandle(c.Layer, c.Line, c.Frame, d.OnFrame(c.Frame, mm)))
	}))
	held := kit.NewCheck(tongue.T("held here"), nil)
	heldTip := kit.Tipped(held, tongue.T("Holds the line at this handle; released, it takes its easiest course here"))
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
	p.Keep(func() { kit.SetText(name, tongue.T("Girth below %s (%s)", d.UpperName(), d.Units.Name())) })
	return container.NewVBox(kit.TippedRow(tongue.T("Handle at frame"), tongue.T("The frame whose handle is set here; the arrow keys on the drawings go from frame to frame"), frames), kit.Tipped(container.New(&kit.RowLayout{}, name, down.Box), tongue.T("How far the line lies below the upper limit on this frame, along its girth")), heldTip)
}

// freePart is what a free line has beside: where it is pinned and where it points through.
func (p Settings) freePart() fyne.CanvasObject {
	d := p.desk
	where := p.Text(func() string {
		b := d.Line()
		if b == nil || b.LineType != hull.Free {
			return ""
		}
		if b.Aim < 0 {
			return tongue.T("Pinned at frame %s; its direction is the usual one.", d.FrameName(b.Hold))
		}
		return tongue.T("Pinned at frame %s, pointed through frame %s.", d.FrameName(b.Hold), d.FrameName(b.Aim))
	})
	part := container.NewVBox(
		container.NewGridWithColumns(2,
			d.Button(tongue.T("Pin here"), tongue.T("Pins the line at the chosen frame (■)"), func() { pinHere(d) }),
			d.Button(tongue.T("Point through here"), tongue.T("Points the line through the chosen frame (◆)"), func() { AimAt(d, d.Choice.Frame) })),
		d.Button(tongue.T("Reset direction"), tongue.T("Lets the line take its usual direction again"), func() { AimAt(d, -1) }), where)
	p.Keep(func() { kit.Show(part, d.Line() != nil && d.Line().LineType == hull.Free) })
	return part
}

// lineVerdict tells what a strip along the chosen line asks for: its mark, the verdict,
// and the figure behind it.
func lineVerdict(d *desk.Desk) (mark, says, figure string) {
	v := d.Layer().JudgeLine(d.Layer().Lines[d.Choice.Line+1])
	if d.Shapeless() {
		return answer.VerdictMark(""), tongue.T("Not known"), tongue.T("How a strip lies needs the hull's shape.")
	}
	return answer.VerdictMark(v.Kind), kit.SentenceStart(answer.VerdictWord(v.Kind)), answer.VerdictFigure(v, d.FrameName)
}

// lineSummary tells what stands behind the verdict on the chosen line.
func lineSummary(d *desk.Desk) string {
	if d.Shapeless() {
		return tongue.T("Sideways bend, and where a strip settles by itself, are not known without the hull's shape.")
	}
	b := d.Layer().Lines[d.Choice.Line+1]
	set := 0.0
	for _, c := range b.EdgeSet {
		set = math.Max(set, math.Abs(float64(c)))
	}
	text := tongue.T("Sideways bend: %s.", answer.SidewaysBend(hull.Curvature(set).PerMetre()))
	if off, at := loft.Farthest(d.Layer().BattenOff(b)); at >= 0 && d.Units.Number(math.Abs(off)) != d.Units.Number(0) {
		text += " " + tongue.T("A thin batten falls %s at frame %s.", d.Units.LieOff(off), d.FrameName(at))
	}
	return text + stripText(d) + othersText(d) + besideText(d) + runoutText(d, b) + movedText(d, b)
}

// stripText tells how the strip itself lies beside the line.
func stripText(d *desk.Desk) string {
	if b := d.Strip(); b != nil {
		return "\n" + answer.StripText(b, d.Choice.Frame, d.FrameName, d.Units)
	}
	return "\n" + tongue.T("Where this strip settles is shown when you let go of the handle.")
}

// othersText names the layer's other lines along which no strip lies: while one is
// looked at, another may have been spoilt.
func othersText(d *desk.Desk) string {
	var out strings.Builder
	l := d.Layer()
	for i := range l.Lines[1 : len(l.Lines)-1] {
		if i == d.Choice.Line {
			continue
		}
		if v := l.JudgeLine(l.Lines[i+1]); v.Kind == loft.NeedsSheet || v.Kind == loft.NeedsBlock {
			out.WriteString("\n! " + tongue.T("Line %d: %s.", i+1, answer.VerdictText(v, d.FrameName)))
		}
	}
	return out.String()
}

// besideText tells of the hardest strake in the bands above and below the chosen
// line: a line may lie by itself, and they not.
func besideText(d *desk.Desk) string {
	var out strings.Builder
	l := d.Layer()
	if s := l.HardestIn(d.Choice.Line); s != nil {
		out.WriteString("\n" + tongue.T("Hardest strake above it: %s, %s.", s.ID, answer.MakingText(s.Making, d.FrameName)))
	}
	if s := l.HardestIn(d.Choice.Line + 1); s != nil {
		out.WriteString("\n" + tongue.T("Hardest strake below it: %s, %s.", s.ID, answer.MakingText(s.Making, d.FrameName)))
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
	by, at := d.Units.Length(math.Abs(worst.By)), d.FrameName(worst.Frame)
	if worst.By < 0 {
		return "\n" + tongue.T("Laid up to %s higher than it is drawn, most at frame %s: see Problems.", by, at)
	}
	return "\n" + tongue.T("Laid up to %s lower than it is drawn, most at frame %s: see Problems.", by, at)
}

func runoutText(d *desk.Desk, b *loft.BandLine) string {
	var out strings.Builder
	for _, r := range b.Runouts {
		name, by := d.FrameName(r.Frame), d.Units.Length(r.By)
		if r.Upper {
			out.WriteString("\n" + tongue.T("Runs out above the upper limit at frame %s by %s.", name, by))
		} else {
			out.WriteString("\n" + tongue.T("Runs out below the lower limit at frame %s by %s.", name, by))
		}
	}
	return out.String()
}

// needsShape says why a line can only be drawn on a hull of which only the girths are
// known.
func needsShape() string {
	return tongue.T("Only the girths of this hull are known. A natural lie and an easiest run need its shape: measure points on its frames, or take their outlines from a drawing.")
}
