package loft

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// wigleyPlan has a Wigley hull of 13 frames in two bands.
func wigleyPlan() *hull.Plan {
	return oneLayer(bodies.Wigley(800, 13, 11), hull.Stock{Width: 4, Thickness: 1.5, Length: 1000}, 2)
}

func TestFreeLineIsUnstressed(t *testing.T) {
	p := wigleyPlan()
	b := &p.Layers[0].Lines[0]
	b.LineType, b.Hold, b.Aim = hull.Free, 6, 8
	b.Handles[8].Down += 1
	l := plankOne(t, p)
	line := l.Lines[1]
	s := l.Surface
	assert.InDelta(t, b.Handles[6].Down, line.Down[s.FrameStation(6)], 1e-6)
	assert.InDelta(t, b.Handles[8].Down, line.Down[s.FrameStation(8)], 1e-5)
	for k := range line.EdgeSet {
		if line.Down[k] > 3 && line.Down[k] < s.girthAt(k)-3 {
			assert.InDelta(t, 0, line.EdgeSet[k].PerMetre(), 1e-6)
		}
	}
	for _, off := range line.LieOff {
		if !math.IsNaN(off) && len(line.Runouts) == 0 {
			assert.InDelta(t, 0, off, 1e-6)
		}
	}
}

// TestFreeLineMeetsItsLie: the band line is the line that the lie command
// gives.
func TestFreeLineMeetsItsLie(t *testing.T) {
	p := wigleyPlan()
	b := &p.Layers[0].Lines[0]
	b.LineType, b.Hold, b.Aim = hull.Free, 6, -1
	l := plankOne(t, p)
	lie, err := l.Surface.Lie(6, b.Handles[6].Down, nil)
	require.NoError(t, err)
	for _, q := range lie.Points {
		if q.Frame >= 0 {
			assert.InDelta(t, q.Down, l.Lines[1].Down[l.Surface.FrameStation(q.Frame)], 1e-3)
		}
	}
}

func TestFreeLineThatRunsOut(t *testing.T) {
	p := wigleyPlan()
	b := &p.Layers[0].Lines[0]
	b.LineType, b.Hold, b.Aim = hull.Free, 2, 5
	b.Handles[2].Down, b.Handles[5].Down = 12, 30
	l := plankOne(t, p)
	line := l.Lines[1]
	require.NotEmpty(t, line.Runouts)
	for _, r := range line.Runouts {
		assert.Positive(t, r.By)
		k := l.Surface.FrameStation(r.Frame)
		want := 2.0 // half a strip from the limit
		if !r.Upper {
			want = l.Girths[r.Frame] - 2
		}
		assert.InDelta(t, want, line.Down[k], 1e-6)
		assert.Equal(t, 1, map[bool]int{true: l.Bands[0].Laid[r.Frame], false: l.Bands[1].Laid[r.Frame]}[r.Upper])
	}
	assert.NotEmpty(t, l.Drops)
	assert.IsType(t, RunsOut{}, l.Notes[0])
}

// TestLeastEdgeSet: between two held handles the least edge-set is zero, on the
// geodesic; a third held handle costs some, but less than the batten.
func TestLeastEdgeSet(t *testing.T) {
	p := wigleyPlan()
	b := &p.Layers[0].Lines[0]
	s := plankOne(t, p).Surface
	for i := range b.Handles {
		b.Handles[i].Held = i == 3 || i == 9
	}
	drawn := plankOne(t, p).Lines[1]
	b.LineType = hull.Least
	eased := plankOne(t, p).Lines[1]
	assert.Less(t, s.stress(eased.course), s.stress(drawn.course)/100)
	heading, ok := s.headingThrough(3, eased.V[s.FrameStation(3)], 9, eased.V[s.FrameStation(9)])
	require.True(t, ok)
	free := s.freeCourse(3, eased.V[s.FrameStation(3)], heading)
	for i := 3; i <= 9; i++ {
		k := s.FrameStation(i)
		assert.InDelta(t, s.down(k, free.v[k]), eased.Down[k], 0.02)
	}

	b.Handles[6].Held = true
	b.Handles[6].Down += 2
	eased = plankOne(t, p).Lines[1]
	assert.InDelta(t, b.Handles[6].Down, eased.Down[s.FrameStation(6)], 1e-6)
	b.LineType = hull.Drawn
	assert.Less(t, s.stress(eased.course), s.stress(plankOne(t, p).Lines[1].course))
}

// TestReleasedHandleGivesWay: a released handle's own place no longer counts.
func TestReleasedHandleGivesWay(t *testing.T) {
	p := wigleyPlan()
	b := &p.Layers[0].Lines[0]
	b.Handles[6] = hull.Handle{Down: b.Handles[6].Down + 5, Held: false}
	eased := plankOne(t, p).Lines[1]
	s := plankOne(t, p).Surface
	k := s.FrameStation(6)
	assert.Greater(t, b.Handles[6].Down-eased.Down[k], 4.)
	b.Handles[6].Held = true
	assert.InDelta(t, b.Handles[6].Down, plankOne(t, p).Lines[1].Down[k], 1e-6)
}

func TestLineWithoutHeldHandle(t *testing.T) {
	p := wigleyPlan()
	for i := range p.Layers[0].Lines[0].Handles {
		p.Layers[0].Lines[0].Handles[i].Held = false
	}
	_, err := Plank(p)
	assert.ErrorContains(t, err, "layer 1: band line 1: it has no held handle")
}

// TestLieOff: on an upright side the free strip is straight, so its distance from a
// drawn line is that line's own bow.
func TestLieOff(t *testing.T) {
	p := oneLayer(bodies.Trough(5, 60, func(float64) [][2]float64 { return bodies.Flat(80) }), bodies.FiveByTwo, 2)
	b := &p.Layers[0].Lines[0]
	b.Hold, b.Aim = 0, 4
	b.Handles[2].Down += 3
	l := plankOne(t, p)
	assert.InDelta(t, -3, l.Lines[1].LieOff[2], 1e-6)
	assert.InDelta(t, 0, l.Lines[1].LieOff[0], 1e-6)
	assert.InDelta(t, 0, l.Lines[1].LieOff[4], 1e-6)
}

// TestLinesKeepTheirOrder: a line dragged over its neighbour stops half a
// strip short of it.
func TestLinesKeepTheirOrder(t *testing.T) {
	p := oneLayer(bodies.Wigley(800, 13, 11), hull.Stock{Width: 4, Thickness: 1.5, Length: 1000}, 3)
	p.Layers[0].Lines[1].Handles[5].Down = 1
	l := plankOne(t, p)
	for k := range l.Lines[1].Down {
		assert.GreaterOrEqual(t, l.Lines[2].Down[k]-l.Lines[1].Down[k], 2-1e-6)
	}
}
