package loft

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

// LaidPiece is a piece as it is laid on one side of the ship.
type LaidPiece struct {
	Piece
	ID              string // its strake's
	Number          int    // in the strake, from 1, from the first frame on
	Of              int    // number of pieces in the strake
	Side            hull.Side
	Mode            hull.Mode // how its strake is made: from a strip, from sheet or from a block
	Strip           float64   // mm, the width of the strip it is cut from, or would be
	Crossings       int       // frames that it crosses, those at its ends included
	Pins, Treenails int       // to hold it: while the glue sets, and for good
}

// Butting is a layer cut into pieces.
type Butting struct {
	Pieces    []LaidPiece // of both sides, which are alike, in the order of laying
	Butts     int         // on one side
	Breaches  []Breach    // where the rule of butts is broken; on one side
	Pins      int         // to have ready: the most that one strake takes on both sides together
	Treenails int         // for the whole layer
}

// BreachKind says which part of the rule is broken.
type BreachKind string

// The three breaches.
const (
	OneFrame BreachKind = "frame" // butts on one frame with too few strakes between
	TooNear  BreachKind = "near"  // butts of neighbouring strakes too few frames apart
	NoFrame  BreachKind = "off"   // a butt that falls on no frame, because a bay is longer than a strip
)

// Breach is one place where the rule of butts is broken.
type Breach struct {
	Kind          BreachKind
	Strake, Above int // indices of the strakes; Above is −1 for NoFrame
	Frame         int // of the butt of Strake; −1 for NoFrame
	Has, Wants    int // strakes between, or frames apart
}

// buttEvenly cuts the strakes into pieces no longer than longest, mm: for a strake from
// strips the length of a strip, for another what its wood allows. Butts fall on frames.
// As far as possible the rules are kept: a number of full strakes between two butts on
// one frame, and a number of frames between the butts of neighbouring strakes; for this
// a strake may get up to two pieces more than the minimum. Where that is not enough the
// breaches say so. The pieces of a strake are as even as that allows. The last piece of
// each has the overhang. Where a strip is shorter than 1 mm, or the overhang leaves less of
// it than leastReach, strakes are left whole.
func (l *Layer) buttEvenly(rules hull.Cutting, longest func(st *Strake) float64) *Butting {
	b, _ := l.butt(context.Background(), rules, longest, evenCost) // fails only through its context
	return b
}

// butt is buttEvenly with a cost for a piece of no length: if negative, one piece as
// long as a strip and a short one are preferred to two even ones. It ends with the
// context, with an error that wraps the context's.
func (l *Layer) butt(ctx context.Context, rules hull.Cutting, longest func(st *Strake) float64, even float64) (*Butting, error) {
	s := newButtSearch(l, rules, longest)
	s.even = even
	chosen, err := s.search(ctx)
	if err != nil {
		return nil, err
	}
	return s.butting(chosen), nil
}

// butting is the layer cut at those butts.
func (s *buttSearch) butting(chosen [][]buttAt) *Butting {
	l := s.layer
	out := &Butting{Breaches: s.breaches(chosen)}
	one := make([][]LaidPiece, len(l.Strakes))
	for n := range l.Strakes {
		one[n] = s.pieces(n, chosen[n])
		out.Butts += max(len(one[n])-1, 0)
	}
	for _, n := range l.LayingOrder(s.rules) {
		pins := 0
		for _, side := range hull.Sides() {
			for _, p := range one[n] {
				p.Side = side
				pins += p.Pins
				out.Treenails += p.Treenails
				out.Pieces = append(out.Pieces, p)
			}
		}
		out.Pins = max(out.Pins, pins)
	}
	return out
}

// buttAt is a butt of a strake: mm from its beginning, and the frame or −1.
type buttAt struct {
	place float64
	frame int
}

// buttSearch chooses the butts of a layer.
type buttSearch struct {
	layer *Layer
	rules hull.Cutting
	even  float64
	strip []float64   // mm, for every strake: the longest piece
	at    [][]float64 // for every strake: where the frames cross it
	end   []float64
}

