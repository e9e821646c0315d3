package loft

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strakewright/hull"
)

// fairHulls are the demo ship, whose bow is bluff and whose frames stand
// unevenly, and Wigley's hull (Wigley 1934).
func fairHulls(t testing.TB) map[string][]hull.Frame {
	return map[string][]hull.Frame{"coaster": demoFrames(t, "coaster"), "wigley": wigley(800, 23, 17)}
}

func demoFrames(t testing.TB, name string) []hull.Frame {
	f, err := os.Open("../assets/" + name + ".csv")
	require.NoError(t, err)
	defer func() { _ = f.Close() }()
	h, err := hull.ReadPoints(f, name)
	require.NoError(t, err)
	return h.Frames
}

// displaced moves every point of the planar frames outwards, square to the
// chord from the point before to the point after.
func displaced(frames []hull.Frame, by func(i, j int) float64) []hull.Frame {
	out := cloned(frames)
	for i, f := range frames {
		if f.IsEnd() {
			continue
		}
		for j, p := range f.Points {
			chord := f.Points[min(j+1, len(f.Points)-1)].Sub(f.Points[max(j-1, 0)])
			n := mgl64.Vec3{0, -chord.Z(), chord.Y()}.Normalize()
			out[i].Points[j] = p.Add(n.Mul(by(i, j)))
		}
	}
	return out
}

func misfitsOf(t testing.TB, frames []hull.Frame) []Misfit {
	m, err := Misfits(context.Background(), frames)
	require.NoError(t, err)
	return m
}

// alarms counts the suspects that are not known to be wrong: neighbouring ones
// in a frame are one alarm, as a bumped frame is.
func alarms(m []Misfit, known func(i, j int) bool) int {
	n := 0
	for i := range m {
		last := -2
		for _, j := range m[i].Suspects {
			if known(i, j) {
				continue
			}
			if j != last+1 {
				n++
			}
			last = j
		}
	}
	return n
}

func TestFairHullRaisesNoAlarm(t *testing.T) {
	hulls := fairHulls(t)
	hulls["skiff"] = demoFrames(t, "skiff")
	for name, frames := range hulls {
		for _, m := range misfitsOf(t, frames) {
			assert.Empty(t, m.Suspects, "%s, frame %s", name, m.Frame)
			assert.False(t, m.Bumped)
			assert.Less(t, m.Noise, 0.02, "points are given to 0.01 mm")
		}
	}
}

// TestFalseAlarms: points with an error of 0.2 mm standard deviation, normally
// distributed, and none wrong, raise under one alarm a hull, over 40 hulls.
func TestFalseAlarms(t *testing.T) {
	for name, frames := range fairHulls(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			const hulls = 40
			count, noise := 0, 0.0
			for n := range hulls {
				r := rand.New(rand.NewPCG(uint64(n), 1))
				m := misfitsOf(t, displaced(frames, func(int, int) float64 { return 0.2 * r.NormFloat64() }))
				count += alarms(m, func(int, int) bool { return false })
				noise += m[0].Noise / hulls
			}
			t.Logf("%.2f alarms a hull, noise told %.3f mm", float64(count)/hulls, noise)
			assert.Less(t, float64(count)/hulls, 1.0)
			assert.InDelta(t, 0.2, noise, 0.02)
		})
	}
}

// trial injects errors of 0.8 mm and tells how many of them were found and
// how many alarms were false.
type trial struct{ found, injected, falseAlarms int }

func tryErrors(t *testing.T, frames []hull.Frame, seed uint64, noise func(*rand.Rand) float64, inject func(*rand.Rand) [][2]int) trial {
	r := rand.New(rand.NewPCG(seed, 2))
	wrong := map[[2]int]float64{}
	groups := inject(r)
	for _, g := range groups {
		wrong[g] = 0.8 * float64(1-2*r.IntN(2))
	}
	m := misfitsOf(t, displaced(frames, func(i, j int) float64 { return wrong[[2]int{i, j}] + wrong[[2]int{i, -1}] + noise(r) }))
	out := trial{injected: len(wrong)}
	for g := range wrong {
		if g[1] < 0 && m[g[0]].Bumped || g[1] >= 0 && slices.Contains(m[g[0]].Suspects, g[1]) {
			out.found++
		}
	}
	out.falseAlarms = alarms(m, func(i, j int) bool {
		_, point := wrong[[2]int{i, j}]
		_, frame := wrong[[2]int{i, -1}]
		return point || frame
	})
	return out
}

