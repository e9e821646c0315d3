package loft

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// farthestOff is the greatest distance of the loft of frames from a hull, mm.
func farthestOff(t *testing.T, e *bodies.Exact, frames []hull.Frame) float64 {
	s, err := Loft(frames)
	require.NoError(t, err)
	worst := 0.0
	for i := range 241 {
		for k := range 41 {
			worst = max(worst, e.Off(s.At(s.u[len(s.u)-1]*float64(i)/240, float64(k)/40).P))
		}
	}
	return worst
}

// TestLoftOfUnevenFrames: the same number of frames, set closer towards the ends as
// builders set them, should be and are lofted closer to exact hulls than even ones. The
// comment on each line gives the figures with the square root of the chord as the
// parameter, which was used before: the chord costs a transom of five frames a
// twentieth, and is as good or better everywhere else.
func TestLoftOfUnevenFrames(t *testing.T) {
	type most struct{ even, uneven, wild, five float64 } // mm, of 360 mm
	limits := map[string]most{
		"wigley":   {0.017, 0.004, 0.052, 0.053}, // 0.016, 0.033, 0.279, 0.053
		"elliptic": {0.005, 0.001, 0.018, 0.104}, // 0.005, 0.037, 0.310, 0.106
		"cone":     {2e-4, 2e-4, 2e-4, 2e-4},     // the same
		"transom":  {0.021, 0.007, 0.091, 1.08},  // 0.020, 0.096, 0.609, 1.027
	}
	for _, e := range bodies.Exacts() {
		is := most{}
		for _, c := range []struct {
			at *float64
			xs []float64
		}{{&is.even, bodies.EvenStations}, {&is.uneven, bodies.UnevenStations}, {&is.wild, bodies.WildStations}, {&is.five, bodies.FiveStations}} {
			*c.at = farthestOff(t, &e, e.Frames(c.xs, 21))
		}
		t.Logf("%-9s even %.4f, uneven %.4f, wild %.4f, five %.4f mm", e.Name, is.even, is.uneven, is.wild, is.five)
		m := limits[e.Name]
		assert.Less(t, is.even, m.even, e.Name)
		assert.Less(t, is.uneven, m.uneven, e.Name)
		assert.Less(t, is.wild, m.wild, e.Name)
		assert.Less(t, is.five, m.five, e.Name)
		assert.LessOrEqual(t, is.uneven, is.even+1e-6, "%s: uneven frames are lofted as even ones are", e.Name)
	}
}
