package cutstock

import (
	"context"
	"fmt"
	"github.com/strakewright/strakewright/loft/internal/checks"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// cutsRight checks a cutting against the pieces and strips alone: every piece is cut
// once or left, none overlaps another or the strip's end, with the kerf between them,
// and no more strips are used than there are.
func cutsRight(t require.TestingT, c *Cutting, pieces []float64, box, shop []Strip, kerf float64) {
	cut := make([]int, len(pieces))
	used, bought := make([]int, len(box)), make([]int, len(shop))
	cost, length, waste := 0.0, 0.0, 0.0
	first := -1
	for _, s := range c.Strips {
		from := &shop
		if s.Box {
			from = &box
			used[s.Of]++
		} else {
			bought[s.Of]++
			cost += (*from)[s.Of].Price
		}
		require.Equal(t, (*from)[s.Of].Length, s.Length)
		require.NotEmpty(t, s.Pieces)
		require.Greater(t, s.Pieces[0], first, "in the order in which they are first wanted")
		first = s.Pieces[0]
		end := -kerf
		last := -1
		for k, p := range s.Pieces {
			require.Greater(t, p, last)
			last = p
			require.InDelta(t, end+kerf, s.At[k], 1e-9)
			end = s.At[k] + pieces[p]
			cut[p]++
		}
		require.LessOrEqual(t, end, s.Length+1e-6)
		require.InDelta(t, max(s.Length-end, 0), s.Left, 1e-9)
		length += s.Length
		waste += s.Length
		for _, p := range s.Pieces {
			waste -= pieces[p]
		}
	}
	for _, p := range c.Left {
		cut[p]++
	}
	for p, n := range cut {
		require.Equal(t, 1, n, "piece %d", p)
	}
	require.Equal(t, used, c.Used)
	require.Equal(t, bought, c.Bought)
	for i, s := range append(append([]Strip{}, box...), shop...) {
		if s.Count >= 0 {
			require.LessOrEqual(t, append(append([]int{}, used...), bought...)[i], s.Count)
		}
	}
	if !c.ByLength {
		require.InDelta(t, cost, c.Cost, 1e-6)
	}
	require.InDelta(t, length, c.Length, 1e-6)
	require.InDelta(t, waste, c.Waste, 1e-6)
	require.LessOrEqual(t, c.Bound, c.Cost)
	require.GreaterOrEqual(t, c.Gap(), 0.0)
}

func TestCutByHand(t *testing.T) {
	for _, c := range []struct {
		name      string
		pieces    []float64
		box, shop []Strip
		kerf      float64
		strips    int
		cost      float64
		left      int
	}{
		{"none", nil, nil, []Strip{{1000, 1, -1}}, 1, 0, 0, 0},
		{"two halves", []float64{500, 500}, nil, []Strip{{1000, 1, -1}}, 0, 1, 1, 0},
		{"the kerf does not fit", []float64{500, 500}, nil, []Strip{{1000, 1, -1}}, 0.5, 2, 2, 0},
		{"it just fits", []float64{500, 499.5}, nil, []Strip{{1000, 1, -1}}, 0.5, 1, 1, 0},
		{"largest first fails", []float64{600, 500, 400, 300, 200}, nil, []Strip{{1000, 1, -1}}, 0, 2, 2, 0},
		{"box first", []float64{480, 480, 480}, []Strip{{1000, 0, 1}}, []Strip{{1000, 1, -1}}, 1, 2, 1, 0},
		{"a short one from the box", []float64{480, 300}, []Strip{{310, 0, 1}, {200, 0, 5}}, []Strip{{500, 1, -1}}, 1, 2, 1, 0},
		{"short strips are cheaper", []float64{480, 480, 480}, nil, []Strip{{1000, 1.1, -1}, {500, 0.5, -1}}, 1, 3, 1.5, 0},
		{"one long, one short", []float64{480, 480, 480}, nil, []Strip{{1000, 0.9, -1}, {500, 0.5, -1}}, 1, 2, 1.4, 0},
		{"the shop runs out", []float64{480, 480, 480}, nil, []Strip{{1000, 0.9, 1}}, 1, 1, 0.9, 1},
		{"too long", []float64{480, 1200}, nil, []Strip{{1000, 0.9, -1}}, 1, 1, 0.9, 1},
		{"no price: the least length", []float64{480, 480, 480}, nil, []Strip{{1000, 0, -1}, {700, 0, -1}}, 1, 2, 1700, 0},
		{"nothing to cut from", []float64{480}, nil, nil, 1, 0, 0, 1},
		{"an endless box", []float64{480, 700}, []Strip{{1000, 0, -1}}, []Strip{{1000, 2, -1}}, 1, 2, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Cut(context.Background(), c.pieces, c.box, c.shop, c.kerf)
			require.NoError(t, err)
			cutsRight(t, got, c.pieces, c.box, c.shop, c.kerf)
			assert.Len(t, got.Strips, c.strips)
			assert.InDelta(t, c.cost, got.Cost, 1e-9)
			assert.Len(t, got.Left, c.left)
			assert.Equal(t, c.left == 0, got.Optimal())
		})
	}
}

