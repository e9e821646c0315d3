package fairing

import (
	"context"
	"errors"
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/fair"
)

// firstTolerance is how far a point may move where nothing is known of it, mm: what a file takes off a frame in a few strokes. Common practice, no
// source.
const firstTolerance = 0.5

// allowance is how far a point may move where nothing else is asked for, mm: the
// rounding of the table that the hull was read from, if it was.
func allowance(h *hull.Hull) float64 {
	if h.Rounding > 0 {
		return h.Rounding
	}
	return firstTolerance
}

// fairDialog shows how the frames lie against the run of their neighbours, and
// offers a fair hull beside them.
type fairDialog struct {
	desk      *desk.Desk
	of        views.FairOf
	tolerance float64
	asked     float64 // the tolerance that Faired was made with

	v      views.Fair
	plot   *kit.Plot
	list   *kit.List
	moves  *kit.List
	told   *widget.Label
	within *kit.Number
	accept *kit.Button
	dialog *dialog.CustomDialog
}

// errNoPoints says why a hull cannot be faired of which only girths are known.
var errNoPoints = fmt.Errorf("the frames cannot be faired: %w", loft.ErrShapeless)

// Open measures the frames, and then opens the dialog; nil where there is
// nothing to measure.
func Open(d *desk.Desk) *fairDialog {
	d.Settle()
	h := d.Plan().Hull
	if h.Shapeless() {
		d.Say(kit.Sentence(errNoPoints))
		return nil
	}
	f := &fairDialog{desk: d, tolerance: allowance(&h), of: views.FairOf{Hull: &h, Frame: -1}}
	d.Work("Measuring the frames…", func(ctx context.Context) (err error) {
		f.of.Curves = views.FrameCurves(h.Frames)
		f.of.Misfits, err = fair.Misfits(ctx, h.Frames)
		return err
	}, f.open)
	return f
}

// worst is the frame that misfits most, of those that are suspect if any is.
func (f *fairDialog) worst() int {
	worst, most := -1, -1.0
	for i, m := range f.of.Misfits {
		off := math.Abs(m.Off[m.Worst()])
		if len(m.Suspects) > 0 {
			off += 1e6
		}
		if off > most && !f.isEnd(i) {
			worst, most = i, off
		}
	}
	return worst
}

// open shows what was measured.
func (f *fairDialog) open() {
	f.of.Frame = f.worst()
	f.dialog = f.desk.NewDialog("Fair the frames", f.content())
	f.accept = kit.NewButtonWithIcon("Accept fairing", theme.ConfirmIcon(), f.take)
	f.accept.Importance = widget.HighImportance
	f.accept.Disable()
	f.desk.Explain(f.accept, "Puts the fair hull in place of the present one, as one step")
	f.dialog.SetButtons([]fyne.CanvasObject{f.desk.Button("Close", "Leaves the frames as they are", f.dialog.Hide), f.accept})
	s := f.desk.Win.Canvas().Size()
	f.dialog.Resize(fyne.NewSize(fyne.Min(1120, s.Width*0.95), fyne.Min(760, s.Height*0.95)))
	f.dialog.Show()
	f.list.Select(f.of.Frame)
}

func (f *fairDialog) isEnd(i int) bool { return f.of.Hull.Frames[i].IsEnd() }

// content is the list of frames and of moves at the left, the drawing at the
// right.
func (f *fairDialog) content() fyne.CanvasObject {
	f.v.Units = f.desk.Units
	f.plot = kit.NewPlot(f.desk.Notices, f.desk.Look, fyne.NewSize(320, 300), func(w, h float64) *draw.Drawing {
		f.v.Draw(f.of, w, h)
		return &f.v.Drawing
	}, func(p draw.Point) { f.choose(f.v.FrameAt(f.of, p)) })
	row1 := func() fyne.CanvasObject {
		l := widget.NewLabel("")
		l.Truncation = fyne.TextTruncateEllipsis
		return l
	}
	f.list = kit.NewList(func() int { return len(f.of.Misfits) }, row1, func(i widget.ListItemID, o fyne.CanvasObject) {
		kit.SetText(o.(*widget.Label), f.frameText(i))
	})
	f.list.OnSelected = func(i widget.ListItemID) { f.choose(i) }
	f.moves = kit.NewList(func() int { return f.moved() }, row1, func(i widget.ListItemID, o fyne.CanvasObject) {
		kit.SetText(o.(*widget.Label), f.moveText(f.of.Faired.Moves[i]))
	})
	f.moves.OnSelected = func(i widget.ListItemID) { f.choose(f.of.Faired.Moves[i].Frame) }
	f.told = kit.NewLabel(f.found())
	f.told.Wrapping = fyne.TextWrapWord
	f.within = kit.NewLength(f.desk.Notices, &f.desk.Units, 0.1, func() float64 { return f.tolerance }, func(mm float64) bool {
		if mm > 0 {
			f.tolerance = mm
			f.offerStale()
		}
		return mm > 0
	})
	f.within.Sync()
	ask := f.desk.Button("Offer a fair hull", "Looks for a fair hull in which no point moves farther than this", func() { f.within.Commit(); f.offer() })
	head := container.NewVBox(
		kit.TippedRow("A point may move ("+f.desk.Units.Name()+")", "How far fairing may move a point", f.within.Box), ask,
		kit.Heading("Against the run of the neighbours"))
	lists := container.NewVSplit(f.list, container.NewBorder(kit.Heading("What moves"), nil, nil, nil, f.moves))
	lists.SetOffset(0.62)
	both := container.NewHSplit(container.NewBorder(head, nil, nil, nil, lists), f.plot)
	both.SetOffset(0.36)
	return container.NewBorder(nil, f.told, nil, nil, both)
}

