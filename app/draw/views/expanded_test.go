package views

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strakewright/app/draw"
	"strakewright/hull"
	"strakewright/loft"
)

// girthsAlone is a hull known by its girths, 30 to 90 mm, in two bands of four
// strakes of 5 mm, so that it gapes amidships and tapers at the ends.
func girthsAlone(t testing.TB) *loft.Planking {
	t.Helper()
	var h hull.Hull
	var girths []hull.Girth
	for i, g := range []float64{30, 60, 80, 90, 82, 64, 44} {
		girths = append(girths, hull.Girth{Frame: string(rune('A' + i)), X: 40 * float64(i), Girth: g})
	}
	h.SetGirths(girths)
	p := hull.NewPlan("", h)
	p.Layers[0].Stock.Width = 9
	p, err := loft.FairLines(context.Background(), p, 0, 2)
	require.NoError(t, err)
	for i := range p.Layers[0].Bands {
		p.Layers[0].Bands[i].Strakes = 4
	}
	k, err := loft.Plank(p)
	require.NoError(t, err)
	return k
}

func TestExpandedIsTrueToScale(t *testing.T) {
	k := girthsAlone(t)
	l := k.Layers[0]
	v := Expanded{Fit: true}
	v.X, v.Top = FitExpanded(k, l, 800, 300)
	v.Draw(k, Nothing.WithLine(0).WithFrame(3), 800, 300)
	for f, g := range l.Girths {
		x := k.Plan.Hull.Frames[f].X()
		station := l.Surface.FrameStation(f)
		top, foot := v.p.net[0][station], v.p.net[len(v.p.net)-1][station]
		assert.InDelta(t, v.X.At(x), top.X, 1e-6, "a frame is a vertical at its x")
		assert.InDelta(t, top.X, foot.X, 1e-6)
		assert.InDelta(t, v.Place(0, 0).Y, top.Y, 1e-6, "the upper limit is straight")
		assert.InDelta(t, g*v.X.Scale, foot.Y-top.Y, 1e-3, "the girth is at the scale of the length")
		assert.True(t, top.Y > 0 && foot.Y < 300)
	}
}

func TestExpandedFindsWhatLiesAtAPoint(t *testing.T) {
	k := girthsAlone(t)
	l := k.Layers[0]
	var v Expanded
	v.X, v.Top = FitExpanded(k, l, 800, 300)
	v.Draw(k, Nothing, 800, 300)
	at := v.Place(120, 45)
	assert.InDelta(t, 45, v.Down(at), 1e-9)
	h, ok := v.HandleAt(at, Nothing)
	require.True(t, ok, "half of the girth of 90 mm is the handle's place")
	assert.Equal(t, 0, h.Line)
	assert.Equal(t, 3, h.Frame)
	assert.Equal(t, 0, v.LineAt(at))
	assert.Equal(t, 3, v.FrameAt(at))
	assert.Equal(t, 0, v.StrakeAt(v.Place(120, 3)))
	assert.Equal(t, 7, v.StrakeAt(v.Place(120, 88)))
	assert.Equal(t, -1, v.StrakeAt(v.Place(120, 95)))
}

func TestExpandedMarksWedges(t *testing.T) {
	k := girthsAlone(t)
	require.NotEmpty(t, k.Layers[0].Wedges)
	var v Expanded
	v.X, v.Top = FitExpanded(k, k.Layers[0], 800, 300)
	v.Draw(k, Nothing, 800, 300)
	n := 0
	for _, i := range v.Drawing.Items {
		if l, ok := i.(draw.Label); ok && (l.Text == "wedge" || l.Text == "stealer") {
			n++
		}
	}
	assert.Equal(t, len(k.Layers[0].Wedges), n)
}
