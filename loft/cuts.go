package loft

import (
	"math"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/straight"
)

// Cuts is the set of straight cuts by which the strip of a sprung strake is planed to
// shape before its edges are bevelled.
type Cuts struct {
	Strip    float64  // mm, the strip's width
	Corners  []Corner // where one cut ends and the next begins, along the strake; at least two
	Count    int      // number of straight cuts; 0 for a strip left whole
	Strays   float64  // mm, the greatest distance of the planed edge from the strake's
	StraysAt int      // the frame nearest to it
	Keeps    bool     // Strays is within the plan's rule

	within float64          // mm, the plan's rule
	places []straight.Place // that they were fitted to
}

// Corner is a width to which a strip is planed, where a straight cut ends.
type Corner struct {
	Frame int     // at which it lies; two successive corners on one frame are a notch, in which a neighbour ends
	At    float64 // mm along the middle line from the strake's beginning
	Width float64 // mm
}

// widthStep is the step to which widths at corners are rounded, mm: what can be read on
// a rule. fineStep replaces it where the plan's rule is too tight for it.
const widthStep, fineStep = 0.1, 0.02

// planed is the width, mm, to which a strip is planed at a frame so that, once
// bevelled, it covers the strake's width there: any excess a whole strip covers is
// taken off. It is the strip's own width where nothing need be taken off, and never
// more than that or less than 0. The bevel then takes from the face on the frames the
// amount that Pitch allows for.
func (c *Crossing) planed(strip float64) float64 {
	if c.Action != Taper {
		return strip
	}
	return c.need(strip)
}

// need is planed where the strip is wide enough; where it is too narrow, the width it
// would need, but at most the strip's width.
func (c *Crossing) need(strip float64) float64 {
	return min(max(strip-(c.Pitch-c.WidthCut), 0), strip)
}

// Whole reports whether nothing is planed off the strip.
func (c *Cuts) Whole() bool { return c.Count == 0 && c.Corners[0].Width == c.Strip }

// Width is the width of the planed strip at the given distance along it, mm; beyond its
// ends it is the width at the end.
func (c *Cuts) Width(at float64) float64 {
	if at <= c.Corners[0].At {
		return c.Corners[0].Width
	}
	for k := 1; k < len(c.Corners); k++ {
		if a, b := c.Corners[k-1], c.Corners[k]; at <= b.At {
			return a.Width + (b.Width-a.Width)*(at-a.At)/(b.At-a.At)
		}
	}
	return c.Corners[len(c.Corners)-1].Width
}

// WidthAt is the width of the planed strip of a strake at a frame, mm.
func (c *Cuts) WidthAt(st *Strake, frame int) float64 { return c.Width(st.Along(frame)) }

// Along is the distance of a frame along the middle line of the strake from its
// beginning, mm.
func (st *Strake) Along(frame int) float64 {
	return st.Centre.S[frame*stationsPerBay] - st.Centre.S[st.From]
}

// CutsOf gives the straight cuts of a strake from how it crosses the frames: its own
// At, or a new sharing-out. They are the fewest that keep to the strake's width within
// the plan's rule at every station, with the least straying; see straight.Cut. It is
// nil for a strake that is not sprung or is laid nowhere.
func (l *Layer) CutsOf(st *Strake, on []Crossing) *Cuts {
	if st.To <= st.From || st.Making.Mode != hull.Sprung && st.Making.Mode != "" {
		return nil
	}
	at := l.cutPlaces(st, on)
	places := make([]straight.Place, len(at))
	for i := range at {
		places[i] = at[i].Place
	}
	rule := straight.Rule{Strip: st.Strip, Within: l.Rules.Straight, Step: widthStep}
	if rule.Within < widthStep/2 {
		rule.Step = fineStep
	}
	cuts, err := straight.Cut(places, rule)
	if err != nil {
		return nil // cannot happen: a strake with a strip between two stations has places, and the plan's rules are within their ranges
	}
	out := &Cuts{Strip: st.Strip, Count: cuts.Count, Strays: cuts.Strays, Keeps: cuts.Strays <= rule.Within+1e-6, within: rule.Within, places: places}
	out.StraysAt = (at[cuts.StraysAt].station + stationsPerBay/2) / stationsPerBay
	for _, c := range cuts.Corners {
		corner := Corner{Frame: at[c.Place].station / stationsPerBay, At: places[c.Place].At, Width: c.Width}
		if i := len(out.Corners) - 1; i >= 0 && out.Corners[i].Frame == corner.Frame {
			out.Count-- // a notch is sawn
		}
		out.Corners = append(out.Corners, corner)
	}
	return out
}

// cutPlace is a place on a strake's strip, and the station at which it lies.
type cutPlace struct {
	straight.Place
	station int
}

// notchStep is the distance past a nib, mm, at which the strip already has the width
// with which it goes on: the notch is cut off square there.
const notchStep = 0.01

