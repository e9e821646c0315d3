package desk

import (
	"context"
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Desk is what all views share. It is used on the main goroutine alone.
type Desk struct {
	*kit.Background
	*kit.Look
	AtHand
	App fyne.App

	Grip         *grip                                       // the handle being dragged, or nil
	Round        bool                                        // what is dragged keeps to round figures
	Pull         func(line, frame int, down float64) float64 // where a handle dragged to a girth is taken in its place
	Boards       []Board
	DrawAhead    func() // draws the boards that are to be made anew
	march        march
	strip        stripAtHand
	Clock        func() time.Time            // by which it is told what takes too long
	switched     map[*container.TabItem]bool // the tabs shown since the theme was switched; nil where it never was
	Lazy         []func()                    // what is brought up to date after a change, once for many changes
	waiting      bool
	Picture      func(path string)                   // has it traced
	Photo        func()                              // has what is left read off a photo
	Help         func(in *kit.Notices, topic string) // shows a page of the help in a dialog of a window
	Offered      dialog.Dialog                       // what a crash left, while it is offered back; or nil
	GaugeRefresh func()
	ShowStock    func() // shows the panel of the wood, with the comparison
	StockRoom    func() // gives it more room, or takes it back
	ShowChange   func() // has the table tell what the bench asks for
	Bench        *Bench
	Mark         openMark
	PaneItems    func(Board) []*fyne.MenuItem // what can be done with the pane of a drawing
	Remembered   func()                       // the files opened last are others
	ShowUnkept   func(error)                  // shows why work is not being kept, or that it is again
	kept         atomic.Pointer[app.Session]  // the session, for those who are not on the main goroutine
	Frames       *frameLog                    // nil but for a benchmark
}

// Board is a drawing of what is at hand.
type Board interface {
	Refresh()  // draws it anew
	TakeOver() // has what was drawn behind the frames shown
	Fit()      // shows the whole again
}

// New is the desk of a session, without a window yet.
func New(a fyne.App, l *kit.Look, s *app.Session) *Desk {
	d := &Desk{Background: kit.NewBackground(context.Background(), nil), Look: l, App: a, AtHand: AtHand{Choice: views.Nothing}, Clock: time.Now,
		ShowUnkept: func(error) {}, Remembered: func() {}, Help: func(*kit.Notices, string) {}, Pull: func(_, _ int, down float64) float64 { return down }, PaneItems: func(Board) []*fyne.MenuItem { return nil }, GaugeRefresh: func() {}, ShowStock: func() {}, StockRoom: func() {}, ShowChange: func() {}, DrawAhead: func() {}}
	d.Bench = newBench(d)
	d.Lazy = append(d.Lazy, d.marchOut)
	d.take(s)
	return d
}

// take makes a session the desk's own.
func (d *Desk) take(s *app.Session) {
	d.release()
	d.Session = s
	d.Bench.Day = ""
	d.Choice = views.Nothing
	if len(s.Plan().Layers[0].Lines) > 0 {
		d.Choice = d.Choice.WithLine(0).WithFrame(s.Plan().Layers[0].Lines[0].Hold)
	}
	s.OnChange(func() {
		if d.Session == s {
			d.changed()
		}
	})
	d.watchAutosave(s)
	d.changed()
}

// ShownThere is what all views are made from: equal ones give equal drawings, but
// for what a view has of its own. Of a planking nothing is ever changed.
type ShownThere struct {
	planking *loft.Planking
	choice   views.Choice
	units    views.Units
	dark     bool
	marched  *Marched
	strip    *loft.StripBeside
}

func (d *Desk) ShownThere() ShownThere {
	return ShownThere{d.Planking(), d.Choice, d.Units, d.Dark, d.Marched(), d.Strip()}
}

// changed is called after every change of the plan: a choice that is gone is
// dropped, and everything is drawn anew.
func (d *Desk) changed() {
	d.Choice = stillThere(d.Choice, d.Planking())
	d.MarkOpen()
	d.Refresh()
}

// Choose chooses in all views at once.
func (d *Desk) Choose(c views.Choice) {
	if c = stillThere(c, d.Planking()); c != d.Choice {
		was := d.Choice
		d.Choice = c
		if d.Line() != nil && c.Frame >= 0 && (c.Line != was.Line || c.Layer != was.Layer) {
			d.Status(d.LineText(c.Line, c.Frame)) // what stands there is told of another line
		}
		d.Refresh()
	}
}

// Refresh draws everything anew: the boards with the next frame of the screen,
// the table and the panel once for however many changes came before it.
func (d *Desk) Refresh() {
	for _, v := range d.Boards {
		v.Refresh()
	}
	if d.waiting {
		return
	}
	d.waiting = true
	fyne.Do(d.CatchUp)
}

// CatchUp brings up to date what waits for it.
func (d *Desk) CatchUp() {
	if !d.waiting {
		return
	}
	d.waiting = false
	if d.Gone {
		return
	}
	for _, f := range d.Lazy {
		f()
	}
}

// TryEdit makes a change as one step; an error tells why it cannot be made.
func (d *Desk) TryEdit(what string, change func(*hull.Plan) error) error {
	d.LetGo()
	return d.Session.Edit(what, change)
}

// Edit makes a change as one step; an error is shown in one sentence.
func (d *Desk) Edit(what string, change func(*hull.Plan) error) bool {
	if err := d.TryEdit(what, change); err != nil {
		d.Say(kit.Sentence(err))
		d.Refresh()
		return false
	}
	return true
}

func (d *Desk) Undo() { d.UndoSteps(1) }

func (d *Desk) Redo() { d.RedoSteps(1) }

// UndoSteps takes back so many steps, the last one first.
func (d *Desk) UndoSteps(n int) {
	d.walk(n, func() (string, bool) {
		what, ok := d.Session.Undo()
		if ok {
			d.release()
		}
		return what, ok
	}, func(last string) string { return tongue.T("Undone: %s", last) },
		func(n int, last string) string { return tongue.T("%d steps undone, the last of them: %s", n, last) })
}

// RedoSteps makes so many steps again that were taken back.
func (d *Desk) RedoSteps(n int) {
	d.LetGo()
	d.walk(n, d.Session.Redo, func(last string) string { return tongue.T("Redone: %s", last) },
		func(n int, last string) string { return tongue.T("%d steps redone, the last of them: %s", n, last) })
}

// walk goes so many steps, as far as there are any, and tells of them.
func (d *Desk) walk(n int, step func() (what string, ok bool), one func(last string) string, many func(n int, last string) string) {
	gone, last := 0, ""
	for gone < n {
		what, ok := step()
		if !ok {
			break
		}
		gone, last = gone+1, what
	}
	switch {
	case gone == 1:
		d.Status(one(last))
	case gone > 1:
		d.Status(many(gone, last))
	}
}

func (d *Desk) SwitchUnits() {
	d.Units = 1 - d.Units
	d.App.Preferences().SetBool(inchesKey, d.Units == views.Inches)
	d.Refresh()
}

// Shows has what a tab holds drawn in the colours of now as it is shown: the toolkit
// (v2.7.1) draws what is in sight anew where the theme is another, and leaves the rest in
// those of the one before.
func (d *Desk) Shows(tab *container.TabItem) {
	if !d.switched[tab] && d.switched != nil {
		kit.RefreshWhole(tab.Content)
		d.Repaint(tab.Content) // what was drawn of it before is given up
		d.switched[tab] = true
	}
}

// SwitchLight draws dark on light in place of light on dark, or the other way about.
func (d *Desk) SwitchLight() {
	d.Dark = !d.Dark
	d.App.Preferences().SetBool(darkKey, d.Dark)
	d.App.Settings().SetTheme(kit.NewTheme(d.Dark))
	d.switched = map[*container.TabItem]bool{}
	d.Refresh()
}

// CompareWidths shows the comparison, with more room.
func (d *Desk) CompareWidths() { d.ShowStock() }
