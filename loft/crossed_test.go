package loft

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// TestCrossedLinesAreTold: a line drawn above the one over it cannot be laid so; where
// and how far it is moved is reported, and nothing is reported where no line is moved.
func TestCrossedLinesAreTold(t *testing.T) {
	p := oneLayer(bodies.Wigley(800, 13, 11), hull.Stock{Width: 4, Thickness: 1.5, Length: 1000}, 3)
	l := plankOne(t, p)
	assert.Empty(t, crossingsOf(l))
	for _, b := range l.Lines {
		assert.Empty(t, b.Moved)
	}

	lines := p.Layers[0].Lines
	for i := 4; i <= 8; i++ {
		lines[1].Handles[i].Down = lines[0].Handles[i].Down - 3
	}
	l = plankOne(t, p)
	found := crossingsOf(l)
	require.Len(t, found, 1)
	assert.Equal(t, 2, found[0].Line)
	assert.Subset(t, found[0].Frames, []int{4, 5, 6, 7, 8})
	assert.InDelta(t, 5, found[0].By, 0.05, "3 mm above, and half a strip of 4 mm below")
	at := map[int]bool{}
	for _, m := range l.Lines[2].Moved {
		at[m.Frame] = m.Crossed
	}
	for i := 4; i <= 8; i++ {
		assert.True(t, at[i], "frame %d", i)
	}
	assert.NotContains(t, at, 0)
}

// TestCrowdedLinesAreTold: a line less than half a strip below another is moved down to
// half a strip; this is no fault in the plan, but it is reported.
func TestCrowdedLinesAreTold(t *testing.T) {
	p := oneLayer(bodies.Wigley(800, 13, 11), hull.Stock{Width: 4, Thickness: 1.5, Length: 1000}, 3)
	lines := p.Layers[0].Lines
	for i := range lines[1].Handles {
		lines[1].Handles[i].Down = lines[0].Handles[i].Down + 0.5
	}
	l := plankOne(t, p)
	assert.Empty(t, crossingsOf(l))
	require.IsType(t, TooClose{}, l.Notes[0])
	close := l.Notes[0].(TooClose)
	assert.Equal(t, 2, close.Line)
	assert.InDelta(t, 1.5, close.By, 0.05)
}

// crossingsOf are the lines of a layer that cross.
func crossingsOf(l *Layer) (out []LinesCross) {
	for _, n := range l.Notes {
		if c, ok := n.(LinesCross); ok {
			out = append(out, c)
		}
	}
	return out
}
