package window

import (
	"context"
	"sync/atomic"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"

	"strakewright/app"
	"strakewright/app/draw/views"
	"strakewright/hull"
	"strakewright/loft"
)

// desk is what all views share. It is used on the main goroutine alone.
type desk struct {
	*background
	*look
	atHand
	app fyne.App

	grip         *grip // the handle being dragged, or nil
	boards       []drawn
	drawAhead    func()   // draws the boards that are to be made anew
	lazy         []func() // what is brought up to date after a change, once for many changes
	waiting      bool
	picture      func(path string) // has it traced
	offered      dialog.Dialog     // what a crash left, while it is offered back; or nil
	gaugeRefresh func()
	showStock    func() // shows the panel of the wood, with the comparison
	stockRoom    func() // gives it more room, or takes it back
	showChange   func() // has the table tell what the bench asks for
	bench        *bench
	mark         openMark
	showUnkept   func(error)                 // shows why work is not being kept, or that it is again
	kept         atomic.Pointer[app.Session] // the session, for those who are not on the main goroutine
	frames       *frameLog                   // nil but for a benchmark
}

// drawn is a drawing of what is at hand.
type drawn interface {
	Refresh()  // draws it anew
	takeOver() // has what was drawn behind the frames shown
	fit()      // shows the whole again
}

func newDesk(a fyne.App, l *look, s *app.Session) *desk {
	d := &desk{background: newBackground(context.Background(), nil), look: l, app: a, atHand: atHand{choice: views.Nothing},
		showUnkept: func(error) {}, gaugeRefresh: func() {}, showStock: func() {}, stockRoom: func() {}, showChange: func() {}, drawAhead: func() {}}
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

// changed is called after every change of the plan: a choice that is gone is
// dropped, and everything is drawn anew.
func (d *desk) changed() {
	d.choice = stillThere(d.choice, d.planking())
	d.markOpen()
	d.refresh()
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
	for _, v := range d.boards {
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

func (d *desk) switchUnits() {
	d.units = 1 - d.units
	d.refresh()
}

func (d *desk) switchLight() {
	d.dark = !d.dark
	d.app.Settings().SetTheme(newTheme(d.dark))
	d.refresh()
}

// compareWidths shows the comparison, with more room.
func (d *desk) compareWidths() { d.showStock() }
