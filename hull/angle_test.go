package hull

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestAngle(t *testing.T) {
	assert.InDelta(t, math.Pi/3, float64(Degrees(60)), 1e-15)
	assert.InDelta(t, -30, Angle(-math.Pi/6).Degrees(), 1e-13)
}

func TestCurvature(t *testing.T) {
	r, ok := Curvature(-0.01).Radius()
	assert.True(t, ok)
	assert.InDelta(t, 100, r, 1e-12)
	assert.InDelta(t, -10, Curvature(-0.01).PerMetre(), 1e-12)
	for _, flat := range []Curvature{0, 1e-7, Curvature(math.NaN())} {
		_, ok := flat.Radius()
		assert.False(t, ok)
	}
}
