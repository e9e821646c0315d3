package views

import (
	"math"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/loft"
)

// BenchWidths are the widths of the chosen strake that the bench record calls
// for, in place of the plan's.
type BenchWidths struct {
	On    []loft.Crossing // at every frame of the hull
	Where string          // of which side, in words
}

// benchPen is for widths planned again: dashed, with squares at the frames, so
// that colour is not the only difference.
var benchPen = draw.Pen{Width: 2, Dash: []float64{3, 3}}

// within widens a span to hold the bench's widths as well.
func (b *BenchWidths) within(s span) span {
	for _, c := range b.On {
		if c.Laid {
			s = s.with(c.WidthCut - 0.05).with(c.WidthCut + 0.05)
		}
	}
	return s
}

// bench draws the widths planned again beside those of the plan, with their
// numbers on the far side of the plan's curve where there is room.
func (v *Gauge) bench(l *loft.Layer, s *loft.Strake, t track) {
	pts := make([]draw.Point, 0, len(s.At))
	for f, c := range v.Bench.On {
		if f < len(s.At) {
			pts = append(pts, v.knot(l, s, f, c.Laid, t.at(c.WidthCut)))
		}
	}
	v.Drawing.Line(draw.Chosen, benchPen, pts...)
	last := math.Inf(-1)
	for f, p := range pts {
		if math.IsNaN(p.Y) {
			continue
		}
		v.Drawing.Mark(p, draw.Square, 5, draw.Chosen)
		if p.X-last < 36 {
			continue
		}
		last = p.X
		w := v.Bench.On[f].WidthCut
		text := v.Units.Number(w)
		y := p.Y + 15
		switch {
		case w > s.At[f].WidthCut+0.02 && p.Y-7 > t.top+8:
			y = p.Y - 7
		case y > t.bottom+2: // no room below it
			v.Drawing.Text(draw.Pt(p.X-6, p.Y+3), text, draw.Ink, labelSize-1, draw.Right)
			continue
		}
		v.Drawing.Text(draw.Pt(p.X, y), text, draw.Ink, labelSize-1, draw.Centre)
	}
}