func TestCutRefuses(t *testing.T) {
	shop := []Strip{{1000, 1, -1}}
	for want, f := range map[string]func() (*Cutting, error){
		"a kerf of NaN mm is impossible: give 0 or more":                      func() (*Cutting, error) { return Cut(context.Background(), nil, nil, nil, math.NaN()) },
		"piece 2 is 0 mm long: give it above 0 and at most 20000":             func() (*Cutting, error) { return Cut(context.Background(), []float64{1, 0}, nil, shop, 0) },
		"strip 1 of the box is -1 mm long: give it above 0 and at most 20000": func() (*Cutting, error) { return Cut(context.Background(), []float64{1}, []Strip{{-1, 0, 1}}, shop, 0) },
		"strip 1 of the shop is +Inf mm long: give it above 0 and at most 20000": func() (*Cutting, error) {
			return Cut(context.Background(), []float64{1}, nil, []Strip{{math.Inf(1), 0, 1}}, 0)
		},
		"strip 1 of the shop costs -2: give 0 to 1000000": func() (*Cutting, error) { return Cut(context.Background(), []float64{1}, nil, []Strip{{1, -2, 1}}, 0) },
		"there are 5001 pieces, more than the limit of 5000: cut one layer or one width at a time": func() (*Cutting, error) {
			return Cut(context.Background(), make([]float64, 5001), nil, shop, 0)
		},
	} {
		_, err := f()
		assert.EqualError(t, err, want)
	}
}

// Whatever there is to cut from, the cutting can be carried out, and its bound is at
// most its cost and that of any other cutting: here that of the longest piece first
// into the first strip that holds it.
func TestAnyCutting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		strip := func(price bool) *rapid.Generator[Strip] {
			return rapid.Custom(func(t *rapid.T) Strip {
				s := Strip{Length: rapid.Float64Range(50, 1200).Draw(t, "length"), Count: rapid.IntRange(-1, 6).Draw(t, "count")}
				if price {
					s.Price = float64(rapid.IntRange(0, 300).Draw(t, "cents")) / 100
				}
				return s
			})
		}
		pieces := rapid.SliceOfN(rapid.Float64Range(0.1, 1100), 0, 40).Draw(t, "pieces")
		box := rapid.SliceOfN(strip(false), 0, 3).Draw(t, "box")
		shop := rapid.SliceOfN(strip(true), 0, 3).Draw(t, "shop")
		kerf := rapid.SampledFrom([]float64{0, 0.3, 0.5, 2}).Draw(t, "kerf")
		c, err := Cut(context.Background(), pieces, box, shop, kerf)
		require.NoError(t, err)
		cutsRight(t, c, pieces, box, shop, kerf)
		again, err := Cut(context.Background(), pieces, box, shop, kerf)
		require.NoError(t, err)
		require.Equal(t, c, again)
		if len(box) == 0 && len(shop) == 1 && shop[0].Count < 0 && kerf == 0 && len(c.Left) == 0 {
			greedy, err := StripsFor(context.Background(), pieces, shop[0].Length)
			require.NoError(t, err)
			require.LessOrEqual(t, len(c.Strips), greedy)
		}
	})
}

// cutCase is an instance for glpsol: lengths in mm.
type cutCase struct {
	name      string
	pieces    []float64
	box, shop []Strip
	kerf      float64
}

// cutCases are ten instances of the kind a builder has: both sides of a hull, whose
// strakes shorten towards the limits, in one or two lengths of strip.
func cutCases() []cutCase {
	r := rand.New(rand.NewPCG(4, 10))
	both := func(n int, from, to float64) []float64 {
		var out []float64
		for range n / 2 {
			l := math.Round((from+(to-from)*r.Float64())*2) / 2
			out = append(out, l, l)
		}
		return out
	}
	one := []Strip{{1000, 1.2, -1}}
	two := []Strip{{1000, 1.2, -1}, {600, 0.8, -1}}
	return []cutCase{
		{"half lengths", both(60, 420, 530), nil, one, 0.5},
		{"thirds", both(60, 270, 380), nil, one, 0.5},
		{"long and short", append(both(30, 520, 760), both(30, 210, 420)...), nil, one, 0.5},
		{"all sorts", both(60, 200, 900), nil, one, 0.8},
		{"few", both(24, 230, 610), nil, one, 0},
		{"two lengths", both(60, 250, 590), nil, two, 0.5},
		{"two lengths, butted", append(both(40, 480, 580), both(20, 215, 330)...), nil, two, 0.5},
		{"short ones dear", both(50, 260, 640), nil, []Strip{{1000, 1.25, -1}, {650, 0.9, -1}}, 0.5},
		{"from the box", both(50, 240, 560), []Strip{{640, 0, 5}, {310, 0, 4}}, two, 0.5},
		{"few left in the shop", both(40, 250, 600), []Strip{{820, 0, 3}}, []Strip{{1000, 1.1, 7}, {914, 1.05, -1}}, 1},
	}
}

