package loft

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/cutstock"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// side is a layer on an upright flat side: n frames at a given spacing, 12 strakes of 5
// mm.
func side(t testing.TB, n int, bay float64) *Layer {
	frames := bodies.Trough(n, bay, func(float64) [][2]float64 { return bodies.Flat(60) })
	k, err := Plank(oneLayer(frames, hull.Stock{Width: 5, Thickness: 1, Length: 1000}, 1))
	require.NoError(t, err)
	require.Len(t, k.Layers[0].Strakes, 12)
	return k.Layers[0]
}

func strips(length float64) func(*Strake) float64 { return func(*Strake) float64 { return length } }

// rules is the usual way with some changes.
func rules(change func(c *hull.Cutting)) hull.Cutting {
	c := hull.NewCutting()
	if change != nil {
		change(&c)
	}
	return c
}

// buttsOf gives the frames of the butts of each strake on one side.
func buttsOf(l *Layer, b *Butting) [][]int {
	out := make([][]int, len(l.Strakes))
	for _, p := range b.Pieces {
		if p.Side == hull.Port && p.Number > 1 {
			out[p.Strake] = append(out[p.Strake], p.FromFrame)
		}
	}
	return out
}

// keepsRule counts the pairs of butts that break the rule, strake against strake, where
// all are laid everywhere.
func keepsRule(butts [][]int, c hull.Cutting) int {
	broken := 0
	for n := range butts {
		for _, f := range butts[n] {
			for m := range n {
				near := 1000
				for _, g := range butts[m] {
					near = min(near, max(f-g, g-f))
				}
				if near == 0 && n-m-1 < c.Between || n-m == 1 && near < c.Shift && near > 0 || n-m == 1 && near == 0 && c.Between == 0 && c.Shift > 0 {
					broken++
				}
			}
		}
	}
	return broken
}

func TestButtsKeepTheRule(t *testing.T) {
	l := side(t, 21, 50)
	for _, c := range []hull.Cutting{
		rules(nil),
		rules(func(c *hull.Cutting) { c.Shift = 3 }),
		rules(func(c *hull.Cutting) { c.Between, c.Shift = 5, 2 }),
		rules(func(c *hull.Cutting) { c.Between, c.Shift = 0, 1 }),
	} {
		for _, strip := range []float64{650, 450, 300} {
			if strip == 300 && c.Shift > 1 {
				// Strips of six bays repeat every six frames: with neighbours three apart every second
				// strake would be butted on the same frames.
				continue
			}
			b := l.buttEvenly(c, strips(strip))
			butts := buttsOf(l, b)
			assert.Zero(t, keepsRule(butts, c), "strips of %g, %+v: %v", strip, c, butts)
			assert.Empty(t, b.Breaches)
			for _, p := range b.Pieces {
				require.LessOrEqual(t, p.Length(), strip+1e-6)
				require.GreaterOrEqual(t, p.FromFrame, 0)
			}
		}
	}
	b := l.buttEvenly(rules(nil), strips(650))
	assert.Equal(t, 12, b.Butts, "one each: no more than necessary")
	assert.Zero(t, l.buttEvenly(rules(nil), strips(1015)).Butts)
	assert.Equal(t, 12, l.buttEvenly(rules(nil), strips(1014)).Butts, "the overhang does not fit")
}

// With only one frame to butt on, every pair too close is reported, and nothing else.
func TestButtsThatCannotKeepTheRule(t *testing.T) {
	l := side(t, 3, 200)
	b := l.buttEvenly(rules(nil), strips(250))
	// Strake n against the three above it: 0 + 1 + 2 + 9·3.
	require.Len(t, b.Breaches, 30)
	assert.Len(t, b.Breaches, keepsRule(buttsOf(l, b), rules(nil)))
	assert.Equal(t, Breach{OneFrame, 1, 0, 1, 0, 3}, b.Breaches[0])

	few := l.buttEvenly(rules(func(c *hull.Cutting) { c.Between, c.Shift = 0, 2 }), strips(250))
	require.Len(t, few.Breaches, 11)
	assert.Equal(t, Breach{TooNear, 1, 0, 1, 0, 2}, few.Breaches[0])

	long := l.buttEvenly(rules(nil), strips(150))
	assert.Contains(t, long.Breaches, Breach{NoFrame, 4, -1, -1, 0, 0})
	assert.Equal(t, NoFrame, long.Breaches[0].Kind)
	for _, p := range long.Pieces {
		require.LessOrEqual(t, p.Length(), 150+1e-6)
	}
	assert.Zero(t, l.buttEvenly(rules(nil), strips(10)).Butts, "a strip shorter than the overhang is unusable")
}

