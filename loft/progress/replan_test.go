package progress

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// simulated is one band on a simulated bench: how much every strake really covers
// beyond its planned width at every frame.
type simulated struct {
	l     *loft.Layer
	b     *loft.Band
	creep [][]float64 // [strake][frame]
	rng   *rand.Rand
}

// simulate draws a builder and his strakes: creep of 0.02 to 0.18 mm a strip, each
// strake differing from the others by some 0.05 mm in a smooth course along the hull;
// some are laid wet, and swell and shrink again.
func simulate(l *loft.Layer, b *loft.Band, seed uint64) *simulated {
	s := &simulated{l: l, b: b, rng: rand.New(rand.NewPCG(seed, 2))}
	own := 0.02 + 0.16*s.rng.Float64()
	length := l.Strakes[b.First].Length
	for n := range b.Weights {
		swelling := 0.0
		if s.rng.Float64() < 0.3 { // laid wet: swollen by up to 5 %, most of which shrinks away
			swelling = 0.05 * 5 * s.rng.Float64() * 0.2
		}
		amplitude := []float64{0.04 * s.rng.NormFloat64(), 0.03 * s.rng.NormFloat64(), 0.02 * s.rng.NormFloat64()}
		phase := 2 * math.Pi * s.rng.Float64()
		var row []float64
		for i := range l.Girths {
			at := l.Strakes[b.First+n].Centre.S[l.Surface.FrameStation(i)] / length
			x := own + swelling*0.3
			for m, a := range amplitude {
				x += a * math.Cos(float64(m)*math.Pi*at+phase)
			}
			row = append(row, x)
		}
		s.creep = append(s.creep, row)
	}
	return s
}

// left is what remains at a frame once the first n strakes, cut to those widths, are
// laid.
func (s *simulated) left(n, frame int, widths [][]float64) float64 {
	left := s.b.Girths[frame]
	for k := range n {
		left -= widths[k][frame] + s.b.WedgeAt(k, frame)
		if widths[k][frame] > 0 {
			left -= s.creep[k][frame]
		}
	}
	return left
}

// lay lays all strakes except the last; after every third strake what is left is
// measured at every other frame to 0.2 mm, and the rest re-planned. It gives, at every
// frame, the difference between the last strake's width, with the creep expected of it,
// and what is really left for it.
func (s *simulated) lay(t *testing.T, k *loft.Planking, replan bool) []float64 {
	count := len(s.b.Weights)
	widths := make([][]float64, count)
	for n := range count {
		for i := range s.l.Girths {
			widths[n] = append(widths[n], s.l.Strakes[s.b.First+n].At[i].WidthFrame)
		}
	}
	habit := UsualHabit()
	// The variation on this bench is known: its frames are true, it is measured to 0.2 mm.
	// TestSimulatedTable has others, and learns.
	habit.Along, habit.Knife, habit.Strake, habit.Shape, habit.Frame, habit.Hand, habit.Sure = 0, 0, 0.08, 0, 0, 0.14, 0
	var entries []hull.Entry
	creep := make([]float64, len(s.l.Girths))
	for n := range count - 1 {
		entries = append(entries, hull.Entry{EntryKind: hull.Glued, Layer: 1, Strake: s.l.Strakes[s.b.First+n].ID})
		if !replan || (n+1)%3 != 0 {
			continue
		}
		for i := 0; i < len(s.l.Girths); i += 2 {
			mm := max(s.left(n+1, i, widths)+0.2*s.rng.NormFloat64(), 0)
			entries = append(entries, hull.Entry{EntryKind: hull.LeftOver, Layer: 1, Band: s.b.Number, Frame: s.l.Surface.FrameName(i), MM: mm, To: halves})
		}
		states, err := Replan(k, 0, entries, habit)
		require.NoError(t, err)
		state := states[s.b.Number-1]
		creep = state.CreepAt
		copy(widths[n+1:], state.Widths)
	}
	var miss []float64
	last := count - 1
	for i := range s.l.Girths {
		if widths[last][i] > 0 {
			miss = append(miss, math.Abs(s.left(last, i, widths)-widths[last][i]-creep[i]))
		} else {
			miss = append(miss, 0)
		}
	}
	return miss
}

