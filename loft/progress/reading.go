package progress

import (
	"math"
	"math/bits"

	"github.com/strakewright/strakewright/hull"
)

// stray is a sum of what strays from the plan, mm: how much more is left of a
// band at a frame than its strakes, as wide as they were cut, would leave. Each
// strake among them takes its creep from it; frames tells that the frame's own
// error of girth is in it.
type stray struct {
	frame  int
	at     float64 // arc length of the frame along the band, mm
	over   strakeSet
	count  int // strakes in over
	frames bool
}

// reading is one measurement of such a sum.
type reading struct {
	stray
	entry    int
	strays   float64 // mm, as read
	division float64 // mm: how finely it was read
	offDrawn float64 // mm: of a bare frame, by how much it is over the drawing
}

// bare tells whether it was read before any strake lay there: it tells of the
// frame alone.
func (x *reading) bare() bool { return x.frames && x.count == 0 }

// strakeSet is a set of strakes of a band, a bit each.
type strakeSet []uint64

// with is the set with one more strake, from 0.
func (a strakeSet) with(n int) strakeSet {
	for n/64 >= len(a) {
		a = append(a, 0)
	}
	a[n/64] |= 1 << (n % 64)
	return a
}

// both is how many strakes are in both sets.
func (a strakeSet) both(b strakeSet) int {
	n := 0
	for i := range min(len(a), len(b)) {
		n += bits.OnesCount64(a[i] & b[i])
	}
	return n
}

// halves and tenths are the divisions of rules as builders have them, mm.
const (
	halves = 0.5
	tenths = 0.1
)

// divisionOf tells how finely an entry was read: as it says itself, or the record
// does; else by the figures of its day. Where one of them is no multiple of half a
// millimetre, all were read to a tenth: a rule of halves cannot show it.
func divisionOf(e *hull.Entry, usual float64, entries []hull.Entry) float64 {
	if e.To > 0 {
		return e.To
	}
	if usual > 0 {
		return usual
	}
	for i := range entries {
		o := &entries[i]
		if o.EntryKind.Measures() && o.Day() == e.Day() && !multiple(o.MM, halves) {
			return tenths
		}
	}
	return halves
}

// multiple tells whether a figure is a whole number of steps.
func multiple(mm, step float64) bool {
	n := mm / step
	return math.Abs(n-math.Round(n)) < 1e-6
}