// out tells a distance by sign and shape.
func (f *fairDialog) out(mm float64) string {
	switch {
	case math.Abs(mm) < 0.005:
		return "0"
	case mm < 0:
		return "▾ " + f.desk.Units.Length(-mm) + " in"
	}
	return "▴ " + f.desk.Units.Length(mm) + " out"
}

// frameText is a frame's row.
func (f *fairDialog) frameText(i int) string {
	m := f.of.Misfits[i]
	if f.isEnd(i) {
		return m.Frame + ": an end curve, not judged"
	}
	sign := "   "
	if len(m.Suspects) > 0 {
		sign = "!  "
	}
	text := fmt.Sprintf("%s%s: all %s · worst %s, point %d", sign, m.Frame, f.out(m.Shift), f.out(m.Off[m.Worst()]), m.Worst()+1)
	switch n := len(m.Suspects); {
	case m.Bumped:
		text += " · the frame bumps"
	case n == 1:
		text += fmt.Sprintf(" · point %d bumps", m.Suspects[0]+1)
	case n > 1:
		text += fmt.Sprintf(" · %d points bump", n)
	}
	return text
}

// found sums up the frames.
func (f *fairDialog) found() string {
	n, noise := 0, 0.0
	for _, m := range f.of.Misfits {
		noise = m.Noise
		if len(m.Suspects) > 0 {
			n++
		}
	}
	what := "No frame bumps beyond that."
	if n == 1 {
		what = "One frame is suspect: look at it on the drawing or the bench before it is faired."
	} else if n > 1 {
		what = fmt.Sprintf("%d frames are suspect: look at them on the drawing or the bench before they are faired.", n)
	}
	scatter := f.desk.Units.Length(noise)
	if noise < 0.01 {
		scatter = "less than " + f.desk.Units.Length(0.01)
	}
	return fmt.Sprintf("The points of this hull scatter by %s about a smooth run; a misfit no larger than that means nothing. %s", scatter, what)
}

func (f *fairDialog) moved() int {
	if f.of.Faired == nil {
		return 0
	}
	return len(f.of.Faired.Moves)
}

// moveText is a move's row.
func (f *fairDialog) moveText(m fair.Move) string {
	text := fmt.Sprintf("%s, point %d: %s", f.of.Hull.Frames[m.Frame].Name, m.Point+1, f.out(m.Out))
	if m.AtLimit {
		text += " ■ at the limit"
	}
	return text
}

func (f *fairDialog) choose(frame int) {
	if frame < 0 || frame >= len(f.of.Misfits) {
		return
	}
	if f.of.Frame != frame {
		f.of.Frame = frame
		f.list.Select(frame)
	}
	f.list.ScrollTo(frame)
	f.plot.Refresh()
}

// offerStale takes away a fair hull that was made with another tolerance.
func (f *fairDialog) offerStale() {
	if f.of.Faired == nil || f.asked == f.tolerance {
		return
	}
	f.of.Faired, f.of.After = nil, nil
	f.accept.Disable()
	kit.SetText(f.told, f.found())
	f.moves.Refresh()
	f.plot.Refresh()
}

// offer finds the fair hull and draws it beside the one at hand.
func (f *fairDialog) offer() {
	h, tolerance := f.of.Hull, f.tolerance
	var faired fair.Faired
	var after views.Curves
	f.desk.Work("Fairing…", func(ctx context.Context) (err error) {
		if faired, err = fair.Fair(ctx, h.Frames, tolerance); err == nil {
			after = views.FrameCurves(faired.Frames)
		}
		return err
	}, func() { f.offered(&faired, after, tolerance) })
}

func (f *fairDialog) offered(faired *fair.Faired, after views.Curves, tolerance float64) {
	f.of.Faired, f.of.After, f.asked = faired, after, tolerance
	f.moves.UnselectAll()
	f.moves.Refresh()
	f.plot.Refresh()
	if len(faired.Moves) == 0 {
		f.accept.Disable()
		f.told.SetText("The hull is fair as it is: nothing needs to move.")
		return
	}
	most, limits := 0.0, 0
	for _, m := range faired.Moves {
		most = math.Max(most, math.Abs(m.Out))
		if m.AtLimit {
			limits++
		}
	}
	u := f.desk.Units
	text := fmt.Sprintf("%d points move, by %s at most; dashed as they are, solid as faired. Knuckles and the ends of the frames are held. A batten springs %s from point to point, was %s.",
		len(faired.Moves), u.Length(most), u.Length(faired.RoughAfter), u.Length(faired.RoughBefore))
	if limits > 0 {
		text += fmt.Sprintf(" At the limit, and would go further: %d (■).", limits)
	}
	kit.SetText(f.told, text)
	f.accept.Enable()
}

// take puts the fair frames into the plan, as one step; the handles of the band
// lines keep their girths.
func (f *fairDialog) take() {
	if f.of.Faired == nil {
		return
	}
	if f.desk.Edit("fair the frames", fairedInto(f.of.Hull.Frames, f.of.Faired.Frames)) {
		f.dialog.Hide()
		f.desk.Status(fmt.Sprintf("%d points were moved; undo puts them back.", len(f.of.Faired.Moves)))
	}
}

// fairedInto gives the change that puts frames in place of those they were made
// from. It is refused where the hull is another by now, or would not be sound.
func fairedInto(from, to []hull.Frame) edit.Change {
	return func(p *hull.Plan) error {
		if len(p.Hull.Frames) != len(from) || len(from) == 0 || &p.Hull.Frames[0] != &from[0] {
			return errors.New("the frames have changed since they were measured: measure them again")
		}
		p.Hull.Frames = to
		if faults := p.Hull.Check(); len(faults) > 0 {
			return fmt.Errorf("the fair frames would not be sound: %w", faults[0])
		}
		return nil
	}
}
