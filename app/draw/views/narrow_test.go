package views

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/app/draw"
)

// In a narrow or low view no text overlaps other text: names of frames and
// numbers of a scale for which there is no room are left out.
func TestLettersDoNotRunIntoEachOther(t *testing.T) {
	k := wigley(t)
	frames := k.Plan.Hull.Frames
	frames[0].Name, frames[len(frames)-1].Name = "stem", "stern"
	var curves Curves
	for f := range frames {
		x := frames[f].X()
		curves = append(curves, []mgl64.Vec3{{x, 0, 0}, {x, 10, -40}})
	}
	for _, chosen := range []int{-1, 1, 3} {
		for scale := 0.1; scale < 2; scale *= 1.1 {
			v := Profile{X: Axis{From: frames[0].X() - 20, Scale: scale}}
			v.Draw(k, curves, Nothing.WithFrame(chosen), 800, 200)
			apart(t, v.Drawing, 13)
		}
	}
	for h := 50.0; h < 200; h += 10 {
		g := Gauge{X: Axis{From: -200, Scale: 1}}
		g.Draw(k, Nothing.WithStrake(0), 600, h)
		var last float64 = -100
		for _, l := range labels(g.Drawing) {
			if l.Align == draw.Right && l.At.X < gaugeEdge {
				assert.GreaterOrEqual(t, math.Abs(l.At.Y-last), labelSize-1.0, "%q at a height of %g", l.Text, h)
				last = l.At.Y
			}
		}
	}
}

// apart checks that labels on a line do not overlap, at about 6.5 a letter.
func apart(t *testing.T, d draw.Drawing, y float64) {
	t.Helper()
	in := labels(d)
	for i, a := range in {
		for _, b := range in[i+1:] {
			if a.At.Y == y && b.At.Y == y {
				assert.Greater(t, math.Abs(a.At.X-b.At.X), 3.25*float64(len(a.Text)+len(b.Text)), "%q and %q", a.Text, b.Text)
			}
		}
	}
}

func labels(d draw.Drawing) (out []draw.Label) {
	for _, i := range d.Items {
		if l, ok := i.(draw.Label); ok {
			out = append(out, l)
		}
	}
	return out
}
