package loft

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull/source"
	"github.com/strakewright/strakewright/loft/curve"
)

// bilged is a table of offsets of three identical stations: 10 m half-breadth, 10 m
// deep, with a flat floor and a bilge of radius r, the rabbet in the middle of the
// floor.
func bilged(r float64) string {
	var b strings.Builder
	b.WriteString("offsets\nunit,m\nscale,1:100\nstation,,1,2,3\nx,,0,20,40\nheight,sheer,10,10,10\nhalf-breadth,sheer,10,10,10\n")
	for _, z := range []float64{8, 6, 4, 3, 2, 1, 0.5, 0.25, 0} {
		y := 10.0
		if z < r {
			y = 10 - r + math.Sqrt(r*r-(r-z)*(r-z))
		}
		fmt.Fprintf(&b, "half-breadth,%.4f,%.4f,%.4f,%.4f\n", z, y, y, y)
	}
	b.WriteString("height,rabbet,0,0,0\nhalf-breadth,rabbet,0,0,0\n")
	return b.String()
}

// TestFlatFloorOfOffsets: the half-breadth on the base line, level with the rabbet, is
// where the floor begins; the section keeps its area and its girth to 0.1 %, and the
// floor lies level to 0.2 mm in 100. Without it the area is wrong by up to a seventh.
func TestFlatFloorOfOffsets(t *testing.T) {
	for _, r := range []float64{1, 3, 6} {
		h, err := source.ReadOffsets(strings.NewReader(bilged(r)), "bilged.csv")
		require.NoError(t, err)
		o, err := curve.NewOutline(h.Frames[1])
		require.NoError(t, err)
		const steps = 4000
		mm := 10 * r
		area, before, off := 0.0, o.AtGirth(0), 0.0
		for i := 1; i <= steps; i++ {
			p := o.AtGirth(o.Total() * float64(i) / steps)
			area += (before.Z() - p.Z()) * (before.Y() + p.Y()) / 2
			if before = p; p.Z() < 0 || p.Y() < 100-mm {
				off = max(off, math.Abs(p.Z()))
			}
		}
		assert.InEpsilon(t, 100*100-(1-math.Pi/4)*mm*mm, area, 1e-3, "bilge of %g m", r)
		assert.InEpsilon(t, 200-2*mm+math.Pi/2*mm, o.Total(), 1e-3, "bilge of %g m", r)
		assert.Less(t, off, 0.2, "bilge of %g m", r)
	}
}
