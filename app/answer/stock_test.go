package answer_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// laid lays a layer in strips of those widths.
func laid(t *testing.T, k *loft.Planking, layer int, widths ...float64) []*answer.Trial {
	t.Helper()
	ts, err := answer.NewTrials(context.Background(), k, layer)
	require.NoError(t, err)
	var out []*answer.Trial
	kinds, err := answer.Kinds(k.Plan.Layers[layer].Stock, widths, nil, nil)
	require.NoError(t, err)
	for _, s := range kinds {
		trial, err := ts.Lay(context.Background(), s)
		require.NoError(t, err)
		out = append(out, trial)
	}
	return out
}

func TestStock(t *testing.T) {
	k := plank(t, wigley(1))
	trials := laid(t, k, 0, 4, 5)
	a := answer.StockOf(k, trials)
	require.Len(t, a.Rows, 2)
	require.InDelta(t, float64(a.Rows[0].Strips)*1000, a.Rows[0].Length+a.Rows[0].Waste, 1e-3)
	j := first(t, keys(t, a)["rows"])
	for _, key := range []string{"stock", "strakes", "narrowest", "tapered", "wedges", "left_over", "edge_strain_max", "strips", "waste"} {
		require.Contains(t, j, key)
	}
	require.Nil(t, a.Rows[0].Cost, "nothing has a price")
	require.Contains(t, text(t, a), a.Advice[0])
	require.Equal(t, trials[0].Layer.Bands[0].Strakes, a.Rows[0].Strakes[0], "the row tells the layer that is cut")
	for i, trial := range trials {
		// What strips take up, less what is shaved and more what is filled, is
		// what is needed, frame by frame: the areas are of the same strakes.
		over := 0.0
		for _, st := range trial.Layer.Strakes {
			for f := 0; f+1 < len(st.At); f++ {
				if p, q := st.At[f], st.At[f+1]; p.Laid && q.Laid {
					run := st.Centre.S[trial.Layer.Surface.FrameStation(f+1)] - st.Centre.S[trial.Layer.Surface.FrameStation(f)]
					over += (p.Pitch - p.WidthCut + q.Pitch - q.WidthCut) / 2 * run
				}
			}
		}
		require.InDelta(t, over, a.Rows[i].Shave-a.Rows[i].Fill, 1e-4)
	}
}

// Kinds are all combinations, in the order in which they are asked for.
func TestKinds(t *testing.T) {
	own := hull.Stock{Width: 5, Thickness: 2, Length: 900, Species: "lime"}
	one, err := answer.Kinds(own, nil, nil, nil)
	require.NoError(t, err)
	require.Equal(t, []hull.Stock{own}, one)
	all, err := answer.Kinds(own, []float64{4, 5}, []float64{1, 1.5}, []string{"lime", "walnut"})
	require.NoError(t, err)
	require.Len(t, all, 8)
	_, err = answer.Kinds(own, []float64{0.001}, nil, nil)
	require.EqualError(t, err, "the strip's width is 0.001 mm: give it from 0.1 to 1000 mm")
	_, err = answer.Kinds(own, make([]float64, 11), make([]float64, 10), nil)
	require.EqualError(t, err, "these are 110 kinds of strip: compare at most 100 at once")
	require.Equal(t, hull.Stock{Width: 4, Thickness: 1.5, Length: 900, Species: "lime"}, all[2])
}

// A box that holds everything leaves nothing to buy; a price is told where all
// that is bought has one; the box's strips go to the layer beneath first.
func TestTrialsFromBoxAndShop(t *testing.T) {
	p := wigley(2)
	stock := p.Layers[0].Stock
	p.Layers[1].Stock = stock
	p.Trade = p.Rules()
	p.Trade.EdgeStrain, p.Trade.Twist, p.Trade.BendHot = 0.2, 0.2, 0.2 // strips alone
	p.Trade.LeastWidth = 0.3                                           // and none that drops out, whose heir is wider than one
	p.Shop = []hull.Strips{{Width: stock.Width, Thickness: stock.Thickness, Length: 1000, Count: hull.AsMany, Price: 0.5}}
	k := plank(t, p)
	bought := laid(t, k, 0, stock.Width)[0]
	cost, known := bought.Cost()
	require.True(t, known)
	require.InDelta(t, 0.5*float64(bought.Strips()), cost, 1e-9)
	require.Zero(t, bought.FromBox())

	p.Box = []hull.Strips{{Width: stock.Width, Thickness: stock.Thickness, Length: 1000, Count: bought.Strips() + 3}}
	k = plank(t, p)
	boxed := laid(t, k, 0, stock.Width)[0]
	cost, known = boxed.Cost()
	require.True(t, known)
	require.Zero(t, cost)
	require.Equal(t, boxed.Strips(), boxed.FromBox())
	require.Equal(t, 3+bought.Strips()-boxed.Strips(), laid(t, k, 1, stock.Width)[0].FromBox(), "the outer layer finds what the inner one leaves")
	require.Equal(t, bought.Strips()+3, p.Box[0].Count, "the plan stays as it is")

	p.Box, p.Shop = nil, []hull.Strips{{Width: stock.Width, Thickness: stock.Thickness, Length: 1000, Count: 1, Price: 0.5}}
	require.Positive(t, laid(t, plank(t, p), 0, stock.Width)[0].Missing())
}

