package window

import (
	"fmt"
	"math"
	"time"

	"fyne.io/fyne/v2"

	"strakewright/app"
	"strakewright/app/draw"
	"strakewright/app/draw/views"
)

// grip is a handle held by the mouse: many trials, one step to undo.
type grip struct {
	drag        *app.Drag
	layer       int
	line, frame int
	limit       views.Limit // in place of a line
	from        draw.Point  // where the handle was taken hold of
	slip        float64     // mm from where the pointer took hold to where the limit lay; NaN till it moves
	down        float64     // mm, where the pointer is; of a limit how far it is set in
	stale       bool        // not tried yet
	ticks       *fyne.Animation
	ticked      bool // the driver ticks before each frame
}

// grasp takes hold of a handle and chooses it.
func (d *desk) grasp(h views.Handle) {
	d.letGo()
	d.chooseHandle(h)
	what := fmt.Sprintf("move line %d at frame %s", h.Line+1, d.frameName(h.Frame))
	if h.Limit != views.NoLimit {
		what = fmt.Sprintf("move the %s at frame %s", d.limitName(h.Limit), d.frameName(h.Frame))
	}
	d.grip = &grip{drag: d.s.Begin(what), layer: d.choice.Layer, line: h.Line, frame: h.Frame, limit: h.Limit, from: h.At, slip: math.NaN()}
	d.grip.follow(d)
}

// follow has what the mouse did tried right before each frame of the screen, so
// that the frame shows it: Fyne ticks its animations when it has taken all that
// waited of the mouse, and then draws. However many moves waited, the last is
// tried, once. Fyne does one thing that was asked of the main goroutine between
// two frames or none, so that asking for each move would build up a queue.
func (g *grip) follow(d *desk) {
	started := false
	g.ticks = fyne.NewAnimation(time.Hour, func(float32) {
		g.ticked = started // a driver without frames calls this at once, and never again
		d.frames.ended()
		if d.grip != g {
			return
		}
		for _, v := range d.boards {
			v.takeOver()
		}
		if g.stale {
			d.waiting = true // for the catching up that drawing ahead does
			d.try(g)
			d.drawAhead()
		}
	})
	g.ticks.RepeatCount = fyne.AnimationRepeatForever
	g.ticks.Start()
	started = true
}

// chooseHandle chooses a handle with its line or limit.
func (d *desk) chooseHandle(h views.Handle) {
	c := d.choice.WithLine(h.Line)
	if h.Limit != views.NoLimit {
		c = c.WithLimit(h.Limit)
	}
	d.choose(c.WithFrame(h.Frame))
}

// move takes the handle held to a girth below the upper limit. The planking
// follows once for all moves that wait.
func (d *desk) move(down float64) {
	g := d.grip
	if g == nil {
		return
	}
	d.tryTo(g, d.onFrame(g.frame, down))
}

// tryTo has a place tried, once for all that are asked for till then: before the
// next frame, or else, where the driver ticks nothing, when it comes round to it.
func (d *desk) tryTo(g *grip, down float64) {
	g.down = down
	if g.stale {
		return
	}
	g.stale = true
	if !g.ticked {
		fyne.Do(func() { d.try(g) })
	}
}

func (d *desk) try(g *grip) {
	if d.grip != g || !g.stale {
		return
	}
	g.stale = false
	d.frames.follows()
	move := moveHandle(g.layer, g.line, g.frame, g.down)
	if g.limit != views.NoLimit {
		move = moveLimit(g.limit, d.frameName(g.frame), g.down)
	}
	if err := g.drag.Try(move); err != nil {
		d.status(sentence(err))
		return
	}
	if g.limit != views.NoLimit {
		d.status(d.limitText(g.limit, g.frame))
		return
	}
	d.status(d.handleText(g.line, g.frame))
}

// release takes the mouse's hold off the handle.
func (d *desk) release() {
	if d.grip != nil {
		d.grip.ticks.Stop()
		d.grip = nil
		for _, v := range d.boards { // what followed behind the frames shows the end of the drag at once
			v.Refresh()
		}
	}
}

// letGo ends a drag and keeps what it made.
func (d *desk) letGo() {
	if g := d.grip; g != nil {
		d.try(g)
		d.release()
		g.drag.Done()
		d.frames.over()
	}
}

// putBack ends a drag and puts back what it moved; it tells whether there was one.
func (d *desk) putBack() bool {
	g := d.grip
	if g == nil {
		return false
	}
	d.release()
	g.drag.Cancel()
	d.status("Put back where it was.")
	return true
}

// nudge moves the chosen handle by mm, downwards positive.
func (d *desk) nudge(mm float64) {
	l, f := d.choice.Line, d.choice.Frame
	if d.choice.Limit != views.NoLimit && f >= 0 {
		d.nudgeLimit(mm)
		return
	}
	line := d.line()
	if line == nil || f < 0 {
		d.status("Choose a handle of a band line or a limit first: the arrow keys then move it.")
		return
	}
	down := d.onFrame(f, views.HandleDown(d.layer(), line, l, f)+mm)
	if d.edit(fmt.Sprintf("nudge line %d at frame %s", l+1, d.frameName(f)), moveHandle(d.choice.Layer, l, f, down)) {
		d.status(d.handleText(l, f))
	}
}

// step goes to the neighbouring frame.
func (d *desk) step(by int) {
	if f := d.choice.Frame + by; f >= 0 && f < len(d.plan().Hull.Frames) {
		d.choose(d.choice.WithFrame(f))
		switch {
		case d.choice.Limit != views.NoLimit:
			d.status(d.limitText(d.choice.Limit, f))
		case d.line() != nil:
			d.status(d.handleText(d.choice.Line, f))
		}
	}
}
