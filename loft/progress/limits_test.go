package progress

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// TestBenchWithinLimits: a band has no girth where nothing is planked, and a
// measurement there is queried, not believed.
func TestBenchWithinLimits(t *testing.T) {
	h := bodies.ConeHull()
	h.Limits.From, h.Limits.To = "F2", "F5"
	p := hull.NewPlan("", h)
	p.Record.Starboard = []hull.Entry{
		{EntryKind: hull.Glued, Layer: 1, Strake: "1.01"},
		{EntryKind: hull.LeftOver, Layer: 1, Band: 1, Frame: "F6", MM: 100},
	}
	k, err := loft.Plank(p)
	require.NoError(t, err)
	b := k.Layers[0].Bands[0]
	assert.Equal(t, []float64{0, 0}, b.Girths[:2])
	assert.Equal(t, []int{0, 0}, b.Laid[6:])
	states, err := BothSides(k, 0, &p.Record, UsualHabit())
	require.NoError(t, err)
	state := states[hull.Starboard][0]
	assert.False(t, state.Measured)
	require.Len(t, state.Queries, 1)
	assert.Equal(t, NotPlanked, state.Queries[0].Doubt)
	assert.Equal(t, "F6", state.Queries[0].Frame)
	options, err := Options(t.Context(), k, hull.Starboard, 0, 0, UsualHabit())
	require.NoError(t, err)
	assert.NotEmpty(t, options)
}
