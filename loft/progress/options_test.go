package progress

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// onBench notes entries on the starboard side of the bench of nine strips.
func onBench(t *testing.T, e ...hull.Entry) *loft.Planking {
	t.Helper()
	k := bench45(t)
	p := k.Plan.Clone()
	p.Record.Starboard = e
	k, err := loft.Plank(p)
	require.NoError(t, err)
	return k
}

// measuredAll is what is left of band 1, the same at every frame.
func measuredAll(mm float64) (out []hull.Entry) {
	for range 5 {
		for _, f := range []string{"A", "B", "C", "D", "E", "F"} {
			out = append(out, leftAt(f, mm))
		}
	}
	return out
}

func optionsOf(t *testing.T, k *loft.Planking) map[hull.Remedy]Option {
	t.Helper()
	list, err := Options(t.Context(), k, hull.Starboard, 0, 0, UsualHabit())
	require.NoError(t, err)
	out := map[hull.Remedy]Option{}
	for _, o := range list {
		out[o.Remedy] = o
	}
	return out
}

// applied takes an option and gives the band as it stands then.
func applied(t *testing.T, k *loft.Planking, o Option) (*loft.Planking, BandState) {
	t.Helper()
	p := k.Plan.Clone()
	require.NoError(t, o.Apply(p, "2026-03-09"))
	after, err := k.Replank(p)
	require.NoError(t, err)
	states, err := BothSides(after, 0, &p.Record, UsualHabit())
	require.NoError(t, err)
	s := states[hull.Starboard][0]
	assert.Equal(t, o.After, s.Tally(), "the prediction is what comes")
	return after, s
}

// Three strips took 16.5 mm instead of 15: the six still to be laid have 28.5 mm.
func TestOptionsWhereStripsAreTooWide(t *testing.T) {
	k := onBench(t, append(glued("1.01", "1.02", "1.03"), measuredAll(28.5)...)...)
	o := optionsOf(t, k)
	assert.Contains(t, o, hull.Shave)
	assert.Contains(t, o, hull.Tighter)
	assert.Contains(t, o, hull.Fewer)
	assert.Contains(t, o, hull.Learned)
	assert.NotContains(t, o, hull.Hidden, "the top strake is laid")
	assert.NotContains(t, o, hull.Wedged)
	assert.True(t, o[hull.Shave].Fits)

	// Fewer: five share what six had, so none fits without a gap.
	after, s := applied(t, k, o[hull.Fewer])
	assert.Equal(t, 8, after.Layers[0].Bands[0].Strakes)
	assert.False(t, o[hull.Fewer].Fits)
	assert.InDelta(t, 28.5, s.Left[2], 0.05, "what is laid stays as it is")
	assert.Len(t, s.Remaining, 5)
	sum := 0.0
	for r := range s.Remaining {
		sum += s.Widths[r][2] + s.CreepAt[2]
	}
	assert.InDelta(t, s.Left[2], sum, 1e-9)

	// Tighter: without creep the six share all of it.
	_, s = applied(t, k, o[hull.Tighter])
	assert.InDelta(t, s.Left[2]/6, s.Widths[0][2], 1e-9)
	assert.Equal(t, hull.Tighter, s.Remedy)

	// Learned: the plan's creep, rounded.
	after, s = applied(t, k, o[hull.Learned])
	assert.InDelta(t, s.Creep, after.Plan.Layers[0].Creep, 0.0051)
	assert.Equal(t, 9, after.Layers[0].Bands[0].Strakes, "the number of strakes stays")
}

// Three strips took 14 mm instead of 15: the six still to be laid have 31 mm.
func TestOptionsWhereStripsAreTooNarrow(t *testing.T) {
	k := onBench(t, append(glued("1.07", "1.08", "1.09"), measuredAll(31)...)...)
	o := optionsOf(t, k)
	assert.False(t, o[hull.Shave].Fits)
	assert.Greater(t, o[hull.Shave].After.GapAll, hull.NewTrade().Fit*float64(o[hull.Shave].After.Strakes), "it gapes all along")
	assert.True(t, o[hull.Wider].Fits)
	assert.True(t, o[hull.More].Fits)
	assert.True(t, o[hull.More].Renumbered)

	after, s := applied(t, k, o[hull.Wider])
	for _, st := range s.Rest() {
		assert.Equal(t, 5.5, st.Strip)
	}
	assert.InDelta(t, 5, after.Layers[0].Strakes[0].At[0].WidthFrame, 1e-9, "the plan's widths stay")

	after, s = applied(t, k, o[hull.More])
	assert.Equal(t, []string{"1.08", "1.09", "1.10"}, s.Laid, "numbered anew, in the record too")
	assert.Equal(t, 10, after.Layers[0].Bands[0].Strakes)
	assert.InDelta(t, 31, s.Left[2], 0.05)
	assert.Len(t, s.Remaining, 7)

	// Hidden: all of the difference goes into the top strake.
	_, s = applied(t, k, o[hull.Hidden])
	assert.InDelta(t, 5, s.Widths[1][2], 1e-9)
	assert.InDelta(t, s.Left[2]-6*s.CreepAt[2]-25, s.Widths[0][2], 1e-9)
}

