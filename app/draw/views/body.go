package views

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Body is the body plan: the fore half to the right of the centre line, the
// after half to the left.
type Body struct {
	Mid     float64 // view x of the centre line
	Z       float64 // mm of height at the view's upper edge
	Scale   float64 // view pixels per mm
	Drawing draw.Drawing
	Handles []Handle
	Limits  []Handle          // the handles of the limits
	Whole   Curves            // the frames beyond the limits as well; nil to leave them out
	Strip   *loft.StripBeside // drawn beside its line while the line is chosen; nil for none

	fore   []bool // [frame]
	frames [][]draw.Point
	lines  [2][][]draw.Point // [fore half, after half][band line of the plan][station between its frames]
	room   []draw.Point
}

// FitBody gives the position and scale that show the whole body plan.
func FitBody(curves Curves, w, h float64) (mid, z, scale float64) {
	ys, zs := span{0, 0}, empty()
	for _, c := range curves {
		for _, p := range c {
			ys, zs = ys.with(p.Y()), zs.with(p.Z())
		}
	}
	const margin = 20.0
	scale = math.Max(math.Min((w/2-margin)/ys.length(), (h-2*margin)/zs.length()), 1e-3)
	spare := (h - zs.length()*scale) / 2
	return w / 2, zs.hi + spare/scale, scale
}

// Place gives the position in the view of a point of a frame.
func (v *Body) Place(frame int, p mgl64.Vec3) draw.Point {
	y := p.Y()
	if frame < len(v.fore) && !v.fore[frame] {
		y = -y
	}
	return draw.Pt(v.Mid+y*v.Scale, (v.Z-p.Z())*v.Scale)
}

// Draw makes the drawing of a planking.
func (v *Body) Draw(k *loft.Planking, curves Curves, c Choice, w, h float64) {
	l := k.Layers[c.Layer]
	v.layOut(k, l, c, curves)
	d := &v.Drawing
	d.Reset()
	d.Line(draw.Grid, framePen, draw.Pt(v.Mid, 4), draw.Pt(v.Mid, h-4))
	for f := range v.Whole {
		d.Line(draw.Faint, beyondPen, v.placed(f, v.Whole[f])...)
	}
	v.drawFrames(k, c)
	v.drawStrakes(l, c)
	v.drawLines(k.Plan.Layers[c.Layer].Lines, c)
	v.drawStrip(l, c, w, h)
	drawLimitHandles(d, v.shownLimits(c), c)
	drawHandles(d, v.shown(c), c)
	d.Text(draw.Pt(v.Mid-8, 14), tongue.T("after half"), draw.Faint, labelSize, draw.Right)
	d.Text(draw.Pt(v.Mid+8, 14), tongue.T("fore half"), draw.Faint, labelSize, draw.Left)
}

func (v *Body) layOut(k *loft.Planking, l *loft.Layer, c Choice, curves Curves) {
	v.fore = foreHalf(&k.Plan.Hull, curves, v.fore[:0])
	v.room = v.room[:0]
	v.frames = v.frames[:0]
	for f, pts := range curves {
		v.frames = append(v.frames, v.placed(f, pts))
	}
	for half := range v.lines {
		v.lines[half] = v.lines[half][:0]
		for _, b := range l.Lines[1 : len(l.Lines)-1] {
			v.lines[half] = append(v.lines[half], v.half(l.Surface, half == 0, b.P))
		}
	}
	v.Handles = handlesOf(k, c.Layer, v.Place, v.Handles[:0])
	v.Limits = limitHandles(k, c.Layer, func(f int, p mgl64.Vec3, _ Limit) draw.Point { return v.Place(f, p) }, v.Limits[:0])
}

func (v *Body) placed(frame int, pts []mgl64.Vec3) []draw.Point {
	n := len(v.room)
	for _, p := range pts {
		v.room = append(v.room, v.Place(frame, p))
	}
	return v.room[n:len(v.room):len(v.room)]
}

// half places the part of a line, given at the stations of a surface, that runs over
// the frames of one half: all of its stations, so that it is drawn as the curve it is.
func (v *Body) half(s *loft.Surface, fore bool, p []mgl64.Vec3) []draw.Point {
	first, last := -1, -1
	for f, is := range v.fore {
		if is == fore {
			if first < 0 {
				first = f
			}
			last = f
		}
	}
	n := len(v.room)
	if first >= 0 {
		for i := s.FrameStation(first); i <= s.FrameStation(last); i++ {
			v.room = append(v.room, v.Place(first, p[i]))
		}
	}
	return v.room[n:len(v.room):len(v.room)]
}