// cutPlaces are the stations of a strake with the widths to which its strip is planed.
// Between frames the width is linear from frame to frame, plus the strake's own bow
// there. On the frame of a nib there are two.
func (l *Layer) cutPlaces(st *Strake, on []Crossing) []cutPlace {
	n := l.StrakeNamed(st.ID)
	var out []cutPlace
	corner := func(f int, by float64, c Crossing) {
		k := l.Surface.FrameStation(f)
		p := straight.Place{At: st.Along(f) + by, Corner: true, Width: c.planed(st.Strip), Whole: c.Action != Taper}
		out = append(out, cutPlace{p, k})
	}
	var before float64 // the width needed at the beginning of a bay
	for f := st.From / stationsPerBay; f <= st.To/stationsPerBay; f++ {
		c := on[f]
		if !c.Laid {
			c = st.At[f]
		}
		if wide := l.pastNib(st, f, f-1, c); wide != nil {
			l.bow(n, f-1, &out, before, wide.need(st.Strip))
			corner(f, -notchStep, *wide)
		} else if len(out) > 0 {
			l.bow(n, f-1, &out, before, c.need(st.Strip))
		}
		corner(f, 0, c)
		before = c.need(st.Strip)
		if wide := l.pastNib(st, f, f, c); wide != nil {
			corner(f, notchStep, *wide)
			before = wide.need(st.Strip)
		}
	}
	return out
}

// pastNib is how a strake crosses a frame just past the nib in which a neighbour ends
// there, seen from a bay beside it; nil where none ends.
func (l *Layer) pastNib(st *Strake, frame, bay int, c Crossing) *Crossing {
	for i := range st.Nibs {
		nib := &st.Nibs[i]
		if nib.Frame == frame && nib.bay() == bay {
			c.WidthCut, c.Creep = nib.Wide, 0
			c.Decide(l.Rules.Fit)
			if c.Action == Gap {
				c.Action = Full // by no more than its creep; wider ones are not sprung
			}
			return &c
		}
	}
	return nil
}

// bow adds the stations within a bay, with the widths there: linear from one need to
// the other, plus the bow of strake n.
func (l *Layer) bow(n, bay int, out *[]cutPlace, a, b float64) {
	st := l.Strakes[n]
	from, to := l.Surface.FrameStation(bay), l.Surface.FrameStation(bay+1)
	acrossA, acrossB := l.across(n, bay, from), l.across(n, bay, to)
	for k := from + 1; k < to; k++ {
		at := st.Centre.S[k] - st.Centre.S[st.From]
		t := (at - st.Along(bay)) / (st.Along(bay+1) - st.Along(bay))
		w := l.across(n, bay, k) + a + (b-a)*t - acrossA - (acrossB-acrossA)*t
		*out = append(*out, cutPlace{straight.Place{At: at, Width: max(w, 0)}, k})
	}
}

// across is the distance between the edges of strake n at a station of a bay, measured
// square to its run, mm; on a hull of unknown shape, square to the frame.
func (l *Layer) across(n, bay, station int) float64 {
	st := l.Strakes[n]
	upper, lower := l.edgesInBay(n, bay)
	if upper == nil {
		upper, lower = st.Upper, st.Lower
	}
	d := lower.P[station].Sub(upper.P[station])
	if l.Surface.shapeless {
		return d.Len()
	}
	p := st.Centre.P
	run := p[min(station+1, len(p)-1)].Sub(p[max(station-1, 0)])
	if run.Len() == 0 {
		return d.Len()
	}
	run = run.Normalize()
	return d.Sub(run.Mul(d.Dot(run))).Len()
}

// CutSet is a set of sprung strakes of a band whose strips are cut alike and can be
// clamped together and planed as one.
type CutSet struct {
	Strakes []*Strake
	Cuts    *Cuts // the first's
}

// sameLength is the greatest difference in length, mm, between whole strips of one set:
// half the width of a pencil line. Common practice, no source.
const sameLength = 0.5

// CutSets groups the sprung strakes of a layer, as planned, that are cut alike, in the
// order of the first of each set.
func (l *Layer) CutSets() []CutSet {
	return GatherCuts(l.Strakes, func(i int) *Cuts { return l.CutsOf(l.Strakes[i], l.Strakes[i].At) })
}

// GatherCuts groups strakes that are cut alike, each set by its first. Strakes without
// cuts are left out.
func GatherCuts(strakes []*Strake, cuts func(i int) *Cuts) []CutSet {
	var out []CutSet
next:
	for i, st := range strakes {
		c := cuts(i)
		if c == nil {
			continue
		}
		for k := range out {
			if set := &out[k]; set.Strakes[0].Band == st.Band && c.planes(set.Cuts) {
				set.Strakes = append(set.Strakes, st)
				continue next
			}
		}
		out = append(out, CutSet{[]*Strake{st}, c})
	}
	return out
}

// planes reports whether a strip can be clamped to another of its band, their
// beginnings aligned, and planed to the other's cuts. They must have corners at the
// same frames, of the same widths, and so nearly the same distances along that the
// strip keeps to its own shape within the plan's rule, or as closely as its own cuts
// would. Whole strips are alike if they are of the same length.
func (c *Cuts) planes(to *Cuts) bool {
	if c.Strip != to.Strip || len(c.Corners) != len(to.Corners) {
		return false
	}
	for i, p := range c.Corners {
		if q := to.Corners[i]; p.Frame != q.Frame || math.Abs(p.Width-q.Width) > 1e-6 {
			return false
		}
	}
	if end := len(c.Corners) - 1; c.Whole() {
		return math.Abs(c.Corners[end].At-to.Corners[end].At) <= sameLength
	}
	for _, p := range c.places {
		if math.Abs(to.Width(p.At)-p.Width) > max(c.within, c.Strays)+1e-9 {
			return false
		}
	}
	return true
}

// SetOf is the set that a strake belongs to, nil if none.
func SetOf(sets []CutSet, id string) *CutSet {
	for i := range sets {
		for _, st := range sets[i].Strakes {
			if st.ID == id {
				return &sets[i]
			}
		}
	}
	return nil
}
