package loft

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/assets"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/curve"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// The checks in this file are facts of the trade: common practice, no source.

func plankOne(t *testing.T, p *hull.Plan) *Layer {
	t.Helper()
	k, err := Plank(p)
	require.NoError(t, err)
	return k.Layers[0]
}

// A 92 mm girth takes 18 strips of 5 mm and leaves 2 mm, 1 mm for each of two
// sections of 9 strips; nine 5 mm strips run 45 mm.
func TestGirthOf92(t *testing.T) {
	frames := bodies.Trough(5, 60, func(float64) [][2]float64 { return bodies.Flat(92) })
	whole := plankOne(t, oneLayer(frames, bodies.FiveByTwo, 1))
	assert.Equal(t, 18, whole.Bands[0].Strakes)
	assert.InDelta(t, 2, whole.Bands[0].Left, 1e-9)

	l := plankOne(t, oneLayer(frames, bodies.FiveByTwo, 2))
	for _, b := range l.Bands {
		assert.Equal(t, 9, b.Strakes)
		assert.InDelta(t, 1, b.Left, 1e-6)
		run := 0.0
		for k := range 9 {
			run += l.Strakes[b.First+k].At[2].Pitch
		}
		assert.InDelta(t, 45, run, 1e-9)
	}
	// With that millimetre given to creep every strip fits as it is.
	p := oneLayer(frames, bodies.FiveByTwo, 2)
	p.Layers[0].Creep = 1. / 9
	for _, st := range plankOne(t, p).Strakes {
		for _, c := range st.At {
			assert.Equal(t, Full, c.Action)
		}
	}
}

// A strake that needs 5.2 mm of 5 mm stock makes a gap that gathers over ten
// strakes into one wedge of 2 mm.
func TestTenGapsMakeOneWedge(t *testing.T) {
	frames := bodies.Trough(6, 60, func(x float64) [][2]float64 { return bodies.Flat(50 + 2*max(x-120, 0)/180) })
	p := oneLayer(frames, bodies.FiveByTwo, 1)
	p.Layers[0].Bands[0].Strakes = 10
	p.Trade = hull.NewTrade()
	p.Trade.WedgeEnd = 0.5 // wedges anywhere
	l := plankOne(t, p)
	last := l.Strakes[4].At[5]
	assert.InDelta(t, 5, last.WidthFrame, 1e-3) // the strake runs a little askew to the frame
	assert.Equal(t, Full, last.Action)
	require.Len(t, l.Wedges, 1)
	w := l.Wedges[0]
	assert.InDelta(t, 2, w.Width, 0.01)
	assert.Equal(t, 5, w.To)
	assert.Equal(t, "1.05", w.Below)
	assert.InDelta(t, 180, w.Length, 1)
	assert.False(t, w.Stealer)
}

// A section that needs 4 mm at the bow of 5 mm stock tapers by 1 mm.
func TestTaperOfOneMillimetre(t *testing.T) {
	frames := bodies.Trough(6, 60, func(x float64) [][2]float64 { return bodies.Flat(36 + 9*min(x, 120)/120) })
	p := oneLayer(frames, bodies.FiveByTwo, 1)
	p.Layers[0].Bands[0].Strakes = 9
	l := plankOne(t, p)
	for _, st := range l.Strakes {
		bow := st.At[0]
		assert.Equal(t, Taper, bow.Action)
		assert.InDelta(t, 4, bow.WidthFrame, 1e-6)
		assert.InDelta(t, 1, bow.Pitch-bow.WidthFrame, 1e-6)
	}
}

