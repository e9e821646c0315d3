package desk

import (
	"time"

	"github.com/strakewright/strakewright/loft"
)

// A drag follows the hand: where the strip beside the line takes longer than
// stripTime to find, so many times one after another, it is left out till the handle
// is let go.
const (
	stripTime  = 8 * time.Millisecond // half a frame of the screen
	stripTimes = 3
)

// stripAtHand is the strip beside the chosen line, found once for all views.
type stripAtHand struct {
	of      *loft.Layer
	line    int
	found   *loft.StripBeside
	leftOut bool
	slow    int // so many times one after another it took too long
}

// Strip is where the strip of the chosen line lies by itself; nil where no line is
// chosen, on a hull without a shape, and while a drag leaves it out.
func (d *Desk) Strip() *loft.StripBeside {
	if d.Line() == nil || d.Shapeless() {
		return nil
	}
	return d.strip.find(d.Layer(), d.Choice.Line+1, d.Grip != nil, d.Clock)
}

// find finds it of a line, 1 being the first under the upper limit, unless it has
// been too slow while a handle is held.
func (s *stripAtHand) find(l *loft.Layer, line int, held bool, clock func() time.Time) *loft.StripBeside {
	if !held {
		s.slow = 0
	}
	leaveOut := s.slow >= stripTimes
	if s.of == l && s.line == line && s.leftOut == leaveOut {
		return s.found
	}
	s.of, s.line, s.leftOut, s.found = l, line, leaveOut, nil
	if leaveOut {
		return nil
	}
	began := clock()
	s.found = l.StripBeside(line)
	if clock().Sub(began) > stripTime {
		s.slow++
	} else {
		s.slow = 0
	}
	return s.found
}
