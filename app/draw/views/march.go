package views

import (
	"fmt"
	"math"
	"strconv"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// The pens of strips laid one against another: thin where they lie unforced or
// nearly so, heavy where they are forced.
var (
	easyPen   = draw.Pen{Width: 1}
	forcedPen = draw.Pen{Width: 2.2}
)

// drawMarch draws the middle of every strip laid in this way, and a sign where
// the first forced strip of a band is strained most.
func (v *Profile) drawMarch(l *loft.Layer, w, h float64) {
	if v.March == nil {
		return
	}
	d := &v.Drawing
	rule := l.Rules.EdgeStrain
	d.Text(draw.Pt(w/2, h-6), tongue.T("whole strips marched out: heavy where they are forced, over %.2f %% of strain", 100*rule), draw.Faint, labelSize, draw.Centre)
	for i := range v.March {
		m := &v.March[i]
		for _, s := range m.Strips {
			for _, run := range s.Runs {
				v.drawRun(run, rule)
			}
		}
		if m.Forced < 0 {
			continue
		}
		p := hardest(&m.Strips[m.Forced])
		at := v.Place(p.P)
		shape, outwards := draw.Down, 17.0
		if m.Up {
			shape, outwards = draw.Up, -9
		}
		d.Mark(at, shape, 10, draw.Warning)
		text := tongue.T("strip %d", m.Forced+1)
		half := 3.2 * float64(len(text))
		d.Rect(draw.Paper, draw.Pt(at.X-half, at.Y+outwards-labelSize+1), draw.Pt(at.X+half, at.Y+outwards+3))
		d.Text(draw.Pt(at.X, at.Y+outwards), text, draw.Warning, labelSize, draw.Centre)
	}
}

// drawRun draws a strip's middle in pieces, forced or not.
func (v *Profile) drawRun(run []loft.MarchPoint, rule float64) {
	from := 0
	for i := 1; i <= len(run); i++ {
		forced := run[from].Strain > rule
		if i < len(run) && run[i].Strain > rule == forced {
			continue
		}
		n := len(v.room)
		for _, p := range run[from:min(i+1, len(run))] {
			v.room = append(v.room, v.Place(p.P))
		}
		if forced {
			v.Drawing.Line(draw.GapInk, forcedPen, v.room[n:]...)
		} else {
			v.Drawing.Line(draw.Seam, easyPen, v.room[n:]...)
		}
		from = i
	}
}

// hardest is the point at which a strip is strained most.
func hardest(s *loft.MarchStrip) loft.MarchPoint {
	var out loft.MarchPoint
	for _, run := range s.Runs {
		for _, p := range run {
			if p.Strain >= out.Strain {
				out = p
			}
		}
	}
	return out
}

// MarchPlot shows the strain that builds up from strip to strip, a curve for
// every way into a band, against the plan's rule.
type MarchPlot struct{ Drawing draw.Drawing }

// The margins around the curves, and the most times the rule that the scale
// reaches: all strips far over it mean the same.
const (
	plotLeft   = 40.0
	plotRight  = 26.0
	plotTop    = 22.0
	plotBottom = 30.0
	plotTimes  = 6.0
)

// Draw makes the drawing in a view of w x h.
func (v *MarchPlot) Draw(l *loft.Layer, ways []loft.March, w, h float64) {
	d := &v.Drawing
	d.Reset()
	rule := l.Rules.EdgeStrain
	strips, most := 1, 1.5*rule
	for _, m := range ways {
		strips = max(strips, len(m.Strips))
		for _, s := range m.Strips {
			most = max(most, 1.05*s.Strain)
		}
	}
	most = min(most, plotTimes*rule)
	t := track{top: plotTop, bottom: h - plotBottom, span: span{0, most}}
	x := func(strip int) float64 {
		return plotLeft + (w-plotLeft-plotRight)*float64(strip)/float64(max(strips-1, 1))
	}
	d.Rect(draw.GapSoft, draw.Pt(plotLeft, t.top), draw.Pt(w-plotRight, t.at(rule)))
	d.Line(draw.Faint, hairPen, draw.Pt(plotLeft, t.top), draw.Pt(plotLeft, t.bottom), draw.Pt(w-plotRight, t.bottom))
	d.Line(draw.Warning, stockPen, draw.Pt(plotLeft, t.at(rule)), draw.Pt(w-plotRight, t.at(rule)))
	d.Text(draw.Pt(4, 13), tongue.T("Strain at the strips' edges; ground: forced"), draw.Ink, labelSize, draw.Left)
	for _, y := range []float64{0, rule, most} {
		if y == rule || math.Abs(t.at(y)-t.at(rule)) > labelSize {
			d.Text(draw.Pt(plotLeft-4, t.at(y)+4), fmt.Sprintf("%.2f %%", 100*y), draw.Faint, labelSize-1, draw.Right)
		}
	}
	for n := 0; n < strips; n += strips/8 + 1 {
		d.Text(draw.Pt(x(n), t.bottom+13), strconv.Itoa(n+1), draw.Faint, labelSize-1, draw.Centre)
	}
	d.Text(draw.Pt((plotLeft+w-plotRight)/2, h-4), tongue.T("strip, outwards"), draw.Faint, labelSize-1, draw.Centre)
	for i := range ways {
		v.way(&ways[i], t, x)
	}
}

// way draws one curve, which ends where it leaves the scale. Its marks point in the
// direction of the strips, the first forced one's is larger, and its band's number
// stands at its end.
func (v *MarchPlot) way(m *loft.March, t track, x func(int) float64) {
	d := &v.Drawing
	pen, shape := curvePen, draw.Down
	if m.Up {
		pen, shape = secondPen, draw.Up
	}
	var pts []draw.Point
	for n, s := range m.Strips {
		pts = append(pts, draw.Pt(x(n), t.at(min(s.Strain, t.span.hi))))
		if s.Strain > t.span.hi {
			break
		}
	}
	if len(pts) == 0 {
		return
	}
	d.Line(draw.EdgeSet, pen, pts...)
	for n, p := range pts {
		if n == m.Forced {
			d.Mark(p, shape, 11, draw.Warning)
		} else {
			d.Mark(p, shape, 5, draw.EdgeSet)
		}
	}
	last := pts[len(pts)-1]
	d.Text(draw.Pt(last.X+7, last.Y+4), strconv.Itoa(m.Band), draw.Ink, labelSize, draw.Left)
}
