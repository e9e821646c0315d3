package loft

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strakewright/hull"
	"strakewright/loft/internal/bodies"
)

// TestCrossedLinesAreTold: a line drawn above the one over it cannot be laid so;
// where and by how much it is moved is told, and nothing where none is.
func TestCrossedLinesAreTold(t *testing.T) {
	p := oneLayer(bodies.Wigley(800, 13, 11), hull.Stock{Width: 4, Thickness: 1.5, Length: 1000}, 3)
	l := plankOne(t, p)
	assert.Empty(t, l.Faults())
	for _, b := range l.Lines {
		assert.Empty(t, b.Moved)
	}

	lines := p.Layers[0].Lines
	for i := 4; i <= 8; i++ {
		lines[1].Handles[i].Down = lines[0].Handles[i].Down - 3
	}
	l = plankOne(t, p)
	found := l.Faults()
	require.Len(t, found, 1)
	assert.Contains(t, found[0].What, "layer 1: band lines 1 and 2 cross: at frames ")
	assert.Contains(t, found[0].What, "up to 5.0 mm lower", "3 mm above, and half a strip of 4 mm below")
	assert.Equal(t, "draw line 2 below line 1 there", found[0].Mend)
	assert.Contains(t, l.Notes[0], "Band lines 1 and 2 cross: at frames ")
	at := map[int]bool{}
	for _, m := range l.Lines[2].Moved {
		at[m.Frame] = m.Crossed
	}
	for i := 4; i <= 8; i++ {
		assert.True(t, at[i], "frame %d", i)
	}
	assert.NotContains(t, at, 0)
}

// TestCrowdedLinesAreTold: a line less than half a strip below another is moved
// down to that, which is no fault of the plan but is told.
func TestCrowdedLinesAreTold(t *testing.T) {
	p := oneLayer(bodies.Wigley(800, 13, 11), hull.Stock{Width: 4, Thickness: 1.5, Length: 1000}, 3)
	lines := p.Layers[0].Lines
	for i := range lines[1].Handles {
		lines[1].Handles[i].Down = lines[0].Handles[i].Down + 0.5
	}
	l := plankOne(t, p)
	assert.Empty(t, l.Faults())
	assert.Contains(t, l.Notes[0], "Band line 2 is drawn at frames ")
	assert.Contains(t, l.Notes[0], "it is laid up to 1.5 mm lower")
}

func TestFramesAreCalledByRuns(t *testing.T) {
	l := &Layer{Surface: &Surface{names: []string{"A", "B", "C", "D", "E", "F", "G"}}}
	for want, frames := range map[string][]int{
		"frame B": {1}, "frames A and B": {0, 1}, "frames A to C": {0, 1, 2},
		"frames A to C and E": {0, 1, 2, 4}, "frames A, B, D and G": {0, 1, 3, 6},
	} {
		assert.Equal(t, want, l.framesCalled(frames))
	}
}