func newButtSearch(l *Layer, rules hull.Cutting, longest func(*Strake) float64) *buttSearch {
	if rules == (hull.Cutting{}) {
		rules = hull.NewCutting()
	}
	s := &buttSearch{layer: l, rules: rules}
	for _, st := range l.Strakes {
		s.strip = append(s.strip, longest(st))
		s.at = append(s.at, l.framesAlong(st))
		s.end = append(s.end, st.Centre.S[st.To]-st.Centre.S[st.From])
	}
	return s
}

// Costs of a choice of butts. A breach is worth two extra butts, but not three; a stub
// or uneven pieces are never worth a butt.
const (
	breachCost = 250.0
	buttCost   = 100.0
	evenCost   = 1.0
	stubCost   = 10.0
)

// choice is the butts of the strakes from the uppermost down to one, newest last.
type choice struct {
	butts  []buttAt
	before *choice
	cost   float64
}

// search works down strake by strake, keeping the choices of least cost so far (a beam
// search).
func (s *buttSearch) search(ctx context.Context) ([][]buttAt, error) {
	frames := s.layer.Surface.Frames()
	keep := min(max(24*60/frames, 2), 24)
	beam := []*choice{nil}
	for n := range s.layer.Strakes {
		var next []*choice
		for _, c := range beam {
			if err := halt.Asked(ctx, tongue.T("the butting")); err != nil {
				return nil, err
			}
			cost := 0.0
			if c != nil {
				cost = c.cost
			}
			for _, w := range s.ways(n, c) {
				own := 0.0
				if w != nil {
					own = w.cost
				}
				next = append(next, &choice{w.butts(), c, cost + own})
			}
		}
		slices.SortStableFunc(next, func(a, b *choice) int { return cmp.Compare(a.cost, b.cost) })
		beam = s.distinct(next, keep)
	}
	out := make([][]buttAt, len(s.layer.Strakes))
	c := beam[0]
	for n := len(out) - 1; n >= 0; n-- {
		out[n], c = c.butts, c.before
	}
	return out, nil
}

// distinct keeps the first few choices that differ in what the strakes below them
// depend on.
func (s *buttSearch) distinct(choices []*choice, keep int) []*choice {
	seen := map[string]bool{}
	var out []*choice
	for _, c := range choices {
		key := ""
		b := c
		for k := 0; k < max(s.rules.Between, 1) && b != nil; k++ {
			for _, at := range b.butts {
				key += fmt.Sprint(at.frame, " ")
			}
			key += "/"
			b = b.before
		}
		if !seen[key] && len(out) < keep {
			seen[key] = true
			out = append(out, c)
		}
	}
	return out
}

// buttChain is a choice of butts for one strake: the last, and those before it.
type buttChain struct {
	last buttAt
	from *buttChain // nil: the last is the first
	cost float64
}

// butts gives all of them, from the first frame on.
func (w *buttChain) butts() []buttAt {
	if w == nil {
		return nil
	}
	return append(w.from.butts(), w.last)
}

// ways gives the cheapest few ways to butt a strake below those chosen: the shortest
// paths from frame to frame, no step longer than a strip. Nil means no butts.
func (s *buttSearch) ways(n int, above *choice) []*buttChain {
	strip, end, over := s.strip[n], s.end[n], s.rules.Overhang
	if s.uncut(n) || end+over <= strip+1e-9 {
		return []*buttChain{nil}
	}
	uneven := func(from, to float64) float64 {
		short := 1 - (to-from)/strip
		cost := s.even * short * short
		if to-from < s.layer.Rules.Stub*strip {
			cost += stubCost
		}
		return cost
	}
	at := s.at[n]
	reached := make([][]*buttChain, len(at))
	var done []*buttChain
	for i, place := range at {
		if place < 1e-6 || place > end-1e-6 || !s.layer.Strakes[n].At[i].Laid {
			continue
		}
		cost := buttCost + breachCost*float64(len(s.against(n, i, above)))
		butt := buttAt{place, i}
		if place <= strip+1e-9 {
			reached[i] = among(reached[i], buttChain{butt, nil, cost + uneven(0, place)})
		}
		for k := i - 1; k >= 0 && at[k] >= place-strip-1e-9; k-- {
			rest := uneven(at[k], place)
			for _, w := range reached[k] {
				if full(reached[i], w.cost+cost+rest) {
					break // those after it cost no less
				}
				reached[i] = among(reached[i], buttChain{butt, w, w.cost + cost + rest})
			}
		}
		if end-place+over <= strip+1e-9 {
			for _, w := range reached[i] {
				done = among(done, buttChain{w.last, w.from, w.cost + uneven(place, end+over)})
			}
		}
	}
	if len(done) == 0 {
		return []*buttChain{s.farthest(n)}
	}
	return done
}

