package loft

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
	"github.com/strakewright/strakewright/loft/straight"
)

// TestCutsOfAnyPlan: whatever the plan, a sprung strake is never planed wider than its
// strip, is whole where nothing need be taken off, keeps to its width at every frame
// within the plan's rule, and has its corners at frames except at its ends; a strake
// that is not sprung has no cuts.
func TestCutsOfAnyPlan(t *testing.T) {
	hulls := [][]hull.Frame{
		bodies.Wigley(800, 9, 9),
		bodies.Boxy(8),
		bodies.Revolved(bodies.Spaced(-200, 200, 11), 13, func(x float64) float64 { return 60 * math.Sqrt(1-x*x/250/250) }),
	}
	rapid.Check(t, func(t *rapid.T) {
		p := anyPlan(t, rapid.SampledFrom(hulls).Draw(t, "hull"))
		p.Trade = hull.NewTrade()
		p.Trade.Straight = rapid.SampledFrom([]float64{0.01, 0.03, 0.15, 2}).Draw(t, "straight")
		k, err := Plank(p)
		if err != nil {
			t.Fatalf("refused: %v", err)
		}
		l := k.Layers[0]
		in := map[*Strake]int{}
		for _, set := range l.CutSets() {
			for _, st := range set.Strakes {
				in[st]++
				if st.Band != set.Strakes[0].Band {
					t.Fatalf("%s and %s of two bands in one set", st.ID, set.Strakes[0].ID)
				}
			}
		}
		for _, st := range l.Strakes {
			c := l.CutsOf(st, st.At)
			sprung := st.Making.Mode == hull.Sprung && st.To > st.From
			if sprung != (c != nil) || sprung != (in[st] == 1) {
				t.Fatalf("strake %s is %s, has cuts: %v, and is in %d sets", st.ID, st.Making.Mode, c != nil, in[st])
			}
			if c != nil {
				cutsHold(t, l, st, c)
			}
		}
	})
}

func cutsHold(t *rapid.T, l *Layer, st *Strake, c *Cuts) {
	for i, q := range c.Corners {
		if q.Width > st.Strip || q.Width < 0 {
			t.Fatalf("strake %s is planed to %g mm from a strip of %g", st.ID, q.Width, st.Strip)
		}
		if q.Frame < 0 && i > 0 && i < len(c.Corners)-1 {
			t.Fatalf("strake %s has a corner between frames", st.ID)
		}
	}
	for f, at := range st.At {
		if !at.Laid {
			continue
		}
		w, within := c.WidthAt(st, f), l.Rules.Straight
		if at.Action != Taper {
			within = 0
		}
		if math.Abs(w-at.planed(st.Strip)) > within+1e-6 {
			t.Fatalf("strake %s is planed to %g mm at frame %d, not %g", st.ID, w, f, at.planed(st.Strip))
		}
	}
	if c.Keeps != (c.Strays <= l.Rules.Straight+1e-6) {
		t.Fatalf("strake %s strays %g", st.ID, c.Strays)
	}
}

// TestPlanedIsWhatIsTakenOff: the excess a whole strip covers over the strake is planed
// off, and never more than there is.
func TestPlanedIsWhatIsTakenOff(t *testing.T) {
	for _, c := range []struct {
		at   Crossing
		want float64
	}{
		{Crossing{WidthCut: 4.2, Pitch: 4.8, Action: Taper}, 4.4},
		{Crossing{WidthCut: 4.2, Pitch: 5.1, Action: Taper}, 4.1},
		{Crossing{WidthCut: 6, Pitch: 5.1, Action: Gap}, 5},
		{Crossing{WidthCut: 5.08, Pitch: 5.1, Action: Full}, 5},
		{Crossing{WidthCut: 0.05, Pitch: 5.2, Action: Taper}, 0},
	} {
		assert.InDelta(t, c.want, c.at.planed(5), 1e-12, "%+v", c.at)
	}
}

// parallel is a hull with upright sides whose girth falls linearly from frame A to
// frame G, so that the width of every strake does too.
func parallel(from, to float64) *hull.Plan {
	frames := bodies.Trough(7, 20, func(x float64) [][2]float64 {
		return bodies.Flat(from + (to-from)*x/120)
	})
	p := hull.NewPlan("parallel", hull.Hull{Frames: frames})
	p.Layers[0].Stock = hull.Stock{Width: 5, Thickness: 1, Length: 1000}
	p.Layers[0].Edges = hull.Square
	return p
}

// TestStraightStrakesTakeOneCut: a girth that falls from 50 mm to 40 is ten strips of 5
// mm, each planed to 4 in one cut; all are one set.
func TestStraightStrakesTakeOneCut(t *testing.T) {
	p := parallel(50, 40)
	k, err := Plank(p)
	require.NoError(t, err)
	l := k.Layers[0]
	require.Len(t, l.Strakes, 10)
	sets := l.CutSets()
	require.Len(t, sets, 1)
	assert.Len(t, sets[0].Strakes, 10)
	c := sets[0].Cuts
	assert.Equal(t, 1, c.Count)
	require.Len(t, c.Corners, 2)
	assert.Equal(t, 0, c.Corners[0].Frame)
	assert.Equal(t, 6, c.Corners[1].Frame)
	assert.InDelta(t, 5, c.Corners[0].Width, 1e-9)
	assert.InDelta(t, 4, c.Corners[1].Width, 1e-9)
	assert.True(t, c.Keeps)
	assert.Same(t, &sets[0], SetOf(sets, "1.03"))
	assert.Nil(t, SetOf(sets, "2.01"))
}

