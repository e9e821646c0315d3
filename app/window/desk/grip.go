package desk

import (
	"math"
	"time"

	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// grip is a handle held by the mouse: many trials, one step to undo.
type grip struct {
	drag        *app.Drag
	layer       int
	line, Frame int
	Limit       views.Limit // in place of a line
	from        draw.Point  // where the handle was taken hold of
	slip        float64     // mm from where the pointer took hold to where the limit lay; NaN till it moves
	Down        float64     // mm, where the pointer is; of a limit how far it is set in
	stale       bool        // not tried yet
	Ticks       *fyne.Animation
	Ticked      bool // the driver ticks before each frame
}

// Grasp takes hold of a handle and chooses it.
func (d *Desk) Grasp(h views.Handle) {
	d.LetGo()
	d.ChooseHandle(h)
	what := tongue.T("move line %d at frame %s", h.Line+1, d.FrameName(h.Frame))
	if h.Limit != views.NoLimit {
		what = tongue.T("move the %s at frame %s", d.LimitName(h.Limit), d.FrameName(h.Frame))
	}
	d.Grip = &grip{drag: d.Session.Begin(what), layer: d.Choice.Layer, line: h.Line, Frame: h.Frame, Limit: h.Limit, from: h.At, slip: math.NaN()}
	d.Grip.follow(d)
}

// follow has what the mouse did tried right before each frame of the screen, so
// that the frame shows it: Fyne ticks its animations when it has taken all that
// waited of the mouse, and then draws. However many moves waited, the last is
// tried, once. Fyne does one thing that was asked of the main goroutine between
// two frames or none, so that asking for each move would build up a queue.
func (g *grip) follow(d *Desk) {
	started := false
	g.Ticks = fyne.NewAnimation(time.Hour, func(float32) {
		g.Ticked = started // a driver without frames calls this at once, and never again
		d.Frames.ended()
		if d.Grip != g {
			return
		}
		for _, v := range d.Boards {
			v.TakeOver()
		}
		if g.stale {
			d.waiting = true // for the catching up that drawing ahead does
			d.try(g)
			d.DrawAhead()
		}
	})
	g.Ticks.RepeatCount = fyne.AnimationRepeatForever
	g.Ticks.Start()
	started = true
}

// ChooseHandle chooses a handle with its line or limit.
func (d *Desk) ChooseHandle(h views.Handle) {
	c := d.Choice.WithLine(h.Line)
	if h.Limit != views.NoLimit {
		c = c.WithLimit(h.Limit)
	}
	d.Choose(c.WithFrame(h.Frame))
}

// Move takes the handle held to a girth below the upper limit. The planking
// follows once for all moves that wait.
func (d *Desk) Move(down float64) {
	g := d.Grip
	if g == nil {
		return
	}
	d.tryTo(g, d.OnFrame(g.Frame, d.Pull(g.line, g.Frame, d.round(down))))
}

// round gives the round figure nearest to a length while the builder asks for those.
func (d *Desk) round(mm float64) float64 {
	if d.Round {
		return d.Units.Round(mm)
	}
	return mm
}

// tryTo has a place tried, once for all that are asked for till then: before the
// next frame, or else, where the driver ticks nothing, when it comes round to it.
func (d *Desk) tryTo(g *grip, down float64) {
	g.Down = down
	if g.stale {
		return
	}
	g.stale = true
	if !g.Ticked {
		fyne.Do(func() { d.try(g) })
	}
}

func (d *Desk) try(g *grip) {
	if d.Grip != g || !g.stale {
		return
	}
	g.stale = false
	d.Frames.follows()
	move := edit.MoveHandle(g.layer, g.line, g.Frame, g.Down)
	if g.Limit != views.NoLimit {
		move = edit.MoveLimit(g.Limit, d.FrameName(g.Frame), g.Down)
	}
	if err := g.drag.Try(move); err != nil {
		d.Status(kit.Sentence(err))
		return
	}
	if g.Limit != views.NoLimit {
		d.Status(d.LimitText(g.Limit, g.Frame))
		return
	}
	d.Status(d.handleText(g.line, g.Frame))
}

// release takes the mouse's hold off the handle.
func (d *Desk) release() {
	if d.Grip != nil {
		d.Grip.Ticks.Stop()
		d.Grip = nil
		for _, v := range d.Boards { // what followed behind the frames shows the end of the drag at once
			v.Refresh()
		}
	}
}

// LetGo ends a drag and keeps what it made.
func (d *Desk) LetGo() {
	if g := d.Grip; g != nil {
		d.try(g)
		d.release()
		g.drag.Done()
		d.Frames.over()
	}
}

// PutBack ends a drag, if there is one, and puts back what it moved.
func (d *Desk) PutBack() {
	g := d.Grip
	if g == nil {
		return
	}
	d.release()
	g.drag.Cancel()
	d.Status(tongue.T("Put back where it was."))
}

// Nudge moves the chosen handle by mm, downwards positive.
func (d *Desk) Nudge(mm float64) {
	l, f := d.Choice.Line, d.Choice.Frame
	if d.Choice.Limit != views.NoLimit && f >= 0 {
		d.nudgeLimit(mm)
		return
	}
	line := d.Line()
	if line == nil || f < 0 {
		d.Status(tongue.T("Choose a handle of a band line or a limit first: the arrow keys then move it."))
		return
	}
	down := d.OnFrame(f, views.HandleDown(d.Layer(), line, l, f)+mm)
	if d.Edit(tongue.T("nudge line %d at frame %s", l+1, d.FrameName(f)), edit.MoveHandle(d.Choice.Layer, l, f, down)) {
		d.Status(d.handleText(l, f))
	}
}

// Step goes to the neighbouring frame.
func (d *Desk) Step(by int) {
	if f := d.Choice.Frame + by; f >= 0 && f < len(d.Plan().Hull.Frames) {
		d.Choose(d.Choice.WithFrame(f))
		d.TellChosen()
	}
}

// TellChosen says where the chosen handle stands, or how wide the chosen strake is there.
func (d *Desk) TellChosen() {
	f := d.Choice.Frame
	switch {
	case f < 0:
	case d.Choice.Limit != views.NoLimit:
		d.Status(d.LimitText(d.Choice.Limit, f))
	case d.Line() != nil:
		d.Status(d.handleText(d.Choice.Line, f))
	case d.Strake() != nil:
		d.Status(tongue.T("Frame %s: %s", d.FrameName(f), d.StrakeText(d.Strake(), f)))
	}
}

// StepLine goes to the next band line or limit above or below what is chosen, and to its
// handle on the chosen frame.
func (d *Desk) StepLine(by int) {
	lines := len(d.PlanLayer().Lines)
	at := d.rung() + by
	if by < 0 && d.Line() == nil && d.Choice.Limit == views.NoLimit {
		at++ // what is chosen lies below that rung
	}
	c := d.Choice
	switch at = max(0, min(at, lines+1)); at {
	case 0:
		c = c.WithLimit(views.UpperLimit)
	case lines + 1:
		c = c.WithLimit(views.LowerLimit)
	default:
		c = c.WithLine(at - 1)
	}
	if c.Frame < 0 {
		first, last := d.Layer().Surface.Planked()
		c = c.WithFrame((first + last) / 2)
	}
	d.Choose(c)
	d.TellChosen()
}

// rung is the place of what is chosen among the lines of a layer, with the upper limit
// before them and the lower one after; of a strake, or of nothing, the one above it.
func (d *Desk) rung() int {
	switch {
	case d.Choice.Limit == views.UpperLimit:
		return 0
	case d.Choice.Limit == views.LowerLimit:
		return len(d.PlanLayer().Lines) + 1
	case d.Line() != nil:
		return d.Choice.Line + 1
	}
	return d.Band()
}
