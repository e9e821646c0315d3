package progress

import (
	"math"
	"math/bits"

	"github.com/strakewright/strakewright/hull"
)

// stray is a sum of deviations from the plan, mm: how much more is left of a band at a
// frame than its strakes, as wide as they were cut, would leave. Each strake among them
// reduces it by its creep; frames says that the frame's own error of girth is included.
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
	division float64 // mm: the division to which it was read
	offDrawn float64 // mm: for a bare frame, its excess over the drawing
}

// bare reports whether it was read before any strake lay there: it then depends on the
// frame alone.
func (x *reading) bare() bool { return x.frames && x.count == 0 }

// strakeSet is a set of strakes of a band, one bit each.
type strakeSet []uint64

// with is the set with one more strake, from 0.
func (a strakeSet) with(n int) strakeSet {
	for n/64 >= len(a) {
		a = append(a, 0)
	}
	a[n/64] |= 1 << (n % 64)
	return a
}

// both is the number of strakes in both sets.
func (a strakeSet) both(b strakeSet) int {
	n := 0
	for i := range min(len(a), len(b)) {
		n += bits.OnesCount64(a[i] & b[i])
	}
	return n
}

// halves and tenths are the divisions of builders' rules, mm.
const (
	halves = 0.5
	tenths = 0.1
)

// divisionOf gives the division to which an entry was read: as stated in it, or in the
// record; else judged by the figures of its day. If one of them is no multiple of half
// a millimetre, all were read to a tenth, since a rule divided in halves cannot show
// it.
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

// multiple reports whether a figure is a whole number of steps.
func multiple(mm, step float64) bool {
	n := mm / step
	return math.Abs(n-math.Round(n)) < 1e-6
}
