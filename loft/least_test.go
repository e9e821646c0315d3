package loft

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// TestInfluencesAddUp: the course of a cubic is the sum of the influences of its knots,
// though each is cut off where it is faint.
func TestInfluencesAddUp(t *testing.T) {
	s, err := Loft(bodies.Wigley(1600, 120, 9))
	require.NoError(t, err)
	knots, _ := s.halfBays(newCourse(len(s.stations)))
	r := rand.New(rand.NewPCG(7, 8))
	v := make([]float64, len(knots))
	for i := range v {
		v[i] = r.Float64()
	}
	whole, sum := s.supple(knots, v), newCourse(len(s.stations))
	reached := 0
	for k, f := range s.easeInfluences() {
		reached = max(reached, len(f.v))
		for i := range f.v {
			sum.v[f.first+i] += v[k] * f.v[i]
			sum.v1[f.first+i] += v[k] * f.v1[i]
			sum.v2[f.first+i] += v[k] * f.v2[i]
		}
	}
	assert.InDeltaSlice(t, whole.v, sum.v, 1e-11)
	assert.InDeltaSlice(t, whole.v1, sum.v1, 1e-11)
	assert.InDeltaSlice(t, whole.v2, sum.v2, 1e-11)
	assert.Less(t, reached, 130, "a knot is felt by a bounded number of stations: of 477 here")
}