func TestNeededHoldsTheRow(t *testing.T) {
	trial := laid(t, plank(t, wigley(1)), 0, 5)[0]
	least, mean, most := trial.Needed()
	low, high := math.Inf(1), math.Inf(-1)
	for i := range least {
		require.LessOrEqual(t, least[i], mean[i])
		require.LessOrEqual(t, mean[i], most[i])
		low, high = min(low, least[i]), max(high, most[i])
	}
	require.InDelta(t, trial.Row.Narrowest, low, 1e-9)
	require.InDelta(t, trial.Row.Widest, high, 1e-9)
}

func TestMixLaidInThePlan(t *testing.T) {
	p := wigley(1)
	k := plank(t, p)
	m, err := answer.MixOf(t.Context(), k, 0, 0, []float64{4, 5, 6}, nil)
	require.NoError(t, err)
	require.LessOrEqual(t, m.Shave+m.Fill, m.Before+1e-6, "its own width is among them")
	answer.LayMix(&p.Layers[0], m)
	l := plank(t, p).Layers[0]
	for n, w := range m.Order {
		require.Equal(t, w, l.Strakes[n].Strip)
	}
	require.Contains(t, m.Advice, "mm")
	_, err = answer.MixOf(t.Context(), k, 0, 0, nil, nil)
	require.ErrorContains(t, err, "give one or more")
}

func TestCuttingInOrderOfLaying(t *testing.T) {
	p := wigley(1)
	p.Cutting = hull.NewCutting()
	p.Cutting.Treenails = 1
	k := plank(t, p)
	cuts, err := k.CutLayers(context.Background())
	require.NoError(t, err)
	a := answer.CuttingOf(k, 0, cuts[0], nil)
	seen := map[int]int{}
	for _, lot := range a.Lots {
		for _, s := range lot.Strips {
			sum := s.Left - p.Cutting.Kerf
			for _, n := range s.Pieces {
				seen[n]++
				require.Equal(t, s.Number, a.Pieces[n-1].Strip)
				sum += a.Pieces[n-1].Length + p.Cutting.Kerf
			}
			require.InDelta(t, s.Length, sum, 1e-3)
		}
		require.NotNil(t, lot.Buy)
		require.Nil(t, lot.Cost, "no price is known")
	}
	laid, waste := 0.0, 0.0
	for _, lot := range a.Lots {
		own := 0.0
		for _, s := range lot.Strips {
			own += s.Length
			for _, n := range s.Pieces {
				own -= a.Pieces[n-1].Length - a.Pieces[n-1].Overhang
				laid += a.Pieces[n-1].Length - a.Pieces[n-1].Overhang
			}
		}
		require.InDelta(t, own, lot.Waste, 1e-3, "strips less what is laid of them")
		waste += lot.Waste
	}
	row := answer.StockOf(k, laidAsIs(t, k)).Rows[0]
	require.InDelta(t, row.Waste, waste, 1e-3, "the same in rows and lots")
	require.Positive(t, laid)
	require.NotNil(t, a.Sheets)
	require.Nil(t, a.Sheets.Cost, "nor is that of a sheet")
	require.Nil(t, a.Cost)
	for _, s := range a.Sheets.Sheets {
		for _, place := range s.Pieces {
			seen[place.Piece]++
			require.Equal(t, s.Number, a.Pieces[place.Piece-1].Sheet)
			require.Equal(t, string(hull.Spiled), a.Pieces[place.Piece-1].Mode)
		}
	}
	require.Len(t, seen, len(a.Pieces), "every piece is cut from one strip or sheet")
	for n, times := range seen {
		require.Equal(t, 1, times, "piece %d", n)
	}
	require.Contains(t, text(t, answer.Stock{Cutting: []answer.Cutting{a}}), "starboard")
	require.Contains(t, a.Advice, "treenails")
}

// laidAsIs is the trial of a planking's own first layer.
func laidAsIs(t *testing.T, k *loft.Planking) []*answer.Trial {
	t.Helper()
	cuts, err := k.CutLayers(context.Background())
	require.NoError(t, err)
	return []*answer.Trial{{Stock: k.Plan.Layers[0].Stock, Layer: k.Layers[0], Cut: cuts[0]}}
}

