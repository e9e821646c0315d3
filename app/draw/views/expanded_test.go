package views

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// girthsAlone is a hull known by its girths, 30 to 90 mm, in two bands of four
// strakes of 5 mm, so that it has gaps amidships and tapers at the ends.
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
	p.Trade = hull.NewTrade()
	p.Trade.WedgeEnd = 0.5 // wedges anywhere
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
		top, foot := v.p.limits[0][station], v.p.limits[1][station]
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

// TestExpandedShowsLimitsThatAreSetIn: the upper ends of the frames lie in a
// straight line, the limit lies below them by its inset, and seams end with the
// planking.
func TestExpandedShowsLimitsThatAreSetIn(t *testing.T) {
	whole := girthsAlone(t)
	p := whole.Plan.Clone()
	p.Hull.Limits.From, p.Hull.Limits.To = "B", "F"
	p.Hull.Limits.Down = []hull.Inset{{Frame: "B", MM: 4}, {Frame: "D", MM: 12}, {Frame: "F", MM: 6}}
	p.Hull.Limits.Up = []hull.Inset{{Frame: "D", MM: 5}}
	k, err := loft.Plank(p)
	require.NoError(t, err)
	l := k.Layers[0]
	var v Expanded
	v.X, v.Top = FitExpanded(k, l, 800, 300)
	v.Draw(k, Nothing, 800, 300)
	for f, in := range map[int]float64{1: 4, 3: 12, 5: 6} {
		x := k.Plan.Hull.Frames[f].X()
		i := l.Surface.FrameStation(f)
		top, foot := v.p.limits[0][i], v.p.limits[1][i]
		assert.InDelta(t, v.Place(x, in).Y, top.Y, 1e-6)
		assert.InDelta(t, v.Place(x, k.Plan.Hull.Girths[f].Girth-5).Y, foot.Y, 1e-3)
		assert.InDelta(t, 20, v.Below(f, v.Place(x, in+20)), 1e-9)
	}
	a, b := v.X.At(k.Plan.Hull.Frames[1].X()), v.X.At(k.Plan.Hull.Frames[5].X())
	for _, seam := range slices.Concat(v.p.seams, v.p.limits[:]) {
		for _, q := range seam {
			assert.True(t, q.X > a-1e-6 && q.X < b+1e-6, "nothing runs on beyond the planking")
		}
	}
	require.Len(t, v.Handles, 5)
	require.Len(t, v.Limits, 2*5)
	for _, h := range append(v.Handles, v.Limits...) {
		assert.True(t, h.Frame >= 1 && h.Frame <= 5)
	}
	at := v.Place(k.Plan.Hull.Frames[3].X(), 12)
	h, ok := v.HandleAt(at, Nothing)
	require.True(t, ok)
	assert.Equal(t, UpperLimit, h.Limit)
	assert.Equal(t, draw.Disc, h.Shape, "set in here")
	for _, h := range v.Limits {
		if h.Limit == UpperLimit && h.Frame == 2 {
			assert.Equal(t, draw.Ring, h.Shape, "here it runs as the others have it")
		}
	}
	assert.Equal(t, 0, v.StrakeAt(v.Place(120, 13)))
	assert.Equal(t, -1, v.StrakeAt(v.Place(120, 11)))
}

// TestTheChosenLimitComesFirst where handles of a line and a limit lie close
// together.
func TestTheChosenLimitComesFirst(t *testing.T) {
	lines := []Handle{{At: draw.Pt(10, 10), Line: 0, Frame: 1}}
	limits := []Handle{{At: draw.Pt(14, 10), Line: -1, Frame: 1, Limit: UpperLimit}, {At: draw.Pt(14, 30), Line: -1, Frame: 1, Limit: LowerLimit}}
	got := func(x float64, c Choice) Limit {
		h, ok := handleAt(lines, limits, draw.Pt(x, 10), c)
		require.True(t, ok)
		return h.Limit
	}
	assert.Equal(t, NoLimit, got(11, Nothing))
	assert.Equal(t, UpperLimit, got(13, Nothing), "the nearer")
	assert.Equal(t, UpperLimit, got(11, Nothing.WithLimit(UpperLimit)), "the chosen")
	assert.Equal(t, NoLimit, got(13, Nothing.WithLine(0)), "the chosen")
	_, ok := handleAt(lines, limits, draw.Pt(40, 10), Nothing)
	assert.False(t, ok)
}
