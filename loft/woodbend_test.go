package loft

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/hull"
)

// Strains at the outer fibre at rupture, by hand from moduli at 12 percent moisture,
// Wood Handbook FPL-GTR-190, tables 5-3 and 5-5, from memory: in lb/in² there, which
// are not the figures in the table of woods; rounded to three figures, hence the
// tolerance of one in a hundred.
func TestDryLimitsOfWoods(t *testing.T) {
	for name, of := range map[string]struct{ rupture, elasticity float64 }{ // lb/in², 10^6 lb/in²
		"balsa":             {3140, 0.49},
		"yellow birch":      {16600, 2.01},
		"paper birch":       {12300, 1.59},
		"sapele":            {15300, 1.82},
		"American basswood": {8700, 1.46},
		"black walnut":      {14600, 1.68},
		"white oak":         {15200, 1.78},
		"afrormosia":        {18400, 1.94},
		"obeche":            {7400, 0.86},
	} {
		b := BendingOf(&hull.Plan{}, name)
		require.Len(t, b.Woods, 1, name)
		assert.InEpsilon(t, of.rupture/(of.elasticity*1e6), b.Dry, 0.012, name)
		assert.Equal(t, OfWood, b.DryFrom, name)
	}
}

// A least radius r of wood 25 mm thick, on its inner face, is a face strain of
// 12.5/(r + 12.5): 430 mm for yellow birch and 330 mm for white oak, bent steamed
// without a strap (Stevens and Turner, Wood Bending Handbook, from memory).
func TestHeatedLimits(t *testing.T) {
	birch, oak := BendingOf(&hull.Plan{}, "yellow birch"), BendingOf(&hull.Plan{}, "white oak")
	assert.InDelta(t, 12.5/442.5, birch.Hot, 5e-5)
	assert.InDelta(t, 12.5/342.5, oak.Hot, 5e-5)
	assert.Equal(t, OfWood, oak.HotFrom)
	balsa := BendingOf(&hull.Plan{}, "balsa")
	assert.InDelta(t, 4*balsa.Dry, balsa.Hot, 1e-12, "as the usual 4 to 1 percent")
	assert.Equal(t, OfRatio, balsa.HotFrom)
}

func TestBendingOf(t *testing.T) {
	usual := BendLimitsOf(hull.NewTrade())
	none := BendingOf(&hull.Plan{}, "hedge plum")
	assert.Equal(t, usual, none.BendLimits)
	assert.Equal(t, OfUsual, none.DryFrom)
	assert.Empty(t, none.Woods)

	both := BendingOf(&hull.Plan{}, "birch")
	assert.Len(t, both.Woods, 2)
	assert.Equal(t, BendingOf(&hull.Plan{}, "paper birch").Dry, both.Dry, "the weaker of the two")
	assert.Equal(t, BendingOf(&hull.Plan{}, "yellow birch").Hot, both.Hot)

	p := &hull.Plan{Trade: hull.NewTrade()}
	p.Trade.BendDry = 0.012
	ruled := BendingOf(p, "balsa")
	assert.Equal(t, 0.012, ruled.Dry)
	assert.Equal(t, OfBuilder, ruled.DryFrom)
	assert.Greater(t, ruled.Soaked, 0.012)

	p = &hull.Plan{Woods: []hull.Wood{{Name: "Balsa", Radial: 3, Tangential: 7}}}
	assert.Equal(t, BendingOf(&hull.Plan{}, "balsa").Dry, BendingOf(p, "balsa").Dry, "the builder's balsa says nothing of bending")
	p.Woods[0].Rupture, p.Woods[0].Stiffness, p.Woods[0].Soaked = 30, 3, 0.03
	own := BendingOf(p, "balsa")
	assert.Equal(t, BendLimits{Dry: 0.01, Soaked: 0.03, Hot: 0.04}, own.BendLimits)
}

// No limit is above the next, whatever the builder sets and whatever the wood is.
func TestLimitsAreInOrder(t *testing.T) {
	woods := hull.UsualWoods()
	rapid.Check(t, func(t *rapid.T) {
		p := &hull.Plan{Trade: hull.NewTrade()}
		strain := rapid.Float64Range(0.0001, 0.2)
		for _, f := range []*float64{&p.Trade.BendDry, &p.Trade.BendSoaked, &p.Trade.BendHot} {
			if rapid.Bool().Draw(t, "own") {
				*f = strain.Draw(t, "strain")
			}
		}
		if p.Trade.Check() != nil {
			t.Skip("refused")
		}
		w := rapid.SampledFrom(woods).Draw(t, "wood")
		b := BendingOf(p, w.Name)
		if b.Dry <= 0 || b.Dry > b.Soaked || b.Soaked > b.Hot {
			t.Fatalf("%s: %+v", w.Name, b.BendLimits)
		}
		if p.Trade.BendSoaked != hull.NewTrade().BendSoaked && b.Soaked != p.Trade.BendSoaked {
			t.Fatalf("the builder's %g became %g", p.Trade.BendSoaked, b.Soaked)
		}
	})
}
