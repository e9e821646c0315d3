package progress

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// TestTogetherIsWhatIsStillToBeCut: of six equal strakes those that are cut alike and
// not yet cut are clamped together, with their twins as long as neither side is
// measured.
func TestTogetherIsWhatIsStillToBeCut(t *testing.T) {
	frames := bodies.Trough(6, 60, func(x float64) [][2]float64 { return bodies.Flat(30 - x/50) })
	together := func(starboard, port []hull.Entry, side hull.Side) ([]string, bool) {
		p := &hull.Plan{Hull: hull.Hull{Frames: frames}, Layers: []hull.Layer{
			{Stock: bodies.FiveByTwo, Edges: hull.Bevelled, Bands: []hull.Band{{Strakes: 6}}},
		}}
		p.Record.Starboard, p.Record.Port = starboard, port
		k, err := loft.Plank(p)
		require.NoError(t, err)
		states, err := BothSides(k, 0, &k.Plan.Record, UsualHabit())
		require.NoError(t, err)
		j, err := Procedure(k, side, "1.04", states[side])
		require.NoError(t, err)
		require.Equal(t, 1, j.Cuts.Count)
		return j.Together()
	}
	ids, both := together(nil, nil, hull.Starboard)
	assert.Equal(t, []string{"1.01", "1.02", "1.03", "1.04", "1.05", "1.06"}, ids)
	assert.True(t, both)

	ids, both = together(glued("1.01"), nil, hull.Starboard)
	assert.Equal(t, []string{"1.02", "1.03", "1.04", "1.05", "1.06"}, ids)
	assert.True(t, both, "their twins are all to be cut")

	_, both = together(glued("1.01"), nil, hull.Port)
	assert.False(t, both, "the twin of 1.01 lies")

	ids, both = together(glued("1.01"), []hull.Entry{leftAt("C", 20)}, hull.Starboard)
	assert.Contains(t, ids, "1.04")
	assert.False(t, both, "the other side is shared afresh")
}

func TestNothingTogetherOfWhatHasNoCuts(t *testing.T) {
	p := bench45(t).Plan.Clone()
	p.Layers[0].Bands[0].Modes = []hull.Mode{hull.Spiled}
	k, err := loft.Plank(p)
	require.NoError(t, err)
	j, err := Procedure(k, hull.Port, "1.01", nil)
	require.NoError(t, err)
	ids, both := j.Together()
	assert.Empty(t, ids)
	assert.False(t, both)
	assert.Nil(t, j.Cuts)
	assert.Equal(t, "Cut it from sheet", byKey(j.Steps)[StepTaper].Name)
}
