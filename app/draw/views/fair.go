package views

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/fair"
)

// Fair shows frames against the smooth run of their neighbours: a body plan
// with the chosen frame and the misfit of its points, and below it, along the
// hull, how far every frame stands out as a whole. A triangle pointing up means
// outwards, one pointing down inwards; a suspect point has a larger one, filled
// with the warning colour.
type Fair struct {
	Units   Units
	Drawing draw.Drawing

	body  Body
	bars  []draw.Point // position of every frame's bar
	split float64      // view y below which the bars are
}

// FairOf is what a Fair shows.
type FairOf struct {
	Hull    *hull.Hull // as it is
	Misfits []fair.Misfit
	Faired  *fair.Faired // nil for none
	Curves  Curves       // of the hull's frames
	After   Curves       // of the faired frames, or nil
	Frame   int          // the chosen one, or -1
}

// FrameCurves samples frames as they are lofted; for those that cannot be
// lofted, it gives the points themselves.
func FrameCurves(frames []hull.Frame) Curves {
	if s, err := loft.Loft(frames); err == nil {
		out := make(Curves, len(frames))
		for f := range out {
			for i := range curvePoints {
				out[f] = append(out[f], s.AtDown(f, s.Girth(f)*float64(i)/(curvePoints-1)))
			}
		}
		return out
	}
	out := make(Curves, len(frames))
	for f := range frames {
		out[f] = frames[f].Points
	}
	return out
}

// The share of the height that the body plan takes, and how far the greatest
// misfit is drawn, view pixels.
const (
	fairBody  = 0.66
	fairWhisk = 26.0
)

// fairedPen is for the line of a faired frame, and wasPen for the line it had
// before.
var (
	fairedPen = draw.Pen{Width: 1.6}
	wasPen    = draw.Pen{Width: 1, Dash: []float64{5, 3}}
)

// Draw makes the drawing in a view of w x h.
func (v *Fair) Draw(of FairOf, w, h float64) {
	d := &v.Drawing
	d.Reset()
	v.split = math.Round(h * fairBody)
	b := &v.body
	b.Mid, b.Z, b.Scale = FitBody(of.Curves, w, v.split)
	b.fore = foreHalf(of.Hull, of.Curves, b.fore[:0])
	d.Line(draw.Grid, framePen, draw.Pt(b.Mid, 4), draw.Pt(b.Mid, v.split-4))
	v.frames(of)
	v.points(of)
	d.Text(draw.Pt(b.Mid-8, 14), tongue.T("after half"), draw.Faint, labelSize, draw.Right)
	d.Text(draw.Pt(b.Mid+8, 14), tongue.T("fore half"), draw.Faint, labelSize, draw.Left)
	v.run(of, w, h)
}

// frames draws them all; those that fairing moves are drawn in thin dashes as
// they are, and solid as faired.
func (v *Fair) frames(of FairOf) {
	moved := map[int]bool{}
	if of.Faired != nil && of.After != nil {
		for _, m := range of.Faired.Moves {
			moved[m.Frame] = true
		}
	}
	for f := range of.Curves {
		was, role := framePen, draw.FrameInk
		if f == of.Frame {
			was, role = draw.Pen{Width: 2}, draw.Chosen
		}
		if moved[f] {
			was = wasPen
			v.Drawing.Line(role, v.heavy(fairedPen, f == of.Frame), v.placed(f, of.After[f])...)
		}
		v.Drawing.Line(role, was, v.placed(f, of.Curves[f])...)
	}
}

func (v *Fair) heavy(p draw.Pen, chosen bool) draw.Pen {
	if chosen {
		p.Width += 0.8
	}
	return p
}

func (v *Fair) placed(f int, pts []mgl64.Vec3) []draw.Point {
	var out []draw.Point
	for _, p := range pts {
		out = append(out, v.body.Place(f, p))
	}
	return out
}

// points draws the misfit of the chosen frame's points, magnified, or every
// suspect where none is chosen.
func (v *Fair) points(of FairOf) {
	most := 0.0
	for _, m := range of.Misfits {
		for _, off := range m.Off {
			most = math.Max(most, math.Abs(off))
		}
	}
	if !(most > 0) {
		return
	}
	by := fairWhisk / most / v.body.Scale // how many times its true size
	for f, m := range of.Misfits {
		pts := of.Hull.Frames[f].Points
		for j, off := range m.Off {
			suspect := slices.Contains(m.Suspects, j)
			if f != of.Frame && !suspect {
				continue
			}
			v.point(f, pts, j, off*by*v.body.Scale, off, suspect)
		}
	}
	if of.Frame >= 0 {
		v.Drawing.Text(draw.Pt(8, v.split-8), tongue.T("frame %s: its points' misfits drawn × %.0f", of.Hull.Frames[of.Frame].Name, by), draw.Chosen, labelSize, draw.Left)
	}
}

