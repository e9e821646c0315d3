package views

import (
	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/loft"
)

// Curves is the frames of a surface as points from the upper to the lower
// limit, mm.
type Curves [][]mgl64.Vec3

// curvePoints is how many points represent a frame in a drawing.
const curvePoints = 33

// CurvesOf samples the frames of a surface at equal steps of girth.
func CurvesOf(l *loft.Layer) Curves {
	out := make(Curves, len(l.Girths))
	for f, g := range l.Girths {
		out[f] = make([]mgl64.Vec3, curvePoints)
		for i := range out[f] {
			out[f][i] = l.Surface.AtDown(f, g*float64(i)/(curvePoints-1))
		}
	}
	return out
}

// WholeCurves samples the frames of a hull from end to end, beyond the limits as
// well.
func WholeCurves(o *loft.Outlines, frames int) Curves {
	out := make(Curves, frames)
	for f := range out {
		out[f] = make([]mgl64.Vec3, curvePoints)
		for i := range out[f] {
			out[f][i] = o.At(f, o.Girth(f)*float64(i)/(curvePoints-1))
		}
	}
	return out
}
