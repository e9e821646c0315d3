package views

import (
	"math"

	"strakewright/app/draw"
	"strakewright/hull"
)

// Outlines shows what was found in a drawing of the frames: outlines in full
// lines, the marks of centre line, base line and limits each in dashes of its
// own, what is not used in dots.
type Outlines struct {
	Drawing draw.Drawing

	lines [][]draw.Point
}

// Unused is the mark, beside hull's own, of a line that is not read.
const Unused = "unused"

// markPens are the pens of marks.
var markPens = map[string]draw.Pen{
	"centre": {Width: 1.2, Dash: []float64{12, 3, 2, 3}},
	"base":   {Width: 1.2, Dash: []float64{8, 3}},
	"upper":  {Width: 1.6, Dash: []float64{4, 2}},
	"rabbet": {Width: 1.6, Dash: []float64{2, 2}},
	Unused:   {Width: 0.8, Dash: []float64{1, 3}},
}

// Draw makes the drawing in a view of w x h; chosen is an index, or -1.
func (v *Outlines) Draw(outlines []hull.Outline, chosen int, w, h float64) {
	d := &v.Drawing
	d.Reset()
	v.layOut(outlines, w, h)
	for i := range outlines {
		if i != chosen {
			v.line(&outlines[i], i, false)
		}
	}
	if chosen >= 0 && chosen < len(outlines) {
		v.line(&outlines[chosen], chosen, true)
	}
}

func (v *Outlines) layOut(outlines []hull.Outline, w, h float64) {
	xs, ys := empty(), empty()
	for i := range outlines {
		for _, p := range outlines[i].Points {
			xs, ys = xs.with(p[0]), ys.with(p[1])
		}
	}
	const margin = 16
	scale := math.Max(math.Min((w-2*margin)/xs.length(), (h-2*margin)/ys.length()), 1e-6)
	x, y := xs.axis(margin, w-2*margin, scale), ys.axis(margin, h-2*margin, scale)
	v.lines = v.lines[:0]
	for i := range outlines {
		var pts []draw.Point
		for _, p := range outlines[i].Points {
			pts = append(pts, draw.Pt(x.At(p[0]), h-y.At(p[1])))
		}
		v.lines = append(v.lines, pts)
	}
}

func (v *Outlines) line(o *hull.Outline, i int, chosen bool) {
	d, pts := &v.Drawing, v.lines[i]
	if len(pts) == 0 {
		return
	}
	role, pen := draw.Ink, framePen
	if o.Mark != "" {
		role, pen = draw.BandInk, markPens[o.Mark]
	}
	if o.Mark == Unused {
		role = draw.Faint
	}
	if chosen {
		role, pen.Width = draw.Chosen, pen.Width+1.6
	}
	d.Line(role, pen, pts...)
	if len(pts) == 1 {
		d.Mark(pts[0], draw.Ring, 6, role)
	}
	if !chosen {
		return
	}
	for _, c := range o.Corners {
		d.Mark(pts[c], draw.Diamond, 7, draw.Chosen)
	}
	if !o.Closed {
		d.Mark(pts[0], draw.Disc, 6, draw.Chosen)
		d.Mark(pts[len(pts)-1], draw.Disc, 6, draw.Chosen)
	}
}

// At gives the outline nearest to a point, or -1 where none is near.
func (v *Outlines) At(p draw.Point) int {
	best, least := -1, 3*lineReach
	for i, pts := range v.lines {
		if d := toLine(p, pts); d < least {
			best, least = i, d
		}
	}
	return best
}
