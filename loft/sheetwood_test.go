package loft

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// inMode is a number of strakes made in one mode.
func inMode(m hull.Mode, n int) []hull.Mode { return slices.Repeat([]hull.Mode{m}, n) }

// uprightSide is an upright flat side 1000 mm long of 12 strakes of 5 mm, 1 mm thick.
func uprightSide() *hull.Plan {
	frames := bodies.Trough(21, 50, func(float64) [][2]float64 { return bodies.Flat(60) })
	return oneLayer(frames, hull.Stock{Width: 5, Thickness: 1, Length: 1100, Species: "lime"}, 1)
}

func cutOf(t testing.TB, p *hull.Plan) []*CuttingPlan {
	k, err := Plank(p)
	require.NoError(t, err)
	c, err := k.CutLayers(context.Background())
	require.NoError(t, err)
	return c
}

// Rectangles of 5 × 1015 mm, half a millimetre apart: a sheet 100 mm wide takes
// ⌊(100-2·2+0.5)/5.5⌋ = 17 of them, so that 24 take two.
func TestSpiledStrakesAreLaidOnSheets(t *testing.T) {
	p := uprightSide()
	p.Layers[0].Bands[0].Modes = inMode(hull.Spiled, 12)
	p.SheetShop = []hull.Sheet{
		{Width: 100, Length: 1100, Thickness: 1, Species: "Lime", Count: hull.AsMany, Price: 6},
		{Width: 100, Length: 1100, Thickness: 2, Species: "lime", Count: hull.AsMany, Price: 1},
		{Width: 100, Length: 1100, Thickness: 1, Species: "walnut", Count: hull.AsMany, Price: 1},
	}
	c := cutOf(t, p)[0]
	assert.Empty(t, c.Lots, "no strip is bought")
	assert.Empty(t, c.Blocks)
	s := c.Sheets
	require.NotNil(t, s)
	assert.Equal(t, []int{0}, s.Shop, "the sheet of the thickness and the wood")
	assert.False(t, s.Assumed)
	assert.Len(t, s.Pieces, 24)
	assert.Empty(t, s.Nest.Left)
	assert.InDelta(t, 12, s.Nest.Cost, 1e-9)
	assert.InDelta(t, 12, s.Nest.Bound, 1e-9, "24 · 5 · 1015 mm² take more than one sheet of 96 · 1096")
	for _, piece := range s.Pieces {
		assert.InDelta(t, 5*1015, piece.Area(), 0.01)
	}
	assert.InDelta(t, 2*100*1100-24*5*1015, s.Nest.Waste, 0.5)
}

// The usual sheet, 1000 mm long, takes no strake of 1015: each is butted on a frame.
func TestSpiledStrakesLongerThanTheSheet(t *testing.T) {
	p := uprightSide()
	p.Layers[0].Bands[0].Modes = inMode(hull.Spiled, 12)
	c := cutOf(t, p)[0]
	assert.True(t, c.Sheets.Assumed)
	assert.Len(t, c.Sheets.Pieces, 48)
	assert.Empty(t, c.Sheets.Nest.Left)
	assert.True(t, c.Sheets.Nest.ByArea)
	for _, piece := range c.Sheets.Pieces {
		laid := c.Pieces[piece.Laid]
		assert.GreaterOrEqual(t, laid.FromFrame, 0)
		assert.GreaterOrEqual(t, laid.ToFrame, 0)
		assert.InDelta(t, laid.Length(), piece.Upper[len(piece.Upper)-1].X()-piece.Upper[0].X(), 0.01)
	}
	assert.Empty(t, c.Breaches)
}

// Strips are bought only for sprung strakes, and what a layer uses of the sheets at
// hand is gone for the next.
func TestEachStrakeFromItsOwnWood(t *testing.T) {
	p := uprightSide()
	modes := inMode(hull.Sprung, 12)
	modes[3], modes[4], modes[7] = hull.Spiled, hull.Spiled, hull.Block
	p.Layers[0].Bands[0].Modes = modes
	p.Layers = append(p.Layers, p.Layers[0])
	p.SheetBox = []hull.Sheet{{Width: 60, Length: 1100, Thickness: 1, Count: 1}}
	c := cutOf(t, p)
	for _, l := range c {
		require.Len(t, l.Lots, 1)
		assert.Len(t, l.Lots[0].Pieces, 18)
		for _, n := range l.Lots[0].Pieces {
			assert.Equal(t, hull.Sprung, l.Pieces[n].Mode)
		}
		require.Len(t, l.Blocks, 1)
		assert.Equal(t, 7, l.Blocks[0].Strake)
		assert.InDelta(t, 1015, l.Blocks[0].Length, 0.01)
		assert.InDelta(t, 5, l.Blocks[0].Breadth, 0.01)
		assert.InDelta(t, 1, l.Blocks[0].Depth, 0.01)
		assert.Len(t, l.Pieces, 28, "the two spiled strakes are butted to fit the sheet on sale, on both sides")
	}
	assert.Equal(t, []int{1}, c[0].Sheets.Nest.Used)
	assert.Zero(t, c[0].Sheets.Nest.Cost)
	assert.Equal(t, 1, p.SheetBox[0].Count, "the plan is left as it was")
	assert.Empty(t, c[1].Sheets.Box, "the first layer has taken it")
	rows, err := compare(t.Context(), p, 0, inWidths(p, 0, 5))
	require.NoError(t, err)
	assert.Equal(t, []int{0, 0}, []int{rows[0].Spiled, rows[0].Blocks}, "the builder's choices for single strakes do not apply to another number of them")
	assert.InDelta(t, 24*1000, rows[0].Length, 0.01)
}