// What is proven is told of what it is proven: of all butts, of these pieces, or with
// what butts elsewhere could save.
func TestProofsTellWhatTheyCover(t *testing.T) {
	p := wigley(1)
	stock := p.Layers[0].Stock
	p.Layers[0].Bands[0].Modes = []hull.Mode{hull.Sprung}
	said := map[string]bool{}
	for _, length := range []float64{0, 180, 210} {
		p.Shop = nil
		if length > 0 {
			p.Shop = []hull.Strips{{Width: stock.Width, Thickness: stock.Thickness, Length: length, Count: hull.AsMany, Price: 0.5}}
		}
		k := plank(t, p)
		cuts, err := k.CutLayers(context.Background())
		require.NoError(t, err)
		for n, lot := range answer.CuttingOf(k, 0, cuts[0], nil).Lots {
			of := cuts[0].Lots[n]
			require.Equal(t, of.Butted, lot.Butted)
			tells := lot.Tell(answer.MM{})
			switch {
			case !lot.Butted:
				require.NotContains(t, tells, "butts")
				said["whole"] = true
			case lot.Anywhere:
				require.Contains(t, tells, "proven the cheapest possible, wherever on the frames as few butts fall")
				require.Zero(t, *lot.Might)
				said["anywhere"] = true
			default:
				require.Contains(t, tells, "for these pieces; butts elsewhere could save")
				require.InDelta(t, of.Cutting.Cost-of.Least, *lot.Might, 1e-6)
				said["these"] = true
			}
			t.Log(tells)
		}
	}
	require.Len(t, said, 3)
}

// What strips and sheets cost is told apart and together; of a kind without a price
// neither is. A block is told by its size.
func TestCuttingAddsUpStripsAndSheets(t *testing.T) {
	p := wigley(1)
	stock := p.Layers[0].Stock
	p.Layers[0].Bands[0].Modes = []hull.Mode{hull.Spiled, hull.Block}
	p.Shop = []hull.Strips{{Width: stock.Width, Thickness: stock.Thickness, Length: 1000, Count: hull.AsMany, Price: 0.5}}
	p.SheetShop = []hull.Sheet{{Width: 100, Length: 1000, Thickness: stock.Thickness, Count: hull.AsMany, Price: 7}}
	k := plank(t, p)
	cuts, err := k.CutLayers(context.Background())
	require.NoError(t, err)
	a := answer.CuttingOf(k, 0, cuts[0], nil)
	require.NotNil(t, a.Cost)
	require.InDelta(t, 0.5*float64(len(a.Lots[0].Strips))+7*float64(len(a.Sheets.Sheets)), *a.Cost, 1e-9)
	require.Equal(t, 7.0, *a.Sheets.Bound, "one sheet has the area")
	require.NotEmpty(t, a.Blocks)
	require.Equal(t, 2, a.Blocks[0].Count)
	told := text(t, answer.Stock{Cutting: []answer.Cutting{a}})
	for _, said := range []string{"block", "sheet 1", "turn it over", "100 × 1000 mm at 7.00", "is carved: 2 blocks of", "strips and sheets cost"} {
		require.Contains(t, told, said)
	}
	p.SheetShop[0].Price = 0
	k = plank(t, p)
	cuts, err = k.CutLayers(context.Background())
	require.NoError(t, err)
	a = answer.CuttingOf(k, 0, cuts[0], nil)
	require.Nil(t, a.Cost)
	require.Nil(t, a.Sheets.Cost)
	require.InDelta(t, 100*1000, a.Sheets.AreaBound, 1e-6)

	p.SheetShop = []hull.Sheet{{Width: 4, Length: 1000, Thickness: stock.Thickness, Count: hull.AsMany}}
	k = plank(t, p)
	cuts, err = k.CutLayers(context.Background())
	require.NoError(t, err)
	a = answer.CuttingOf(k, 0, cuts[0], nil)
	require.Positive(t, a.Sheets.Missing)
	require.Contains(t, a.Advice, "find a sheet for")
	require.Contains(t, text(t, answer.Stock{Cutting: []answer.Cutting{a}}), "no sheet")
}

