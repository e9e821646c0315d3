package loft

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
)

// measured is a plan of girths alone, with a turn of 90 degrees at every frame except
// the last, whose turn is not known.
func measured() *hull.Plan {
	h := hull.Hull{}
	var girths []hull.Girth
	for i, g := range []float64{60, 80, 96, 100, 94, 75} {
		girths = append(girths, hull.Girth{Frame: string(rune('A' + i)), X: 50 * float64(i), Girth: g, Turn: hull.Degrees(90), Turned: i < 5})
	}
	girths[5].Turn = 0
	h.SetGirths(girths)
	p := hull.NewPlan("", h)
	p.Layers[0].Bands[0].Strakes = 10
	p.Layers[0].Stock.Width = 11
	return p
}

// Girths, widths and bevels are those found with a strip of paper: a band of girth G
// shared by n is G/n wide, and a turn θ shared by n faces bevels each edge by θ/(2n)
// (common practice, no source; exact for arcs).
func TestGirthsAlone(t *testing.T) {
	p := measured()
	k, err := Plank(p)
	require.NoError(t, err)
	l := k.Layers[0]
	for i, g := range p.Hull.Girths {
		assert.InDelta(t, g.Girth, l.Girths[i], 1e-4) // the cubic through 25 points of an arc
		for n, st := range l.Strakes {
			c := st.At[i]
			assert.InDelta(t, g.Girth/10, c.WidthFrame, 1e-3)
			if n > 0 && g.Turned {
				assert.InDelta(t, 4.5, c.BevelUpper.Degrees(), 1e-3)
			}
			if !g.Turned {
				assert.InDelta(t, 0, c.BevelUpper.Degrees(), 1e-6)
			}
		}
	}
	for _, st := range l.Strakes {
		assert.Zero(t, st.EdgeSetMax)
		assert.Zero(t, st.FaceRadiusMin)
		assert.Zero(t, st.Twist)
		assert.InDelta(t, 250, st.Length, 5)
	}
	require.GreaterOrEqual(t, len(l.Notes), 2)
	require.IsType(t, NoTurn{}, l.Notes[len(l.Notes)-1])
	assert.Contains(t, l.Notes[len(l.Notes)-1].(NoTurn).Frames, "F")
}

// A second layer lies on girths longer by t·θ.
func TestGirthsOfAnOuterLayer(t *testing.T) {
	p := measured()
	p.Layers = append(p.Layers, p.Layers[0])
	k, err := Plank(p)
	require.NoError(t, err)
	for i, g := range p.Hull.Girths {
		assert.InDelta(t, g.Girth+2*float64(g.Turn), k.Layers[1].Girths[i], 1e-4)
	}
}

// A hollow tighter than the planking used to be refused, and everything else with it.
// Now the planking counts as thinned there to nine tenths of the radius: an arc of 5 mm
// that turns through half a circle has a radius of 5/π mm.
func TestGirthsTooHollow(t *testing.T) {
	p := measured()
	p.Hull.Girths[0].Girth, p.Hull.Girths[0].Turn = 5, hull.Degrees(-180)
	p.Hull.SetGirths(p.Hull.Girths)
	p.Layers = append(p.Layers, p.Layers[0], p.Layers[0])
	k, err := Plank(p)
	require.NoError(t, err)
	assert.InDelta(t, 5*0.1, k.Layers[1].Girths[0], 1e-4)
	assert.InDelta(t, 5*0.01, k.Layers[2].Girths[0], 1e-4)
	for n := range 2 {
		i := slices.IndexFunc(k.Layers[n].Notes, func(n Note) bool { _, folds := n.(Folds); return folds })
		require.GreaterOrEqual(t, i, 0)
		f := k.Layers[n].Notes[i].(Folds)
		assert.InDelta(t, 5/math.Pi*math.Pow(0.1, float64(n)), f.Radius, 1e-9)
		assert.InDelta(t, 0.9*f.Radius, f.Left, 1e-9)
		assert.Equal(t, [2]int{0, 0}, [2]int{f.From, f.To})
		assert.Equal(t, 1, f.EndFrom)
	}
}

func TestWhatNeedsAShape(t *testing.T) {
	p := measured()
	q, err := FairLines(context.Background(), p, 0, 3)
	require.NoError(t, err)
	k, err := Plank(q)
	require.NoError(t, err)
	for i, g := range p.Hull.Girths {
		for line := range 2 {
			b := k.Layers[0].Lines[line+1]
			assert.InDelta(t, g.Girth*float64(line+1)/3, b.Down[k.Layers[0].Surface.FrameStation(i)], 1e-3)
			assert.Nil(t, b.LieOff)
		}
	}
	rows, err := compare(t.Context(), p, 0, inWidths(p, 0, 4, 6))
	require.NoError(t, err)
	assert.Zero(t, rows[0].EdgeStrainMax)
	assert.False(t, math.IsNaN(rows[1].Waste))

	_, err = k.Layers[0].Surface.Lie(2, 20, nil)
	assert.ErrorIs(t, err, ErrShapeless)
	_, err = k.Layers[0].Flat("1.01")
	assert.ErrorIs(t, err, ErrShapeless)
	_, err = k.Layers[0].Surface.Section(60, 0)
	assert.ErrorIs(t, err, ErrShapeless)
	for _, m := range []hull.LineType{hull.Free, hull.Least} {
		r := q.Clone()
		r.Layers[0].Lines[0].LineType = m
		_, err = Plank(r)
		assert.ErrorIs(t, err, ErrShapeless)
	}
}
