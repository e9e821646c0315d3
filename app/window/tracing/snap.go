package tracing

import (
	"math"

	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/picture"
)

// snapped draws a place to what is clear there, if that is wanted: to a corner
// or crossing for the scale, to an outline or line for the rest.
func (tr *tracer) snapped(at trace.Point, free bool) (trace.Point, bool) {
	g, ok := tr.ground()
	if !tr.snap || free || !ok {
		return at, false
	}
	ask := nearest{g.Picture, at, tr.tool, tr.begins() || tr.firstOf(), tr.reach(at), trace.Point{}, false}
	if was := tr.near; was.same(ask) {
		return was.to, was.ok
	}
	tr.near = ask
	tr.near.to, tr.near.ok = tr.drawnTo(g, at, ask)
	return tr.near.to, tr.near.ok
}

// nearest is what a place was last drawn to.
type nearest struct {
	picture *trace.Picture
	at      trace.Point
	tool    traceTool
	first   bool // of a frame
	reach   float64
	to      trace.Point
	ok      bool
}

func (n nearest) same(as nearest) bool {
	as.to, as.ok = n.to, n.ok
	return n == as
}

// reach is how far in pixels a click reaches about a place.
func (tr *tracer) reach(at trace.Point) float64 { return tr.board.Pixels(picture.SnapReach, at) }

// firstOf tells whether the next click is the first of the frame at hand.
func (tr *tracer) firstOf() bool {
	f, ok := tr.frame()
	return ok && len(f.Halves[0])+len(f.Halves[1]) == 0
}

// drawnTo looks for what a place is drawn to.
func (tr *tracer) drawnTo(g trace.Ground, at trace.Point, ask nearest) (trace.Point, bool) {
	reach := ask.reach
	switch tr.tool {
	case traceScale:
		if to, ok := g.Picture.SnapCorner(at, reach); ok {
			return to, true
		}
	case traceCorners:
		return g.Picture.SnapCorner(at, reach)
	case traceClicks:
		if ask.first {
			if to, ok := g.Picture.SnapEnd(at, reach); ok {
				return to, true
			}
		}
	}
	// what lies close to the click comes first, however faint beside what
	// lies further off
	for _, r := range []float64{reach / 3, reach} {
		if to, ok := g.Picture.Snap(at, r); ok && tr.fits(at, to) {
			return to, true
		}
	}
	return at, false
}

// mostAslant is how much of the way to a centre or base line may lie along it.
const mostAslant = 0.3

// fits tells whether what a click is drawn to runs as the line that it is for:
// the centre line upright, and the base line level.
func (tr *tracer) fits(at, to trace.Point) bool {
	p, q := tr.board.On(at), tr.board.On(to)
	dx, dy := math.Abs(q.X-p.X), math.Abs(q.Y-p.Y)
	switch tr.tool {
	case traceCentre:
		return dy <= mostAslant*dx
	case traceBase:
		return dx <= mostAslant*dy
	}
	return true
}
