package progress

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

func bareAt(frame string, mm float64) hull.Entry {
	return hull.Entry{EntryKind: hull.BareGirth, Frame: frame, MM: mm}
}

// A bare frame measured at 47 mm where the drawing has 45 is believed, queried at once,
// and the plan is shared afresh there; likewise when it is entered as what is left of
// the band before the first strake.
func TestABareFrameOverridesTheDrawing(t *testing.T) {
	for name, e := range map[string]hull.Entry{"girth": bareAt("C", 47), "left": leftAt("C", 47)} {
		s := replanned(t, bench45(t), []hull.Entry{e})
		assert.InDelta(t, 47, s.Left[2], 0.02, name)
		assert.InDelta(t, 2, s.FrameOff[2], 0.02, name)
		assert.InDelta(t, 47.0/9, s.Widths[0][2], 0.01, name)
		assert.InDelta(t, 45, s.Left[5], 0.35, "a frame far from it hardly moves: "+name)
		assert.InDelta(t, 0.28, s.LeftBound[2], 0.12, "the rule's halves: "+name)
		require.Len(t, s.Queries, 1, name)
		assert.Equal(t, OffDrawn, s.Queries[0].Doubt, name)
		assert.True(t, s.Queries[0].Kept, name)
		assert.InDelta(t, 2, s.Queries[0].Other, 1e-9, name)
	}
	s := replanned(t, bench45(t), []hull.Entry{bareAt("C", 45.5)})
	assert.Empty(t, s.Queries, "half a millimetre is to be expected")
	assert.InDelta(t, 45.5, s.Left[2], 0.02)
	s = replanned(t, bench45(t), []hull.Entry{bareAt("C", 65)})
	require.Len(t, s.Queries, 1)
	assert.False(t, s.Queries[0].Kept, "that can't be")
	assert.InDelta(t, 45, s.Left[2], 1e-9)
}

// What a bare frame showed remains known once strakes are laid over it.
func TestABareFrameIsRemembered(t *testing.T) {
	s := replanned(t, bench45(t), append([]hull.Entry{bareAt("C", 47)}, glued("1.01", "1.02")...))
	assert.InDelta(t, 37, s.Left[2], 0.3)
	assert.Greater(t, s.Left[2], 36.9)
}

// Four strips narrower than their share, laid edge to edge without any error: what is
// left is given as it is read, at every frame, and no creep is invented. On the first
// hull the plan would have every strip creep slightly; on the second the last strake is
// cut from wider wood.
func TestNarrowStripsAreNotCreep(t *testing.T) {
	for _, girth := range []float64{45.5, 46.5} {
		frames := bodies.Trough(6, 60, func(float64) [][2]float64 { return bodies.Flat(girth) })
		k, err := loft.Plank(&hull.Plan{Hull: hull.Hull{Frames: frames}, Layers: []hull.Layer{
			{Stock: bodies.FiveByTwo, Edges: hull.Bevelled, Bands: []hull.Band{{Strakes: 9}}},
		}})
		require.NoError(t, err)
		left := girth - 4*bodies.FiveByTwo.Width
		e := glued("1.01", "1.02", "1.03", "1.04")
		for _, f := range []string{"A", "C", "F"} {
			e = append(e, leftAt(f, left))
		}
		s := replanned(t, k, e)
		assert.InDelta(t, 0, s.Creep, 0.001)
		for i := range s.Left {
			assert.InDelta(t, left, s.Left[i], 0.01)
		}
		assert.Empty(t, s.Queries)
	}
}