func TestPinsAndPegs(t *testing.T) {
	l := side(t, 5, 100)
	b := l.buttEvenly(rules(func(c *hull.Cutting) { c.Pins, c.Treenails = 2, 1 }), strips(1000))
	assert.Equal(t, 5, b.Pieces[0].Crossings)
	assert.Equal(t, 2*5*2, b.Pins, "a strake on both sides at once")
	assert.Equal(t, 12*2*5, b.Treenails)
	b = l.buttEvenly(rules(func(c *hull.Cutting) { c.Pins = 2 }), strips(300))
	assert.Equal(t, 2*(5+1)*2, b.Pins, "both ends of a butt are held")
	assert.Equal(t, []hull.Side{hull.Sides()[0], hull.Sides()[0], hull.Sides()[1], hull.Sides()[1]},
		[]hull.Side{b.Pieces[0].Side, b.Pieces[1].Side, b.Pieces[2].Side, b.Pieces[3].Side})
	assert.Equal(t, []int{1, 2}, []int{b.Pieces[0].Number, b.Pieces[1].Number})
	assert.Equal(t, 2, b.Pieces[0].Of)
	assert.Equal(t, "1.01", b.Pieces[0].ID)
	assert.Equal(t, "1.12", b.Pieces[4].ID, "then the garboard")
	usual := l.buttEvenly(hull.Cutting{}, strips(300))
	assert.Equal(t, l.buttEvenly(hull.NewCutting(), strips(300)), usual, "what is not given is as usual")
}

// Whatever the hull, strip and rule, the pieces make up the strakes of both
// sides, and none is longer than a strip unless it is left whole.
func TestAnyButting(t *testing.T) {
	t.Parallel()
	k, err := Plank(workload(t, 25))
	require.NoError(t, err)
	flatLayer := side(t, 21, 50)
	rapid.Check(t, func(t *rapid.T) {
		l := k.Layers[0]
		if rapid.Bool().Draw(t, "flat") {
			l = flatLayer
		}
		strip := rapid.Float64Range(20, 2000).Draw(t, "strip")
		c := rules(func(c *hull.Cutting) {
			c.Between, c.Shift = rapid.IntRange(0, 4).Draw(t, "between"), rapid.IntRange(0, 4).Draw(t, "shift")
			c.Overhang = rapid.Float64Range(0, 30).Draw(t, "overhang")
			c.Laying = rapid.SampledFrom([]hull.Laying{hull.Meeting, hull.Downward, hull.Upward, hull.Outward}).Draw(t, "laying")
		})
		b := l.buttEvenly(c, strips(strip))
		sums := map[hull.Side][]float64{hull.Port: make([]float64, len(l.Strakes)), hull.Starboard: make([]float64, len(l.Strakes))}
		for _, p := range b.Pieces {
			require.InDelta(t, sums[p.Side][p.Strake], p.From, 1e-9)
			require.Greater(t, p.To, p.From)
			over := 0.0
			if p.Number == p.Of {
				over = c.Overhang
			}
			require.Equal(t, over, p.Overhang)
			sums[p.Side][p.Strake] = p.To
			if strip-c.Overhang >= leastReach {
				require.LessOrEqual(t, p.Length(), strip+1e-6)
			}
		}
		for n, st := range l.Strakes {
			require.InDelta(t, st.Length, sums[hull.Port][n], 1e-9)
			require.Equal(t, sums[hull.Port][n], sums[hull.Starboard][n])
		}
		if l == flatLayer && !slices.ContainsFunc(b.Breaches, func(b Breach) bool { return b.Kind == NoFrame }) && c.Overhang < strip {
			require.Len(t, b.Breaches, keepsRule(buttsOf(l, b), c))
		}
	})
}

