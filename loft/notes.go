package loft

import (
	"math"

	"gonum.org/v1/gonum/floats"

	"github.com/strakewright/strakewright/hull"
)

// Note is something that the builder should know of a layer: one of the types
// below. Lines and bands count from 1, frames are indices.
type Note interface{ note() }

// RunsOut tells that a free line leaves the planked region at some frames, and goes
// on along the limit there, half a strip from it.
type RunsOut struct {
	Line   int
	Upper  bool  // over the upper limit; else under the lower
	Frames []int // where it does
	At     int   // where most
	By     float64
}

// Surplus tells that a band is given more strakes than it has room for anywhere.
type Surplus struct{ Band, Given, Laid int }

// TooWide tells where a band needs strakes most over what a strip can be: over
// what the plan's rules allow of it.
type TooWide struct {
	Band, Frame int
	Width       float64 // mm
}

// TooNarrow tells where a band has strakes narrower than the plan's rules allow of a
// strip, half of it as usual: common practice, no source. Where a strake ends in a nib
// counts as its end, and not here.
type TooNarrow struct {
	Band, Frame int // Frame is where most
	Strake      string
	Width       float64 // mm, of that strake there
	Share       float64 // of its strip
	Strakes     int     // how many are anywhere
}

// GapesAllAlong tells that a band gapes at every frame.
type GapesAllAlong struct {
	Band  int
	Least float64 // mm
	Creep float64 // mm a strip that would close it there
}

// CreepsApart tells that a band is wider than its strips by no more than they creep
// apart of themselves, so that no wedge is planned.
type CreepsApart struct {
	Band, Frame int     // where most
	By, Each    float64 // mm in all, and a strip
}

// FallsShort tells that whole strips fall short of a band where no wedge may lie, so
// that some strakes are to be cut wider than a strip.
type FallsShort struct {
	Band, From, To, At int     // frames; At is where most
	By                 float64 // mm over what the strips creep apart
	Wider              []string
}

// LinesCross tells that a band line is drawn above the one over it. It is laid half
// a strip below that instead.
type LinesCross struct {
	Line   int // the lower as they count
	Frames []int
	By     float64 // mm that it is laid lower at the most
}

// TooClose tells that a line is drawn so that a band beside it has less than half a
// strip, and is laid elsewhere.
type TooClose struct {
	Line   int
	Frames []int
	By     float64 // mm that it is laid lower at the most; negative for higher
}

// PartlyPlanked tells that the hull is planked between two of its frames alone.
type PartlyPlanked struct{ First, Last, End int } // End is the last frame of all

// GirthsAlone tells that only girths of the hull are known.
type GirthsAlone struct{}

// NoTurn tells of which frames, by name, no turn is known: edges count as square
// there.
type NoTurn struct{ Frames []string }

// FollowsBatten tells that a line which is to follow the strip follows the thin batten,
// since the strip's own lie is not told.
type FollowsBatten struct {
	Line  int
	Why   Untold
	Frame int // that the strip does not come to, for HeldUnreached
}

// StripSlides tells that the strip which a line follows comes to no rest near the thin
// batten's course, and slides to where it bends less.
type StripSlides struct {
	Line, At int
	By       float64 // mm downwards from the batten's course, at the frame where most
}

func (RunsOut) note()       {}
func (Surplus) note()       {}
func (TooWide) note()       {}
func (TooNarrow) note()     {}
func (GapesAllAlong) note() {}
func (CreepsApart) note()   {}
func (FallsShort) note()    {}
func (LinesCross) note()    {}
func (TooClose) note()      {}
func (PartlyPlanked) note() {}
func (GirthsAlone) note()   {}
func (NoTurn) note()        {}
func (FollowsBatten) note() {}
func (StripSlides) note()   {}

func (l *Layer) tell(n Note) { l.Notes = append(l.Notes, n) }

// noteRunouts says where a free line leaves the planked region, first and
// worst, at either limit.
func (l *Layer) noteRunouts(line int, out []Runout) {
	for _, upper := range []bool{true, false} {
		var at []Runout
		worst := 0
		for _, r := range out {
			if r.Upper == upper {
				at = append(at, r)
				if r.By > at[worst].By {
					worst = len(at) - 1
				}
			}
		}
		if len(at) == 0 {
			continue
		}
		n := RunsOut{Line: line, Upper: upper, At: at[worst].Frame, By: at[worst].By}
		for _, r := range at {
			n.Frames = append(n.Frames, r.Frame)
		}
		l.tell(n)
	}
}

