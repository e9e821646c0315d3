package loft

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// roundCylinder is a plan of a cylinder of the given radius that stands on its end, in
// strips of the given thickness and wood: every strake has the face strain t/2R, no
// edge-set and no twist.
func roundCylinder(radius, thickness float64, species string) *hull.Plan {
	frames := standing(bodies.Spaced(-0.6*radius, 0.6*radius, 25), func(x float64) float64 { return math.Sqrt(radius*radius - x*x) })
	p := hull.NewPlan("cylinder", hull.Hull{Frames: frames})
	p.Layers[0].Stock.Thickness, p.Layers[0].Stock.Species = thickness, species
	return p
}

// TestOneBendInThreeWoods: a face strain of 0.75 percent, 1.5 mm round a radius of 100
// mm, exceeds the 0.64 percent at which dry balsa breaks, but not the 0.84 of sapele
// (moduli of the Wood Handbook, as in the table of woods). One of 3 percent exceeds the
// 2.5 that balsa takes hot, but not sapele's 3.4.
func TestOneBendInThreeWoods(t *testing.T) {
	for _, c := range []struct {
		species string
		strain  float64
		want    VerdictKind
		mode    hull.Mode
	}{
		{"balsa", 0.0005, LiesByItself, hull.Sprung},
		{"balsa", 0.0055, SpringsDry, hull.Sprung},
		{"balsa", 0.0075, NeedsSoaking, hull.Sprung},
		{"sapele", 0.0075, SpringsDry, hull.Sprung},
		{"balsa", 0.018, NeedsHeat, hull.Sprung},
		{"sapele", 0.0160, NeedsSoaking, hull.Sprung},
		{"balsa", 0.030, NeedsBlock, hull.Block},
		{"sapele", 0.030, NeedsHeat, hull.Sprung},
		{"hedge plum", 0.0095, SpringsDry, hull.Sprung},
	} {
		k, err := Plank(roundCylinder(100, 200*c.strain, c.species))
		require.NoError(t, err)
		for _, st := range k.Layers[0].Strakes {
			m := st.Making
			assert.Equal(t, c.want, m.Bend.Kind, "%s at %g", c.species, c.strain)
			assert.Equal(t, c.mode, m.Mode)
			assert.InEpsilon(t, c.strain, m.Bend.Figure, 0.01)
			if c.mode == hull.Block {
				assert.Equal(t, ByBend, m.Reason)
				assert.Equal(t, m.Bend, m.Verdict)
				assert.Equal(t, BendingOf(k.Plan, c.species).Hot, m.Limit)
			}
		}
	}
}

// TestTheBuildersModeStands: the builder's mode survives another edit, which reuses
// what has not changed; the verdict is still given beside it, and the earlier planking
// is unchanged.
func TestTheBuildersModeStands(t *testing.T) {
	p := roundCylinder(100, 1.5, "balsa")
	k, err := Plank(p)
	require.NoError(t, err)
	q := p.Clone()
	q.Layers[0].Bands[0].Modes = []hull.Mode{"", hull.Spiled}
	again, err := k.Replank(q)
	require.NoError(t, err)
	m := again.Layers[0].Strakes[1].Making
	assert.Equal(t, hull.Spiled, m.Mode)
	assert.Equal(t, ByChoice, m.Reason)
	assert.Equal(t, NeedsSoaking, m.Verdict.Kind)
	assert.Equal(t, hull.Sprung, again.Layers[0].Strakes[0].Making.Mode)
	assert.Equal(t, hull.Sprung, k.Layers[0].Strakes[1].Making.Mode)
}

func TestHarder(t *testing.T) {
	assert.True(t, Verdict{Kind: NeedsBlock}.Harder(Verdict{Kind: NeedsSheet}))
	assert.True(t, Verdict{Kind: SpringsDry, Figure: 2, Limit: 3}.Harder(Verdict{Kind: SpringsDry, Figure: 3, Limit: 6}))
	assert.True(t, Verdict{Kind: LiesByItself}.Harder(Verdict{}), "a known verdict is harder than an unknown one")
}