// Strips from the box or the shop are preferred to any others.
func TestWiderStripsAreThoseThatThereAre(t *testing.T) {
	k := onBench(t, append(glued("1.07", "1.08", "1.09"), measuredAll(31)...)...)
	p := k.Plan.Clone()
	stock := p.Layers[0].Stock
	p.Shop = []hull.Strips{{Width: 7, Thickness: stock.Thickness, Length: 1000, Count: hull.AsMany}, {Width: 5.3, Thickness: 9, Length: 1000, Count: hull.AsMany}}
	k, err := loft.Plank(p)
	require.NoError(t, err)
	assert.Equal(t, 7.0, optionsOf(t, k)[hull.Wider].Relaid[0].Width)
}

// A gap that opens towards one end takes a wedge.
func TestOptionOfAWedge(t *testing.T) {
	e := glued("1.01", "1.02", "1.03")
	for range 20 {
		for i, f := range []string{"A", "B", "C", "D", "E", "F"} {
			e = append(e, leftAt(f, 28.4+0.6*float64(i)))
		}
	}
	k := onBench(t, e...)
	o := optionsOf(t, k)
	require.Contains(t, o, hull.Wedged)
	w := o[hull.Wedged].After.Wedges
	require.Len(t, w, 1)
	assert.Equal(t, 5, w[0].To)
	assert.InDelta(t, o[hull.Wedged].After.Gap, w[0].Width, 1e-9)
	assert.False(t, w[0].Stealer)
}

func TestNoOptionsWhereAllIsCut(t *testing.T) {
	k := onBench(t, glued("1.01", "1.02", "1.03", "1.04", "1.05", "1.06", "1.07", "1.08", "1.09")...)
	assert.Empty(t, optionsOf(t, k))
	_, err := Options(t.Context(), k, hull.Port, 0, 3, UsualHabit())
	assert.ErrorContains(t, err, "no band 4")
}

// What was cut stays as it was cut, however the plan changes.
func TestKeepFixesWhatIsOnTheShip(t *testing.T) {
	k := onBench(t, append(glued("1.01", "1.02"), leftAt("A", 34.5))...)
	p := k.Plan.Clone()
	require.NoError(t, keep(k, p, 0, UsualHabit()))
	require.Len(t, p.Record.Starboard[0].Widths, 6)
	assert.Empty(t, k.Plan.Record.Starboard[0].Widths, "the plan itself is not touched")
	p.Layers[0].Bands[0].Weights = []float64{1.4} // the first strake planned wider now
	after, err := loft.Plank(p)
	require.NoError(t, err)
	states, err := BothSides(after, 0, &p.Record, UsualHabit())
	require.NoError(t, err)
	before, err := BothSides(k, 0, &k.Plan.Record, UsualHabit())
	require.NoError(t, err)
	assert.InDeltaSlice(t, before[hull.Starboard][0].Left, states[hull.Starboard][0].Left, 1e-9)
}

// An entry is kept with the widths of its time.
func TestNoted(t *testing.T) {
	k := onBench(t, append(glued("1.01", "1.02", "1.03"), measuredAll(29.4)...)...)
	s := replanned(t, k, k.Plan.Record.Starboard)
	e, err := Noted(k, &k.Plan.Record, hull.Starboard, hull.Entry{Date: "2026-03-09", EntryKind: hull.Glued, Layer: 1, Strake: "1.04"}, UsualHabit())
	require.NoError(t, err)
	require.Len(t, e.Widths, 6)
	assert.InDelta(t, s.Widths[0][0], e.Widths[0].MM, 0.001)
	e, err = Noted(k, &k.Plan.Record, hull.Starboard, hull.Entry{Date: "2026-03-09", EntryKind: hull.Fitted, Layer: 1, Strake: "1.04"}, UsualHabit())
	require.NoError(t, err)
	assert.Empty(t, e.Widths)
	_, err = Noted(k, &k.Plan.Record, hull.Starboard, hull.Entry{EntryKind: hull.Fitted, Layer: 1, Strake: "7.04"}, UsualHabit())
	assert.ErrorContains(t, err, "no strake 7.04")
	_, err = Noted(k, &k.Plan.Record, hull.Starboard, hull.Entry{EntryKind: hull.Fitted, Layer: 3}, UsualHabit())
	assert.ErrorContains(t, err, "no layer 3")
}

// The other side learns the builder's creep.
func TestBenchMirrorsWhatWasLearned(t *testing.T) {
	k := onBench(t, append(glued("1.01", "1.02", "1.03"), measuredAll(29.4)...)...)
	states, err := BothSides(k, 0, &k.Plan.Record, UsualHabit())
	require.NoError(t, err)
	star, port := states[hull.Starboard][0], states[hull.Port][0]
	assert.InDelta(t, star.Creep, port.Creep, 1e-6)
	assert.False(t, port.Measured)
	assert.True(t, port.Known)
	assert.Greater(t, port.CreepBound, star.CreepBound)
	assert.InDelta(t, 5-star.Creep, port.Widths[0][0], 1e-6)
	assert.InDelta(t, 45, port.Left[0], 1e-9, "nothing is laid there")
}
