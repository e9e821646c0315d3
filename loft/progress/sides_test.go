package progress

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// bothSides is the bench of nine strips with a record on either side.
func bothSides(t *testing.T, star, port []hull.Entry) (*loft.Planking, map[hull.Side][]BandState) {
	t.Helper()
	p := bench45(t).Plan.Clone()
	p.Record.Starboard, p.Record.Port = star, port
	k, err := loft.Plank(p)
	require.NoError(t, err)
	states, err := BothSides(k, 0, &p.Record, UsualHabit())
	require.NoError(t, err)
	return k, states
}

// The garboard and two strakes above it took 15 mm to starboard and 16.2 mm to
// port: the seams there stand higher.
func TestSidesDifferAtKeelAndStem(t *testing.T) {
	low := func() []hull.Entry { return glued("1.09", "1.08", "1.07") }
	k, states := bothSides(t, append(low(), measuredAll(30)...), append(low(), measuredAll(28.8)...))
	all := CompareSides(k, states, 0.5)
	require.NotEmpty(t, all)
	where := map[Meet]int{}
	for _, d := range all {
		where[d.Where]++
		assert.Less(t, d.By(), 0., "higher to port")
	}
	assert.Equal(t, 3, where[atStem], "each seam that lies")
	assert.Equal(t, 5, where[atKeel], "the garboard's upper edge at the other frames")
	assert.Zero(t, where[atBand])
	byID := map[string]SideDifference{}
	for _, d := range all {
		if d.Frame == 0 {
			byID[d.Below] = d
		}
	}
	assert.InDelta(t, -1.2, byID["1.06"].By(), 0.1, "all that three strakes differ by")
	assert.True(t, byID["1.06"].Over)
	assert.InDelta(t, -0.4, byID["1.08"].By(), 0.1)
	for _, d := range CompareSides(k, states, 5) {
		assert.False(t, d.Over)
	}
}

func TestSidesThatAreAlikeAndSidesNotYetLaid(t *testing.T) {
	k, states := bothSides(t, glued("1.01", "1.02"), glued("1.01", "1.02"))
	all := CompareSides(k, states, 0)
	require.NotEmpty(t, all)
	for _, d := range all {
		assert.InDelta(t, 0, d.By(), 1e-9)
		assert.False(t, d.Over)
	}
	k, states = bothSides(t, glued("1.01", "1.02"), nil)
	assert.Empty(t, CompareSides(k, states, 0))
	k, states = bothSides(t, glued("1.02"), glued("1.02"))
	assert.Empty(t, CompareSides(k, states, 0), "a strake that lies alone makes no line yet")
}