// One reading 5 mm off is queried as it is entered, and moves no strake of the other
// side by more than a fifth of a millimetre: alone, among others, and where all others
// are on the other side.
func TestALoneSlipDoesNoHarm(t *testing.T) {
	right := func() []hull.Entry {
		e := glued("1.01", "1.02", "1.03")
		for _, f := range []string{"A", "C", "E"} {
			e = append(e, leftAt(f, 29.7))
		}
		return e
	}
	for name, sides := range map[string][2][]hull.Entry{
		"alone":             {glued("1.01", "1.02", "1.03"), nil},
		"among others":      {right(), right()},
		"beside other side": {glued("1.01", "1.02", "1.03"), right()},
	} {
		_, clean := bothSides(t, sides[0], sides[1])
		for _, by := range []float64{-5, 5} {
			slip := append(append([]hull.Entry{}, sides[0]...), leftAt("D", 29.7+by))
			_, states := bothSides(t, slip, sides[1])
			star, port := states[hull.Starboard][0], states[hull.Port][0]
			require.Len(t, star.Queries, 1, name)
			assert.Equal(t, len(slip)-1, star.Queries[0].Entry, name)
			for r := range port.Widths {
				for i := range port.Widths[r] {
					assert.InDelta(t, clean[hull.Port][0].Widths[r][i], port.Widths[r][i], 0.2, name)
				}
			}
		}
	}
}

// A frame that is far off, and is read so twice, is believed.
func TestAFrameReadTwiceIsBelieved(t *testing.T) {
	e := glued("1.01", "1.02", "1.03")
	for _, f := range []string{"A", "B", "C", "E", "F"} {
		e = append(e, leftAt(f, 29.5))
	}
	once := replanned(t, bench45(t), append(slices.Clip(e), leftAt("D", 35)))
	require.Len(t, once.Queries, 1)
	assert.False(t, once.Queries[0].Kept)
	assert.InDelta(t, 29.5, once.Left[3], 0.3)
	twice := replanned(t, bench45(t), append(slices.Clip(e), leftAt("D", 35), leftAt("D", 35)))
	assert.InDelta(t, 35, twice.Left[3], 0.1)
	for _, q := range twice.Queries {
		assert.True(t, q.Kept)
	}
}

// A reading to a tenth is believed to a tenth; one to halves is not taken to be more
// accurate than it is.
func TestACarefulReadingIsNotSmoothedAway(t *testing.T) {
	e := glued("1.01", "1.02", "1.03")
	for _, f := range []string{"A", "B", "C", "E", "F"} {
		e = append(e, leftAt(f, 29.5))
	}
	for i := range e {
		if e[i].EntryKind.Measures() {
			e[i].To = halves
		}
	}
	fine := leftAt("D", 30.1)
	fine.To = tenths
	s := replanned(t, bench45(t), append(e, fine))
	assert.InDelta(t, 30.1, s.Left[3], 0.1)
	assert.Less(t, s.LeftBound[3], 0.1)
	assert.Greater(t, s.LeftBound[2], 0.2)
}

// The division of the rule shows in the figures of a day, if it is not stated.
func TestDivisionOfAReading(t *testing.T) {
	day := func(date string, mm ...float64) (out []hull.Entry) {
		for _, x := range mm {
			out = append(out, hull.Entry{Date: date, EntryKind: hull.LeftOver, MM: x})
		}
		return out
	}
	all := append(day("2026-03-01", 30, 30.5), day("2026-03-02", 30, 29.3)...)
	assert.Equal(t, halves, divisionOf(&all[0], 0, all))
	assert.Equal(t, tenths, divisionOf(&all[2], 0, all))
	assert.Equal(t, 1.0, divisionOf(&all[2], 1, all), "the record states the rule in use")
	all[2].To = 0.02
	assert.Equal(t, 0.02, divisionOf(&all[2], 1, all))
}

