package boards

import (
	"math"
	"time"

	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/assets/tongue"
)

// pace is how long a strip takes from one state to the next, of which it rests for a
// part, so that the eye can take in what has changed.
const (
	pace  = 1200 * time.Millisecond
	rests = 0.4
	// finest is the least part of the way for which it is drawn anew.
	finest = 1.0 / 20
)

// moving tells whether the strip is on its way.
func (s *strip) moving() bool { return s.motion != nil }

// stop stops what goes on, and tells whether anything did: the strip comes to rest in
// the nearest state, and what has been found till then stays to be looked at.
func (s *strip) stop() bool {
	switch {
	case s.moving():
		s.halt()
	case s.busy():
		s.latest.End()
		if len(s.states) == 0 {
			s.takeOff()
			return true
		}
		s.end(nil)
		s.desk.Status(tongue.T("Stopped: the strip is shown as far as it was reckoned."))
	default:
		return false
	}
	s.refresh()
	return true
}

// halt brings the strip to rest.
func (s *strip) halt() {
	if s.motion != nil {
		s.motion.Stop()
		s.motion = nil
		s.at = math.Round(s.at)
	}
}

// play moves the strip through its states, pressed on (1) or let go (-1), from where
// it is, or from the other end where it has come to this one.
func (s *strip) play(way float64) {
	s.halt()
	last := float64(len(s.states) - 1)
	if !s.on || last < 1 {
		return
	}
	from, to := s.at, last
	if way < 0 {
		to = 0
	}
	if from == to {
		from = last - to
	}
	steps := math.Abs(to - from)
	motion := fyne.NewAnimation(time.Duration(steps*float64(pace)), nil)
	motion.Curve = fyne.AnimationLinear
	motion.Tick = func(done float32) {
		if s.motion != motion || s.desk.Gone {
			return
		}
		at := from + way*eased(float64(done)*steps)
		if done >= 1 {
			s.motion = nil
			at = to
		}
		if at != s.at || s.motion == nil {
			s.at = at
			s.refresh()
		}
	}
	s.motion, s.at = motion, from
	s.start(motion)
	s.refresh()
}

// eased is how far a strip has come that has gone so many steps at an even pace: in
// each it sets off and comes gently, and rests at its end.
func eased(steps float64) float64 {
	whole := math.Floor(steps)
	t := math.Min((steps-whole)/(1-rests), 1)
	return whole + math.Round(t*t*(3-2*t)/finest)*finest
}

// step goes to the next state (1), or the one before (-1).
func (s *strip) step(by int) {
	s.halt()
	if n := len(s.states); s.on && n > 0 {
		s.at = math.Max(0, math.Min(s.at+float64(by), float64(n-1)))
		s.refresh()
	}
}