// noteNatural says where a line does not follow its strip, or follows it far.
func (l *Layer) noteNatural(line int, b *BandLine) {
	n := b.natural
	switch {
	case n == nil:
	case n.Untold != Told:
		l.tell(FollowsBatten{Line: line, Why: n.Untold, Frame: n.UntoldAt})
	case n.Slid:
		out := StripSlides{Line: line}
		for i, a := range n.Frames {
			if off := a.Natural - a.Middle; math.Abs(off) > math.Abs(out.By) {
				out.At, out.By = i, off
			}
		}
		l.tell(out)
	}
}

// noteSurplus says that a band was given more strakes than it can hold.
func (l *Layer) noteSurplus(b *Band, h hull.Band) {
	if h.Strakes > b.Strakes {
		l.tell(Surplus{Band: b.Number, Given: h.Strakes, Laid: b.Strakes})
	}
}

// noteWidths says where strakes need far more than the stock, and where a band
// gapes all along.
func (l *Layer) noteWidths() {
	for _, b := range l.Bands {
		frame, width, worst := -1, 0.0, l.Rules.MostWidth
		for k := range b.Weights {
			st := l.Strakes[b.First+k]
			for i, c := range st.At {
				if c.Laid && c.WidthCut > worst*st.Strip {
					frame, width, worst = i, c.WidthCut, c.WidthCut/st.Strip
				}
			}
		}
		if frame >= 0 {
			l.tell(TooWide{Band: b.Number, Frame: frame, Width: width})
		}
		l.noteNarrow(b)
		l.noteShort(b)
	}
}

// noteNarrow says where strakes of a band are narrower than the rules allow.
func (l *Layer) noteNarrow(b *Band) {
	n := TooNarrow{Band: b.Number, Share: l.Rules.LeastWidth - 1e-6}
	least := n.Share
	for k := range b.Weights {
		st := l.Strakes[b.First+k]
		narrow := false
		for i, c := range st.At {
			if !c.Laid || l.dropsAt(b.First+k, i) || c.WidthCut >= least*st.Strip {
				continue
			}
			narrow = true
			if share := c.WidthCut / st.Strip; share < n.Share {
				n.Frame, n.Strake, n.Width, n.Share = i, st.ID, c.WidthCut, share
			}
		}
		if narrow {
			n.Strakes++
		}
	}
	if n.Strakes > 0 {
		l.tell(n)
	}
}

// dropsAt tells whether a strake ends in a neighbour at a frame.
func (l *Layer) dropsAt(strake, frame int) bool {
	for _, d := range l.Drops {
		if d.At == strake && (d.From == frame || d.To == frame) {
			return true
		}
	}
	return false
}

// noteShort says where a band gapes by no more than its strips creep apart of
// themselves, or at every frame.
func (l *Layer) noteShort(b *Band) {
	first, last := l.Surface.Planked()
	peak, least, creeps := first, b.laid[first].short, 0.0
	for i := first; i <= last; i++ {
		a := &b.laid[i]
		least = min(least, a.short)
		if by := floats.Sum(a.creep); by > creeps {
			peak, creeps = i, by
		}
	}
	each := creeps / float64(b.Laid[peak])
	switch {
	case least > l.Rules.Fit*float64(b.Strakes):
		l.tell(GapesAllAlong{Band: b.Number, Least: least, Creep: least / float64(b.Strakes)})
	case each > l.Rules.Fit:
		l.tell(CreepsApart{Band: b.Number, Frame: peak, By: creeps, Each: each})
	}
}

// noteShorts says where strips fall short of a band and no wedge may lie.
func (l *Layer) noteShorts(b *Band) {
	for _, run := range b.shorts {
		if run.widened == nil {
			continue
		}
		n := FallsShort{Band: b.Number, From: run.from, To: run.to, At: run.at, By: run.by}
		for _, k := range run.widened {
			n.Wider = append(n.Wider, l.Strakes[b.First+k].ID)
		}
		l.tell(n)
	}
}
