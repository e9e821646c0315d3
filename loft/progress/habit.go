package progress

import (
	"math"
	"slices"

	"github.com/strakewright/strakewright/loft"
)

// Habit describes how the work varies from the plan. Its figures are the prior, before
// anything is measured; the record outweighs them as it grows.
//
// A strip as laid covers its width and its creep. The creep of a strake at a frame has
// four parts: the builder's own, the same for all strakes and all along; a part that
// varies smoothly along the hull and is common to all strakes; a part of the strake's
// own that varies smoothly; and the knife's, independent at every place. The girth of a
// frame as built differs from the plan by an error that varies smoothly along the hull,
// like that of a drawing, and by one of its own.
type Habit struct {
	Mean   float64 // mm a strip: the creep to be expected before anything is measured
	Creep  float64 // mm a strip: how far this builder's creep may be from that
	Along  float64 // mm: variation of creep along the hull, common to all strakes
	Strake float64 // mm: variation between a builder's strakes, smooth along the hull
	Knife  float64 // mm: the knife's, independent for a strake at a frame
	Shape  float64 // mm: error of the frames' girths that varies smoothly along the hull
	Frame  float64 // mm: a frame's own error of girth
	Hand   float64 // mm: the hand's error in reading a rule divided in half millimetres, besides the rounding
	Reach  float64 // mm along the hull over which smooth variation stays alike
	Sure   float64 // uncertainty of the six from Along to Hand: the standard deviation of their natural logarithms

	beliefs []belief // what the record shows about the six; none before it was examined
	taught  bool     // Mean was learned from measurements elsewhere
}

// UsualHabit is that of a careful builder.
func UsualHabit() Habit {
	return Habit{
		Creep: loft.UsualCreep, Along: loft.UsualAlong, Strake: loft.UsualStrake, Knife: loft.UsualKnife,
		Shape: loft.UsualShape, Frame: loft.UsualFrame, Hand: loft.UsualHand, Reach: loft.UsualReach, Sure: loft.UsualSure,
	}
}

// spreads are the six that are learned from the record, as standard deviations.
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

// surer gives the share of Sure that applies to each: hands differ less from hull to
// hull than frames do. From memory, no source.
var surer = spreads{along: 0.6, strake: 0.8, knife: 0.8, shape: 1.6, frame: 1.2, hand: 0.6}

// belief is one set of spreads, and its probability among others.
type belief struct {
	spreads
	weight float64
}

// usual are the spreads assumed before the record is examined.
func (h *Habit) usual() spreads { return spreads{h.Along, h.Strake, h.Knife, h.Shape, h.Frame, h.Hand} }

// all are the beliefs for which a regression is made.
func (h *Habit) all() []belief {
	if len(h.beliefs) > 0 {
		return h.beliefs
	}
	return []belief{{h.usual(), 1}}
}

// same reports whether two habits, as learned from one record, are the same.
func (h *Habit) same(o *Habit) bool {
	return h.Mean == o.Mean && h.Creep == o.Creep && h.taught == o.taught && slices.Equal(h.beliefs, o.beliefs)
}

// mean are the spreads as learned from the record: the geometric mean of the beliefs.
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

// taughtBy is the habit as learned from bands measured elsewhere: their creep is to be
// expected here too, to within loft.Likeness. Each band's figure combines the prior and
// its readings, weighted by their precisions; the prior counts once. If no band was
// measured it is unchanged.
func (h Habit) taughtBy(bands []*follower) Habit {
	precision, sum, mean := 0.0, 0.0, h.Mean
	for _, b := range bands {
		if len(b.s.readings) == 0 {
			continue
		}
		creep, deviation, before := b.g().creep()
		prior := 1 / (before * before)
		// Where the readings do not distinguish creep from the frames' errors, the creep may
		// remain as uncertain as before, yet have moved.
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
