package loft

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// flatSide is a layer on an upright flat side, 6 frames 100 mm apart.
func flatSide(t *testing.T, length float64) *Layer {
	t.Helper()
	frames := bodies.Trough(6, 100, func(float64) [][2]float64 { return bodies.Flat(20) })
	k, err := Plank(oneLayer(frames, hull.Stock{Width: 5, Thickness: 1, Length: length}, 1))
	require.NoError(t, err)
	return k.Layers[0]
}

func TestPiecesButtOnFrames(t *testing.T) {
	l := flatSide(t, 1000)
	require.Len(t, l.Strakes, 4)
	type piece struct {
		from, to float64
		butt     int
	}
	cases := []struct {
		strip, overhang float64
		want            []piece
	}{
		{1000, 0, []piece{{0, 500, 5}}},
		{500, 0, []piece{{0, 500, 5}}},
		{250, 0, []piece{{0, 200, 2}, {200, 400, 4}, {400, 500, 5}}},
		{500, 15, []piece{{0, 400, 4}, {400, 500, 5}}}, // the overhang does not fit
		{60, 0, []piece{{0, 60, -1}, {60, 100, 1}, {100, 160, -1}, {160, 200, 2}, {200, 260, -1}, {260, 300, 3}, {300, 360, -1}, {360, 400, 4}, {400, 460, -1}, {460, 500, 5}}},
		{100, 15, []piece{{0, 100, 1}, {100, 200, 2}, {200, 300, 3}, {300, 400, 4}, {400, 485, -1}, {485, 500, 5}}},
		{20, 30, []piece{{0, 500, 5}}}, // no strip is usable
	}
	for _, c := range cases {
		var first []Piece
		for _, p := range l.Pieces(c.strip, c.overhang) {
			if p.Strake == 0 {
				first = append(first, p)
			}
		}
		require.Len(t, first, len(c.want), "strips of %g mm, %g over", c.strip, c.overhang)
		for i, p := range first {
			assert.InDelta(t, c.want[i].from, p.From, 1e-6)
			assert.InDelta(t, c.want[i].to, p.To, 1e-6)
			assert.Equal(t, c.want[i].butt, p.ToFrame)
			over := 0.0
			if i == len(first)-1 {
				over = c.overhang
			}
			assert.InDelta(t, p.To-p.From+over, p.Length(), 1e-12)
			if c.overhang < c.strip {
				assert.LessOrEqual(t, p.Length(), c.strip+1e-6)
			}
		}
	}
}

// TestPiecesMakeUpTheStrakes: whatever the strip, nothing is lost or doubled.
func TestPiecesMakeUpTheStrakes(t *testing.T) {
	k, err := Plank(workload(t, 25))
	require.NoError(t, err)
	l := k.Layers[0]
	for _, strip := range []float64{47, 150, 480, 1000} {
		for _, overhang := range []float64{0, 10, 46} {
			sum := make([]float64, len(l.Strakes))
			last := -1
			for _, p := range l.Pieces(strip, overhang) {
				require.Greater(t, p.To, p.From)
				require.LessOrEqual(t, p.Length(), strip+1e-6)
				require.InDelta(t, sum[p.Strake], p.From, 1e-9)
				require.GreaterOrEqual(t, p.Strake, last)
				sum[p.Strake] += p.To - p.From
				last = p.Strake
			}
			for n, st := range l.Strakes {
				assert.InDelta(t, st.Length, sum[n], 1e-9)
			}
		}
	}
}

// TestAnOverhangNearlyAsLongAsTheStrip: what a strip reaches without it may be as little as
// rounding leaves, and would then make pieces without end.
func TestAnOverhangNearlyAsLongAsTheStrip(t *testing.T) {
	k, err := Plank(workload(t, 9))
	require.NoError(t, err)
	l := k.Layers[0]
	for _, left := range []float64{0, 1e-9, 1e-3, 0.099} {
		require.Len(t, l.Pieces(47, 47-left), len(l.Strakes), "%g mm are left", left)
		rules := k.Plan.Cutting
		rules.Overhang = 47 - left
		b := l.buttEvenly(rules, func(*Strake) float64 { return 47 })
		require.Len(t, b.Pieces, 2*len(l.Strakes), "%g mm are left", left)
	}
}
