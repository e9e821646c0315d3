package loft

import (
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
)

// TestASurfaceThatTurnsBackBetweenKnots: a surface that runs on at two knots and backwards
// between them folds, be it ever so short a way. Its pace is 1 − 4a·t(1 − t) from one knot
// to the next, a at the most off it half way, and (t − 1)³ + b where it turns only beyond.
func TestASurfaceThatTurnsBackBetweenKnots(t *testing.T) {
	for _, c := range []struct {
		pace [4]float64
		runs bool
	}{
		{[4]float64{1, -4 * 1.001, 4 * 1.001, 0}, false},
		{[4]float64{1, -4 * 0.999, 4 * 0.999, 0}, true},
		{[4]float64{1, -4, 4, 0}, false}, // it stands still there
		{[4]float64{-1 + 1.01, 3, -3, 1}, true},
		{[4]float64{0, 3, -3, 1}, false},
		{[4]float64{1, 0, 0, 0}, true},
	} {
		var r rows
		for b := range r.pu {
			r.pu[b] = mgl64.Vec3{c.pace[b], 7, 7}
		}
		k := column{rows: [][]rows{{r}}}
		assert.Equal(t, c.runs, k.advances(0, 0, []float64{0, 1}, mgl64.Vec3{1}), "%v", c.pace)
		assert.Equal(t, c.pace[0]+c.pace[1]+c.pace[2]+c.pace[3] > 0, k.advances(0, 1, []float64{0, 1}, mgl64.Vec3{1}), "%v at its end", c.pace)
	}
}
