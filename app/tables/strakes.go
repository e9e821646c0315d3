package tables

import (
	"fmt"
	"math"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// strakes is the strake table of a layer on one side: a row a strake and frame.
func strakes(k *loft.Planking, l *loft.Layer, side string) Table {
	t := Table{
		Name:  fmt.Sprintf("strakes-layer-%d-%s", l.Number, side),
		Title: tongue.T("Layer %d %s", l.Number, side),
		Columns: []Column{
			{"side", tongue.T("side"), Text},
			{"strake", tongue.T("strake"), Text},
			{"band", tongue.T("band"), Whole},
			{"number", tongue.T("number"), Whole},
			{"frame", tongue.T("frame"), Text},
			{"x_mm", tongue.T("frame at x, mm"), Length},
			{"upper_mm", tongue.T("upper edge below the limit, mm"), Length},
			{"lower_mm", tongue.T("lower edge below the limit, mm"), Length},
			{"width_frame_mm", tongue.T("width round the frame (arc), mm"), Length},
			{"width_cut_mm", tongue.T("width to cut (arc), mm"), Length},
			{"pitch_mm", tongue.T("a whole strip takes, mm"), Length},
			{"action", tongue.T("action"), Text},
			{"gap_mm", tongue.T("gap, mm"), Length},
			{"bevel_upper_deg", tongue.T("bevel of the upper edge, degrees"), Degrees},
			{"bevel_lower_deg", tongue.T("bevel of the lower edge, degrees"), Degrees},
			{"planed_mm", tongue.T("strip planed to, mm"), Length},
		},
	}
	frames := k.Plan.Hull.Frames
	for _, st := range l.Strakes {
		cuts := l.CutsOf(st, st.At)
		for i, at := range st.At {
			if !at.Laid {
				continue
			}
			var planed any // nothing of a strake that is not of a strip
			if cuts != nil {
				planed = tidy(cuts.WidthAt(st, i))
			}
			c := answer.CrossingOf(frames[i].Name, at)
			t.add(side, st.ID, st.Band, st.Number, c.Frame, tidy(frames[i].X()), c.Upper, tidy(c.Upper+c.WidthFrame),
				c.WidthFrame, c.WidthCut, c.Pitch, c.Action, c.Gap, c.BevelUpper, c.BevelLower, planed)
		}
	}
	return t
}

// riseOver is the length, mm, over which a bevel is also told as a rise.
const riseOver = 10

// bevels is a row a strake and frame with the bevels of both edges: degrees
// off square, and the rise in 10 mm of edge face. Both sides are alike. Of a layer
// with square edges only strakes that are planed at wale or rabbet have rows.
func bevels(k *loft.Planking, s Settings) Table {
	t := Table{Name: "bevels", Title: tongue.T("Bevels"), Columns: []Column{
		{"layer", tongue.T("layer"), Whole},
		{"strake", tongue.T("strake"), Text},
		{"frame", tongue.T("frame"), Text},
		{"bevel_upper_deg", tongue.T("upper edge, degrees"), Degrees},
		{"rise_upper_mm", tongue.T("upper edge, mm in 10 mm"), Length},
		{"bevel_lower_deg", tongue.T("lower edge, degrees"), Degrees},
		{"rise_lower_mm", tongue.T("lower edge, mm in 10 mm"), Length},
	}}
	rise := func(a hull.Angle) float64 { return tidy(riseOver * math.Tan(float64(a))) }
	for _, l := range s.layers(k) {
		for _, st := range l.Strakes {
			if l.SquareEdges() && !st.Planes(true) && !st.Planes(false) {
				continue
			}
			for i, c := range st.At {
				if c.Laid {
					t.add(l.Number, st.ID, k.Plan.Hull.Frames[i].Name,
						tidy(c.BevelUpper.Degrees()), rise(c.BevelUpper), tidy(c.BevelLower.Degrees()), rise(c.BevelLower))
				}
			}
		}
	}
	return t
}

// wedges is a row a wedge or stealer. Both sides are alike.
func wedges(k *loft.Planking, s Settings) Table {
	t := Table{Name: "wedges", Title: tongue.T("Wedges"), Columns: []Column{
		{"layer", tongue.T("layer"), Whole},
		{"below", tongue.T("below strake"), Text},
		{"kind", tongue.T("kind"), Text},
		{"from", tongue.T("opens at frame"), Text},
		{"to", tongue.T("widest at frame"), Text},
		{"length_mm", tongue.T("length, mm"), Length},
		{"width_mm", tongue.T("width at its base, mm"), Length},
	}}
	frames := k.Plan.Hull.Frames
	for _, l := range s.layers(k) {
		for _, g := range l.Wedges {
			t.add(l.Number, g.Below, wedgeKind(g), frames[g.From].Name, frames[g.To].Name, tidy(g.Length), tidy(g.Width))
		}
	}
	return t
}

func wedgeKind(g loft.Wedge) string {
	if g.Stealer {
		return "stealer"
	}
	return "wedge"
}

// drops is a row a drop strake. Both sides are alike.
func drops(k *loft.Planking, s Settings) Table {
	t := Table{Name: "drop-strakes", Title: tongue.T("Drop strakes"), Columns: []Column{
		{"layer", tongue.T("layer"), Whole},
		{"strake", tongue.T("strake that ends"), Text},
		{"into", tongue.T("in strake"), Text},
		{"from", tongue.T("last laid at frame"), Text},
		{"to", tongue.T("gone at frame"), Text},
		{"nib_mm", tongue.T("nib, mm across"), Length},
	}}
	frames := k.Plan.Hull.Frames
	for _, l := range s.layers(k) {
		for _, d := range l.Drops {
			t.add(l.Number, d.Strake, d.Into, frames[d.From].Name, frames[d.To].Name, tidy(d.Nib))
		}
	}
	return t
}

func stockOf(k *loft.Planking, l *loft.Layer) hull.Stock { return k.Plan.Layers[l.Number-1].Stock }

// tidy rounds to a millionth, below what any of the numbers means, so that 4.6
// is not told as 4.6000000000000005.
func tidy(x float64) float64 { return math.Round(x*1e6)/1e6 + 0 }
