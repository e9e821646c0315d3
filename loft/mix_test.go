package loft

import (
	"math"
	"testing"

	"github.com/strakewright/strakewright/loft/internal/bodies"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// exhaustive tries every count of every choice of up to three widths.
func exhaustive(n *need, ws []float64) Mix {
	best := Mix{Shave: math.Inf(1)}
	most := func(w float64) int { return int(n.widest/w) + 3 }
	for _, a := range ws {
		for _, b := range ws {
			for _, c := range ws {
				if b < a || c < b {
					continue
				}
				for i := 0; i <= most(a); i++ {
					for j := 0; j <= most(b); j++ {
						for k := 0; k <= most(c); k++ {
							if i+j+k == 0 || i > 0 && j > 0 && a == b || j > 0 && k > 0 && b == c || i > 0 && k > 0 && a == c {
								continue
							}
							m := Mix{}
							for _, p := range []MixPart{{a, i}, {b, j}, {c, k}} {
								if p.Count > 0 {
									m.Parts = append(m.Parts, p)
								}
							}
							m.Shave, m.Fill = n.leaves(a*float64(i)+b*float64(j)+c*float64(k), i+j+k)
							if math.IsInf(best.Shave, 1) || m.beats(&best) {
								best = m
							}
						}
					}
				}
			}
		}
	}
	return best
}

// TestMixAgainstEnumeration: the search leaves no more than the best of all possible
// mixes.
func TestMixAgainstEnumeration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := need{creep: rapid.Float64Range(0, 0.2).Draw(t, "creep")}
		for range rapid.IntRange(3, 9).Draw(t, "frames") {
			w := rapid.Float64Range(15, 45).Draw(t, "need")
			n.width = append(n.width, w)
			n.length = append(n.length, rapid.Float64Range(5, 40).Draw(t, "length"))
			n.widest = max(n.widest, w)
		}
		ws := []float64{4, 5, 6}
		if rapid.Bool().Draw(t, "other") {
			ws = []float64{3.5, 5, 7.2}
		}
		got, err := n.search(t.Context(), ws)
		if err != nil {
			t.Fatal(err)
		}
		want := exhaustive(&n, ws)
		if got.Shave+got.Fill > want.Shave+want.Fill+1e-6*(1+want.Shave) {
			t.Fatalf("%v leaves %g, and %v leaves %g", got.Parts, got.Shave+got.Fill, want.Parts, want.Shave+want.Fill)
		}
	})
}

// TestMixOfSevenAndTwo: seven strips of 5 mm and two of 6 fill 47 mm all along.
func TestMixOfSevenAndTwo(t *testing.T) {
	p := oneLayer(bodies.Trough(5, 60, func(float64) [][2]float64 { return bodies.Flat(47) }), bodies.FiveByTwo, 1)
	k, err := Plank(p)
	require.NoError(t, err)
	m, err := k.BestMix(t.Context(), 0, 0, []float64{5, 6})
	require.NoError(t, err)
	assert.InDelta(t, 0, m.Shave+m.Fill, 1e-6)
	// Eight strips leave the same: seven of 6 and one of 5. Fewer strakes win.
	assert.Equal(t, []MixPart{{5, 1}, {6, 7}}, m.Parts)
	assert.Len(t, m.Order, 8)

	n := k.Layers[0].need(k.Layers[0].Bands[0], &p.Layers[0])
	shave, fill := n.leaves(7*5+2*6, 9)
	assert.InDelta(t, 0, shave+fill, 1e-6)
}

// TestMixInThePlan: laid as the mix says, every strake takes its own strip.
func TestMixInThePlan(t *testing.T) {
	p := oneLayer(bodies.Trough(5, 60, func(float64) [][2]float64 { return bodies.Flat(47) }), bodies.FiveByTwo, 1)
	b := &p.Layers[0].Bands[0]
	b.Strakes = 9
	b.Strips = []float64{5, 5, 5, 6, 5, 6, 5, 5, 5}
	l := plankOne(t, p)
	for i, st := range l.Strakes {
		c := st.At[2]
		assert.InDelta(t, b.Strips[i], c.WidthFrame, 1e-9)
		assert.Equal(t, Full, c.Action)
		assert.Equal(t, b.Strips[i], st.Strip)
	}
	assert.InDelta(t, 0, l.Bands[0].Left, 1e-9)
}

// TestWiderStripsGoWhereItIsFlat: over a flat side and a round bilge the wider
// strips lie on the side.
func TestWiderStripsGoWhereItIsFlat(t *testing.T) {
	frames := bodies.Trough(5, 60, func(float64) [][2]float64 {
		out := [][2]float64{{40, 60}, {40, 55}, {40, 50}, {40, 45}}
		for _, p := range bodies.Arc(40, math.Pi/2) {
			out = append(out, [2]float64{40 - 40/(math.Pi/2) + p[0], 40 + p[1]})
		}
		return out
	})
	k, err := Plank(oneLayer(frames, bodies.FiveByTwo, 1))
	require.NoError(t, err)
	m := Mix{Parts: []MixPart{{5, 8}, {6, 3}}}
	order := k.Layers[0].place(k.Layers[0].Bands[0], m)
	assert.Equal(t, []float64{6, 6, 6}, order[:3])
}

func TestMixRefusesBadWidths(t *testing.T) {
	k, err := Plank(oneLayer(bodies.Boxy(7), bodies.FiveByTwo, 1))
	require.NoError(t, err)
	for _, ws := range [][]float64{nil, {0, 5}, {-1}, {0.01}} {
		_, err := k.BestMix(t.Context(), 0, 0, ws)
		assert.Error(t, err)
	}
	_, err = k.BestMix(t.Context(), 0, 3, []float64{5})
	assert.ErrorContains(t, err, "no band 4")
}