// The spreads are learned: many frames that are off by half a millimetre each, read
// finely before and after strakes that hardly vary.
func TestSpreadsAreLearned(t *testing.T) {
	const frames = 20
	f := bodies.Trough(frames, 30, func(float64) [][2]float64 { return bodies.Flat(45) })
	k, err := loft.Plank(&hull.Plan{Hull: hull.Hull{Frames: f}, Layers: []hull.Layer{
		{Stock: bodies.FiveByTwo, Edges: hull.Bevelled, Bands: []hull.Band{{Strakes: 9}}},
	}})
	require.NoError(t, err)
	rng := rand.New(rand.NewPCG(3, 4))
	off := make([]float64, frames)
	for i := range off {
		off[i] = 0.5 * rng.NormFloat64()
	}
	e := glued("1.01", "1.02", "1.03")
	for round := range 2 {
		for i := range off {
			x := leftAt(k.Layers[0].Surface.FrameName(i), 30-15*float64(round)+off[i])
			x.To = 0.1
			e = append(e, x)
		}
		if round == 0 {
			e = append(e, glued("1.04", "1.05", "1.06")...)
		}
	}
	for i := range e {
		for f := range off {
			if e[i].EntryKind == hull.Glued {
				e[i].Widths = append(e[i].Widths, hull.WidthAt{Frame: k.Layers[0].Surface.FrameName(f), MM: 5})
			}
		}
	}
	k.Plan.Record.Starboard = e
	learned, err := Learned(k)
	require.NoError(t, err)
	require.Len(t, learned, 1)
	sp := learned[0]
	assert.InDelta(t, 0.5, sp.Frame, 0.15, "from 20 frames the spread is known to a sixth, by 1/√(2n), and the prior is lower")
	assert.Less(t, sp.Knife, 0.05)
	assert.InDelta(t, 0, sp.Creep, 0.05)
	assert.Less(t, sp.Sure, loft.UsualSure)
	assert.Equal(t, 40, sp.Readings)

	p := k.Plan.Clone()
	p.Record = hull.Record{Spreads: learned, Starboard: append(glued("1.01"), leftAt("C", 40.6))}
	next, err := loft.Plank(p)
	require.NoError(t, err)
	states, err := BothSides(next, 0, &p.Record, UsualHabit())
	require.NoError(t, err)
	assert.InDelta(t, 40.6, states[hull.Starboard][0].Left[2], 0.02, "frames are off: the reading is theirs")
	assert.Less(t, math.Abs(states[hull.Starboard][0].Creep), 0.05)
	p.Record.Spreads[0].Species = "other"
	assert.Equal(t, UsualHabit(), UsualHabit().forStock(p.Record.Spreads, p.Layers[0].Stock))
}

// The outlook: the probability given is that of the draws; a reading raises it, most
// where most is uncertain; and nothing is predicted where nothing is left to lay.
func TestOutlook(t *testing.T) {
	k := bench45(t)
	e := glued("1.01", "1.02", "1.03", "1.04", "1.05", "1.06", "1.07", "1.08")
	for _, f := range []string{"A", "B", "C", "F"} {
		x := leftAt(f, 4.8)
		x.To = tenths
		e = append(e, x)
	}
	s := replanned(t, k, e)
	o, err := s.Outlook(t.Context())
	require.NoError(t, err)
	assert.Equal(t, "1.09", o.Last)
	require.NotEmpty(t, o.Tells)
	assert.Contains(t, []int{3, 4}, o.Tells[0].Frame, "between those read")
	assert.Greater(t, o.Tells[0].Fits, o.Fits+0.03)
	assert.Greater(t, o.Within[4], o.Within[1])
	again, err := s.Outlook(t.Context())
	require.NoError(t, err)
	assert.Equal(t, o, again)

	all := append(e, leftAt("D", 4.8), leftAt("E", 4.8))
	for i := range all {
		if all[i].EntryKind == hull.LeftOver {
			all[i].To = tenths
		}
	}
	s = replanned(t, k, all)
	after, err := s.Outlook(t.Context())
	require.NoError(t, err)
	assert.Greater(t, after.Fits, o.Tells[0].Fits)

	s = replanned(t, k, append(all, glued("1.09")...))
	none, err := s.Outlook(t.Context())
	require.NoError(t, err)
	assert.Empty(t, none.Last)
	assert.Zero(t, none.Fits)
}

// A last strake that needs more than the width of its strip does not fit, however well
// everything is known.
func TestOutlookOfAStripTooNarrow(t *testing.T) {
	e := glued("1.01", "1.02", "1.03", "1.04", "1.05", "1.06", "1.07", "1.08")
	for _, f := range []string{"A", "B", "C", "D", "E", "F"} {
		x := leftAt(f, 6.4)
		x.To = tenths
		e = append(e, x)
	}
	s := replanned(t, bench45(t), e)
	o, err := s.Outlook(t.Context())
	require.NoError(t, err)
	assert.Less(t, o.Fits, 0.01)
}