// foreHalf says for every frame whether it lies before the widest one, which
// itself counts as fore.
func foreHalf(h *hull.Hull, curves Curves, out []bool) []bool {
	wide, mid := -1.0, 0
	for f, pts := range curves {
		for _, p := range pts {
			if p.Y() > wide+1e-6 {
				wide, mid = p.Y(), f
			}
		}
	}
	for f := range curves {
		if h.Bow == hull.BowFirst {
			out = append(out, f <= mid)
		} else {
			out = append(out, f >= mid)
		}
	}
	return out
}

func (v *Body) drawFrames(k *loft.Planking, c Choice) {
	from, to := k.Plan.Hull.Planked()
	for f, pts := range v.frames {
		switch {
		case f == c.Frame:
		case f < from || f > to:
			v.Drawing.Line(draw.Faint, beyondPen, pts...)
		default:
			v.Drawing.Line(draw.FrameInk, framePen, pts...)
		}
	}
	if c.Frame >= 0 && c.Frame < len(v.frames) {
		pts := v.frames[c.Frame]
		v.Drawing.Line(draw.Chosen, draw.Pen{Width: 2.4}, pts...)
		at, align := draw.Pt(pts[0].X+4, pts[0].Y-5), draw.Left
		if !v.fore[c.Frame] {
			at, align = draw.Pt(pts[0].X-4, pts[0].Y-5), draw.Right
		}
		v.Drawing.Text(at, k.Plan.Hull.Frames[c.Frame].Name, draw.Chosen, labelSize+2, align)
	}
}

// drawStrakes ticks every seam on every frame and marks the chosen strake.
func (v *Body) drawStrakes(l *loft.Layer, c Choice) {
	for f, pts := range v.frames {
		i := l.Surface.FrameStation(f)
		last := math.Inf(-1)
		for _, st := range l.Strakes {
			if !st.At[f].Laid {
				continue
			}
			for _, s := range []*loft.Line{st.Upper, st.Lower} {
				if s.Down[i]-last > 1e-6 {
					v.Drawing.Line(draw.Seam, framePen, tick(v.Place(f, s.P[i]), pts, 3)...)
				}
				last = s.Down[i]
			}
		}
		if c.Strake >= 0 && c.Strake < len(l.Strakes) && l.Strakes[c.Strake].At[f].Laid {
			a, b := v.Place(f, l.Strakes[c.Strake].Upper.P[i]), v.Place(f, l.Strakes[c.Strake].Lower.P[i])
			v.Drawing.Line(draw.Chosen, draw.Pen{Width: 4}, a, b)
		}
	}
}

// tick is a short line across a frame at p.
func tick(p draw.Point, frame []draw.Point, half float64) []draw.Point {
	best, least := 1, math.Inf(1)
	for i := 1; i < len(frame); i++ {
		if d := distance(p, frame[i-1], frame[i]); d < least {
			best, least = i, d
		}
	}
	dx, dy := frame[best].X-frame[best-1].X, frame[best].Y-frame[best-1].Y
	if n := math.Hypot(dx, dy); n > 0 {
		dx, dy = dx/n*half, dy/n*half
	}
	return []draw.Point{draw.Pt(p.X-dy, p.Y+dx), draw.Pt(p.X+dy, p.Y-dx)}
}

// drawLines draws each half of every band line.
func (v *Body) drawLines(lines []hull.BandLine, c Choice) {
	for _, half := range v.lines {
		drawBandLines(&v.Drawing, lines, half, c)
	}
}

// shown gives the handles to show where frames lie close together: those of the
// chosen line, and those on the chosen frame.
func (v *Body) shown(c Choice) []Handle {
	if c.Line < 0 && c.Frame < 0 && c.Limit == NoLimit {
		return v.Handles
	}
	var out []Handle
	for _, h := range v.Handles {
		if h.Line == c.Line || h.Frame == c.Frame {
			out = append(out, h)
		}
	}
	return out
}

// shownLimits gives the handles of the chosen limit, and those of both on the
// chosen frame.
func (v *Body) shownLimits(c Choice) []Handle {
	var out []Handle
	for _, h := range v.Limits {
		if h.Limit == c.Limit || h.Frame == c.Frame {
			out = append(out, h)
		}
	}
	return out
}

// HandleAt gives the handle shown at a point, of a line or of a limit.
func (v *Body) HandleAt(p draw.Point, c Choice) (Handle, bool) {
	return handleAt(v.shown(c), v.shownLimits(c), p, c)
}

// LineAt gives the band line at a point, or -1.
func (v *Body) LineAt(p draw.Point) int {
	for _, half := range v.lines {
		for n, pts := range half {
			if toLine(p, pts) < lineReach {
				return n
			}
		}
	}
	return -1
}

// FrameAt gives the frame nearest to a point.
func (v *Body) FrameAt(p draw.Point) int {
	best, least := -1, math.Inf(1)
	for f, pts := range v.frames {
		if d := toLine(p, pts); d < least {
			best, least = f, d
		}
	}
	return best
}
