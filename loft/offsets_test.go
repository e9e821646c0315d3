package loft

import (
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strakewright/hull"
)

// The surface lofted through a table of offsets rounded to eighths of an inch (at
// 1:48) lies on the hull of which it is the table, Wigley's (C. Wigley, Trans. INA
// 76, 1934), 100 feet long, everywhere to within one eighth.
func TestLoftOfRoundedOffsets(t *testing.T) {
	file, err := os.Open("../testdata/hull/wigley-offsets.csv")
	require.NoError(t, err)
	defer file.Close()
	h, err := hull.ReadOffsets(file, "wigley-offsets.csv")
	require.NoError(t, err)
	s, err := Loft(h.Frames)
	require.NoError(t, err)

	const beam, scale, eighth = 3048. / 48, 1. / 48, 25.4 / 8 / 48
	worst, sum, n := 0.0, 0.0, 0
	for i := range 400 {
		for j := range 101 {
			p := s.At(s.U(0)+(s.U(s.Frames()-1)-s.U(0))*float64(i)/399, float64(j)/100).P
			x, z := 2*(p.X()-5*beam)/(10*beam), p.Z()/(0.625*beam)-1
			y := beam / 2 * (1 - x*x) * (1 - z*z)
			// The slope of the hull there makes a distance of a difference in y.
			yx, yz := -2*x*(1-z*z)/10, -(1-x*x)*z/0.625
			off := math.Abs(y-p.Y()) / math.Sqrt(1+yx*yx+yz*yz)
			worst, sum, n = max(worst, off), sum+off*off, n+1
		}
	}
	assert.Less(t, worst, eighth)
	assert.Less(t, math.Sqrt(sum/float64(n)), eighth/2)
	t.Logf("off the hull by %.4f mm at most, %.4f mm as a root of mean squares; half an eighth is %.4f mm", worst, math.Sqrt(sum/float64(n)), eighth/2)
}