// Over a 45-degree turn seven 2 mm thick strips bevel about 6.4 degrees a
// seam, about 3.2 an edge, and the outer face is about 1.57 mm longer than the
// inner, about 0.2 mm a strip (t·θ).
func TestBevelsOverEighthTurn(t *testing.T) {
	theta := math.Pi / 4
	frames := bodies.Trough(5, 60, func(float64) [][2]float64 { return bodies.Arc(35, theta) })
	p := oneLayer(frames, bodies.FiveByTwo, 1)
	p.Layers[0].Bands[0].Strakes = 7
	p.Layers[0].Stock.Width = 5.5 // all taper, and so are alike
	l := plankOne(t, p)
	c := l.Strakes[3].At[2]
	assert.InDelta(t, 45./7/2, c.BevelUpper.Degrees(), 0.01)
	assert.InDelta(t, 45./7/2, c.BevelLower.Degrees(), 0.01)
	assert.InDelta(t, 6.4, (c.BevelLower + l.Strakes[4].At[2].BevelUpper).Degrees(), 0.05)
	assert.InDelta(t, 1.57/7, 5.5-c.Pitch, 0.001)
	// The outer face: the next layer's surface is longer by t·θ.
	outer := l.Surface.offset(2, 0, l.Surface.Frames()-1)
	assert.InDelta(t, 1.57, outer.Girth(2)-l.Surface.Girth(2), 0.005)

	p.Layers[0].Edges = hull.Square
	assert.InDelta(t, 5.5, plankOne(t, p).Strakes[3].At[2].Pitch, 1e-9)
}

// Nine strips tightened by bevelling over a quarter turn lose about 2 to 3 mm
// of run. With 2 mm strips t·θ is 3.14 mm for the whole turn; the two outermost
// edges, which meet no other strip of the nine, are left square, and what is
// lost is 8/9 of it: 2.79 mm.
func TestNineStripsOverQuarterTurn(t *testing.T) {
	frames := bodies.Trough(5, 60, func(float64) [][2]float64 { return bodies.Arc(45, math.Pi/2) })
	p := oneLayer(frames, bodies.FiveByTwo, 1)
	p.Layers[0].Bands[0].Strakes = 9
	p.Layers[0].Stock.Width = 5.5 // all taper, and so are alike
	run := func() float64 {
		sum := 0.0
		l := plankOne(t, p)
		for _, st := range l.Strakes {
			sum += st.At[2].Pitch
		}
		// What wale and rabbet take, of square edges too, is not the strips' own.
		return sum + 2*float64(l.Strakes[0].At[2].BevelUpper+l.Strakes[8].At[2].BevelLower)
	}
	tight := run()
	p.Layers[0].Edges = hull.Square
	assert.InDelta(t, 2*math.Pi/2*8/9, run()-tight, 0.01)
	assert.InDelta(t, 2.5, run()-tight, 0.5)
}

// A whole circle: the outer face of a band is 2πt longer than the inner.
func TestOuterFaceOfCircle(t *testing.T) {
	s := cylinder(t, 100, 5, 31, 30)
	outer := s.offset(2, 0, s.Frames()-1)
	assert.InDelta(t, 2*math.Pi*2, 2*(outer.Girth(2)-s.Girth(2)), 0.002)
}

// In a hollow the signs turn: square strips meet at their outer corners and
// stand apart on the frame; bevelled they close.
func TestHollowTurnsTheSigns(t *testing.T) {
	frames := bodies.Trough(5, 60, func(float64) [][2]float64 {
		var out [][2]float64
		for _, p := range bodies.Arc(45, math.Pi/4) {
			out = append(out, [2]float64{80 - p[0], p[1]})
		}
		return out
	})
	p := oneLayer(frames, bodies.FiveByTwo, 1)
	p.Layers[0].Bands[0].Strakes = 9
	c := plankOne(t, p).Strakes[4].At[2]
	assert.InDelta(t, -2.5, c.BevelUpper.Degrees(), 0.01)
	assert.InDelta(t, 5, c.Pitch, 1e-9)
	p.Layers[0].Edges = hull.Square
	c = plankOne(t, p).Strakes[4].At[2]
	assert.InDelta(t, 5+2*math.Pi/4/9, c.Pitch, 1e-4)
}

// Where strakes would be under half their stock, two end in one.
func TestDropStrakes(t *testing.T) {
	frames := bodies.Trough(8, 60, func(x float64) [][2]float64 { return bodies.Flat(45 - 24.6*max(x-120, 0)/300) })
	p := oneLayer(frames, bodies.FiveByTwo, 1)
	l := plankOne(t, p)
	require.Equal(t, 9, l.Bands[0].Strakes)
	assert.Equal(t, []int{9, 9, 9, 9, 9, 9, 9, 8}, l.Bands[0].Laid)
	require.Len(t, l.Drops, 1)
	d := l.Drops[0]
	assert.Equal(t, Drop{Strake: "1.05", Into: "1.06", Band: 1, From: 6, To: 7, Nib: l.Strakes[4].At[6].WidthCut, At: 4}, d)
	assert.InDelta(t, 2.5, d.Nib, 0.01)
	for i := range frames {
		sum := 0.0
		for _, st := range l.Strakes {
			if st.At[i].Laid {
				assert.GreaterOrEqual(t, st.At[i].WidthFrame, 2.5-1e-9)
			}
			sum += st.At[i].WidthFrame
		}
		assert.InDelta(t, l.Girths[i], sum, 1e-9, fmt.Sprint("frame ", i))
	}
}

