package progress

import (
	"maps"
	"math"
	"slices"
)

// farOff is the excess, mm, of what is left over the whole band beyond which a reading
// is impossible.
const farOff = 3

// farOffPlan is how far, mm, a bare frame may be off the drawing and still be believed.
const farOffPlan = 15

// farOffDrawn is how far, mm, it may be off before it is queried.
const farOffDrawn = 1

// The prior probability that a reading is a slip (a figure misread or mistyped), and
// that a frame is off by more than the others; and how far off, mm, each then is, as a
// standard deviation. From memory, no source. A single reading up to some 4 mm off is
// therefore ascribed to the frame, one farther off to a slip.
const (
	slipChance = 0.01
	slipSize   = 8
	wildChance = 0.02
	wildSize   = 2
	bareSize   = 5 // for a frame that was measured bare: the drawing no longer counts
)

// doubt sorts the readings into those believed and those that are hardly possible, and
// finds the frames that are off by more than the others. Of all possible doubts it
// takes first the one that makes the readings most likely, until none makes them more
// likely.
func (s *benchBand) doubt() {
	s.readings, s.doubted, s.wild = slices.Clone(s.all), nil, map[int]float64{}
	for i := range s.readings {
		if x := &s.readings[i]; x.bare() {
			s.wild[x.frame] = bareSize
			if math.Abs(x.offDrawn) > farOffDrawn {
				s.doubtOf(x, OffDrawn, x.offDrawn, true)
			}
		}
	}
	b := belief{s.habit.mean(), 1}
	for range s.all {
		c := s.jointOf(s.readings, s.wild).condition(b)
		slip, asSlip, off := c.likeliestSlip()
		frame, asWild := s.likeliestWild(&c, b)
		switch {
		case max(asSlip, asWild) <= 0:
			return
		case asWild >= asSlip:
			s.wild[frame] = wildSize
			s.doubtFrame(&c, frame)
		default:
			why := OffOthers
			if len(s.readings) == 1 {
				why = OffPlan
			}
			s.doubtOf(&s.readings[slip], why, math.Abs(off), false)
			s.readings = slices.Delete(s.readings, slip, slip+1)
		}
	}
}

// doubtOf queries a reading; kept says that it is believed all the same.
func (s *benchBand) doubtOf(x *reading, why Doubt, other float64, kept bool) {
	e := s.entries[x.entry]
	s.doubted = append(s.doubted, Query{Entry: x.entry, Doubt: why, Frame: e.Frame, Kept: kept, MM: e.MM, Other: other})
}

// doubtFrame queries the last reading of a frame that is off by more than the others,
// if no later reading there confirms it.
func (s *benchBand) doubtFrame(c *conditioned, frame int) {
	at := -1
	for i := range s.readings {
		if x := &s.readings[i]; x.frame == frame && x.frames {
			if at >= 0 {
				return // two agree
			}
			at = i
		}
	}
	if at >= 0 {
		off, _ := c.leftOut()
		s.doubtOf(&s.readings[at], OffOthers, math.Abs(off[at]), true)
	}
}

// likeliestSlip is the reading most likely to be a slip, the gain in log likelihood if
// it is one, and how far it is off, mm.
func (c *conditioned) likeliestSlip() (at int, gain, off float64) {
	offs, deviations := c.leftOut()
	at, gain = -1, math.Inf(-1)
	for i := range offs {
		g := math.Log(slipChance) + logNormal(offs[i], slipSize) - logNormal(offs[i], deviations[i])
		if g > gain {
			at, gain, off = i, g, offs[i]
		}
	}
	return at, gain, off
}

// likeliestWild is the frame most likely to be off by more than the others, and the
// gain in log likelihood if it is.
func (s *benchBand) likeliestWild(c *conditioned, b belief) (at int, gain float64) {
	at, gain = -1, math.Inf(-1)
	most := 0.0
	for i := range s.readings {
		x := &s.readings[i]
		if _, known := s.wild[x.frame]; known || !x.frames {
			continue
		}
		own := stray{frame: x.frame, at: x.at, frames: true}
		mean, _, _ := c.given(&s.habit, s.wild, &own)
		if math.Abs(mean) > most {
			at, most = x.frame, math.Abs(mean)
		}
	}
	if at < 0 || most < 2*b.spreads[frame] {
		return -1, gain
	}
	wild := maps.Clone(s.wild)
	wild[at] = wildSize
	with := s.jointOf(s.readings, wild).condition(b)
	return at, with.logLike - c.logLike + math.Log(wildChance)
}

// logNormal is the logarithm of the normal density with the given standard deviation.
func logNormal(x, deviation float64) float64 {
	z := x / deviation
	return -z*z/2 - math.Log(deviation) - math.Log(2*math.Pi)/2
}