// TestSinglePointsFound: of single points that are 0.8 mm off, in any frame
// between the ends and anywhere but at a limit, at least nine in ten are
// found, with under one false alarm a hull, where every point is read to
// 0.2 mm, that is with an error spread evenly over ±0.2 mm.
//
// With an error of 0.2 mm standard deviation in every point, 0.8 mm in one is
// four of them. Even were the true hull known, under one false alarm among the
// 370 points needs a bound of 3.0 standard deviations or more, and an error of
// four plus the point's own noise passes that in 0.84 of cases: nine in ten
// cannot be had. At that noise TestFramesFound
// asks for whole frames.
func TestSinglePointsFound(t *testing.T) {
	for name, frames := range fairHulls(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			const hulls = 25
			var sum trial
			for n := range hulls {
				got := tryErrors(t, frames, uint64(n), func(r *rand.Rand) float64 { return 0.4*r.Float64() - 0.2 }, func(r *rand.Rand) [][2]int {
					var out [][2]int
					for range 4 {
						i := 1 + r.IntN(len(frames)-2)
						out = append(out, [2]int{i, 1 + r.IntN(len(frames[i].Points)-2)})
					}
					return out
				})
				sum.found, sum.injected, sum.falseAlarms = sum.found+got.found, sum.injected+got.injected, sum.falseAlarms+got.falseAlarms
			}
			t.Logf("found %d of %d, %.2f false alarms a hull", sum.found, sum.injected, float64(sum.falseAlarms)/hulls)
			assert.GreaterOrEqual(t, float64(sum.found), 0.9*float64(sum.injected))
			assert.Less(t, float64(sum.falseAlarms)/hulls, 1.0)
		})
	}
}

// TestFramesFound: of frames that stand 0.8 mm out or in as a whole, the two
// next to either end apart, at least nine in ten are found as bumped at
// 0.2 mm standard deviation, with under one false alarm a hull.
func TestFramesFound(t *testing.T) {
	for name, frames := range fairHulls(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			const hulls = 25
			var sum trial
			for n := range hulls {
				got := tryErrors(t, frames, uint64(n), func(r *rand.Rand) float64 { return 0.2 * r.NormFloat64() }, func(r *rand.Rand) [][2]int {
					return [][2]int{{3 + r.IntN(len(frames)-6), -1}}
				})
				sum.found, sum.injected, sum.falseAlarms = sum.found+got.found, sum.injected+got.injected, sum.falseAlarms+got.falseAlarms
			}
			t.Logf("found %d of %d, %.2f false alarms a hull", sum.found, sum.injected, float64(sum.falseAlarms)/hulls)
			assert.GreaterOrEqual(t, float64(sum.found), 0.9*float64(sum.injected))
			assert.Less(t, float64(sum.falseAlarms)/hulls, 1.0)
		})
	}
}

// TestMisfitTellsTheError: on a hull that is fair otherwise, the misfit of a
// wrong point is its error, and the shift of a bumped frame that of the frame.
func TestMisfitTellsTheError(t *testing.T) {
	frames := wigley(800, 23, 17)
	m := misfitsOf(t, displaced(frames, func(i, j int) float64 {
		if i == 7 && j == 5 {
			return 0.8
		}
		if i == 15 {
			return -0.8
		}
		return 0
	}))
	assert.Equal(t, []int{5}, m[7].Suspects)
	assert.Equal(t, 5, m[7].Worst())
	assert.InDelta(t, 0.8, m[7].Off[5], 0.02)
	assert.InDelta(t, 0, m[7].Shift, 0.02)
	assert.True(t, m[15].Bumped)
	assert.InDelta(t, -0.8, m[15].Shift, 0.05)
	assert.Less(t, m[16].RMS, 0.05, "a bumped frame does not draw its neighbours")
}

func TestMisfitsRefuse(t *testing.T) {
	frames := wigley(800, 23, 17)
	_, err := Misfits(context.Background(), frames[:4])
	assert.ErrorContains(t, err, "fairing needs 5 or more")
	_, err = Misfits(context.Background(), wigley(800, 40, 200))
	assert.ErrorContains(t, err, "thin the outlines")
	bad := cloned(frames)
	bad[3].Points = bad[3].Points[:1]
	_, err = Misfits(context.Background(), bad)
	assert.ErrorContains(t, err, "W3")
	bad = cloned(frames)
	bad[4].Points[2][1] = math.Inf(1)
	_, err = Misfits(context.Background(), bad)
	assert.ErrorContains(t, err, "W4")
}

// rmsAway is the root mean square distance between the points of two hulls.
func rmsAway(a, b []hull.Frame) float64 {
	sum, n := 0.0, 0
	for i := range a {
		for j := range a[i].Points {
			sum += a[i].Points[j].Sub(b[i].Points[j]).LenSqr()
			n++
		}
	}
	return math.Sqrt(sum / float64(n))
}

func BenchmarkMisfits(b *testing.B) {
	frames := demoFrames(b, "coaster")
	for b.Loop() {
		misfitsOf(b, frames)
	}
}

func BenchmarkMisfitsDense(b *testing.B) {
	frames := wigley(800, 25, 60)
	for b.Loop() {
		misfitsOf(b, frames)
	}
}