// A strake made wider takes its weight of the band.
func TestWeights(t *testing.T) {
	frames := bodies.Trough(4, 60, func(float64) [][2]float64 { return bodies.Flat(55) })
	p := oneLayer(frames, bodies.FiveByTwo, 1)
	p.Layers[0].Bands[0] = hull.Band{Strakes: 10, Weights: []float64{1, 1, 1, 1, 1, 1, 1, 1, 1, 2}}
	l := plankOne(t, p)
	assert.InDelta(t, 10, l.Strakes[9].At[1].WidthFrame, 1e-6)
	assert.InDelta(t, 5, l.Strakes[8].At[1].WidthFrame, 1e-6)
	assert.True(t, l.Strakes[9].Garboard)
	assert.IsType(t, TooWide{}, l.Notes[0])
}

// A strake at an angle to the frame is narrower across than along it.
func TestWidthAcross(t *testing.T) {
	// An upright side that rises 1 in 4 along its length.
	frames := bodies.Trough(6, 40, func(x float64) [][2]float64 {
		out := bodies.Flat(40)
		for i := range out {
			out[i][1] += x / 4
		}
		return out
	})
	l := plankOne(t, oneLayer(frames, bodies.FiveByTwo, 1))
	c := l.Strakes[2].At[3]
	assert.InDelta(t, c.WidthFrame*math.Cos(math.Atan(0.25)), c.WidthCut, 1e-6)
}

// oneLayer is a plan of one layer over the frames, split evenly into bands by
// drawn lines.
func oneLayer(frames []hull.Frame, stock hull.Stock, bands int) *hull.Plan {
	l := hull.Layer{Stock: stock, Edges: hull.Bevelled, Bands: make([]hull.Band, bands)}
	for k := 1; k < bands; k++ {
		b := hull.BandLine{LineType: hull.Drawn, Aim: -1, Hold: len(frames) / 2}
		for _, f := range frames {
			c, err := curve.NewOutline(f)
			if err != nil {
				panic(err)
			}
			b.Handles = append(b.Handles, hull.Handle{Down: c.Total() * float64(k) / float64(bands), Held: true})
		}
		l.Lines = append(l.Lines, b)
	}
	return &hull.Plan{Hull: hull.Hull{Frames: frames}, Layers: []hull.Layer{l}}
}

// Strakes under half a strip are told of with the narrowest, nibs apart; and a hull of
// which none is tells nothing.
func TestNarrowStrakesAreTold(t *testing.T) {
	told := map[int]TooNarrow{}
	k := narrowDemo(t)
	for _, l := range k.Layers {
		for _, n := range l.Notes {
			if n, ok := n.(TooNarrow); ok {
				told[l.Number*100+n.Band] = n
				assert.Less(t, n.Share, 0.5)
			}
		}
		for _, b := range l.Bands {
			least, strakes := 0.5-1e-6, 0
			for k := range b.Weights {
				st, narrow := l.Strakes[b.First+k], false
				for i, c := range st.At {
					if c.Laid && c.WidthCut < (0.5-1e-6)*st.Strip && !l.dropsAt(b.First+k, i) {
						least, narrow = min(least, c.WidthCut/st.Strip), true
					}
				}
				if narrow {
					strakes++
				}
			}
			n, ok := told[l.Number*100+b.Number]
			require.Equal(t, strakes > 0, ok)
			if ok {
				assert.Equal(t, strakes, n.Strakes)
				assert.InDelta(t, least, n.Share, 1e-12)
			}
		}
	}
	assert.NotEmpty(t, told)
	assert.Less(t, len(told), 5)
}

func narrowDemo(t *testing.T) *Planking {
	t.Helper()
	p, err := hull.ReadPlan(bytes.NewReader(assets.Demo()), "coaster.strakeplan")
	require.NoError(t, err)
	k, err := Plank(p)
	require.NoError(t, err)
	return k
}
