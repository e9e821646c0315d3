package views

import "github.com/strakewright/strakewright/app/draw"

// The pens. A chosen line is thick; a band line is heavier than a seam and
// dashed by its type, so that colour is never the only difference.
var (
	hairPen   = draw.Pen{Width: 0.8}
	framePen  = draw.Pen{Width: 1}
	beyondPen = draw.Pen{Width: 1, Dash: []float64{3, 3}} // what is not planked
	seamPen   = draw.Pen{Width: 1}
	limitPen  = draw.Pen{Width: 1.8}
	drawnPen  = draw.Pen{Width: 1.8}
	freePen   = draw.Pen{Width: 1.8, Dash: []float64{10, 4}}
	leastPen  = draw.Pen{Width: 1.8, Dash: []float64{10, 3, 2, 3}}
	stockPen  = draw.Pen{Width: 1.4, Dash: []float64{6, 3}}
	curvePen  = draw.Pen{Width: 2}
	secondPen = draw.Pen{Width: 1.6, Dash: []float64{4, 3}}
	hatchPen  = draw.Pen{Width: 0.7}
	stripPen  = draw.Pen{Width: 1.3, Dash: []float64{5, 3}}
	dotPen    = draw.Pen{Width: 1.2, Dash: []float64{1.5, 3}}
)

// labelSize is the height of lettering in view pixels.
const labelSize = 11.0

func heavier(p draw.Pen) draw.Pen {
	p.Width += 1
	return p
}
