package loft

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// tapering is a body whose ends have a quarter of the greatest girth.
func tapering(bands int) *hull.Plan {
	return oneLayer(bodies.Revolved(bodies.Spaced(-200, 200, 21), 31, func(x float64) float64 {
		return 15 + 45*(1-x*x/200/200)
	}), bodies.FiveByTwo, bands)
}

// ruled is that body, planked with some of the rules set.
func ruled(t *testing.T, set func(*hull.Trade)) *Layer {
	t.Helper()
	p := tapering(1)
	p.Trade = hull.NewTrade()
	set(&p.Trade)
	k, err := Plank(p)
	require.NoError(t, err)
	return k.Layers[0]
}

// laid counts how often a strake crosses a frame where it is laid, and how often its
// strip fits there as it is.
func laid(l *Layer) (crossings, full int) {
	for _, st := range l.Strakes {
		for _, c := range st.At {
			if c.Laid {
				crossings++
			}
			if c.Laid && c.Action == Full {
				full++
			}
		}
	}
	return crossings, full
}

// TestRulesAreKept sets rules of the plan, one by one: the planking follows them.
func TestRulesAreKept(t *testing.T) {
	usual := ruled(t, func(*hull.Trade) {})
	crossings, full := laid(usual)

	narrow, _ := laid(ruled(t, func(r *hull.Trade) { r.LeastWidth = 0.3 }))
	assert.Greater(t, narrow, crossings, "strakes that may be narrower drop out later")
	for _, st := range ruled(t, func(r *hull.Trade) { r.LeastWidth = 0.7 }).Strakes {
		for _, c := range st.At {
			if c.Laid {
				assert.GreaterOrEqual(t, c.WidthFrame, 0.7*st.Strip*(1-1e-6), "strake %s", st.ID)
			}
		}
	}

	_, near := laid(ruled(t, func(r *hull.Trade) { r.Fit = 0.5 }))
	assert.Greater(t, near, full, "more strips fit where the fit is wider")

	creeping := ruled(t, func(r *hull.Trade) { r.Creep = 0.2 })
	assert.Less(t, len(creeping.Strakes), len(usual.Strakes), "strips that creep apart by a fifth are fewer")

	short := func(r *hull.Trade) { r.Creep = 0.2 }
	wedged := len(ruled(t, func(r *hull.Trade) { short(r); r.LeastWedge = 0.01 }).Wedges)
	assert.Empty(t, ruled(t, func(r *hull.Trade) { short(r); r.LeastWedge = 10 }).Wedges)
	assert.GreaterOrEqual(t, wedged, len(ruled(t, short).Wedges))
}

// TestReplankByOtherRules: nothing in a planking is reused where the rules have
// changed.
func TestReplankByOtherRules(t *testing.T) {
	p := tapering(2)
	k, err := Plank(p)
	require.NoError(t, err)
	q := k.Plan.Clone()
	q.Trade = hull.NewTrade()
	q.Trade.Fit, q.Trade.LeastWidth = 0.4, 0.35
	again, err := k.Replank(q)
	require.NoError(t, err)
	fresh, err := Plank(q)
	require.NoError(t, err)
	a, af := laid(again.Layers[0])
	b, bf := laid(fresh.Layers[0])
	assert.Equal(t, []int{b, bf}, []int{a, af})
	old, oldFull := laid(k.Layers[0])
	assert.NotEqual(t, []int{old, oldFull}, []int{a, af})
}

// TestBendLimitsOfRules: the methods of bending follow the plan's own strains.
func TestBendLimitsOfRules(t *testing.T) {
	r := hull.NewTrade()
	assert.Equal(t, Soaked, BendLimitsOf(r).How(0.012))
	r.BendDry = 0.015
	assert.Equal(t, Dry, BendLimitsOf(r).How(0.012))
	r.BendSoaked = 0.016
	assert.Equal(t, Heated, BendLimitsOf(r).How(0.017))
}