// point draws one: a whisker along the outward normal, with the sign at its
// end.
func (v *Fair) point(f int, pts []mgl64.Vec3, j int, whisker, off float64, suspect bool) {
	p := v.body.Place(f, pts[j])
	a, b := v.body.Place(f, pts[max(j-1, 0)]), v.body.Place(f, pts[min(j+1, len(pts)-1)])
	nx, ny := b.Y-a.Y, a.X-b.X // outwards, for a frame drawn downwards in the fore half
	if !v.body.fore[f] {
		nx, ny = -nx, -ny
	}
	if n := math.Hypot(nx, ny); n > 0 {
		nx, ny = nx/n, ny/n
	}
	tip := draw.Pt(p.X+nx*whisker, p.Y+ny*whisker)
	v.Drawing.Line(draw.Ink, hairPen, p, tip)
	shape, role, size := draw.Up, draw.Ink, 5.0
	if off < 0 {
		shape = draw.Down
	}
	if suspect {
		role, size = draw.Warning, 11
	}
	v.Drawing.Mark(tip, shape, size, role)
}

// run draws, along the hull, how far every frame stands out as a whole and the
// misfit of its worst point.
func (v *Fair) run(of FairOf, w, h float64) {
	d := &v.Drawing
	xs, most := empty(), 0.1
	for f, m := range of.Misfits {
		xs = xs.with(of.Hull.Frames[f].X())
		most = math.Max(most, math.Max(math.Abs(m.Shift), math.Abs(m.Off[m.Worst()])))
	}
	axis := xs.axis(gaugeEdge+10, w-gaugeEdge-34, (w-gaugeEdge-34)/xs.length())
	t := track{top: v.split + 22, bottom: h - 16, span: span{-most * 1.1, most * 1.1}}
	d.Text(draw.Pt(8, v.split+13), tongue.T("Bars: each frame as a whole; triangles: its worst point (%s, up is outwards); large ones are suspect", v.Units.Name()), draw.Ink, labelSize, draw.Left)
	d.Line(draw.Faint, hairPen, draw.Pt(gaugeEdge, t.at(0)), draw.Pt(w-8, t.at(0)))
	for _, y := range []float64{most, 0, -most} {
		d.Text(draw.Pt(gaugeEdge-6, t.at(y)+4), v.Units.Number(y), draw.Faint, labelSize-1, draw.Right)
	}
	v.bars = v.bars[:0]
	last := math.Inf(-1)
	for f, m := range of.Misfits {
		x := axis.At(of.Hull.Frames[f].X())
		v.bars = append(v.bars, draw.Pt(x, t.at(m.Shift)))
		v.bar(m, t, x, f == of.Frame)
		if name := of.Hull.Frames[f].Name; f == of.Frame || x-last > 6*float64(len(name))+10 {
			role := draw.Faint
			if f == of.Frame {
				role = draw.Chosen
			}
			d.Text(draw.Pt(x, h-4), name, role, labelSize, draw.Centre)
			last = x
		}
	}
}

func (v *Fair) bar(m fair.Misfit, t track, x float64, chosen bool) {
	d := &v.Drawing
	half, role := 3.0, draw.FrameInk
	if m.Bumped {
		half, role = 5, draw.Warning
	}
	if chosen {
		d.Line(draw.Chosen, dotPen, draw.Pt(x, t.top), draw.Pt(x, t.bottom))
	}
	d.Rect(role, draw.Pt(x-half, t.at(0)), draw.Pt(x+half, t.at(m.Shift)))
	worst := m.Off[m.Worst()]
	shape, size, ink := draw.Up, 5.0, draw.Ink
	if worst < 0 {
		shape = draw.Down
	}
	if len(m.Suspects) > 0 {
		size, ink = 11, draw.Warning
	}
	d.Mark(draw.Pt(x, t.at(worst)), shape, size, ink)
}

// FrameAt gives the frame nearest to a point, in the body plan or among the
// bars below it; -1 where there is none.
func (v *Fair) FrameAt(of FairOf, p draw.Point) int {
	best, least := -1, math.Inf(1)
	for f := range of.Curves {
		d := toLine(p, v.placed(f, of.Curves[f]))
		if p.Y > v.split {
			d = math.Abs(v.bars[f].X - p.X)
		}
		if d < least {
			best, least = f, d
		}
	}
	return best
}
