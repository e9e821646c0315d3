package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestDrawnChine: in each frame two curves meet at 15 degrees, on one half or on
// both, and the chine is kept where they meet. Drawn smooth, or with a corner in one
// frame only, there is none.
func TestDrawnChine(t *testing.T) {
	// A frame is an arc of 60 mm radius from upright down to the chine, then another
	// arc that turns off from it by the given degrees.
	half := func(i int, degrees, side float64) string {
		const r = 60.0
		at := func(p [2]float64) string { return fmt.Sprintf("%.5f %.5f", 70+side*p[0], p[1]) }
		first := 0.35 + 0.02*float64(i) // the turn of the upper arc, rad
		sheer := [2]float64{50 - float64(i*i)/4, 10}
		chine := [2]float64{sheer[0] - r*(1-math.Cos(first)), sheer[1] + r*math.Sin(first)}
		from := first + degrees*math.Pi/180
		foot := [2]float64{chine[0] - r*(math.Cos(from)-math.Cos(from+0.5)), chine[1] + r*(math.Sin(from+0.5)-math.Sin(from))}
		sweep := 0
		if side > 0 {
			sweep = 1
		}
		return fmt.Sprintf("M%sA60 60 0 0 %d %sA60 60 0 0 %d %s", at(sheer), sweep, at(chine), sweep, at(foot))
	}
	drawn := func(degrees func(i int) float64, sides ...float64) string {
		var b strings.Builder
		b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="140mm" height="80mm" viewBox="0 0 140 80"><path id="centre" d="M70 0V80"/>`)
		for i := range 7 {
			for _, side := range sides {
				fmt.Fprintf(&b, `<path id="F%d-x-%d" d="%s"/>`, i, 40*i, half(i, degrees(i), side))
			}
		}
		return b.String() + "</svg>"
	}
	all := func(int) float64 { return 15 }
	for _, sides := range [][]float64{{1}, {-1}, {1, -1}} {
		d, found := Check(strings.NewReader(drawn(all, sides...)), "body.svg", Options{})
		require.Empty(t, found)
		assert.Contains(t, strings.Join(d.Notes, "\n"), "Corners of 15 degrees are in line from frame F0 to frame F6 and stay sharp, as a chine.")
		for i, f := range d.Hull.Frames {
			require.Len(t, f.Knuckles, 1, "frame %s, sides %v", f.Name, sides)
			first := 0.35 + 0.02*float64(i)
			assert.InDelta(t, 50-float64(i*i)/4-60*(1-math.Cos(first)), f.Points[f.Knuckles[0]].Y(), 1e-4, "frame %s: the drawing's figures have five places", f.Name)
		}
	}
	for name, degrees := range map[string]func(i int) float64{
		"smooth":   func(int) float64 { return 0 },
		"one slip": func(i int) float64 { return map[int]float64{3: 15}[i] },
	} {
		d, found := Check(strings.NewReader(drawn(degrees, 1)), "body.svg", Options{})
		require.Empty(t, found, name)
		for _, f := range d.Hull.Frames {
			assert.Empty(t, f.Knuckles, "%s: frame %s", name, f.Name)
		}
	}
}