// uncut reports whether strips are too short for a strake to be cut into pieces at all.
func (s *buttSearch) uncut(n int) bool {
	return !(s.strip[n] >= 1) || !(s.strip[n]-s.rules.Overhang >= leastReach)
}

// among inserts a chain in the list of the cheapest few.
func among(ways []*buttChain, w buttChain) []*buttChain {
	if full(ways, w.cost) {
		return ways
	}
	i := len(ways)
	for i > 0 && ways[i-1].cost > w.cost {
		i--
	}
	ways = slices.Insert(ways, i, &w)
	return ways[:min(len(ways), mostWays)]
}

// mostWays is how many of the cheapest are kept.
const mostWays = 6

// full reports whether the list has no place for a chain of that cost.
func full(ways []*buttChain, cost float64) bool {
	return len(ways) == mostWays && cost >= ways[mostWays-1].cost
}

// farthest butts a strake that has a bay longer than a strip: as far as each strip
// reaches.
func (s *buttSearch) farthest(n int) *buttChain {
	var w *buttChain
	from := 0.0
	for s.end[n]-from > s.strip[n]-s.rules.Overhang+1e-9 {
		place, frame := butt(s.at[n], from, s.strip[n], s.end[n], s.strip[n]-s.rules.Overhang)
		w = &buttChain{last: buttAt{place, frame}, from: w}
		from = place
	}
	return w
}

// against gives the breaches of a butt of strake n on a frame with those above.
func (s *buttSearch) against(n, frame int, above *choice) []Breach {
	var out []Breach
	between := 0
	for m := n - 1; m >= 0 && above != nil && between <= max(s.rules.Between-1, 0); m, above = m-1, above.before {
		if !s.layer.Strakes[m].At[frame].Laid {
			continue
		}
		near := math.MaxInt
		for _, b := range above.butts {
			if b.frame >= 0 {
				near = min(near, max(b.frame-frame, frame-b.frame))
			}
		}
		switch {
		case near == 0 && between < s.rules.Between:
			out = append(out, Breach{OneFrame, n, m, frame, between, s.rules.Between})
		case between == 0 && near < s.rules.Shift:
			out = append(out, Breach{TooNear, n, m, frame, near, s.rules.Shift})
		}
		between++
	}
	return out
}

// breaches gives all breaches of a choice.
func (s *buttSearch) breaches(chosen [][]buttAt) []Breach {
	var out []Breach
	var above *choice
	for n, butts := range chosen {
		for _, b := range butts {
			if b.frame < 0 {
				out = append(out, Breach{NoFrame, n, -1, -1, 0, 0})
				continue
			}
			out = append(out, s.against(n, b.frame, above)...)
		}
		above = &choice{butts: butts, before: above}
	}
	return out
}

// pieces cuts a strake at its butts.
func (s *buttSearch) pieces(n int, butts []buttAt) []LaidPiece {
	st, at, end := s.layer.Strakes[n], s.at[n], s.end[n]
	if end <= 0 {
		return nil
	}
	var out []LaidPiece
	from := buttAt{0, frameAt(at, 0)}
	for k := range len(butts) + 1 {
		to, over := buttAt{end, frameAt(at, end)}, s.rules.Overhang
		if k < len(butts) {
			to, over = butts[k], 0
		}
		p := LaidPiece{
			Piece: Piece{Strake: n, From: from.place, To: to.place, FromFrame: from.frame, ToFrame: to.frame, Overhang: over},
			ID:    st.ID, Number: k + 1, Of: len(butts) + 1, Mode: st.Making.Mode, Strip: st.Strip,
		}
		for _, place := range at {
			if place >= from.place-1e-6 && place <= to.place+1e-6 {
				p.Crossings++
			}
		}
		p.Pins, p.Treenails = p.Crossings*s.rules.Pins, p.Crossings*s.rules.Treenails
		out = append(out, p)
		from = to
	}
	return out
}
