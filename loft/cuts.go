package loft

import (
	"math"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/straight"
)

// Cuts is the straight cuts by which a sprung strake's strip is planed to its
// shape, before its edges are bevelled.
type Cuts struct {
	Strip    float64  // mm, the strip's width
	Corners  []Corner // where one ends and the next begins, along the strake; two at least
	Count    int      // straight cuts; what stays whole is none
	Strays   float64  // mm: the most by which the planed edge strays from the strake's
	StraysAt int      // the frame nearest to it
	Keeps    bool     // that is within the plan's rule

	within float64          // mm, the plan's rule
	places []straight.Place // that they were cut to
}

// Corner is a width to which a strip is planed, where a straight cut ends.
type Corner struct {
	Frame int     // at which it lies; two in turn on one frame are a notch, in which a neighbour ends
	At    float64 // mm along the middle line from the strake's beginning
	Width float64 // mm
}

// widthStep is the lattice of the widths at corners, mm: what is read on a rule.
// fineStep is that where the plan's rule is too narrow for it.
const widthStep, fineStep = 0.1, 0.02

// planed is the width, mm, to which a strip is planed at a frame so that, bevelled,
// it takes up there what the strake is to: what a whole strip takes up more is
// taken off it. It is the strip's own where nothing is to be taken off, never more
// and never below 0. The bevel then takes from the face on the frames what Pitch
// reckons with.
func (c *Crossing) planed(strip float64) float64 {
	if c.Action != Taper {
		return strip
	}
	return c.need(strip)
}

// need is planed where the strip is wider than needed, and where it is too narrow
// what it would have to be, but the strip's width at the most.
func (c *Crossing) need(strip float64) float64 {
	return min(max(strip-(c.Pitch-c.WidthCut), 0), strip)
}

// Whole tells whether nothing is planed off the strip.
func (c *Cuts) Whole() bool { return c.Count == 0 && c.Corners[0].Width == c.Strip }

// Width is how wide the planed strip is so many mm along it; beyond its ends as
// wide as there.
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

// WidthAt is how wide the planed strip of a strake is at a frame, mm.
func (c *Cuts) WidthAt(st *Strake, frame int) float64 { return c.Width(st.Along(frame)) }

// Along is how far a frame lies along the middle line of the strake from its
// beginning, mm.
func (st *Strake) Along(frame int) float64 {
	return st.Centre.S[frame*stationsPerBay] - st.Centre.S[st.From]
}

// CutsOf gives the straight cuts of a strake as it crosses the frames: its own At,
// or as shared afresh. The fewest that keep to the strake's width within the plan's
// rule at every station, with the least straying; see straight.Cut. Nil of a strake
// that is not sprung, or is laid nowhere: it has none.
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
		return nil // a strake between two stations with a strip has places, and the plan's rules are in their ranges
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

// cutPlace is a place of a strake's strip, and the station it lies at.
type cutPlace struct {
	straight.Place
	station int
}

// notchStep is how far past a nib, mm, the strip is as wide as it goes on: it is cut
// off square there.
const notchStep = 0.01

// cutPlaces are the stations of a strake with the widths that its strip is planed
// to. Between the frames these are straight from frame to frame, and over that as
// far out as the strake itself bows there. On the frame of a nib there are two.
func (l *Layer) cutPlaces(st *Strake, on []Crossing) []cutPlace {
	n := l.StrakeNamed(st.ID)
	var out []cutPlace
	corner := func(f int, by float64, c Crossing) {
		k := l.Surface.FrameStation(f)
		p := straight.Place{At: st.Along(f) + by, Corner: true, Width: c.planed(st.Strip), Whole: c.Action != Taper}
		out = append(out, cutPlace{p, k})
	}
	var before float64 // what is needed at the beginning of a bay
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

// pastNib is how a strake crosses a frame just past the nib in which a neighbour
// ends there, seen from a bay beside it; nil where none does.
func (l *Layer) pastNib(st *Strake, frame, bay int, c Crossing) *Crossing {
	for i := range st.Nibs {
		nib := &st.Nibs[i]
		if nib.Frame == frame && nib.bay() == bay {
			c.WidthCut, c.Creep = nib.Wide, 0
			c.Decide(l.Rules.Fit)
			if c.Action == Gap {
				c.Action = Full // by no more than it creeps; wider ones are not sprung
			}
			return &c
		}
	}
	return nil
}

// bow adds the stations within a bay, with the widths there: straight from one need
// to the other, and bowed as the strake n is.
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

// across is how far the edges of strake n lie apart at a station of a bay square to
// its run, mm; on a hull without a shape, square to the frame.
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

// CutSet is some sprung strakes of a band whose strips are cut alike, to be clamped
// together and planed in one.
type CutSet struct {
	Strakes []*Strake
	Cuts    *Cuts // the first's
}

// sameLength is how far the lengths of whole strips may differ that are one set, mm:
// half the line of a pencil. Common practice, no source.
const sameLength = 0.5

// CutSets gathers the sprung strakes of a layer, as planned, that are cut alike, in
// the order of their first.
func (l *Layer) CutSets() []CutSet {
	return GatherCuts(l.Strakes, func(i int) *Cuts { return l.CutsOf(l.Strakes[i], l.Strakes[i].At) })
}

// GatherCuts gathers strakes that are cut alike, each set by its first. What has no
// cuts is left out.
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

// planes tells whether a strip can be clamped to another of its band and planed to
// the other's cuts in one, both set to begin together: they have corners at the same
// frames, as wide, and these lie so nearly as far along that the strip keeps to its
// own shape within the plan's rule, or as near as its own cuts would. Whole strips
// are alike if they are as long.
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

// SetOf is the set that a strake is in, nil where it is in none.
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
