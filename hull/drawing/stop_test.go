package drawing

import (
	"context"
	"fmt"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ending is a context that ends at one of the checks on it; at none where that
// is 0.
type ending struct {
	context.Context
	looks, at int
}

func (c *ending) Err() error {
	if c.looks++; c.at > 0 && c.looks >= c.at {
		return context.Canceled
	}
	return nil
}

// TestReadingOutlinesStops: it checks the context at every outline, and again at
// every frame, and does nothing more with the drawing after a check that finds it
// ended.
func TestReadingOutlinesStops(t *testing.T) {
	const frames = 40
	lines := []Outline{{Mark: CentreMark, Points: []mgl64.Vec2{{0, 0}, {0, 100}}}}
	for i := range frames {
		o := Outline{Frame: fmt.Sprint("F", i), X: 10 * float64(i), Placed: true}
		for k := range 20 {
			o.Points = append(o.Points, mgl64.Vec2{20 - 0.05*float64(k*k), 60 - 3*float64(k)})
		}
		lines = append(lines, o)
	}
	free := &ending{Context: t.Context()}
	d, faults, err := HullOf(free, lines, Options{})
	require.NoError(t, err)
	require.Empty(t, faults)
	require.Len(t, d.Hull.Frames, frames)
	require.GreaterOrEqual(t, free.looks, 3*frames)
	for at := 1; at <= free.looks; at++ {
		c := &ending{Context: t.Context(), at: at}
		_, _, err := HullOf(c, lines, Options{})
		require.ErrorIs(t, err, context.Canceled)
		assert.ErrorContains(t, err, "stopped")
		assert.LessOrEqual(t, c.looks, at+4, "each of the steps in each other looks once as it is left")
	}
}
