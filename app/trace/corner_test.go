package trace

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A corner of a body and crossings of lines whose positions are known exactly,
// at several angles. The brightness is that of a straight edge across a pixel
// (shaded takes the mean over each), in 8 bits. The tolerance is the 0.3 px
// required of a clean edge; the end of one line pulls the middle of another by
// up to half the width of a line more.
func TestSnapFindsCorners(t *testing.T) {
	at := Pt(60.3, 58.8)
	for _, turn := range []float64{0, 0.05, 0.3, math.Pi / 4, 1.2} {
		u, v := Pt(math.Cos(turn), math.Sin(turn)), Pt(-math.Sin(turn), math.Cos(turn))
		place := func(x, y float64) (a, b float64) { d := Pt(x, y).minus(at); return d.dot(u), d.dot(v) }
		for name, f := range map[string]func(x, y float64) float64{
			"corner":   func(x, y float64) float64 { a, b := place(x, y); return 255 * (1 - step01(a)*step01(b)) },
			"crossing": func(x, y float64) float64 { a, b := place(x, y); return 255 * (1 - max(band(a, 1.5), band(b, 1.5))) },
			"tick": func(x, y float64) float64 {
				a, b := place(x, y)
				return 255 * (1 - max(band(a, 1.2), band(b, 1.5)*step01(a)))
			},
		} {
			p := shaded(120, 120, f)
			for _, off := range []Point{{0, 0}, {3, -2}, {-4, 4}, {5, 1}} {
				got, ok := p.SnapCorner(at.plus(off), 9)
				require.True(t, ok, "%s turned by %g from %v", name, turn, off)
				want := 0.3
				if name == "tick" {
					want += 1.2 / 2
				}
				assert.InDelta(t, 0, got.distance(at), want, "%s turned by %g from %v", name, turn, off)
			}
		}
	}
}

// Where a thick line ends at another, the point found lies in both of them.
func TestSnapFindsWhereThickLinesMeet(t *testing.T) {
	const half = 3.75
	p := shaded(120, 120, func(x, y float64) float64 {
		return 255 * (1 - max(band(x-60, half), band(y-60, half)*step01(60-x)))
	})
	for _, off := range []Point{{0, 0}, {4, 4}, {-5, 3}, {-3, -6}} {
		got, ok := p.SnapCorner(Pt(60, 60).plus(off), 20)
		require.True(t, ok, "%v", off)
		assert.InDelta(t, 60, got.X, half/2)
		assert.InDelta(t, 60, got.Y, 0.3)
	}
}

func TestSnapRefusesWhatIsNoCorner(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for name, p := range map[string]*Picture{
		"flat ground": shaded(120, 120, func(_, _ float64) float64 { return 200 }),
		"a line":      shaded(120, 120, func(x, y float64) float64 { return 255 * (1 - band(x+0.3*y-78, 1.5)) }),
		"an edge":     shaded(120, 120, func(x, _ float64) float64 { return 255 * step01(x-60) }),
		"faint noise": shaded(120, 120, func(_, _ float64) float64 { return 200 + 2*r.Float64() }),
	} {
		got, ok := p.SnapCorner(Pt(60, 60), 9)
		assert.False(t, ok, name)
		assert.Equal(t, Pt(60, 60), got, name)
	}
	_, ok := shaded(40, 40, func(_, _ float64) float64 { return 0 }).SnapCorner(Pt(nan, 1), 9)
	assert.False(t, ok)
}
