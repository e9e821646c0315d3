package views

import (
	"math"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// GuideX gives the x, mm, at which a frame's vertical runs through profile and
// gauge strip. A frame square to the keel has only one; for a canted, leaning
// or bent one it is where the chosen strake or line crosses it, or otherwise
// its mean.
func GuideX(k *loft.Planking, c Choice, frame int) float64 {
	f, l := k.Plan.Hull.Frames[frame], k.Layers[c.Layer]
	first, last := l.Surface.Planked()
	if squareFrame(f) || frame < first || frame > last {
		return f.X()
	}
	i := l.Surface.FrameStation(frame)
	switch {
	case c.Strake >= 0 && c.Strake < len(l.Strakes) && l.Strakes[c.Strake].At[frame].Laid:
		return l.Strakes[c.Strake].Centre.P[i].X()
	case c.Line >= 0 && c.Line < len(l.Lines)-2:
		return l.Lines[c.Line+1].P[i].X()
	}
	return f.X()
}

// squareFrame reports whether all of a frame stands at one x.
func squareFrame(f hull.Frame) bool {
	p, ok := f.Plane()
	return ok && p.Square()
}

// guides gives the parts of a frame's vertical that are not the frame itself:
// from its name down to the end of the frame, and from where it is crossed, at
// x, down to the foot of the view. A square frame has a single one, all the way.
func guides(frame []draw.Point, x, h float64) [][]draw.Point {
	top := frame[0]
	if math.Abs(top.X-x) < 0.5 && math.Abs(frame[len(frame)-1].X-x) < 0.5 {
		return [][]draw.Point{{draw.Pt(x, headRoom), draw.Pt(x, h)}}
	}
	y := top.Y
	for i := 1; i < len(frame); i++ {
		a, b := frame[i-1], frame[i]
		if (a.X-x)*(b.X-x) <= 0 && a.X != b.X {
			y = a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)
			break
		}
	}
	return [][]draw.Point{{draw.Pt(top.X, headRoom), top}, {draw.Pt(x, y), draw.Pt(x, h)}}
}
