package views

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Handle is a handle of a band line, or of a limit, as placed in a view.
type Handle struct {
	At          draw.Point
	Line, Frame int // Line is -1 for a limit's handle
	Limit       Limit
	Shape       draw.Shape
	Size        float64
}

// reach is how close, in view pixels, the pointer must come to take hold.
const reach = 9.0

// nearestHandle gives the handle at a point; the chosen line's come first where
// several lie there.
func nearestHandle(hs []Handle, p draw.Point, chosen int) (Handle, bool) {
	best, least, ok := Handle{}, reach, false
	for _, h := range hs {
		d := math.Hypot(h.At.X-p.X, h.At.Y-p.Y)
		if d > reach {
			continue
		}
		if h.Line == chosen {
			d -= reach
		}
		if d < least {
			best, least, ok = h, d, true
		}
	}
	return best, ok
}

// handleAt gives the handle at a point, of the lines or of the limits: the chosen
// one's first, otherwise the nearest.
func handleAt(lines, limits []Handle, p draw.Point, c Choice) (Handle, bool) {
	a, ok := nearestHandle(lines, p, c.Line)
	b, okLimit := nearestHandle(limits, p, -1)
	if !okLimit {
		return a, ok
	}
	off := func(h Handle) float64 { return math.Hypot(h.At.X-p.X, h.At.Y-p.Y) }
	if !ok || b.Limit == c.Limit || a.Line != c.Line && off(b) < off(a) {
		return b, true
	}
	return a, true
}

// limitHandles places the handles of both limits on the frames that are planked.
func limitHandles(k *loft.Planking, layer int, place func(frame int, p mgl64.Vec3, limit Limit) draw.Point, out []Handle) []Handle {
	l := k.Layers[layer]
	first, last := l.Surface.Planked()
	for f := first; f <= last; f++ {
		for _, limit := range []Limit{UpperLimit, LowerLimit} {
			down, shape := 0.0, draw.Ring
			if limit == LowerLimit {
				down = l.Girths[f]
			}
			if given(k, f, limit) {
				shape = draw.Disc
			}
			at := place(f, l.Surface.AtDown(f, down), limit)
			out = append(out, Handle{At: at, Line: -1, Frame: f, Limit: limit, Shape: shape, Size: 8})
		}
	}
	return out
}

// given reports whether a limit is set in at a frame by a figure of its own.
func given(k *loft.Planking, frame int, limit Limit) bool {
	list := k.Plan.Hull.Limits.Down
	if limit == LowerLimit {
		list = k.Plan.Hull.Limits.Up
	}
	name := k.Plan.Hull.Frames[frame].Name
	return slices.ContainsFunc(list, func(in hull.Inset) bool { return in.Frame == name })
}

// drawLimitHandles adds the limits' marks, the chosen one's larger.
func drawLimitHandles(d *draw.Drawing, hs []Handle, c Choice) {
	for _, h := range hs {
		if h.Limit != c.Limit {
			d.Mark(h.At, h.Shape, h.Size*0.6, draw.Limit)
			continue
		}
		d.Mark(h.At, h.Shape, h.Size, draw.Chosen)
		if h.Frame == c.Frame {
			d.Line(draw.Chosen, draw.Pen{Width: 1.5}, ring(h.At, h.Size/2+5)...)
		}
	}
}

// handlesOf places the handles of all lines of a layer on the planked frames:
// on the others a line cannot be taken hold of. If place is nil, the handles
// have no position.
func handlesOf(k *loft.Planking, layer int, place func(frame int, p mgl64.Vec3) draw.Point, out []Handle) []Handle {
	l := k.Layers[layer]
	first, last := l.Surface.Planked()
	for n := range k.Plan.Layers[layer].Lines {
		line := &k.Plan.Layers[layer].Lines[n]
		for f := first; f <= min(last, len(line.Handles)-1); f++ {
			shape, size := handleLook(line, f)
			h := Handle{Line: n, Frame: f, Shape: shape, Size: size}
			if place != nil {
				h.At = place(f, handlePlace(l, line, n, f))
			}
			out = append(out, h)
		}
	}
	return out
}

// handlePlace gives the position of a handle on the hull, mm: where it is held,
// otherwise on its line.
func handlePlace(l *loft.Layer, line *hull.BandLine, n, f int) mgl64.Vec3 {
	if rules(line, f) {
		return l.Surface.AtDown(f, line.Handles[f].Down)
	}
	return l.Lines[n+1].P[l.Surface.FrameStation(f)]
}

// HandleDown gives the girth of a handle below the upper limit, mm.
func HandleDown(l *loft.Layer, line *hull.BandLine, n, f int) float64 {
	if rules(line, f) {
		return line.Handles[f].Down
	}
	return l.Lines[n+1].Down[l.Surface.FrameStation(f)]
}

// rules reports whether a handle affects its line's course.
func rules(line *hull.BandLine, f int) bool {
	if line.LineType == hull.Free {
		return f == line.Hold || f == line.Aim
	}
	return line.Handles[f].Held
}

// handleLook gives a handle's shape, which distinguishes it, and its size.
func handleLook(line *hull.BandLine, f int) (draw.Shape, float64) {
	switch {
	case line.LineType == hull.Free && f == line.Hold:
		return draw.Square, 11
	case line.LineType == hull.Free && f == line.Aim:
		return draw.Diamond, 11
	case rules(line, f):
		return draw.Disc, 9
	case line.LineType == hull.Free:
		return draw.Ring, 5
	}
	return draw.Ring, 8
}

// drawHandles adds the handles' marks, the chosen line's last and larger.
func drawHandles(d *draw.Drawing, hs []Handle, c Choice) {
	for _, h := range hs {
		if h.Line != c.Line {
			d.Mark(h.At, h.Shape, h.Size*0.75, draw.BandInk)
		}
	}
	for _, h := range hs {
		if h.Line != c.Line {
			continue
		}
		d.Mark(h.At, h.Shape, h.Size, draw.Chosen)
		if h.Frame == c.Frame {
			d.Line(draw.Chosen, draw.Pen{Width: 1.5}, ring(h.At, h.Size/2+5)...)
		}
	}
}

// ring is a circle of points.
func ring(at draw.Point, r float64) []draw.Point {
	const n = 24
	out := make([]draw.Point, n+1)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		out[i] = draw.Pt(at.X+r*c, at.Y+r*s)
	}
	return out
}
