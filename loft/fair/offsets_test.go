package fair

import (
	"context"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source"
	"github.com/strakewright/strakewright/loft"
)

// eighth is an eighth of an inch at 1:48, mm: the unit of the table below.
const eighth = 25.4 / 8 / 48

// wigleyOffsets is the table of offsets of Wigley's hull (C. Wigley, Trans. INA 76,
// 1934), 100 feet long, in eighths of an inch, read at 1:48.
func wigleyOffsets(t *testing.T) *hull.Hull {
	file, err := os.Open("../../testdata/hull/wigley-offsets.csv")
	require.NoError(t, err)
	defer file.Close()
	h, err := source.ReadOffsets(file, "wigley-offsets.csv")
	require.NoError(t, err)
	require.InDelta(t, eighth/2, h.Rounding, 1e-12)
	return h
}

// offWigley is how far the surface lofted through frames lies off that hull, at places
// much closer together than stations and waterlines: the greatest, the root mean
// square, and the share of places over half an eighth.
func offWigley(t *testing.T, frames []hull.Frame) (worst, rms, over float64) {
	s, err := loft.Loft(frames)
	require.NoError(t, err)
	const beam, along, down = 3048. / 48, 799, 250
	for i := range along + 1 {
		for j := range down + 1 {
			p := s.At(s.U(0)+(s.U(s.Frames()-1)-s.U(0))*float64(i)/along, float64(j)/down).P
			x, z := 2*(p.X()-5*beam)/(10*beam), p.Z()/(0.625*beam)-1
			y := beam / 2 * (1 - x*x) * (1 - z*z)
			// The slope of the hull there turns a difference in y into a distance.
			yx, yz := -2*x*(1-z*z)/10, -(1-x*x)*z/0.625
			off := math.Abs(y-p.Y()) / math.Sqrt(1+yx*yx+yz*yz)
			worst, rms = max(worst, off), rms+off*off
			if off > eighth/2 {
				over++
			}
		}
	}
	const n = (along + 1) * (down + 1)
	return worst, math.Sqrt(rms / n), over / n
}

// The surface lofted through a table of offsets rounded to eighths of an inch lies
// everywhere within one eighth of the hull that the table describes, and within half of
// one, the rounding of the table, except for one place in 30.
//
// The loft itself is not the cause: through the exact values at the same points it is
// within 0.0031 mm. Where neighbouring points are off by up to half an eighth to
// opposite sides, a smooth surface through them swings out farther than any of them: by
// up to 0.0476 mm, 1.4 times the 0.0331 mm of half an eighth, next to the keel and the
// sheer.
func TestLoftOfRoundedOffsets(t *testing.T) {
	worst, rms, over := offWigley(t, wigleyOffsets(t).Frames)
	t.Logf("off the hull by %.4f mm at most, %.4f mm as a root of mean squares, over half an eighth at %.2f %% of the places; half an eighth is %.4f mm", worst, rms, 100*over, eighth/2)
	assert.Less(t, worst, 0.75*eighth)
	assert.Less(t, rms, eighth/4)
	assert.Less(t, over, 1./30)
}

// Faired within the rounding, as a loftsman fairs a table, the surface lies within half
// an eighth of the hull except for one place in 1000, and there within 0.6 of an
// eighth: on the last station, which is held as it was read. These values allow no
// better: where the hull is flat, as amidships, many neighbours are rounded to the same
// side, and points that are off by half an eighth with all their neighbours are as fair
// as the hull. Neither freeing the end stations, nor the sheer, nor other stiffness
// brought the worst place below 0.0354 mm.
func TestLoftOfFairedOffsets(t *testing.T) {
	h := wigleyOffsets(t)
	f, err := Fair(context.Background(), h.Frames, h.Rounding)
	require.NoError(t, err)
	checkFaired(t, h.Frames, f, h.Rounding)
	_, asRead, _ := offWigley(t, h.Frames)
	worst, rms, over := offWigley(t, f.Frames)
	t.Logf("off the hull by %.4f mm at most, %.4f mm as a root of mean squares, over half an eighth at %.3f %% of the places", worst, rms, 100*over)
	assert.Less(t, worst, 0.6*eighth)
	assert.Less(t, over, 1e-3)
	assert.Less(t, rms, asRead)
}
