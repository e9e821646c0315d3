package loft

import (
	"math"

	"github.com/strakewright/strakewright/hull"
)

// Wedge is a wedge, or a stealer if at least half a strip wide, that fills a
// gathered gap.
type Wedge struct {
	Below    string // ID of the strake above it
	Band     int
	From, To int     // frames: the last without the gap (or with the narrowest), and the one where it is widest
	Length   float64 // mm along the hull from where the gap opens to To
	Width    float64 // mm across at To
	Stealer  bool
	Laid     *LaidWedge // where it lies; nil for the rest of the work on the bench
}

// LaidWedge is where a wedge of the plan lies.
type LaidWedge struct {
	First, Last  int       // frames between which it is open: on the side away from Wedge.From it ends at the end of the planking, or runs out to nothing again
	Widths       []float64 // mm across at every frame
	At           []float64 // mm along it of every frame, from its point
	Length       float64   // mm in all
	Upper, Lower *Line     // its edges, positions only
}

// wedges lists the wedges of a band as laid.
func (l *Layer) wedges(b *Band, h *hull.Layer) {
	for _, run := range b.shorts {
		for _, k := range run.wedges {
			l.Wedges = append(l.Wedges, l.wedge(b, k, run, h))
		}
	}
}

// wedge measures the wedge of a run beneath strake k. Its point is the end farther from
// its widest frame.
func (l *Layer) wedge(b *Band, k int, run short, h *hull.Layer) Wedge {
	above := l.Strakes[b.First+k]
	w := &LaidWedge{First: max(run.from-1, b.first), Last: min(run.to+1, b.last), Upper: above.Lower, Lower: l.Strakes[b.First+k+1].Upper}
	for i := range b.laid {
		width := 0.0
		if i >= run.from && i <= run.to {
			width = b.laid[i].wedge[k] * above.Centre.runs[i].slant
		}
		w.Widths = append(w.Widths, width)
	}
	from, to := l.opening(b, k, above.Centre, run.from, w.First), l.opening(b, k, above.Centre, run.to, w.Last)
	at := above.Centre.S[l.Surface.FrameStation(run.at)]
	out := Wedge{Below: above.ID, Band: b.Number, From: w.First, To: run.at, Length: at - from, Width: w.Widths[run.at], Laid: w}
	w.Length = to - from
	backwards := to-at > at-from
	if backwards {
		out.From, out.Length = w.Last, to-at
	}
	for i := range b.laid {
		s := above.Centre.S[l.Surface.FrameStation(i)]
		if backwards {
			w.At = append(w.At, to-s)
		} else {
			w.At = append(w.At, s-from)
		}
	}
	out.Stealer = out.Width >= l.Rules.LeastWidth*h.Stock.Width
	return out
}

// WedgeAt is the width along a frame of the wedge planned beneath strake k (from 0)
// of the band, mm.
func (b *Band) WedgeAt(k, frame int) float64 {
	if w := b.laid[frame].wedge; w != nil {
		return w[k]
	}
	return 0
}

// opening is where, along a line, the wedge beneath strake k opens between its
// outermost frame and the next, mm: by linear interpolation between the opening at the
// one and what is shaved off at the other.
func (l *Layer) opening(b *Band, k int, c *Line, open, next int) float64 {
	at := func(i int) float64 { return c.S[l.Surface.FrameStation(i)] }
	gap, shaved := b.places[open][k].gap*b.Girths[open], min(b.places[next][k].gap*b.Girths[next], 0)
	if open == next {
		return at(open)
	}
	return at(open) + (at(next)-at(open))*gap/(gap-shaved)
}

// WedgesIn gathers the gaps of a band: the strips are laid up to each other, and what
// is left over at a frame is one gap, filled by one wedge, or by as few as keep each
// within a strip's width. excess is, for each frame, the total need of the laid strakes
// beyond their pitch, mm (negative where they taper). What natural creep closes needs
// no wedge.
func (l *Layer) WedgesIn(b *Band, excess []float64, h *hull.Layer) []Wedge {
	var out []Wedge
	first, last := l.Surface.Planked()
	for peak := first; peak <= last; peak++ {
		if excess[peak] < max(l.Rules.LeastWedge, b.creepAt(peak, h)) || !crest(excess[first:last+1], peak-first) {
			continue
		}
		for _, step := range []int{-1, 1} {
			foot := peak
			for next := foot + step; next >= first && next <= last && excess[foot] > 0 && excess[next] < excess[foot]; next += step {
				foot = next
			}
			if foot == peak || excess[peak]-max(excess[foot], 0) < l.Rules.LeastWedge {
				continue // level, or the end of the hull: the wedge lies on the other side
			}
			out = append(out, l.wedgesAt(b, foot, peak, excess, h.Stock.Width)...)
		}
	}
	return out
}

// creepAt is the natural creep of the strips of a band at a frame beyond the plan's
// allowance, mm.
func (b *Band) creepAt(frame int, h *hull.Layer) float64 {
	return max(b.rules.Creep*h.Stock.Width-h.Creep, 0) * float64(b.Laid[frame])
}

// crest reports whether the excess has a local maximum at i, the first of equal ones.
func crest(e []float64, i int) bool {
	return (i == 0 || e[i-1] < e[i]) && (i == len(e)-1 || e[i+1] <= e[i])
}

// wedgesAt distributes the wedges of one gathered gap between the strakes of a band.
func (l *Layer) wedgesAt(b *Band, foot, peak int, excess []float64, stock float64) []Wedge {
	var out []Wedge
	count := int(math.Ceil(excess[peak]/stock - 1e-9))
	laid := b.laidOf(b.Laid[peak])
	width := excess[peak] / float64(count)
	for j := range count {
		at := laid[min(max((2*j+1)*len(laid)/(2*count)-1, 0), len(laid)-1)]
		above := l.Strakes[b.First+at]
		out = append(out, Wedge{
			Below: above.ID, Band: b.Number, From: foot, To: peak,
			Length: l.gapes(above.Centre, foot, peak, excess), Width: width,
			Stealer: width >= l.Rules.LeastWidth*stock,
		})
	}
	return out
}

// gapes is the length along a line from where the gap opens to its peak: by linear
// interpolation between the frame at its foot, if the strips still taper there, and the
// next.
func (l *Layer) gapes(c *Line, foot, peak int, excess []float64) float64 {
	s := l.Surface
	at := func(i int) float64 { return c.S[s.FrameStation(i)] }
	from := at(foot)
	if excess[foot] < 0 {
		next := foot + 1
		if peak < foot {
			next = foot - 1
		}
		f := excess[foot] / (excess[foot] - excess[next])
		from += f * (at(next) - from)
	}
	return math.Abs(at(peak) - from)
}