// A strake on a cylinder of radius R that turns by φ fits a box as broad as the chord
// of its outer edge, 2(R+t)·sin(φ/2), and as deep as the distance from its outer middle
// to its inner edges, R+t-R·cos(φ/2).
func TestBlockOfARoundBilge(t *testing.T) {
	const radius, turn, thick = 20.0, 1.2, 3.0
	frames := bodies.Trough(5, 40, func(float64) [][2]float64 { return bodies.Arc(radius*turn, turn) })
	p := oneLayer(frames, hull.Stock{Width: radius * turn, Thickness: thick, Length: 300}, 1)
	p.Layers[0].Bands[0] = hull.Band{Strakes: 1, Modes: inMode(hull.Block, 1)}
	c := cutOf(t, p)[0]
	require.Len(t, c.Blocks, 1)
	b := c.Blocks[0]
	assert.InDelta(t, 160+hull.NewCutting().Overhang, b.Length, 0.01)
	// The outline of 25 points departs from the circle by some thousandths.
	assert.InDelta(t, 2*(radius+thick)*math.Sin(turn/2), b.Breadth, 0.02)
	assert.InDelta(t, radius+thick-radius*math.Cos(turn/2), b.Depth, 0.02)
}

// With girths alone no flat shape is known: the strake is taken as a rectangle, and
// marked as such.
func TestSheetsOfAHullOfGirths(t *testing.T) {
	var girths []hull.Girth
	for i := range 5 {
		girths = append(girths, hull.Girth{Frame: string(rune('A' + i)), X: 50 * float64(i), Girth: 40})
	}
	var h hull.Hull
	h.SetGirths(girths)
	p := hull.NewPlan("", h)
	p.Layers[0].Bands[0] = hull.Band{Strakes: 8, Modes: inMode(hull.Spiled, 8)}
	p.Layers[0].Bands[0].Modes[2] = hull.Block
	c := cutOf(t, p)[0]
	require.Len(t, c.Sheets.Pieces, 14)
	assert.True(t, c.Sheets.Pieces[0].Rough)
	assert.InDelta(t, 5*215, c.Sheets.Pieces[0].Area(), 0.01)
	assert.True(t, c.Blocks[0].Rough)
}

// Whatever the hull and the modes, the pieces on the sheets are those of the spiled
// strakes of both sides, of the same size as these, and within the sheets.
func TestAnySheetPlan(t *testing.T) {
	t.Parallel()
	base := workload(t, 9)
	r := rand.New(rand.NewPCG(3, 1))
	for range 10 {
		p := base.Clone()
		p.Cutting = hull.NewCutting()
		p.Cutting.Overhang = 15 * float64(r.IntN(2))
		spiled := map[int]bool{}
		for b := range p.Layers[0].Bands {
			p.Layers[0].Bands[b].Modes = inMode(hull.Sprung, 10)
		}
		for range r.IntN(4) {
			b, k := r.IntN(3), r.IntN(10)
			p.Layers[0].Bands[b].Modes[k], spiled[10*b+k] = hull.Spiled, true
		}
		length := 500 + 1500*r.Float64()
		p.SheetShop = []hull.Sheet{{Width: 120, Length: length, Thickness: 2, Count: hull.AsMany, Price: 3}}
		k, err := Plank(p)
		require.NoError(t, err)
		all, err := k.CutLayers(context.Background())
		require.NoError(t, err)
		c := all[0]
		if c.Sheets == nil {
			require.Empty(t, spiled)
			continue
		}
		areas, lengths := map[int]float64{}, map[int]float64{}
		for _, piece := range c.Sheets.Pieces {
			laid := c.Pieces[piece.Laid]
			require.True(t, spiled[laid.Strake])
			areas[laid.Strake] += piece.Area()
			lengths[laid.Strake] += laid.To - laid.From
		}
		for n := range spiled {
			st := k.Layers[0].Strakes[n]
			if st.To <= st.From {
				continue
			}
			f, err := k.Layers[0].Flat(st.ID)
			require.NoError(t, err)
			// The overhang continues at the last width.
			last := f.Upper[len(f.Upper)-1].Sub(f.Lower[len(f.Lower)-1]).Len()
			require.InDelta(t, 2*f.Area, areas[n], 2*p.Cutting.Overhang*last+1e-6*f.Area)
			require.GreaterOrEqual(t, areas[n], 2*f.Area*(1-1e-9))
			require.InDelta(t, 2*st.Length, lengths[n], 1e-6)
		}
		require.Empty(t, c.Sheets.Nest.Left, "each piece is cut to fit on the sheet")
		for _, s := range c.Sheets.Nest.Sheets {
			for _, placed := range s.Pieces {
				for _, q := range c.Sheets.Outline(placed) {
					require.True(t, q.X() > 2-1e-3 && q.X() < length-2+1e-3 && q.Y() > 2-1e-3 && q.Y() < 118+1e-3, "%v", q)
				}
			}
		}
	}
}
