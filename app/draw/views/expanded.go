package views

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/interp"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Expanded is the expanded planking: frames as verticals at their x, girth down
// from their upper ends, which lie in a straight line, both at one scale. Where
// the upper limit is not set in, it is that line. It needs no more of a hull than
// its girths. X is the axis along the hull; Top is the girth at the view's upper
// edge, below 0 above the frames.
type Expanded struct {
	X   Axis
	Top float64
	Fit bool // grounds tell where strakes taper or gape, in place of what is written under it

	Drawing draw.Drawing
	Handles []Handle
	Limits  []Handle // the handles of the limits

	p        Profile   // on which it is laid out, girth taken for depth
	down     []float64 // [frame] how far the upper limit is set in, mm
	inset    func(x float64) float64
	from, to int // the stations between which the hull is planked
}

// unrolled gives what lies of the frames between the limits as straight lines
// that hang from so far below height 0.
func unrolled(k *loft.Planking, l *loft.Layer, down []float64) Curves {
	out := make(Curves, len(l.Girths))
	for f, g := range l.Girths {
		x := k.Plan.Hull.Frames[f].X()
		out[f] = []mgl64.Vec3{{x, 0, -down[f]}, {x, 0, -down[f] - g}}
	}
	return out
}

// unrolledWhole gives the whole frames so; nil where the limits take in all of
// every frame.
func unrolledWhole(h *hull.Hull) Curves {
	if h.Limits.Whole() || !h.Shapeless() {
		return nil
	}
	var out Curves
	for _, g := range h.Girths {
		out = append(out, []mgl64.Vec3{{g.X, 0, 0}, {g.X, 0, -g.Girth}})
	}
	return out
}

// insetAlong gives how far the upper limit is set in at any x, smoothly through
// what it is at the frames.
func insetAlong(frames []hull.Frame, down []float64) func(x float64) float64 {
	if slices.Max(down) == 0 {
		return func(float64) float64 { return 0 }
	}
	xs := make([]float64, len(frames))
	for i := range frames {
		xs[i] = frames[i].X()
	}
	var c interp.FritschButland // it swings over no value
	if c.Fit(xs, down) != nil {
		return func(float64) float64 { return 0 } // frames that stand at one x are refused when read
	}
	return c.Predict
}

// FitExpanded gives the axis along x and the girth at the upper edge that show
// the whole planking in a view of w x h.
func FitExpanded(k *loft.Planking, l *loft.Layer, w, h float64) (x Axis, top float64) {
	down, _ := loft.Insets(&k.Plan.Hull)
	x, z := FitProfile(slices.Concat(unrolled(k, l, down), unrolledWhole(&k.Plan.Hull)), w, h)
	return x, -z
}

// Place gives, in the view, a place of the planking: x along the hull and the
// girth below the upper ends of the frames.
func (v *Expanded) Place(x, down float64) draw.Point {
	return draw.Pt(v.X.At(x), (down-v.Top)*v.X.Scale)
}

// on gives the place on a frame so much girth below the upper limit.
func (v *Expanded) on(k *loft.Planking, frame int, down float64) draw.Point {
	return v.Place(k.Plan.Hull.Frames[frame].X(), v.down[frame]+down)
}

// Down gives the girth below the upper ends of the frames at a point.
func (v *Expanded) Down(p draw.Point) float64 { return v.Top + p.Y/math.Max(v.X.Scale, 1e-12) }

// Below gives the girth below the upper limit at a point, on a frame.
func (v *Expanded) Below(frame int, p draw.Point) float64 { return v.Down(p) - v.down[frame] }

// Draw makes the drawing of a planking in a view of w x h.
func (v *Expanded) Draw(k *loft.Planking, c Choice, w, h float64) {
	l := k.Layers[c.Layer]
	v.layOut(k, l, c)
	p := &v.p
	p.Drawing, v.Drawing = v.Drawing, draw.Drawing{}
	d := &p.Drawing
	d.Reset()
	for _, f := range unrolledWhole(&k.Plan.Hull) {
		d.Line(draw.Faint, beyondPen, p.placed(f)...)
	}
	p.drawFrames(k, c, h)
	p.drawUnplanked(k, headRoom+labelSize)
	if v.Fit {
		v.grounds(k, l)
	}
	p.drawStrake(c)
	if !v.Fit {
		p.hatchModes()
	}
	p.drawSeams()
	v.nameWedges(l)
	p.drawLimits(c)
	drawBandLines(d, k.Plan.Layers[c.Layer].Lines, p.lines, c)
	drawLimitHandles(d, v.Limits, c)
	drawHandles(d, v.Handles, c)
	p.nameFrames(k, c, w)
	if !v.Fit {
		p.drawEnds(k, w, h)
		modeLegend(d, l, legendLeft, h-6, w/2-legendLeft-titleHalf)
		from := tongue.T("the %s", limitName(k, true))
		if slices.Max(v.down) > 0 {
			from = tongue.T("the frames' upper ends")
		}
		d.Text(draw.Pt(w/2, h-6), tongue.T("expanded planking: girth down from %s", from), draw.Faint, labelSize, draw.Centre)
	}
	v.Drawing, p.Drawing = p.Drawing, draw.Drawing{}
}

