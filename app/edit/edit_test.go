package edit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

func planAndCourse(t *testing.T) (*hull.Plan, []float64) {
	t.Helper()
	s := apptest.Session(t)
	return s.Plan().Clone(), Crossings(s.Planking().Layers[0], 1)
}

func TestManners(t *testing.T) {
	p, course := planAndCourse(t)
	b := &p.Layers[0].Lines[0]
	require.Equal(t, hull.Free, b.LineType)
	require.NoError(t, SetLineType(0, 0, hull.Drawn, course)(p))
	for f, h := range b.Handles {
		assert.Equal(t, hull.Handle{Down: course[f], Held: true}, h, "a free line that is drawn stays where it is")
	}
	require.NoError(t, SetLineType(0, 0, hull.Least, course)(p))
	held := 0
	for _, h := range b.Handles {
		if h.Held {
			held++
		}
	}
	assert.Equal(t, 3, held, "ends and hold handle, with room between")
	require.NoError(t, SetHeld(0, 0, 2, true, course)(p))
	assert.True(t, b.Handles[2].Held)
	require.NoError(t, SetLineType(0, 0, hull.Free, course)(p))
	assert.Equal(t, course[b.Hold], b.Handles[b.Hold].Down)
}

func TestLastHandleIsNotReleased(t *testing.T) {
	p, course := planAndCourse(t)
	require.NoError(t, SetLineType(0, 0, hull.Drawn, course)(p))
	n := len(p.Layers[0].Lines[0].Handles)
	for f := 1; f < n; f++ {
		require.NoError(t, SetHeld(0, 0, f, false, course)(p))
	}
	assert.ErrorContains(t, SetHeld(0, 0, 0, false, course)(p), "at least one")
	_, err := loft.Plank(p)
	assert.NoError(t, err)
}

func TestAimAndHoldStandOnTwoFrames(t *testing.T) {
	p, course := planAndCourse(t)
	b := &p.Layers[0].Lines[0]
	assert.ErrorContains(t, SetAim(0, 0, b.Hold, course)(p), "another frame")
	require.NoError(t, SetAim(0, 0, b.Hold+1, course)(p))
	require.NoError(t, SetHold(0, 0, b.Hold+1, course)(p))
	assert.Equal(t, -1, b.Aim)
	_, err := loft.Plank(p)
	assert.NoError(t, err)
}

func TestAddAndRemoveLine(t *testing.T) {
	p, _ := planAndCourse(t)
	k, err := loft.Plank(p)
	require.NoError(t, err)
	l := k.Layers[0]
	bands := len(l.Bands)
	p.Layers[0].Bands[1].Strakes = 7
	for band := range bands {
		q := p.Clone()
		upper, lower := Crossings(l, band), Crossings(l, band+1)
		require.NoError(t, AddLine(0, band, upper, lower)(q))
		require.Len(t, q.Layers[0].Bands, bands+1)
		split, err := loft.Plank(q)
		require.NoError(t, err)
		b := &q.Layers[0].Lines[band]
		assert.Equal(t, hull.Free, b.LineType)
		assert.InDelta(t, (upper[b.Hold]+lower[b.Hold])/2, Crossings(split.Layers[0], band+1)[b.Hold], 0.01)
		assert.Equal(t, loft.LiesByItself, split.Layers[0].JudgeLine(split.Layers[0].Lines[band+1]).Kind)
		require.NoError(t, RemoveLine(0, band)(q))
		assert.Equal(t, p.Layers[0].Bands[1].Strakes, q.Layers[0].Bands[1].Strakes, "seven strakes are split and joined again")
		assert.Len(t, q.Layers[0].Lines, len(p.Layers[0].Lines))
	}
	assert.Error(t, RemoveLine(0, 9)(p))
}

func TestShareOfAStrake(t *testing.T) {
	p, _ := planAndCourse(t)
	require.NoError(t, SetWeight(0, 2, 3, 5, 1.5)(p))
	assert.Equal(t, []float64{1, 1, 1, 1.5, 1}, p.Layers[0].Bands[2].Weights)
	assert.Error(t, SetWeight(0, 2, 3, 5, 0)(p))
	assert.Error(t, SetStrakes(0, 1, -1)(p))
	require.NoError(t, SetStrakes(0, 1, 6)(p))
	k, err := loft.Plank(p)
	require.NoError(t, err)
	assert.Equal(t, 6, k.Layers[0].Bands[1].Strakes)
}

func TestLayers(t *testing.T) {
	p, _ := planAndCourse(t)
	assert.ErrorContains(t, RemoveLayer(p), "at least one")
	require.NoError(t, AddLayer(p))
	k, err := loft.Plank(p)
	require.NoError(t, err)
	assert.Len(t, k.Layers, 2)
	require.NoError(t, RemoveLayer(p))
	assert.Len(t, p.Layers, 1)
}

func TestSetFollows(t *testing.T) {
	k := apptest.Planked(t, 2)
	p := k.Plan.Clone()
	require.NoError(t, SetFollows(0, 0, hull.StripItself)(p))
	assert.Equal(t, hull.StripItself, p.Layers[0].Lines[0].Follows)
	require.NoError(t, SetFollows(0, 0, hull.ThinBatten)(p))
	assert.Equal(t, k.Plan.Layers[0].Lines[0], p.Layers[0].Lines[0], "as it was")
	assert.EqualError(t, SetFollows(0, 1, hull.StripItself)(p), "choose a band line first")
	girths := apptest.GirthSession(t).Plan().Clone()
	assert.ErrorIs(t, SetFollows(0, 0, hull.StripItself)(girths), loft.ErrShapeless)
}
