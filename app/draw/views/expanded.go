package views

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"strakewright/app/draw"
	"strakewright/loft"
)

// Expanded is the expanded planking: frames as verticals at their x, girth down
// from a straight upper limit, both at one scale. It needs no more of a hull than
// its girths. X is the axis along the hull; Top is the girth at the view's upper
// edge, below 0 above the limit.
type Expanded struct {
	X   Axis
	Top float64
	Fit bool // grounds tell where strakes taper or gape, in place of what is written under it

	Drawing draw.Drawing
	Handles []Handle

	p Profile // on which it is laid out, girth taken for depth
}

// unrolled gives the frames as straight lines hanging from height 0.
func unrolled(k *loft.Planking, l *loft.Layer) Curves {
	out := make(Curves, len(l.Girths))
	for f, g := range l.Girths {
		x := k.Plan.Hull.Frames[f].X()
		out[f] = []mgl64.Vec3{{x, 0, 0}, {x, 0, -g}}
	}
	return out
}

// FitExpanded gives the axis along x and the girth at the upper edge that show
// the whole planking in a view of w x h.
func FitExpanded(k *loft.Planking, l *loft.Layer, w, h float64) (x Axis, top float64) {
	x, z := FitProfile(unrolled(k, l), w, h)
	return x, -z
}

// Place gives, in the view, a place of the planking: x along the hull and the
// girth below the upper limit.
func (v *Expanded) Place(x, down float64) draw.Point {
	return draw.Pt(v.X.At(x), (down-v.Top)*v.X.Scale)
}

// Down gives the girth below the upper limit at a point.
func (v *Expanded) Down(p draw.Point) float64 { return v.Top + p.Y/math.Max(v.X.Scale, 1e-12) }

// Draw makes the drawing of a planking in a view of w x h.
func (v *Expanded) Draw(k *loft.Planking, c Choice, w, h float64) {
	l := k.Layers[c.Layer]
	v.layOut(k, l, c)
	p := &v.p
	p.Drawing, v.Drawing = v.Drawing, draw.Drawing{}
	d := &p.Drawing
	d.Reset()
	p.drawFrames(k, c, w, h)
	if v.Fit {
		v.grounds(k, l)
	}
	p.drawStrake(c)
	for _, s := range p.net {
		d.Line(draw.Seam, seamPen, s...)
	}
	v.wedges(k, l)
	p.drawLimits()
	drawBandLines(d, k.Plan.Layers[c.Layer].Lines, p.lines, c)
	drawHandles(d, v.Handles, c)
	if !v.Fit {
		p.drawEnds(k, w, h)
		d.Text(draw.Pt(w/2, h-6), "expanded planking: girth down from the "+limitName(k, true), draw.Faint, labelSize, draw.Centre)
	}
	v.Drawing, p.Drawing = p.Drawing, draw.Drawing{}
}

func (v *Expanded) layOut(k *loft.Planking, l *loft.Layer, c Choice) {
	p := &v.p
	p.X, p.Z = v.X, -v.Top
	p.room = p.room[:0]
	p.net, p.lines, p.frames = p.net[:0], p.lines[:0], p.frames[:0]
	for _, s := range l.Seams {
		p.net = append(p.net, v.placed(s))
	}
	for _, b := range l.Lines[1 : len(l.Lines)-1] {
		p.lines = append(p.lines, v.placed(b.Line))
	}
	for _, f := range unrolled(k, l) {
		p.frames = append(p.frames, p.placed(f))
	}
	v.Handles = v.Handles[:0]
	for n := range k.Plan.Layers[c.Layer].Lines {
		line := &k.Plan.Layers[c.Layer].Lines[n]
		for f := range line.Handles {
			shape, size := handleLook(line, f)
			at := v.Place(k.Plan.Hull.Frames[f].X(), HandleDown(l, line, n, f))
			v.Handles = append(v.Handles, Handle{At: at, Line: n, Frame: f, Shape: shape, Size: size})
		}
	}
}

// placed gives a line at its stations.
func (v *Expanded) placed(s *loft.Line) []draw.Point {
	n := len(v.p.room)
	for i, down := range s.Down {
		v.p.room = append(v.p.room, v.Place(s.P[i].X(), down))
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
			x0, x1 := k.Plan.Hull.Frames[f].X(), k.Plan.Hull.Frames[f+1].X()
			d.Area(role, v.Place(x0, a.Upper), v.Place(x1, b.Upper), v.Place(x1, b.Upper+b.WidthFrame), v.Place(x0, a.Upper+a.WidthFrame))
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
	at := v.Place(k.Plan.Hull.Frames[f].X(), a.Upper+a.WidthFrame/2)
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

// wedges draws every wedge and stealer in its seam: its base at the frame where
// it is widest, its point where the gap opens.
func (v *Expanded) wedges(k *loft.Planking, l *loft.Layer) {
	d := &v.p.Drawing
	for _, w := range l.Wedges {
		for _, s := range l.Strakes {
			if s.ID != w.Below || !s.At[w.To].Laid {
				continue
			}
			x, tip := k.Plan.Hull.Frames[w.To].X(), k.Plan.Hull.Frames[w.From].X()
			base := s.At[w.To].Upper + s.At[w.To].WidthFrame
			foot := base
			if s.At[w.From].Laid {
				foot = s.At[w.From].Upper + s.At[w.From].WidthFrame
			}
			if full := math.Abs(tip - x); full > w.Length && full > 0 {
				share := w.Length / full
				tip, foot = x+(tip-x)*share, base+(foot-base)*share
			}
			a, b, c := v.Place(x, base-w.Width/2), v.Place(x, base+w.Width/2), v.Place(tip, foot)
			d.Area(draw.GapSoft, a, b, c)
			d.Line(draw.Warning, framePen, a, b, c, a)
			if v.Fit {
				break // there is no room for words
			}
			name := "wedge"
			if w.Stealer {
				name = "stealer"
			}
			d.Text(draw.Pt((a.X*2+c.X)/3, v.Place(x, base).Y-w.Width/2*v.X.Scale-3), name, draw.Warning, labelSize-1, draw.Centre)
			break
		}
	}
}

// HandleAt gives the handle at a point.
func (v *Expanded) HandleAt(p draw.Point, c Choice) (Handle, bool) {
	return HandleAt(v.Handles, p, c.Line)
}

// StrakeAt gives the strake at a point, or -1.
func (v *Expanded) StrakeAt(p draw.Point) int { return v.p.StrakeAt(p) }

// LineAt gives the band line at a point, or -1.
func (v *Expanded) LineAt(p draw.Point) int { return v.p.LineAt(p) }

// FrameAt gives the frame nearest to a point.
func (v *Expanded) FrameAt(p draw.Point) int { return v.p.FrameAt(p) }
