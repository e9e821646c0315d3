package curve

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// TestFrameWithin: a part of a frame is the same curve, with its knuckles.
func TestFrameWithin(t *testing.T) {
	f := bodies.Boxy(3)[0]
	whole, err := NewOutline(f)
	require.NoError(t, err)
	for _, c := range []struct {
		down, up float64
		turns    int
	}{{0, 0, 1}, {13, 11, 1}, {0, 30, 1}, {39.9, 0, 1}, {40, 0, 0}, {41, 5, 0}, {0, 38, 0}, {20, 18, 1}, {5, 70, 0}} {
		part, err := whole.Within(c.down, c.up)
		require.NoError(t, err, "%+v", c)
		assert.Len(t, part.Turns, c.turns, "%+v", c)
		assert.InDelta(t, whole.Total()-c.down-c.up, part.Total(), 1e-9)
		for g := 0.0; g <= part.Total(); g += 0.37 {
			assert.InDelta(t, 0, whole.AtGirth(c.down+g).Sub(part.AtGirth(g)).Len(), 1e-7, "%+v at %g", c, g)
		}
	}
	_, err = whole.Within(50, 28)
	assert.ErrorContains(t, err, "leave nothing of its girth of 78.00 mm")
}
