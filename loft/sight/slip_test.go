package sight

import (
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
)

// abeam is a plain view of the whole side, whose true values every test here knows.
func abeam(_ *rand.Rand, s ship) lens {
	pic := Picture{Width: 4000, Height: 3000}
	return lensFrom(pic, mgl64.Vec3{0, 0, 35}, s.sign, 0.25, 0.1, 650, 4600)
}

// third is the remaining space in the tests here: from a third of the girth to two
// thirds.
func (b *bench) third(f int) (float64, float64) {
	g := b.s.l.Surface.Girth(f)
	return g / 3, 2 * g / 3
}

// A known place that is marked 25 pixels off is named and left out, whichever it is; if
// all are right none is.
func TestTheSlipAmongTheKnownPlacesIsNamed(t *testing.T) {
	k := tub(t)
	on := states(t, k, hull.Port)
	b := newBench(k, hull.Port, 5, abeam, 0.2, usualClick)
	m := b.halfPlanked(b.third)
	seen, err := Read(k, hull.Port, 0, 0, on, m, UsualCare())
	require.NoError(t, err)
	assert.Empty(t, seen.Slips)
	assert.Equal(t, 1., seen.Loose)
	assert.Len(t, seen.Out, len(m.Known))
	sound := seen.Readings
	p, _ := b.s.outline(3, OnFrame).at(20)
	at, ok := seen.At(3, 20)
	assert.True(t, ok)
	assert.InDelta(t, 0, b.lens.sees(p.Add(b.shifts[3])).Sub(mgl64.Vec2{at.X, at.Y}).Len(), 4, "the camera sees it where the lens does")
	for i := 0; i < len(m.Known); i += 3 {
		off := m
		off.Known = append([]Known{}, m.Known...)
		off.Known[i].At.X += 15
		off.Known[i].At.Y -= 20
		seen, err := Read(k, hull.Port, 0, 0, on, off, UsualCare())
		require.NoError(t, err)
		require.Equal(t, []int{i}, seen.Slips)
		assert.Greater(t, seen.Out[i], 15.)
		for j, r := range seen.Readings {
			if r.Given() && sound[j].Given() {
				assert.InDelta(t, sound[j].Left, r.Left, r.Bound(), "it does no harm")
			}
		}
	}
}

// manyKnown are marks of many places of the frames, in some view.
func manyKnown(b *bench) Marks {
	m := b.halfPlanked(b.third)
	for f := range b.s.l.Surface.Frames() {
		for _, down := range []float64{10, 20, 30} {
			if at, ok := b.mark(f, down, OnFrame); ok {
				m.Known = append(m.Known, Known{Mark: at, What: AtGirth, Girth: down, Frame: f, Face: OnFrame})
			}
		}
	}
	return m
}

// Of many places, several far off at once are all named, though the camera found with
// them stands elsewhere.
func TestSeveralSlipsAmongManyKnownPlacesAreNamed(t *testing.T) {
	k := tub(t)
	on := states(t, k, hull.Port)
	m := manyKnown(newBench(k, hull.Port, 18, anyLens, 0.2, usualClick))
	require.Greater(t, len(m.Known), singly)
	off := []int{3, 18, 31, 33}
	for n, i := range off {
		m.Known[i].At.X += []float64{1500, -60, 300, -1200}[n]
		m.Known[i].At.Y += []float64{-800, 40, 900, 20}[n]
	}
	seen, err := Read(k, hull.Port, 0, 0, on, m, UsualCare())
	require.NoError(t, err)
	assert.Equal(t, off, seen.Slips)
	assert.False(t, seen.Lost)
}