// TestLevelStrakesStayWhole.
func TestLevelStrakesStayWhole(t *testing.T) {
	k, err := Plank(parallel(50, 50))
	require.NoError(t, err)
	for _, st := range k.Layers[0].Strakes {
		c := k.Layers[0].CutsOf(st, st.At)
		assert.True(t, c.Whole(), st.ID)
		assert.Zero(t, c.Count)
	}
}

// TestSetsAreWhatOnePlaneServes: a corner 2 mm farther on is 0.02 mm of width on a
// taper of 1 in 100, and is acceptable; 20 mm farther on it is not.
func TestSetsAreWhatOnePlaneServes(t *testing.T) {
	taper := func(corner float64) *Cuts {
		places := []straight.Place{{At: 0, Width: 5, Corner: true}, {At: corner, Width: 5, Corner: true}, {At: corner + 200, Width: 3, Corner: true}}
		return &Cuts{Strip: 5, Corners: []Corner{{0, 0, 5}, {4, corner, 5}, {9, corner + 200, 3}}, Count: 1, within: 0.15, places: places}
	}
	assert.True(t, taper(102).planes(taper(100)))
	assert.True(t, taper(100).planes(taper(102)))
	assert.False(t, taper(120).planes(taper(100)))
	wider := taper(100)
	wider.Corners[2].Width = 3.1
	assert.False(t, wider.planes(taper(100)))
	whole := func(length float64) *Cuts {
		return &Cuts{Strip: 5, Corners: []Corner{{0, 0, 5}, {9, length, 5}}}
	}
	assert.True(t, whole(300.4).planes(whole(300)))
	assert.False(t, whole(301).planes(whole(300)))
}

// TestWidthsAcrossAreThoseOfTheFlatShape: the distance between a strake's edges, at
// frames and between them, is the width of its developed shape there, which is found
// independently. They differ by the turn of the run between neighbouring stations,
// under 0.01 mm here.
func TestWidthsAcrossAreThoseOfTheFlatShape(t *testing.T) {
	p := hull.NewPlan("wigley", hull.Hull{Frames: bodies.Wigley(800, 9, 9)})
	p.Layers[0].Stock = bodies.FiveByTwo
	k, err := Plank(p)
	require.NoError(t, err)
	l := k.Layers[0]
	for n, st := range l.Strakes {
		f, err := l.Flat(st.ID)
		require.NoError(t, err)
		for station := st.From + 1; station < st.To; station++ {
			if len(st.Nibs) > 0 {
				continue // two rungs lie on one frame there, and the run is another
			}
			r := (station - st.From) * rungsPerStation
			run := f.middle(r + 1).Sub(f.middle(r - 1)).Normalize()
			d := f.Upper[r].Sub(f.Lower[r])
			want := math.Abs(d.X()*run.Y() - d.Y()*run.X())
			assert.InDelta(t, want, l.across(n, min(station/stationsPerBay, l.Surface.Frames()-2), station), 0.01, "strake %s at station %d", st.ID, station)
		}
	}
}

// TestNibsAreCutSquare: a strake that drops out is cut off at the width of its nib, and
// its heir is notched from its width there to a whole strip.
func TestNibsAreCutSquare(t *testing.T) {
	p := parallel(45, 15)
	p.Layers[0].Bands[0].Strakes = 9
	for range 9 {
		p.Layers[0].Bands[0].Modes = append(p.Layers[0].Bands[0].Modes, hull.Sprung)
	}
	k, err := Plank(p)
	require.NoError(t, err)
	l := k.Layers[0]
	require.NotEmpty(t, l.Drops)
	for _, d := range l.Drops {
		st, heir := l.Strakes[d.At], l.Strakes[l.StrakeNamed(d.Into)]
		c := l.CutsOf(st, st.At)
		assert.InDelta(t, d.Nib, c.Corners[len(c.Corners)-1].Width, 0.15, st.ID)
		require.Len(t, heir.Nibs, 1)
		h := l.CutsOf(heir, heir.At)
		i := slices.IndexFunc(h.Corners, func(c Corner) bool { return c.Frame == d.From })
		require.GreaterOrEqual(t, i, 0)
		require.Equal(t, d.From, h.Corners[i+1].Frame, "two corners on the frame of the nib")
		assert.InDelta(t, heir.At[d.From].WidthCut, h.Corners[i].Width, 0.15)
		assert.InDelta(t, min(heir.Nibs[0].Wide, 5), h.Corners[i+1].Width, 0.15)
		assert.InDelta(t, heir.Along(d.From), h.Corners[i+1].At, 0.011)
	}
}