// TestCutAgainstIntegerProgram compares with the optimum of the integer program
// over all patterns, which glpsol finds (GNU Linear Programming Kit).
func TestCutAgainstIntegerProgram(t *testing.T) {
	glpsol := checks.External(t, "glpsol")
	for _, c := range cutCases() {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			require.LessOrEqual(t, len(c.pieces), 60)
			got, err := Cut(context.Background(), c.pieces, c.box, c.shop, c.kerf)
			require.NoError(t, err)
			cutsRight(t, got, c.pieces, c.box, c.shop, c.kerf)
			best, bound := c.integerProgram(t, glpsol)
			t.Logf("%d pieces: cost %.2f, bound %.2f; glpsol %.2f, bound %.2f", len(c.pieces), got.Cost, got.Bound, best, bound)
			assert.Empty(t, got.Left)
			assert.LessOrEqual(t, got.Cost, best+1e-6, "no dearer than glpsol's")
			assert.LessOrEqual(t, got.Bound, best+1e-6, "the bound is one")
			assert.GreaterOrEqual(t, got.Cost, bound-1e-6)
			assert.True(t, got.Optimal(), "gap %g", got.Gap())
		})
	}
}

// integerProgram gives the best cost that glpsol finds, and its bound.
func (c *cutCase) integerProgram(t testing.TB, glpsol string) (best, bound float64) {
	t.Helper()
	demand := map[float64]int{}
	var lengths []float64
	for _, p := range c.pieces {
		if demand[p]++; demand[p] == 1 {
			lengths = append(lengths, p)
		}
	}
	var objective, bounds strings.Builder
	rows := make([]strings.Builder, len(lengths))
	limits := make([]strings.Builder, len(c.box)+len(c.shop))
	columns := 0
	for k, s := range append(append([]Strip{}, c.box...), c.shop...) {
		pattern := make([]int, len(lengths))
		var grow func(i int, room float64)
		grow = func(i int, room float64) {
			if i < len(lengths) {
				for n := demand[lengths[i]]; n >= 0; n-- {
					if need := float64(n) * (lengths[i] + c.kerf); need <= room+1e-9 {
						pattern[i] = n
						grow(i+1, room-need)
					}
				}
				pattern[i] = 0
				return
			}
			for i, l := range lengths { // only those to which nothing can be added
				if pattern[i] < demand[l] && l+c.kerf <= room+1e-9 {
					return
				}
			}
			columns++
			price := s.Price
			if k < len(c.box) {
				price = 0
			}
			fmt.Fprintf(&objective, " + %g x%d\n", price, columns)
			fmt.Fprintf(&bounds, " x%d\n", columns)
			fmt.Fprintf(&limits[k], " + x%d\n", columns)
			for i, n := range pattern {
				if n > 0 {
					fmt.Fprintf(&rows[i], " + %d x%d\n", n, columns)
				}
			}
		}
		grow(0, s.Length+c.kerf)
	}
	var lp strings.Builder
	fmt.Fprintf(&lp, "Minimize\n cost:%s\nSubject To\n", objective.String())
	for i, l := range lengths {
		fmt.Fprintf(&lp, " p%d:%s >= %d\n", i, rows[i].String(), demand[l])
	}
	for k, s := range append(append([]Strip{}, c.box...), c.shop...) {
		if s.Count >= 0 {
			fmt.Fprintf(&lp, " k%d:%s <= %d\n", k, limits[k].String(), s.Count)
		}
	}
	fmt.Fprintf(&lp, "General\n%sEnd\n", bounds.String())
	dir := t.TempDir()
	model, result := filepath.Join(dir, "cut.lp"), filepath.Join(dir, "cut.txt")
	require.NoError(t, os.WriteFile(model, []byte(lp.String()), 0o600))
	out, err := exec.Command(glpsol, "--lp", model, "--tmlim", "20", "--mipgap", "0", "--cuts", "-o", result).CombinedOutput()
	require.NoError(t, err, string(out))
	return readGlpsol(t, result, string(out), columns)
}

