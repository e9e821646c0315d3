package window

import (
	"context"
	"sync/atomic"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"

	"strakewright/app"
	"strakewright/app/draw"
	"strakewright/app/draw/views"
	"strakewright/hull"
	"strakewright/loft"
)

// desk is what all views share. It is used on the main goroutine alone.
type desk struct {
	app fyne.App
	win fyne.Window
	s   *app.Session

	choice views.Choice
	units  views.Units
	dark   bool
	pixels *draw.Pixels

	curves   views.Curves
	curvesOf *loft.Surface
	whole    wholeFrames

	grip         *grip // the handle being dragged, or nil
	views        []refresher
	lazy         []func() // what is brought up to date after a change, once for many changes
	waiting      bool
	status       func(string)
	say          func(string)
	picture      func(path string) // has it traced
	offered      dialog.Dialog     // what a crash left, while it is offered back; or nil
	gaugeRefresh func()
	showStock    func()       // shows the panel of the wood, with the comparison
	stockRoom    func()       // gives it more room, or takes it back
	showFigure   func(figure) // has the table tell it
	bench        *bench
	mark         openMark
	showUnkept   func(error)                 // shows why work is not being kept, or that it is again
	kept         atomic.Pointer[app.Session] // the session, for those who are not on the main goroutine
	onMain       func(func())                // has the main goroutine do something
	working      bool                        // long work shows its progress
	gone         bool
	life         context.Context    // of all that goes on for the window: it ends when that goes
	end          context.CancelFunc // ends it
	frames       *frameLog          // nil but for a benchmark
}

// refresher is a view that can be drawn anew.
type refresher interface{ Refresh() }

func newDesk(a fyne.App, s *app.Session) *desk {
	d := &desk{app: a, onMain: fyne.Do, showUnkept: func(error) {}, choice: views.Nothing, gaugeRefresh: func() {}, showStock: func() {}, stockRoom: func() {}, showFigure: func(figure) {}, status: func(string) {}, say: func(string) {}}
	d.life, d.end = context.WithCancel(context.Background())
	d.bench = newBench(d)
	d.take(s)
	return d
}

// take makes a session the desk's own.
func (d *desk) take(s *app.Session) {
	d.release()
	d.s = s
	d.bench.day = ""
	d.choice = views.Nothing
	if len(s.Plan().Layers[0].Lines) > 0 {
		d.choice = d.choice.WithLine(0).WithFrame(s.Plan().Layers[0].Lines[0].Hold)
	}
	s.OnChange(func() {
		if d.s == s {
			d.changed()
		}
	})
	d.watchAutosave(s)
	d.changed()
}

func (d *desk) plan() *hull.Plan         { return d.s.Plan() }
func (d *desk) planking() *loft.Planking { return d.s.Planking() }
func (d *desk) layer() *loft.Layer       { return d.planking().Layers[d.choice.Layer] }
func (d *desk) planLayer() *hull.Layer   { return &d.plan().Layers[d.choice.Layer] }
func (d *desk) frameName(f int) string   { return d.plan().Hull.Frames[f].Name }

// line gives the chosen band line, or nil.
func (d *desk) line() *hull.BandLine {
	if l := d.planLayer(); d.choice.Line >= 0 && d.choice.Line < len(l.Lines) {
		return &l.Lines[d.choice.Line]
	}
	return nil
}

// frameCurves gives the frames of the layer shown, sampled once a surface.
func (d *desk) frameCurves() views.Curves {
	if l := d.layer(); d.curvesOf != l.Surface {
		d.curves, d.curvesOf = views.CurvesOf(l), l.Surface
	}
	return d.curves
}

// shownThere is what all views are made from: equal ones give equal drawings, but
// for what a view has of its own. Of a planking nothing is ever changed.
type shownThere struct {
	planking *loft.Planking
	choice   views.Choice
	units    views.Units
	dark     bool
}

func (d *desk) shownThere() shownThere {
	return shownThere{d.planking(), d.choice, d.units, d.dark}
}

func (d *desk) palette() *draw.Palette {
	if d.dark {
		return &draw.Dark
	}
	return &draw.Light
}

// changed is called after every change of the plan: a choice that is gone is
// dropped, and everything is drawn anew.
func (d *desk) changed() {
	d.choice = stillThere(d.choice, d.planking())
	d.markOpen()
	d.refresh()
}

// stillThere drops what of a choice a planking does not have.
func stillThere(c views.Choice, k *loft.Planking) views.Choice {
	if c.Layer >= len(k.Layers) {
		c = views.Choice{Layer: len(k.Layers) - 1, Strake: -1, Line: -1, Frame: c.Frame, Limit: c.Limit}
	}
	l := k.Layers[c.Layer]
	if c.Strake >= len(l.Strakes) {
		c.Strake = len(l.Strakes) - 1
	}
	if lines := len(l.Lines) - 2; c.Line >= lines {
		c.Line = lines - 1
	}
	if c.Frame >= len(l.Girths) {
		c.Frame = len(l.Girths) - 1
	}
	return c
}

// choose chooses in all views at once.
func (d *desk) choose(c views.Choice) {
	if c = stillThere(c, d.planking()); c != d.choice {
		d.choice = c
		d.refresh()
	}
}

// refresh draws everything anew: the boards with the next frame of the screen,
// the table and the panel once for however many changes came before it.
func (d *desk) refresh() {
	for _, v := range d.views {
		v.Refresh()
	}
	if d.waiting {
		return
	}
	d.waiting = true
	fyne.Do(d.catchUp)
}

// catchUp brings up to date what waits for it.
func (d *desk) catchUp() {
	if !d.waiting {
		return
	}
	d.waiting = false
	if d.gone {
		return
	}
	for _, f := range d.lazy {
		f()
	}
}

// later has f run on the main goroutine when what goes on now is over.
func (d *desk) later(f func()) {
	fyne.Do(func() {
		if !d.gone {
			f()
		}
	})
}

// edit makes a change as one step; an error is shown in one sentence.
func (d *desk) edit(what string, change func(*hull.Plan) error) bool {
	d.letGo()
	if err := d.s.Edit(what, change); err != nil {
		d.say(sentence(err))
		d.refresh()
		return false
	}
	return true
}

func (d *desk) undo() {
	if what, ok := d.s.Undo(); ok {
		d.release()
		d.status("Taken back: " + what)
	}
}

func (d *desk) redo() {
	d.letGo()
	if what, ok := d.s.Redo(); ok {
		d.status("Made again: " + what)
	}
}