// Many marks that fit in no way are given up after little work, which is counted by what
// is allocated.
func TestMarksThatFitInNoWayAreGivenUpSoon(t *testing.T) {
	k := tub(t)
	on := states(t, k, hull.Port)
	b := newBench(k, hull.Port, 18, anyLens, 0.2, usualClick)
	m := manyKnown(b)
	for i := range m.Known {
		m.Known[i].At = Pixel{4000 * b.rng.Float64(), 3000 * b.rng.Float64()}
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	seen, err := Read(k, hull.Port, 0, 0, on, m, UsualCare())
	runtime.ReadMemStats(&after)
	require.NoError(t, err)
	assert.True(t, seen.Lost)
	assert.Less(t, after.Mallocs-before.Mallocs, uint64(600_000), "a million and more if each mark is left out in turn, from every start")
}

// With the fewest places a slip is noticed but cannot be identified, and nothing is
// read.
func TestASlipThatTheOthersCannotTellIsNotGuessed(t *testing.T) {
	k := tub(t)
	on := states(t, k, hull.Port)
	b := newBench(k, hull.Port, 6, abeam, 0.1, 0.5)
	m := b.halfPlanked(b.third)
	m.Known = m.Known[1:7]
	m.Known[2].At.X += 60
	seen, err := Read(k, hull.Port, 0, 0, on, m, UsualCare())
	require.NoError(t, err)
	assert.Empty(t, seen.Slips)
	assert.True(t, seen.Lost || seen.Loose > 1.2 || len(seen.Unclear) > 1)
	for _, r := range seen.Readings {
		if r.Given() {
			assert.InDelta(t, r.Left, b.s.l.Surface.Girth(r.Frame)/3, r.Bound())
		}
	}
}

// The marks of the port side do not fit the starboard side, and the program says that
// they would fit the other.
func TestTheOtherSideIsKnown(t *testing.T) {
	k := tub(t)
	b := newBench(k, hull.Port, 7, abeam, 0.1, 0.5)
	m := b.halfPlanked(b.third)
	seen, err := Read(k, hull.Starboard, 0, 0, states(t, k, hull.Starboard), m, UsualCare())
	require.NoError(t, err)
	assert.True(t, seen.Lost)
	assert.True(t, seen.OtherSide)
	assert.Empty(t, seen.Readings)
}

// A place that turns away, is seen too obliquely, lies off its frame or lacks a mark is
// not given, and the reason is.
func TestWhatCannotBeReadIsRefused(t *testing.T) {
	k := laidFrom(t, tub(t), hull.Port, 3, 2)
	on := states(t, k, hull.Port)
	high := func(_ *rand.Rand, s ship) lens {
		return lensFrom(Picture{Width: 4000, Height: 3000}, mgl64.Vec3{0, 0, 35}, s.sign, 0.2, 0.75, 650, 4600)
	}
	b := newBench(k, hull.Port, 8, high, 0, 0.5)
	m := b.halfPlanked(b.third)
	// all limits are marked, visible or not: the test is of what is read
	g := b.s.l.Surface.Girth(4)
	for _, f := range []int{1, 3, 5, 7} {
		at, _ := b.mark(f, 20, OnFrame)
		m.Known = append(m.Known, Known{Mark: at, What: AtGirth, Girth: 20, Frame: f})
	}
	read := func(e ...Edge) Reading {
		m.Edges = e
		seen, err := Read(k, hull.Port, 0, 0, on, m, UsualCare())
		require.NoError(t, err)
		require.Len(t, seen.Readings, 1)
		return seen.Readings[0]
	}
	mark := func(f int, down float64) Mark { at, _ := b.mark(f, down, OnFrame); return at }
	r := read(Edge{mark(4, 20), 4, Above, OnFrame}, Edge{mark(4, 45), 4, Below, OnFrame})
	assert.Equal(t, NoDoubt, r.Doubt)
	assert.InDelta(t, 25, r.Left, r.Bound())
	hidden := read(Edge{mark(4, 20), 4, Above, OnFrame}, Edge{mark(4, g-3), 4, Below, OnFrame})
	assert.Contains(t, []Doubt{Hidden, Astray, Twofold, TooWide}, hidden.Doubt, "the bottom is not seen from above")
	assert.False(t, hidden.Given())
	off := mark(4, 20)
	off.At.X += 40
	assert.Equal(t, Astray, read(Edge{off, 4, Above, OnFrame}, Edge{mark(4, 45), 4, Below, OnFrame}).Doubt)
	assert.Equal(t, NoBelow, read(Edge{mark(4, 20), 4, Above, OnFrame}).Doubt)
	assert.Equal(t, NoAbove, read(Edge{mark(4, 45), 4, Below, OnFrame}).Doubt)
	assert.Equal(t, Crossed, read(Edge{mark(4, 45), 4, Above, OnFrame}, Edge{mark(4, 20), 4, Below, OnFrame}).Doubt)
	far := mark(4, 20)
	far.Across, far.Along = 30, 30
	assert.Equal(t, TooWide, read(Edge{far, 4, Above, OnFrame}, Edge{mark(4, 45), 4, Below, OnFrame}).Doubt)
}

// One edge alone is enough where nothing is laid at the other; the band's own edge
// stands for it. Seams already laid serve as known places, and they and the ends that
// the record shows as covered count as seen on the planks.
func TestFromTheSeamsAlreadyLaid(t *testing.T) {
	k := laidFrom(t, tub(t), hull.Port, 4, 0)
	on := states(t, k, hull.Port)
	b := newBench(k, hull.Port, 9, abeam, 0, 0.5)
	m := Marks{Picture: b.lens.pic}
	for f := range b.s.l.Surface.Frames() {
		for n := range 3 {
			at, _ := b.mark(f, on[0].Seams[n+1][f], OnPlank)
			m.Known = append(m.Known, Known{Mark: at, What: SeamBelow, Strake: n, Frame: f})
		}
		top, _ := b.mark(f, 0, OnPlank)
		m.Known = append(m.Known, Known{Mark: top, What: UpperLimit, Frame: f})
		edge, _ := b.mark(f, on[0].Seams[4][f], OnFrame)
		m.Edges = append(m.Edges, Edge{edge, f, Above, ""})
	}
	seen, err := Read(k, hull.Port, 0, 0, on, m, Care{Stands: 0.05, Most: 5})
	require.NoError(t, err)
	require.NotEmpty(t, seen.Readings)
	given := 0
	for _, r := range seen.Readings {
		if !r.Given() {
			continue
		}
		given++
		truth := b.s.l.Surface.Girth(r.Frame) - on[0].Seams[4][r.Frame]
		assert.InDelta(t, truth, r.Left, r.Bound())
	}
	assert.Greater(t, given, 6)
	m.Known[0].Strake = 6
	_, err = Read(k, hull.Port, 0, 0, on, m, UsualCare())
	assert.EqualError(t, err, "known place 1: strake 1.07 is not laid at frame A, as the record has it")
}

// Known places that are too few, or that determine nothing, are refused.
func TestKnownPlacesThatSettleNothing(t *testing.T) {
	k := tub(t)
	on := states(t, k, hull.Port)
	b := newBench(k, hull.Port, 10, abeam, 0, 0.5)
	m := b.halfPlanked(b.third)
	for _, c := range []struct {
		known []Known
		want  string
	}{
		{nil, "0 known places do not fix the camera's position: mark 6 over several frames, or 4 of one"},
		{m.Known[:5], "5 known places do not fix the camera's position: mark 6 over several frames, or 4 of one"},
		{m.Known[:2], "2 known places of one frame do not fix the camera's position: mark 4 of it, or 6 over several frames"},
	} {
		_, err := Read(k, hull.Port, 0, 0, on, Marks{Picture: m.Picture, Known: c.known}, UsualCare())
		assert.EqualError(t, err, c.want)
	}
	_, err := Read(k, hull.Port, 0, 0, on, Marks{Known: m.Known}, UsualCare())
	assert.EqualError(t, err, "the size of the picture is missing")
	_, err = Read(k, hull.Port, 0, 3, on, m, UsualCare())
	assert.EqualError(t, err, "there is no band 4 in layer 1")
	same := append([]Known{}, m.Known...)
	for i := range same {
		same[i].Mark = same[0].Mark
	}
	seen, err := Read(k, hull.Port, 0, 0, on, Marks{Picture: m.Picture, Known: same, Edges: m.Edges}, UsualCare())
	require.NoError(t, err)
	for _, r := range seen.Readings {
		assert.False(t, r.Given(), "marks all at one place determine nothing")
	}
}
