package fair

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/curve"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// TestDenseOutlines: frames of 100 points are judged like those of a few: read to ±0.2
// mm, nine in ten single errors of 0.8 mm are found, and a frame that is 0.7 mm in as a
// whole; with errors of 0.2 mm standard deviation, that figure is reported.
func TestDenseOutlines(t *testing.T) {
	t.Parallel()
	frames := bodies.Wigley(800, 21, 100)
	found, alarms := trials(t, frames, 4, even, fourPoints(frames))
	assert.GreaterOrEqual(t, found, 0.9)
	assert.Less(t, alarms, 1.0)
	r := rand.New(rand.NewPCG(2, 7))
	m := misfitsOf(t, displaced(frames, func(i, _ int) float64 {
		if i == 9 {
			return normal(r) - 0.7
		}
		return normal(r)
	}))
	assert.True(t, m[9].Bumped)
	assert.InDelta(t, -0.7, m[9].Shift, 0.1)
	assert.InDelta(t, 0.2, m[0].Noise, 0.02)
}

// TestThinnedAlike: the stiffness found on thinned outlines serves the full ones as
// well as the stiffness found on these: their surfaces through points with 0.2 mm of
// noise lie within a quarter of it of one another, and within half of it of the true
// hull.
func TestThinnedAlike(t *testing.T) {
	t.Parallel()
	true60 := bodies.Wigley(800, 21, 60)
	r := rand.New(rand.NewPCG(3, 7))
	g, err := newGrid(context.Background(), displaced(true60, func(int, int) float64 { return normal(r) }))
	require.NoError(t, err)
	require.NotNil(t, g.thin)
	assert.Less(t, g.thin.usual(), mostSettled)
	all := make([]bool, len(g.at))
	for i := range all {
		all[i] = true
	}
	thin, _, err := g.suit([2]float64{1, 1}, all, (*smoothed).surprise)
	require.NoError(t, err)
	g.thin = nil
	full, _, err := g.suit([2]float64{1, 1}, all, (*smoothed).surprise)
	require.NoError(t, err)
	apart, away := 0.0, 0.0
	for i, f := range true60 {
		for j, p := range f.Points {
			k := g.first[i] + j
			d, e := thin.at[k].Sub(full.at[k]).Dot(g.normal[k]), (thin.at[k].Sub([2]float64{p.Y(), p.Z()})).Dot(g.normal[k])
			apart, away = apart+d*d/float64(len(g.at)), away+e*e/float64(len(g.at))
		}
	}
	t.Logf("stiffness %v thinned, %v in full; mean squares apart %.5f, from the true hull %.5f mm²", thin.stiff, full.stiff, apart, away)
	assert.Less(t, apart, 0.05*0.05)
	assert.Less(t, away, 0.1*0.1)
}

// TestKeptPoints: thinning a dense outline keeps the ends and the knuckles, at least
// four points in each run between them, and the rest evenly by girth.
func TestKeptPoints(t *testing.T) {
	f := bodies.Wigley(800, 5, 120)[2]
	f.Knuckles = []int{3, 9, 60}
	c, err := curve.NewOutline(f)
	require.NoError(t, err)
	o := outline{curve: c, ends: []int{0, 3, 9, 60, 119}}
	kept := o.kept(enoughSettled)
	p := picked(f, kept)
	assert.InDelta(t, enoughSettled, len(kept), 6)
	require.Len(t, p.Knuckles, 3)
	for n, k := range p.Knuckles {
		assert.Equal(t, f.Points[f.Knuckles[n]], p.Points[k])
	}
	assert.Equal(t, []int{0, 1, 2, 3}, kept[:4], "a run of four is kept whole")
	assert.Equal(t, 3, p.Knuckles[1]-p.Knuckles[0])
	assert.Equal(t, 119, kept[len(kept)-1])
	assert.IsIncreasing(t, kept)
	few := bodies.Wigley(800, 5, 5)[2]
	c, err = curve.NewOutline(few)
	require.NoError(t, err)
	assert.Equal(t, []int{0, 1, 2, 3, 4}, (&outline{curve: c, ends: []int{0, 4}}).kept(enoughSettled), "of few all are kept")
	assert.Equal(t, hull.Frame{Name: few.Name, Points: few.Points}, picked(few, []int{0, 1, 2, 3, 4}))
}
