package boards

import (
	"context"
	"slices"

	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// strip is a strip laid over the frames in the lofted view, along the chosen strake or
// band line. It is reckoned off the main goroutine as a row of states, from the first
// contact to the last, and is shown in one of them or on its way to the next. What was
// reckoned is dropped with the planking that it was reckoned for.
type strip struct {
	desk   *desk.Desk
	board  *Board // where it is shown
	refit  func() // has it shown whole
	named  func() // has the key to what is shown follow
	laid   func(on bool)
	on     bool
	hold   holding
	picked []int   // the frames at which it is held, where these were clicked
	of     stripOf // what it was reckoned for
	sp     *loft.Springing
	states []*loft.Sprung // as far as they are found
	whole  bool           // there are no more to be found
	said   string         // how far the work is
	fitted bool           // it has been shown whole since it was laid
	at     float64        // of the states: 1.5 is half way from the second to the third
	latest kit.Latest

	motion *fyne.Animation // nil while it rests
	start  func(*fyne.Animation)
	bar    *stripBar
}

// stripOf is what a strip lies along.
type stripOf struct {
	planking            *loft.Planking
	layer, strake, line int
}

// holding is at which frames a strip is held.
type holding uint8

// The ways, in the order in which they are offered.
const (
	inTurn    holding = iota // at one frame after the other, from amidships outwards, till it is held at all
	asNeeded                 // at few frames, so that it lies in its place at all
	amidships                // and let fall over the others
	clicked                  // at the frames clicked
)

// holdings name the ways.
func holdings() []string {
	return []string{tongue.T("every frame in turn"), tongue.T("as few as are needed"), tongue.T("amidships alone"), tongue.T("the frames clicked")}
}

// placed is how near to its place a strip is to lie that is held as needed, mm.
const placed = 0.1

func newStrip(d *desk.Desk, b *Board, refit func()) *strip {
	s := &strip{desk: d, board: b, laid: func(bool) {}, refit: refit, named: func() {}, start: (*fyne.Animation).Start}
	d.Lazy = append(d.Lazy, s.follow)
	return s
}

// asked is what a strip would lie along now; ok is false where neither strake nor line
// is chosen.
func (s *strip) asked() (of stripOf, ok bool) {
	c := s.desk.Choice
	of = stripOf{s.desk.Planking(), c.Layer, c.Strake, -1}
	if c.Strake < 0 {
		of.line = c.Line
	}
	return of, of.strake >= 0 || of.line >= 0
}

// lay lays the strip over the frames.
func (s *strip) lay() {
	of, ok := s.asked()
	if !ok {
		s.desk.Status(tongue.T("Choose a strake or a band line first: the strip is laid along it."))
		return
	}
	s.desk.LetGo()
	sp, err := sprung(of)
	if err != nil {
		s.takeOff()
		s.desk.Say(kit.Sentence(err))
		return
	}
	s.of, s.sp = of, sp
	s.desk.Status(tongue.T(answer.SpringCaution))
	if !s.on {
		s.on = true
		s.laid(true)
	}
	s.reckon(false)
}

// sprung lays a strip of the layer's stock along a strake or band line.
func sprung(of stripOf) (*loft.Springing, error) {
	l, stock := of.planking.Layers[of.layer], &of.planking.Plan.Layers[of.layer].Stock
	modulus, _ := loft.ModulusOf(of.planking.Plan, stock.Species)
	if of.strake >= 0 {
		st := l.Strakes[of.strake]
		first, last := st.LaidBetween()
		return l.Spring(of.along(), first, last, st.Strip, stock.Thickness, modulus)
	}
	first, last := l.Surface.Planked()
	return l.Spring(of.along(), first, last, stock.Width, stock.Thickness, modulus)
}

// reckon finds the states anew. They are shown as they come, from the first on, or
// with the last once all are found.
func (s *strip) reckon(last bool) {
	s.halt()
	s.states, s.whole, s.at, s.said = nil, false, 0, tongue.T("Reckoning how it lies…")
	sp, hold, picked := s.sp, s.hold, slices.Clone(s.picked)
	s.latest.Start(s.desk.Background, func(ctx context.Context) func() {
		post := func(f func()) {
			s.desk.OnMain(func() {
				if ctx.Err() == nil {
					f()
					s.refresh()
				}
			})
		}
		err := statesOf(ctx, sp, hold, picked, func(state *loft.Sprung, of int) {
			post(func() {
				if s.states = append(s.states, state); len(s.states) == 1 && !s.fitted {
					s.fitted = true
					s.refit()
				}
				s.said = tongue.T("Reckoning how it lies: %d of %d.", len(s.states), of)
			})
		}, func(tried, prospect int) {
			post(func() { s.said = tongue.T("Looking for where to hold it: %d of %d ways.", tried, prospect) })
		})
		return func() {
			s.end(err)
			if last && len(s.states) > 0 {
				s.at = float64(len(s.states) - 1)
			}
			s.refresh()
		}
	})
	s.refresh()
}

// statesOf finds the states of a strip, from the first contact to the last.
func statesOf(ctx context.Context, sp *loft.Springing, hold holding, picked []int, found func(state *loft.Sprung, of int), tried func(tried, prospect int)) error {
	order, frames := sp.Order(), picked
	var last *loft.Sprung
	switch hold {
	case inTurn:
		all := len(order) + 1 - len(sp.Amidships())
		return sp.Presses(ctx, func(state *loft.Sprung) error {
			found(state, all)
			return nil
		})
	case amidships:
		frames = sp.Amidships()
	case asNeeded:
		var err error
		if last, err = sp.Holds(ctx, placed, tried); err != nil {
			return err
		}
		frames = last.Held
	}
	order = slices.DeleteFunc(order, func(f int) bool { return !slices.Contains(frames, f) })
	first := min(len(sp.Amidships()), len(order))
	for n := first; n <= len(order); n++ {
		state := last
		if n < len(order) || last == nil {
			var err error
			if state, err = sp.Held(ctx, order[:n]); err != nil {
				return err
			}
		}
		found(state, len(order)+1-first)
	}
	return nil
}

// end notes that no more states will be found.
func (s *strip) end(err error) {
	s.whole, s.said = true, ""
	switch {
	case err != nil && len(s.states) == 0:
		s.takeOff()
		s.desk.Say(kit.Sentence(err))
	case err != nil:
		s.desk.Status(kit.Sentence(err))
	}
}

// takeOff takes the strip off again.
func (s *strip) takeOff() {
	if !s.on {
		return
	}
	s.halt()
	s.latest.End()
	s.on, s.fitted, s.sp, s.states, s.said = false, false, nil, nil, ""
	s.refit()
	s.refresh() // the bar is away before the room is shared out
	s.laid(false)
}

// follow drops what does not hold any more: the strip is taken off with a change of
// the plan, and laid anew along another strake or line that is chosen.
func (s *strip) follow() {
	if !s.on {
		return
	}
	switch of, ok := s.asked(); {
	case of.planking != s.of.planking:
		s.takeOff()
		s.desk.Status(tongue.T("The plan has changed, and the strip is taken off: lay it again to see how it lies now."))
	case !ok:
		s.takeOff()
	case of != s.of:
		s.picked = nil
		if s.hold == clicked {
			s.hold = inTurn
		}
		s.lay()
	}
}

func (s *strip) refresh() {
	s.bar.show()
	s.named()
	s.board.Refresh()
}

// busy tells whether states are being found.
func (s *strip) busy() bool { return s.on && !s.whole }

// holdAt has the strip held in another way.
func (s *strip) holdAt(h holding) {
	if h == s.hold {
		return
	}
	s.hold = h
	if h == clicked && len(s.picked) < 2 {
		s.picked = s.shown().heldOr(s.sp)
		s.desk.Status(tongue.T("Click on a frame, or on the strip there, to hold it or to let it go."))
	}
	if s.on {
		s.reckon(h == clicked)
	}
}

// toggle holds the strip at a frame that is clicked, or lets it go there.
func (s *strip) toggle(frame int) {
	if s.busy() || s.sp == nil {
		return
	}
	picked := s.shown().heldOr(s.sp)
	if k := slices.Index(picked, frame); k >= 0 {
		picked = slices.Delete(picked, k, k+1)
	} else {
		picked = append(picked, frame)
	}
	switch {
	case frame < s.sp.First || frame > s.sp.Last:
		s.desk.Status(tongue.T("The strip does not cross frame %s.", s.desk.FrameName(frame)))
		return
	case len(picked) < 2:
		s.desk.Status(tongue.T("A strip held at one frame alone swings: hold it at two at least."))
		return
	}
	s.hold, s.picked = clicked, picked
	s.reckon(true)
}

// along is the line along which a strip lies.
func (of stripOf) along() *loft.Line {
	l := of.planking.Layers[of.layer]
	if of.strake >= 0 {
		return l.Strakes[of.strake].Centre
	}
	return l.Lines[of.line+1].Line
}

// stripShown is what is shown of a strip: so much of the way from one state to
// another. The zero value is none.
type stripShown struct {
	on       bool
	along    *loft.Line
	sp       *loft.Springing
	from, to *loft.Sprung // the same where it rests; nil till one is found
	part     float64
	hardest  float64 // N, of all states
	said     string
}

func (s *strip) shown() stripShown {
	if of, _ := s.asked(); !s.on || of != s.of {
		return stripShown{}
	}
	out := stripShown{on: true, along: s.of.along(), sp: s.sp, said: s.said}
	if len(s.states) == 0 {
		return out
	}
	k := min(int(s.at), len(s.states)-1)
	out.from, out.to, out.part = s.states[k], s.states[k], s.at-float64(k)
	if out.part > 0 && k+1 < len(s.states) {
		out.to = s.states[k+1]
	} else {
		out.part = 0
	}
	out.hardest = hardest(s.states)
	return out
}

// rests tells whether a state is shown, and the strip is not on its way.
func (s stripShown) rests() bool { return s.from != nil && s.from == s.to }

// heldOr gives the frames at which the strip shown is held; amidships where none is.
func (s stripShown) heldOr(sp *loft.Springing) []int {
	if s.from != nil {
		return slices.Clone(s.from.Held)
	}
	if sp == nil {
		return nil
	}
	return sp.Amidships()
}