func (v *Expanded) layOut(k *loft.Planking, l *loft.Layer, c Choice) {
	p := &v.p
	p.X, p.Z = v.X, -v.Top
	v.down, _ = loft.Insets(&k.Plan.Hull)
	v.inset = insetAlong(k.Plan.Hull.Frames, v.down)
	first, last := l.Surface.Planked()
	v.from, v.to = l.Surface.FrameStation(first), l.Surface.FrameStation(last)
	p.room = p.room[:0]
	p.lines, p.frames = p.lines[:0], p.frames[:0]
	p.laySeams(l, v.placed)
	for _, b := range l.Lines[1 : len(l.Lines)-1] {
		p.lines = append(p.lines, v.placed(b.Line, 0, len(b.Down)-1))
	}
	for _, f := range unrolled(k, l, v.down) {
		p.frames = append(p.frames, p.placed(f))
	}
	v.Handles = handlesOf(k, c.Layer, nil, v.Handles[:0])
	for i := range v.Handles {
		h := &v.Handles[i]
		h.At = v.on(k, h.Frame, HandleDown(l, &k.Plan.Layers[c.Layer].Lines[h.Line], h.Line, h.Frame))
	}
	v.Limits = limitHandles(k, c.Layer, func(f int, _ mgl64.Vec3, limit Limit) draw.Point {
		if limit == LowerLimit {
			return v.on(k, f, l.Girths[f])
		}
		return v.on(k, f, 0)
	}, v.Limits[:0])
}

// placed gives a line from one station to another; beyond the frames that are
// planked it stays where it ends.
func (v *Expanded) placed(s *loft.Line, from, to int) []draw.Point {
	n := len(v.p.room)
	for i := from; i <= to; i++ {
		at := min(max(i, v.from), v.to)
		x := s.P[at].X()
		v.p.room = append(v.p.room, v.Place(x, v.inset(x)+s.Down[at]))
	}
	return v.p.room[n:len(v.p.room):len(v.p.room)]
}

// grounds lays a ground under every strake from frame to frame, and a sign on
// every frame, where it tapers or gapes by more than a twentieth of its strip.
func (v *Expanded) grounds(k *loft.Planking, l *loft.Layer) {
	d := &v.p.Drawing
	for _, s := range l.Strakes {
		for f := 0; f+1 < len(s.At); f++ {
			a, b := &s.At[f], &s.At[f+1]
			if !a.Laid || !b.Laid {
				continue
			}
			role, ok := fitRole((a.WidthCut-a.Pitch+b.WidthCut-b.Pitch)/2, s.Strip)
			if !ok {
				continue
			}
			d.Area(role, v.on(k, f, a.Upper), v.on(k, f+1, b.Upper), v.on(k, f+1, b.Upper+b.WidthFrame), v.on(k, f, a.Upper+a.WidthFrame))
		}
		for f := range s.At {
			v.sign(k, s, f)
		}
	}
}

// sign marks what a strake does at a frame, where there is room for it.
func (v *Expanded) sign(k *loft.Planking, s *loft.Strake, f int) {
	a := &s.At[f]
	role, ok := fitRole(a.WidthCut-a.Pitch, s.Strip)
	if !a.Laid || !ok || a.WidthFrame*v.X.Scale < 6 {
		return
	}
	at := v.on(k, f, a.Upper+a.WidthFrame/2)
	if role == draw.TaperSoft {
		v.p.Drawing.Mark(at, draw.Down, 5, draw.TaperInk)
	} else {
		v.p.Drawing.Mark(at, draw.Up, 5, draw.GapInk)
	}
}

// fitRole is the ground of a strake that needs so much more than its strip; ok
// is false where it fits.
func fitRole(excess, strip float64) (role draw.Role, ok bool) {
	switch {
	case excess > strip/20:
		return draw.GapSoft, true
	case excess < -strip/20:
		return draw.TaperSoft, true
	}
	return 0, false
}

// nameWedges outlines every wedge and stealer, and names it where there is room.
func (v *Expanded) nameWedges(l *loft.Layer) {
	d := &v.p.Drawing
	for n, w := range l.Wedges {
		pts := v.p.wedges[n]
		d.Line(draw.Warning, framePen, append(slices.Clip(pts), pts[0])...)
		if v.Fit {
			continue // there is no room for words
		}
		name := tongue.T("wedge")
		if w.Stealer {
			name = tongue.T("stealer")
		}
		at, base := l.Surface.FrameStation(w.Laid.First)+len(pts)/4, w.Laid.Upper
		if w.To > w.From {
			at = l.Surface.FrameStation(w.To) - len(pts)/8
		}
		p := v.placed(base, at, at)[0]
		d.Text(draw.Pt(p.X, p.Y-3), name, draw.Warning, labelSize-1, draw.Centre)
	}
}

// HandleAt gives the handle at a point, of a line or of a limit.
func (v *Expanded) HandleAt(p draw.Point, c Choice) (Handle, bool) {
	return handleAt(v.Handles, v.Limits, p, c)
}

// StrakeAt gives the strake at a point, or -1.
func (v *Expanded) StrakeAt(p draw.Point) int { return v.p.StrakeAt(p) }

// LineAt gives the band line at a point, or -1.
func (v *Expanded) LineAt(p draw.Point) int { return v.p.LineAt(p) }

// FrameAt gives the frame nearest to a point.
func (v *Expanded) FrameAt(p draw.Point) int { return v.p.FrameAt(p) }