func readGlpsol(t testing.TB, result, out string, columns int) (best, bound float64) {
	t.Helper()
	text, err := os.ReadFile(result)
	require.NoError(t, err)
	status := ""
	for line := range strings.Lines(string(text)) {
		key, value, _ := strings.Cut(line, ":")
		value = strings.TrimSpace(value)
		switch key {
		case "Status":
			status = value
		case "Objective":
			_, figures, _ := strings.Cut(value, "=")
			_, err := fmt.Sscan(figures, &best)
			require.NoError(t, err)
		}
	}
	t.Logf("glpsol: %d patterns, %s", columns, status)
	switch status {
	case "INTEGER OPTIMAL":
		return best, best
	case "INTEGER NON-OPTIMAL":
		return best, 0
	}
	t.Fatalf("glpsol gives %q:\n%s", status, out)
	return 0, 0
}

// TestCutFewPieces compares with every possible way to cut up to seven pieces.
func TestCutFewPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Custom(func(t *rapid.T) float64 { return float64(rapid.IntRange(4, 40).Draw(t, "length")) })
		pieces := rapid.SliceOfN(length, 1, 7).Draw(t, "pieces")
		shop := []Strip{{40, 1, -1}}
		for range rapid.IntRange(0, 2).Draw(t, "shops") {
			shop = append(shop, Strip{length.Draw(t, "shop"), float64(rapid.IntRange(1, 8).Draw(t, "price")) / 4, rapid.IntRange(-1, 2).Draw(t, "count")})
		}
		var box []Strip
		for range rapid.IntRange(0, 2).Draw(t, "boxes") {
			box = append(box, Strip{length.Draw(t, "box"), 0, rapid.IntRange(0, 2).Draw(t, "count")})
		}
		kerf := float64(rapid.IntRange(0, 2).Draw(t, "kerf"))
		c, err := Cut(context.Background(), pieces, box, shop, kerf)
		require.NoError(t, err)
		cutsRight(t, c, pieces, box, shop, kerf)
		kinds := append([]Strip{}, box...)
		for i := range kinds {
			kinds[i].Price = 0
		}
		require.InDelta(t, cheapest(pieces, append(kinds, shop...), kerf, math.Inf(1)), c.Cost, 1e-9)
		require.True(t, c.Optimal())
	})
}

// cheapest tries all: the first piece alone or with any of the others, in any kind of
// strip, and so on with the rest.
func cheapest(pieces []float64, kinds []Strip, kerf, beat float64) float64 {
	if len(pieces) == 0 {
		return 0
	}
	for with := range 1 << (len(pieces) - 1) {
		size := pieces[0]
		var rest []float64
		for i, p := range pieces[1:] {
			if with>>i&1 == 1 {
				size += p + kerf
			} else {
				rest = append(rest, p)
			}
		}
		for k := range kinds {
			if kinds[k].Length < size || kinds[k].Count == 0 || kinds[k].Price >= beat {
				continue
			}
			kinds[k].Count--
			beat = min(beat, kinds[k].Price+cheapest(rest, kinds, kerf, beat-kinds[k].Price))
			kinds[k].Count++
		}
	}
	return beat
}

// manyPieces are five hundred pieces, no two alike.
func manyPieces(seed uint64, from, to float64) []float64 {
	r := rand.New(rand.NewPCG(seed, 500))
	out := make([]float64, 500)
	for i := range out {
		out[i] = from + (to-from)*r.Float64()
	}
	return out
}

// For five hundred pieces, at most one strip over the bound.
func TestCutManyPieces(t *testing.T) {
	shop := []Strip{{1000, 1, -1}}
	for _, span := range [][2]float64{{30, 300}, {100, 500}, {200, 900}, {250, 400}, {300, 700}, {420, 560}, {10, 999}} {
		for seed := range uint64(3) {
			pieces := manyPieces(seed, span[0], span[1])
			c, err := Cut(context.Background(), pieces, nil, shop, 0.5)
			require.NoError(t, err)
			t.Logf("%v: %d strips, %g over the bound", span, len(c.Strips), c.Gap())
			cutsRight(t, c, pieces, nil, shop, 0.5)
			assert.LessOrEqual(t, c.Gap(), 1.0, "%v", span)
		}
	}
}

// BenchmarkCut cuts five hundred pieces, no two alike, from strips of one length.
func BenchmarkCut(b *testing.B) {
	pieces := manyPieces(1, 200, 900)
	for b.Loop() {
		if _, err := Cut(context.Background(), pieces, nil, []Strip{{1000, 1, -1}}, 0.5); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkCutTwoLengths is the same in two lengths and prices.
func BenchmarkCutTwoLengths(b *testing.B) {
	pieces := manyPieces(1, 200, 590)
	for b.Loop() {
		if _, err := Cut(context.Background(), pieces, nil, []Strip{{1000, 1.2, -1}, {600, 0.8, -1}}, 0.5); err != nil {
			b.Fatal(err)
		}
	}
}