// Nine soaked birch strips of 5 mm were found to run about 47.5 mm where 45 was
// reckoned (common practice, no source).
func TestSwellingOfNineStrips(t *testing.T) {
	k := plank(t, wigley(1))
	s, err := answer.SwellingOf(k, 0, 0, answer.Wetted{Strips: 9, Width: 5, Species: "birch", Measured: 47.5}, nil)
	require.NoError(t, err)
	require.Len(t, s.Runs, 4, "paper and yellow birch, quarter- and flat-sawn")
	low, high := s.Bounds(func(r answer.SwellingRun) float64 { return r.RunLaid })
	require.Less(t, low, 47.5)
	require.Greater(t, high, 47.5)
	require.True(t, s.Measured.Bracket)
	require.InDelta(t, 5.56, s.Measured.Percent, 0.01)
	require.Contains(t, text(t, answer.Stock{Swelling: []answer.Swelling{s}}), "loose fit")

	_, err = answer.SwellingOf(k, 0, 0, answer.Wetted{Species: "hedge plum"}, nil)
	require.ErrorContains(t, err, `the table of woods has no "hedge plum", since it has no published figure for its shrinkage`)
	require.ErrorContains(t, err, `"woods": [{"name": "hedge plum", "radial"`)
	k.Plan.Woods = []hull.Wood{{Name: "hedge plum", Radial: 4, Tangential: 7, Source: "own trial"}}
	s, err = answer.SwellingOf(k, 0, 0, answer.Wetted{Species: "hedge plum"}, nil)
	require.NoError(t, err)
	require.Equal(t, k.Layers[0].Bands[0].Strakes, s.Strips, "the band's own")
	require.Nil(t, s.Measured)
}

// What was measured dry tells the creep that is no swelling.
func TestShownCreepComesFromTheRecord(t *testing.T) {
	p := wigley(1)
	k := plank(t, p)
	_, ok := answer.ShownCreep(k, 0, 0)
	require.False(t, ok)
	l := k.Layers[0]
	for n := range 4 {
		p.Record.Add(hull.Port, hull.Entry{Date: "2026-03-01", EntryKind: hull.Glued, Layer: 1, Strake: l.Strakes[n].ID})
	}
	for f := range 9 {
		left := l.Bands[0].Girths[f]
		for n := range 4 {
			left -= l.Strakes[n].At[f].WidthFrame + 0.1
		}
		p.Record.Add(hull.Port, hull.Entry{Date: "2026-03-02", EntryKind: hull.LeftOver, Layer: 1, Band: 1, Frame: p.Hull.Frames[f].Name, MM: left})
	}
	creep, ok := answer.ShownCreep(plank(t, p), 0, 0)
	require.True(t, ok)
	require.InDelta(t, 0.1, creep, 0.03, "0.1 mm a strip was measured, which the regression draws towards what is usual")
}

func TestSeams(t *testing.T) {
	k := plank(t, wigley(2))
	s, err := answer.SeamsOf(k, 1, nil)
	require.NoError(t, err)
	require.NotEmpty(t, s.Seams)
	least := math.Inf(1)
	for _, c := range s.Seams {
		least = min(least, c.Distance)
	}
	require.InDelta(t, least, s.Least, 1e-9)
	require.GreaterOrEqual(t, s.Middle, s.Least)
	_, err = answer.SeamsOf(k, 0, nil)
	require.ErrorContains(t, err, "no layer beneath")
}

// Every figure is told in sentences with a source, under a key of its own.
func TestFiguresHaveFormulas(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range answer.Figures() {
		require.False(t, seen[f.Key], f.Key)
		seen[f.Key] = true
		require.True(t, strings.HasSuffix(f.Formula, "."), f.Key)
		require.NotEmpty(t, f.Source)
		require.Equal(t, f, answer.FigureOf(f.Key))
	}
}

func TestReadThicknessesAndSpecies(t *testing.T) {
	_, err := answer.ReadThicknesses("1,thin")
	require.ErrorContains(t, err, `"thin" is not a strip thickness`)
	require.Equal(t, []string{"paper birch", "lime"}, answer.ReadSpecies(" paper birch,lime,"))
}

// TestAdviceSpeaksOfPlankedFramesAlone: where strakes taper from the first planked
// frame to the last, there is no frame before or abaft which none does.
func TestAdviceSpeaksOfPlankedFramesAlone(t *testing.T) {
	p := wigley(1)
	p.Hull.Limits.From, p.Hull.Limits.To = "C", "G"
	k := plank(t, p)
	trials := laid(t, k, 0, 5)
	for _, f := range []int{2, 6} {
		tapers := slices.ContainsFunc(trials[0].Layer.Strakes, func(s *loft.Strake) bool { return s.At[f].Laid && s.At[f].Action == loft.Taper })
		require.True(t, tapers, "frame %d is to be one where a strake tapers", f)
	}
	a := answer.StockOf(k, trials)
	require.NotContains(t, a.Advice[0], "no strake needs a taper")
	require.Contains(t, a.Advice[0], "taper, at both ends too")
	require.Equal(t, "E", a.Rows[0].LeftOverAt, "Wigley's hull is greatest amidships")
}
