package cutstock

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/loft/internal/checks"
)

// times are so many pieces of each length.
func times(n int, lengths ...float64) []float64 {
	var out []float64
	for _, l := range lengths {
		for range n {
			out = append(out, l)
		}
	}
	return out
}

// What goes into a strip to a hundredth of a millimetre is cut from it.
func TestCutTakesWhatJustFits(t *testing.T) {
	for _, c := range []struct {
		name   string
		pieces []float64
		shop   []Strip
		kerf   float64
		cost   float64
	}{
		// 200.03 mm are left beside the long piece for one of 200.01.
		{"a short piece beside a long one", times(12, 599.57, 200.01), []Strip{{800, 0, -1}}, 0.4, 12 * 800},
		{"by a nanometre", []float64{500.000001, 499.499998}, []Strip{{1000, 1, -1}}, 0.5, 1},
		{"a nanometre too long", []float64{500.000001, 499.500001}, []Strip{{1000, 1, -1}}, 0.5, 2},
		// 300.027 three times and two kerfs are 900.981 of 901.
		{"thirds in the shorter strip", times(6, 300.027), []Strip{{901, 0, -1}, {915, 0, -1}}, 0.45, 2 * 901},
		{"unlike thirds", []float64{311.013, 288.027, 300.049}, []Strip{{900, 0, -1}, {914, 0, -1}}, 0.45, 900},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Cut(context.Background(), c.pieces, nil, c.shop, c.kerf)
			require.NoError(t, err)
			cutsRight(t, got, c.pieces, nil, c.shop, c.kerf)
			assert.InDelta(t, c.cost, got.Cost, 1e-9)
			assert.True(t, got.Optimal())
		})
	}
}

// nearFits are pieces broken out of so many strips of that length, at most slack
// (mm) left of each, to a thousandth.
func nearFits(r *rand.Rand, strips int, length, kerf, slack float64) []float64 {
	var out []float64
	for range strips {
		n := 2 + r.IntN(3)
		left := length - kerf*float64(n-1) - slack*r.Float64()
		for k := n; k > 1; k-- {
			p := math.Floor(1000*left/float64(k)*(0.6+0.8*r.Float64())) / 1000
			out = append(out, p)
			left -= p
		}
		out = append(out, math.Floor(1000*left)/1000)
	}
	r.Shuffle(len(out), func(a, b int) { out[a], out[b] = out[b], out[a] })
	return out
}

// TestCutNearFitsAgainstIntegerProgram compares with glpsol (GNU Linear Programming
// Kit) where a few hundredths of a millimetre decide.
func TestCutNearFitsAgainstIntegerProgram(t *testing.T) {
	glpsol := checks.External(t, "glpsol")
	r := rand.New(rand.NewPCG(913, 98))
	for n := range 12 {
		c := cutCase{pieces: nearFits(r, 4+n%3, 914, 0.4, 0.05), shop: []Strip{{914, 0, -1}}, kerf: 0.4}
		if n%3 == 1 {
			c.shop = []Strip{{914, 1.1, -1}, {640, 0.8, -1}}
		}
		if n%3 == 2 {
			c.box = []Strip{{457.2, 0, 2}}
		}
		for k := range c.shop {
			if c.shop[k].Price == 0 {
				c.shop[k].Price = c.shop[k].Length // as the program reckons where nothing has a price
			}
		}
		got, err := Cut(context.Background(), c.pieces, c.box, c.shop, c.kerf)
		require.NoError(t, err)
		cutsRight(t, got, c.pieces, c.box, c.shop, c.kerf)
		best, bound := c.integerProgram(t, glpsol)
		require.InDelta(t, best, bound, 1e-9, "glpsol is through")
		t.Logf("%d: %d pieces %g %g, glpsol %g", n, len(c.pieces), got.Cost, got.Bound, best)
		assert.InDelta(t, best, got.Cost, 1e-6)
		assert.True(t, got.Optimal(), "case %d: %g of %g", n, got.Bound, got.Cost)
	}
}