// TestSimulatedBench: re-planned from measurements every three strakes, the
// last strake's width misses by at most 0.3 mm in 95 % of 500 runs at every
// frame; without re-planning it would have missed by far more.
func TestSimulatedBench(t *testing.T) {
	t.Parallel()
	f, err := os.Open("../../assets/coaster.strakeplan")
	require.NoError(t, err)
	defer f.Close()
	p, err := hull.ReadPlan(f, "coaster")
	require.NoError(t, err)
	k, err := loft.Plank(p)
	require.NoError(t, err)
	l := k.Layers[0]
	const runs = 500
	quantile := func(replan bool) (worst float64) {
		misses := make([][]float64, len(l.Girths))
		for seed := range runs {
			b := l.Bands[seed%len(l.Bands)]
			for i, m := range simulate(l, b, uint64(seed)).lay(t, k, replan) {
				misses[i] = append(misses[i], m)
			}
		}
		for _, m := range misses {
			slices.Sort(m)
			worst = max(worst, m[len(m)*95/100])
		}
		return worst
	}
	with, without := quantile(true), quantile(false)
	t.Logf("the last strake misses, in 95 %% of %d runs at the worst frame, by %.2f mm re-planned and %.2f mm as first planned", runs, with, without)
	assert.LessOrEqual(t, with, 0.3)
	assert.Greater(t, without, 3*with)
}

// bench45 is nine strips of 5 mm on an upright side of 45 mm, six frames 60 mm
// apart.
func bench45(t *testing.T) *loft.Planking {
	t.Helper()
	frames := bodies.Trough(6, 60, func(float64) [][2]float64 { return bodies.Flat(45) })
	k, err := loft.Plank(&hull.Plan{Hull: hull.Hull{Frames: frames}, Layers: []hull.Layer{
		{Stock: bodies.FiveByTwo, Edges: hull.Bevelled, Bands: []hull.Band{{Strakes: 9}}},
	}})
	require.NoError(t, err)
	return k
}

func glued(ids ...string) (out []hull.Entry) {
	for _, id := range ids {
		out = append(out, hull.Entry{EntryKind: hull.Glued, Layer: 1, Strake: id})
	}
	return out
}

func leftAt(frame string, mm float64) hull.Entry {
	return hull.Entry{EntryKind: hull.LeftOver, Layer: 1, Band: 1, Frame: frame, MM: mm}
}

func replanned(t *testing.T, k *loft.Planking, e []hull.Entry) BandState {
	t.Helper()
	states, err := Replan(k, 0, e, UsualHabit())
	require.NoError(t, err)
	return states[0]
}

func TestReplanWithoutMeasuring(t *testing.T) {
	s := replanned(t, bench45(t), glued("1.01", "1.02"))
	assert.Equal(t, []string{"1.01", "1.02"}, s.Laid)
	assert.Len(t, s.Remaining, 7)
	assert.False(t, s.Measured)
	for i := range s.Left {
		assert.InDelta(t, 35, s.Left[i], 1e-9)
		assert.InDelta(t, 5, s.Widths[0][i], 1e-9)
		assert.InDelta(t, 0, s.Change[0][i], 1e-9)
	}
}

// Three strips took 15.6 mm at every frame: the builder's creep is some 0.2 mm a strip,
// and the six still to be laid share 29.4 mm, less their creep.
func TestReplanLearnsCreep(t *testing.T) {
	e := glued("1.01", "1.02", "1.03")
	for range 5 { // measured again and again, the rule's error averages out
		for _, f := range []string{"A", "C", "E", "F"} {
			e = append(e, leftAt(f, 29.4))
		}
	}
	s := replanned(t, bench45(t), e)
	assert.InDelta(t, 0.2, s.Creep, 0.04)
	assert.Less(t, s.CreepBound, certain*0.06)
	for i := range s.Left {
		assert.InDelta(t, 29.4, s.Left[i], 0.05, "frames not measured follow their neighbours")
		sum := 0.0
		for r := range s.Remaining {
			sum += s.Widths[r][i] + s.CreepAt[i]
		}
		assert.InDelta(t, s.Left[i], sum, 1e-9, "what is left is shared whole")
		assert.Less(t, s.Change[0][i], 0.)
	}
	assert.Less(t, s.LeftBound[0], 0.2)
}

