package progress

import (
	"math"
	"slices"

	"github.com/strakewright/strakewright/loft"
)

// Habit says how the work strays from a plan. Its figures are what is believed
// before anything is measured; the record outweighs them as it grows.
//
// A strip as laid takes up its width and its creep. The creep of a strake at a
// frame is the builder's own, the same for all strakes and all along; a part that
// changes smoothly along the hull and is alike for all strakes; a part of the
// strake's own that changes smoothly; and the knife's, which is of that place
// alone. A frame as built is off its planned girth by an error that changes smoothly
// along the hull, as that of a drawing does, and by one of its own.
type Habit struct {
	Mean   float64 // mm a strip: the creep to be expected before anything is measured
	Creep  float64 // mm a strip: how far this builder's creep may be from that
	Along  float64 // mm: how creep changes along the hull, alike for all strakes
	Strake float64 // mm: how unlike each other a builder's strakes come out, smoothly along the hull
	Knife  float64 // mm: the knife's, of a strake at a frame alone
	Shape  float64 // mm: how far the frames' girths are off smoothly along the hull
	Frame  float64 // mm: a frame's own error of girth
	Hand   float64 // mm: the hand's error in reading a rule of halves, besides the rounding
	Reach  float64 // mm along the hull over which what is smooth keeps alike
	Sure   float64 // how sure the six from Along to Hand are: the standard deviation of their natural logarithms

	beliefs []belief // what the record has made of the six; none before it was looked at
	taught  bool     // Mean was taught by what was measured elsewhere
}

// UsualHabit is that of a careful builder.
func UsualHabit() Habit {
	return Habit{
		Creep: loft.UsualCreep, Along: loft.UsualAlong, Strake: loft.UsualStrake, Knife: loft.UsualKnife,
		Shape: loft.UsualShape, Frame: loft.UsualFrame, Hand: loft.UsualHand, Reach: loft.UsualReach, Sure: loft.UsualSure,
	}
}

// spreads are the six that the record teaches, as standard deviations.
type spreads [6]float64

// Which of them is which.
const (
	along = iota
	strake
	knife
	shape
	frame
	hand
)

// surer are the parts of Sure by which each is known: hands are more alike from hull
// to hull than frames are. From memory, no source.
var surer = spreads{along: 0.6, strake: 0.8, knife: 0.8, shape: 1.6, frame: 1.2, hand: 0.6}

// belief is one set of spreads, and how likely it is among others.
type belief struct {
	spreads
	weight float64
}

// usual are the spreads that are believed before the record is looked at.
func (h *Habit) usual() spreads { return spreads{h.Along, h.Strake, h.Knife, h.Shape, h.Frame, h.Hand} }

// all are the beliefs that a regression is made for.
func (h *Habit) all() []belief {
	if len(h.beliefs) > 0 {
		return h.beliefs
	}
	return []belief{{h.usual(), 1}}
}

// same tells whether two habits, as one record taught them, tell the same.
func (h *Habit) same(o *Habit) bool {
	return h.Mean == o.Mean && h.Creep == o.Creep && h.taught == o.taught && slices.Equal(h.beliefs, o.beliefs)
}

// mean are the spreads as the record has taught them: the geometric mean of the
// beliefs.
func (h *Habit) mean() spreads {
	var out spreads
	for _, b := range h.all() {
		for m, s := range b.spreads {
			out[m] += b.weight * math.Log(s)
		}
	}
	for m := range out {
		out[m] = math.Exp(out[m])
	}
	return out
}

// taughtBy is the habit as bands measured elsewhere teach it: their creep is to be
// expected here too, to within loft.Likeness. Each band's is what was believed
// beforehand and what was read there, weighed by their precisions; what was believed
// beforehand counts once. Without a band that was measured it is as before.
func (h Habit) taughtBy(bands []*follower) Habit {
	precision, sum, mean := 0.0, 0.0, h.Mean
	for _, b := range bands {
		if len(b.s.readings) == 0 {
			continue
		}
		creep, deviation, before := b.g().creep()
		prior := 1 / (before * before)
		// Where the readings leave open whether it is creep or the frames, the creep may
		// be as open as before, and yet elsewhere.
		w := max(1/(deviation*deviation), 1.01*prior)
		if math.IsInf(w, 0) || math.IsNaN(w) {
			continue
		}
		if precision == 0 {
			precision, sum, h.taught = prior, prior*mean, true
		}
		precision, sum = precision+w-prior, sum+w*creep-prior*mean
		h.Mean = sum / precision
	}
	if precision > 0 {
		h.Creep = min(math.Sqrt(1/precision+loft.Likeness*loft.Likeness), h.Creep)
	}
	return h
}
