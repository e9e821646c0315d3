package views

import (
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// How strakes are made is shown by hatching: none for those sprung from a
// strip, one direction for those cut from sheet, and both directions for those
// carved.
const (
	hatchEvery = 9.0 // distance between strokes
	hatchLeast = 3.0 // a stroke on a narrower strake shows nothing

	legendLeft = 70.0  // where the legend begins, after the name of the end
	titleHalf  = 150.0 // of the words below the expanded planking
)

// hatchModes hatches every strake that is not sprung.
func (v *Profile) hatchModes() {
	for n, st := range v.layer.Strakes {
		if st.Making.Mode != hull.Spiled && st.Making.Mode != hull.Block {
			continue
		}
		upper, lower := v.edges(n)
		hatch(&v.Drawing, upper, lower, false)
		if st.Making.Mode == hull.Block {
			hatch(&v.Drawing, upper, lower, true)
		}
	}
}

// hatch draws strokes across a strake, from its upper edge to its lower, slanted
// forwards or back by as much as the strake is wide.
func hatch(d *draw.Drawing, upper, lower []draw.Point, back bool) {
	last := 0.0
	for i, u := range upper {
		if i > 0 && absolute(u.X-last) < hatchEvery {
			continue
		}
		last = u.X
		wide := lower[i].Y - u.Y
		if wide < hatchLeast {
			continue
		}
		to := u.X + wide
		if back {
			to = u.X - wide
		}
		if foot, ok := atX(lower, i, to); ok {
			d.Line(draw.Faint, hatchPen, u, foot)
		}
	}
}

// atX gives the point of a line at x, searched for from its i-th point in both
// directions; ok is false beyond its ends.
func atX(line []draw.Point, i int, x float64) (draw.Point, bool) {
	for by := range line {
		for _, k := range [2]int{i + by, i - by - 1} {
			if k < 0 || k+1 >= len(line) {
				continue
			}
			a, b := line[k], line[k+1]
			if span := b.X - a.X; span != 0 && (x-a.X)*(x-b.X) <= 0 {
				return draw.Pt(x, a.Y+(b.Y-a.Y)*(x-a.X)/span), true
			}
		}
	}
	return draw.Point{}, false
}

func absolute(x float64) float64 { return max(x, -x) }

// modeLegend says what the hatching means, from x on at a baseline, if there is
// any hatching and the legend fits up to x+width.
func modeLegend(d *draw.Drawing, l *loft.Layer, x, y, width float64) {
	const swatch, height, gap, letter = 20.0, 9.0, 5.0, 6.0
	made := map[hull.Mode]bool{}
	for _, st := range l.Strakes {
		made[st.Making.Mode] = st.To > st.From || made[st.Making.Mode]
	}
	if !made[hull.Spiled] && !made[hull.Block] {
		return
	}
	for _, m := range []struct {
		mode hull.Mode
		says string
	}{{hull.Sprung, tongue.T("sprung")}, {hull.Spiled, tongue.T("cut from sheet")}, {hull.Block, tongue.T("carved")}} {
		if !made[m.mode] {
			continue
		}
		long := swatch + gap + letter*float64(len(m.says))
		if width -= long + 2*gap; width < 0 {
			return
		}
		upper, lower := swatchEdge(x, y-height, swatch), swatchEdge(x, y, swatch)
		if m.mode != hull.Sprung {
			hatch(d, upper, lower, false)
		}
		if m.mode == hull.Block {
			hatch(d, upper, lower, true)
		}
		d.Line(draw.Seam, seamPen, upper[0], upper[len(upper)-1], lower[len(lower)-1], lower[0], upper[0])
		d.Text(draw.Pt(x+swatch+gap, y), m.says, draw.Faint, labelSize, draw.Left)
		x += long + 2*gap
	}
}

// swatchEdge is a level line of the given length.
func swatchEdge(x, y, long float64) []draw.Point {
	var out []draw.Point
	for at := 0.0; at <= long; at++ {
		out = append(out, draw.Pt(x+at, y))
	}
	return out
}