func TestCutLayers(t *testing.T) {
	t.Parallel()
	frames := bodies.Trough(21, 50, func(float64) [][2]float64 { return bodies.Flat(60) })
	p := oneLayer(frames, hull.Stock{Width: 5, Thickness: 1, Length: 600, Species: "lime"}, 1)
	p.Layers = append(p.Layers, p.Layers[0])
	p.Layers[1].Bands = []hull.Band{{Strips: []float64{4, 4}, Modes: slices.Repeat([]hull.Mode{hull.Sprung}, 13)}}
	p.Cutting = hull.NewCutting()
	p.Box = []hull.Strips{
		{Width: 5, Thickness: 1, Length: 700, Species: "Lime", Count: 10},
		{Width: 5, Thickness: 1, Length: 900, Species: "walnut", Count: 10},
	}
	p.Shop = []hull.Strips{
		{Width: 4, Thickness: 1, Length: 500, Price: 0.4, Count: hull.AsMany},
		{Width: 5, Thickness: 1, Length: 650, Price: 0.7, Count: hull.AsMany},
		{Width: 5, Thickness: 1, Length: 900, Price: 0.9, Count: 2},
	}
	k, err := Plank(p)
	require.NoError(t, err)
	c, err := k.CutLayers(context.Background())
	require.NoError(t, err)
	require.Len(t, c, 2)
	require.Len(t, c[0].Lots, 1)
	five := c[0].Lots[0]
	assert.Equal(t, []int{0}, five.Box, "walnut is not lime")
	assert.Equal(t, []int{1, 2}, five.Shop)
	assert.False(t, five.Assumed)
	assert.Len(t, five.Pieces, 48, "twelve strakes on two sides, each in two pieces of at most 650 mm")
	assert.True(t, five.Cutting.Optimal(), "gap %g", five.Cutting.Gap())
	require.Len(t, c[1].Lots, 2)
	assert.Equal(t, 4.0, c[1].Lots[1].Width)
	assert.Equal(t, []int{0}, c[1].Lots[1].Shop)
	used := five.Cutting.Used[0]
	for n, i := range c[1].Lots[0].Box {
		if i == 0 {
			used += c[1].Lots[0].Cutting.Used[n]
		}
	}
	assert.LessOrEqual(t, used, 10, "both layers together")
	assert.Equal(t, 10, p.Box[0].Count, "the plan is left as it was")
	for _, layer := range c {
		for _, lot := range layer.Lots {
			assert.Empty(t, lot.Cutting.Left)
		}
	}

	p.Shop, p.Box = nil, nil
	k, err = Plank(p)
	require.NoError(t, err)
	c, err = k.CutLayers(context.Background())
	require.NoError(t, err)
	assert.True(t, c[0].Lots[0].Assumed)
	assert.True(t, c[0].Lots[0].Cutting.ByLength)
	assert.InDelta(t, 600*float64(len(c[0].Lots[0].Cutting.Strips)), c[0].Lots[0].Cutting.Cost, 1e-9)
}

// BenchmarkButt butts 30 strakes on 25 frames, with strips of a third of the length.
func BenchmarkButt(b *testing.B) {
	k, err := Plank(workload(b, 25))
	require.NoError(b, err)
	for b.Loop() {
		k.Layers[0].buttEvenly(hull.NewCutting(), strips(600))
	}
}

// Two pieces of half a strake do not fit in one strip: one as long as a strip and a
// short one, several of which do, are cheaper.
func TestCutLayersButtsCheaply(t *testing.T) {
	frames := bodies.Trough(21, 50, func(float64) [][2]float64 { return bodies.Flat(60) })
	p := oneLayer(frames, hull.Stock{Width: 5, Thickness: 1, Length: 800}, 1)
	p.Cutting = rules(func(c *hull.Cutting) { c.Between, c.Shift = 1, 1 })
	k, err := Plank(p)
	require.NoError(t, err)
	c, err := k.CutLayers(context.Background())
	require.NoError(t, err)
	even := k.Layers[0].buttEvenly(p.Cutting, strips(800))
	var lengths []float64
	for _, piece := range even.Pieces {
		lengths = append(lengths, piece.Length())
	}
	asEven, err := cutstock.Cut(context.Background(), lengths, nil, []cutstock.Strip{{Length: 800, Count: hull.AsMany}}, p.Cutting.Kerf)
	require.NoError(t, err)
	assert.Less(t, c[0].Lots[0].Cutting.Cost, asEven.Cost)
	assert.Empty(t, c[0].Breaches)
	for _, piece := range c[0].Pieces {
		assert.GreaterOrEqual(t, piece.Length(), 200.0, "no stubs")
	}
}