// A frame between two that differ is interpolated smoothly.
func TestReplanBetweenFrames(t *testing.T) {
	e := glued("1.01", "1.02", "1.03")
	for range 20 {
		e = append(e, leftAt("A", 30), leftAt("F", 29.4))
	}
	s := replanned(t, bench45(t), e)
	for i := 1; i < len(s.Left); i++ {
		assert.Less(t, s.Left[i], s.Left[i-1])
	}
}

// Impossible readings are queried, and left out.
func TestReplanQueries(t *testing.T) {
	e := append(glued("1.01", "1.02", "1.03"), leftAt("A", 29.8), leftAt("B", 29.7), leftAt("C", 14.7), leftAt("D", 29.8), leftAt("E", 99), leftAt("F", -2))
	s := replanned(t, bench45(t), e)
	require.Len(t, s.Queries, 3)
	why := map[int]Query{}
	for _, q := range s.Queries {
		why[q.Entry] = q
	}
	assert.Equal(t, OffOthers, why[5].Doubt)
	assert.InDelta(t, 15.1, why[5].Other, 0.05)
	assert.Equal(t, OverBand, why[7].Doubt)
	assert.Equal(t, Negative, why[8].Doubt)
	assert.InDelta(t, 29.75, s.Left[2], 0.1)
}

func TestReplanQueriesALoneMeasurement(t *testing.T) {
	s := replanned(t, bench45(t), append(glued("1.01", "1.02", "1.03"), leftAt("C", 14.7)))
	require.Len(t, s.Queries, 1)
	assert.Equal(t, OffPlan, s.Queries[0].Doubt)
	assert.InDelta(t, 15.3, s.Queries[0].Other, 0.05)
	assert.False(t, s.Measured)
}

// A strake measured as laid also shows the creep; one that is cut keeps its widths; one
// taken off is to be laid again.
func TestReplanFollowsTheWork(t *testing.T) {
	k := bench45(t)
	e := glued("1.01")
	for _, f := range []string{"A", "B", "C", "D", "E", "F"} {
		e = append(e, hull.Entry{EntryKind: hull.AsLaid, Layer: 1, Strake: "1.01", Frame: f, MM: 5.3})
	}
	s := replanned(t, k, e)
	assert.Greater(t, s.Creep, 0.1)
	assert.Less(t, s.Left[0], 39.9)

	cut := append(slices.Clone(e), hull.Entry{EntryKind: hull.Cutout, Layer: 1, Strake: "1.02"}, leftAt("A", 20), leftAt("B", 20))
	before := s.Widths[0][0]
	s = replanned(t, k, cut)
	assert.InDelta(t, before, s.Widths[0][0], 1e-9, "it is cut already")

	s = replanned(t, k, append(glued("1.01", "1.02"), hull.Entry{EntryKind: hull.Removed, Layer: 1, Strake: "1.02"}))
	assert.Equal(t, []string{"1.01"}, s.Laid)
	assert.Len(t, s.Remaining, 8)
}

func TestReplanRefusesStrangers(t *testing.T) {
	k := bench45(t)
	for want, e := range map[string]hull.Entry{
		"entry 1 of the record: there is no strake 4.01": {EntryKind: hull.Glued, Layer: 1, Strake: "4.01"},
		"no band 3":   {EntryKind: hull.LeftOver, Layer: 1, Band: 3, Frame: "A"},
		"no frame ZZ": {EntryKind: hull.LeftOver, Layer: 1, Band: 1, Frame: "ZZ"},
	} {
		if e.EntryKind == hull.LeftOver && e.Band == 1 {
			_, err := Replan(k, 0, append(glued("1.01"), e), UsualHabit())
			assert.ErrorContains(t, err, want)
			continue
		}
		_, err := Replan(k, 0, []hull.Entry{e}, UsualHabit())
		assert.ErrorContains(t, err, want)
	}
	_, err := Replan(k, 4, nil, UsualHabit())
	assert.ErrorContains(t, err, "no layer 5")
}
