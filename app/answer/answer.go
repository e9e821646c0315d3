// Package answer says what follows from a plan, as a text for the builder and as
// JSON for other programs: one type for the answer of each shell command, whose
// keys are the published ones. The same answers fill the window's table and the exported
// one, so that no two places can tell different numbers.
//
//	k, err := loft.Plank(plan)
//	a := answer.StrakesOf(k)
//	err = answer.WriteJSON(os.Stdout, a) // or a.Text(os.Stdout)
//
// Lengths are in mm and angles in degrees, but where a key names another unit.
// Numbers are rounded to six decimals, which is below what any of them means,
// so that 4.6 is not told as 4.6000000000000005; those of a Lie are whole,
// because it is checked against exact curves.
package answer

import (
	"encoding/json"
	"io"
	"math"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/visible"
	"github.com/strakewright/strakewright/loft"
)

// Answer is what a command gives: JSON by its keys, or text for reading.
type Answer interface {
	Text(w io.Writer) error
}

// WriteJSON writes an answer as one indented JSON object with a final newline.
func WriteJSON(w io.Writer, a Answer) error {
	e := json.NewEncoder(visible.JSON(w))
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(a)
}

// tidy rounds to six decimals; it never gives a negative zero.
func tidy(x float64) float64 { return math.Round(x*1e6)/1e6 + 0 }

// tidyAll rounds every number of a copy, which is never nil.
func tidyAll(xs []float64) []float64 {
	out := make([]float64, len(xs))
	for i, x := range xs {
		out[i] = tidy(x)
	}
	return out
}

// degrees is an angle in rounded degrees.
func degrees(a hull.Angle) float64 { return tidy(a.Degrees()) }

// radius is a bend radius in rounded mm, nil where flat.
func radius(mm float64, bent bool) *float64 {
	if !bent {
		return nil
	}
	mm = tidy(mm)
	return &mm
}

// layerKey is the number told of a layer: 0, which leaves the key out, where
// the planking has only one.
func layerKey(k *loft.Planking, l *loft.Layer) int {
	if len(k.Layers) < 2 {
		return 0
	}
	return l.Number
}

// edgeSetMax is the greatest edge-set along a line, without its sign.
func edgeSetMax(l *loft.Line) hull.Curvature {
	most := hull.Curvature(0)
	for _, e := range l.EdgeSet {
		most = max(most, e, -e)
	}
	return most
}
