package loft

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// sideOfBays is a plan of so many strakes of 5 mm, upright and straight, over frames so
// far apart.
func sideOfBays(strakes int, length float64, bays ...float64) *hull.Plan {
	frames := bodies.Trough(len(bays)+1, 50, func(float64) [][2]float64 { return bodies.Flat(5 * float64(strakes)) })
	at := 0.0
	for i := range frames {
		for k := range frames[i].Points {
			frames[i].Points[k][0] = at
		}
		if i < len(bays) {
			at += bays[i]
		}
	}
	p := oneLayer(frames, hull.Stock{Width: 5, Thickness: 1, Length: length}, 1)
	p.Cutting = hull.NewCutting()
	return p
}

// everyButting calls with every choice of one butt for each strake that leaves no piece
// longer than a strip and none that is a stub.
func (s *buttSearch) everyButting(t *testing.T, call func([][]buttAt)) {
	t.Helper()
	chosen := make([][]buttAt, len(s.at))
	var choose func(n int)
	choose = func(n int) {
		if n == len(chosen) {
			call(chosen)
			return
		}
		for i, place := range s.at[n] {
			stub := s.layer.Rules.Stub * s.strip[n]
			if place > 1e-6 && min(place, s.end[n]-place+s.rules.Overhang) >= stub && place <= s.strip[n]+1e-9 && s.end[n]-place+s.rules.Overhang <= s.strip[n]+1e-9 && place < s.end[n]-1e-6 {
				chosen[n] = []buttAt{{place, i}}
				choose(n + 1)
			}
		}
	}
	choose(0)
}

// TestButtsAndCuttingTogether goes through every choice of butts of some small hulls,
// cuts each, and compares with what is found and with what is called proven.
func TestButtsAndCuttingTogether(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 7))
	proven, cases := 0, 0
	for n := range 8 {
		bays := make([]float64, 7)
		for i := range bays {
			bays[i] = math.Round(10*(70+65*r.Float64())) / 10
		}
		strip := 560 + 20*float64(n%6)
		p := sideOfBays(3, strip, bays...)
		p.Cutting = rules(func(c *hull.Cutting) { c.Between, c.Shift = 1, 1 })
		if n%3 == 1 {
			p.Shop = []hull.Strips{
				{Width: 5, Thickness: 1, Length: strip, Price: 1.1, Count: hull.AsMany},
				{Width: 5, Thickness: 1, Length: strip / 2, Price: 0.6, Count: hull.AsMany},
			}
		}
		if n%3 == 2 {
			p.Box = []hull.Strips{{Width: 5, Thickness: 1, Length: 300, Count: 2}}
		}
		k, err := Plank(p)
		require.NoError(t, err)
		cut, err := k.CutLayers(context.Background())
		require.NoError(t, err)
		if cut[0].Butts != 3 {
			continue
		}
		lot := &cut[0].Lots[0]
		s := newButtSearch(k.Layers[0], p.Cutting, k.Layers[0].longestFor(p, 0))
		least, within, ways := math.Inf(1), math.Inf(1), 0
		known := map[string]float64{} // by the frames of the butts: all strakes are alike
		s.everyButting(t, func(chosen [][]buttAt) {
			c := CuttingPlan{Butting: s.butting(chosen)}
			frames := []int{chosen[0][0].frame, chosen[1][0].frame, chosen[2][0].frame}
			slices.Sort(frames)
			cost, ok := known[fmt.Sprint(frames)]
			if !ok {
				require.NoError(t, c.cutLots(context.Background(), p, p.Layers[0].Stock, p.Cutting.Kerf))
				require.True(t, c.Lots[0].Cutting.Optimal())
				cost = c.Lots[0].Cutting.Cost
				known[fmt.Sprint(frames)] = cost
			}
			least = min(least, cost)
			if len(c.Breaches) <= len(cut[0].Breaches) {
				within = min(within, cost)
			}
			ways++
		})
		t.Logf("%d ways: %g found, %g bound, %g the least by the rule, %g without", ways, lot.Cutting.Cost, lot.Least, within, least)
		cases++
		assert.LessOrEqual(t, lot.Least, least+1e-6, "the bound is one")
		assert.InDelta(t, within, lot.Cutting.Cost, 1e-6, "none is cheaper")
		if lot.Proven() {
			proven++
			assert.InDelta(t, least, lot.Cutting.Cost, 1e-6)
		}
	}
	assert.Greater(t, cases, 6)
	assert.Greater(t, proven, 2)
}

// As many butts elsewhere take two strips in place of three, and nothing could take
// fewer, wherever the butts were.
func TestButtsElsewhereSaveStrips(t *testing.T) {
	p := sideOfBays(12, 800, slices.Repeat([]float64{50}, 20)...)
	k, err := Plank(p)
	require.NoError(t, err)
	s := newButtSearch(k.Layers[0], p.Cutting, strips(800))
	s.even = evenCost
	chosen, err := s.search(context.Background())
	require.NoError(t, err)
	even, err := s.cheaperOf(context.Background(), nil, chosen, p, 0)
	require.NoError(t, err)
	assert.True(t, even.Lots[0].Cutting.Optimal(), "for its pieces")
	assert.False(t, even.Lots[0].Proven(), "but not wherever the butts fall")
	assert.Len(t, even.Lots[0].Cutting.Strips, 48)
	cut, err := k.CutLayers(context.Background())
	require.NoError(t, err)
	assert.Equal(t, even.Butts, cut[0].Butts)
	assert.Empty(t, cut[0].Breaches)
	assert.Len(t, cut[0].Lots[0].Cutting.Strips, 32)
	assert.True(t, cut[0].Lots[0].Proven())
}
