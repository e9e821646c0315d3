package fair

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

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// fairHulls are the demo ship, with a bluff bow and unevenly spaced frames, and
// Wigley's hull (Wigley 1934).
func fairHulls(t testing.TB) map[string][]hull.Frame {
	return map[string][]hull.Frame{"coaster": demoFrames(t, "coaster"), "wigley": bodies.Wigley(800, 23, 17)}
}

func demoFrames(t testing.TB, name string) []hull.Frame {
	f, err := os.Open("../../assets/" + name + ".csv")
	require.NoError(t, err)
	defer func() { _ = f.Close() }()
	h, err := source.ReadPoints(f, name)
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

// alarms counts the suspects that are not known to be wrong: neighbouring ones in a
// frame are one alarm, as is a bumped frame.
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
	for name, frames := range withSkiff(t) {
		for _, m := range misfitsOf(t, frames) {
			assert.Empty(t, m.Suspects, "%s, frame %s", name, m.Frame)
			assert.False(t, m.Bumped)
			assert.Less(t, m.Noise, 0.02, "points are given to 0.01 mm")
		}
	}
}

// TestFalseAlarms: points with a normally distributed error of 0.2 mm standard
// deviation, and none wrong, raise less than one alarm a hull, over 40 hulls.
func TestFalseAlarms(t *testing.T) {
	for name, frames := range withSkiff(t) {
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

// trial injects errors of 0.8 mm and counts how many of them were found and how many
// alarms were false.
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

// trials sums up the trials of many hulls.
func trials(t *testing.T, frames []hull.Frame, hulls int, noise func(*rand.Rand) float64, inject func(*rand.Rand) [][2]int) (found, alarms float64) {
	var sum trial
	for n := range hulls {
		got := tryErrors(t, frames, uint64(n), noise, inject)
		sum.found, sum.injected, sum.falseAlarms = sum.found+got.found, sum.injected+got.injected, sum.falseAlarms+got.falseAlarms
	}
	found, alarms = float64(sum.found)/float64(sum.injected), float64(sum.falseAlarms)/float64(hulls)
	t.Logf("found %d of %d, %.2f false alarms a hull", sum.found, sum.injected, alarms)
	return found, alarms
}

// The errors of 0.2 mm with which points are read: uniformly distributed over ±0.2 mm,
// or normally with a standard deviation of 0.2 mm.
func even(r *rand.Rand) float64   { return 0.4*r.Float64() - 0.2 }
func normal(r *rand.Rand) float64 { return 0.2 * r.NormFloat64() }

// fourPoints picks points of any frame between the ends, and anywhere but at a
// limit.
func fourPoints(frames []hull.Frame) func(*rand.Rand) [][2]int {
	return func(r *rand.Rand) (out [][2]int) {
		for range 4 {
			i := 1 + r.IntN(len(frames)-2)
			out = append(out, [2]int{i, 1 + r.IntN(len(frames[i].Points)-2)})
		}
		return out
	}
}

// onEach runs a check on every hull at once.
func onEach(t *testing.T, hulls map[string][]hull.Frame, check func(t *testing.T, name string, frames []hull.Frame)) {
	for name, frames := range hulls {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			check(t, name, frames)
		})
	}
}

// withSkiff are the fair hulls and the demo skiff, whose frames have a chine.
func withSkiff(t *testing.T) map[string][]hull.Frame {
	hulls := fairHulls(t)
	hulls["skiff"] = demoFrames(t, "skiff")
	return hulls
}

// TestSinglePointsFound: of single points that are 0.8 mm off, in any frame between the
// ends and anywhere except at a limit, at least nine in ten are found, with less than
// one false alarm a hull, where every point is read to 0.2 mm, that is, with an error
// uniformly distributed over ±0.2 mm.
func TestSinglePointsFound(t *testing.T) {
	onEach(t, withSkiff(t), func(t *testing.T, _ string, frames []hull.Frame) {
		found, alarms := trials(t, frames, 25, even, fourPoints(frames))
		assert.GreaterOrEqual(t, found, 0.9)
		assert.Less(t, alarms, 1.0)
	})
}

// TestSinglePointsNearTheBound: with an error of 0.2 mm standard deviation in every
// point no rule can find nine in ten single errors of 0.8 mm, and this one comes close
// to the best possible.
//
// The best test of one point, its noise σ known, is the matched filter: with leverage h
// it sees an error e as e·√(1-h)/σ standard deviations, and finds it beyond a bound t
// with probability Φ(e·√(1-h)/σ - t); noise alone crosses t at 2·N·(1-Φ(t)) of N
// points. One false alarm a hull at N = 370 is t = 3.0: even if the true hull were
// known (h = 0) that finds Φ(4-3.0) = 0.84, and 0.9 could be reached only with fewer
// than 150 points. But the hull is known only by its points: a smooth surface through
// them has a leverage of 0.1 (Wigley's hull) to 0.3 (the bluff coaster, and hulls of
// few points), and the bound is 0.65 to 0.8.
func TestSinglePointsNearTheBound(t *testing.T) {
	hulls := withSkiff(t)
	hulls["small wigley"] = bodies.Wigley(800, 13, 11)
	// The skiff's sharp ends, which the surface cannot predict, cost it more.
	short := map[string]float64{"skiff": 0.15, "coaster": 0.1, "wigley": 0.1, "small wigley": 0.1}
	onEach(t, hulls, func(t *testing.T, name string, frames []hull.Frame) {
		found, alarms := trials(t, frames, 40, normal, fourPoints(frames))
		bound, known := mostFound(t, frames)
		t.Logf("at most %.2f can be found, %.2f were the true hull known", bound, known)
		assert.GreaterOrEqual(t, found, bound-short[name])
		if name != "small wigley" {
			assert.Less(t, known, 0.9)
		}
		assert.Less(t, alarms, 1.0)
	})
}

// mostFound is the mean share of errors of 0.8 mm, four times the noise, that the
// matched filter finds at one false alarm a hull: with the leverage of the surface that
// suits the hull with noise, and with none.
func mostFound(t *testing.T, frames []hull.Frame) (bound, known float64) {
	r := rand.New(rand.NewPCG(8, 8))
	g, err := newGrid(context.Background(), displaced(frames, func(int, int) float64 { return normal(r) }))
	require.NoError(t, err)
	v, err := g.judge()
	require.NoError(t, err)
	beyond := func(sigmas float64) float64 {
		return 0.5 * math.Erfc(-(sigmas-normalBound(1/float64(g.judged())))/math.Sqrt2)
	}
	n := 0.0
	for i := 1; i < len(frames)-1; i++ {
		for k := g.first[i] + 1; k < g.first[i+1]-1; k++ {
			bound += beyond(4 * math.Sqrt(v.f.free(k)))
			n++
		}
	}
	return bound / n, beyond(4)
}

// TestRunsFound: three neighbouring points of a frame that are 0.8 mm off together are
// found in nine cases of ten at 0.2 mm standard deviation on Wigley's hull; on the
// coaster, whose surface follows three points in a row closely, in six of ten.
func TestRunsFound(t *testing.T) {
	share := map[string]float64{"wigley": 0.9, "coaster": 0.6}
	onEach(t, fairHulls(t), func(t *testing.T, name string, frames []hull.Frame) {
		const hulls = 40
		found := 0
		for n := range uint64(hulls) {
			r := rand.New(rand.NewPCG(n, 12))
			i := 3 + r.IntN(len(frames)-6)
			at, e := 1+r.IntN(len(frames[i].Points)-4), 0.8*float64(1-2*r.IntN(2))
			m := misfitsOf(t, displaced(frames, func(k, j int) float64 {
				if k == i && j >= at && j < at+3 {
					return e + normal(r)
				}
				return normal(r)
			}))
			for _, j := range m[i].Suspects {
				if j >= at && j < at+3 {
					found++
					break
				}
			}
		}
		t.Logf("found %d of %d", found, hulls)
		assert.GreaterOrEqual(t, float64(found), share[name]*hulls)
	})
}

// TestErrorsAtTheEdges: single points that are 0.8 mm off in the frames next to the
// ends of the hull, and next to the limits and the knuckles of any, are found with
// points read to ±0.2 mm: nine in ten next to limits and knuckles. Next to the ends of
// the hull, where a frame is judged mainly by its own outline, all of a fine hull's are
// found, most of the bluff coaster's, and a third of the skiff's, whose sharp ends turn
// most where nothing beyond shows it.
func TestErrorsAtTheEdges(t *testing.T) {
	share := map[string]float64{"wigley": 0.9, "coaster": 0.8, "skiff": 0.3}
	onEach(t, withSkiff(t), func(t *testing.T, name string, frames []hull.Frame) {
		last := len(frames) - 1
		found, alarms := trials(t, frames, 25, even, func(r *rand.Rand) [][2]int {
			a, b := frames[1], frames[last-1]
			return [][2]int{{1, 2 + r.IntN(len(a.Points)-4)}, {last - 1, 2 + r.IntN(len(b.Points)-4)}}
		})
		assert.GreaterOrEqual(t, found, share[name])
		assert.Less(t, alarms, 1.0)
		found, alarms = trials(t, frames, 25, even, func(r *rand.Rand) (out [][2]int) {
			for range 3 {
				i := 2 + r.IntN(len(frames)-4)
				next := []int{1, len(frames[i].Points) - 2}
				for _, k := range frames[i].Knuckles {
					next = append(next, k-1, k+1)
				}
				out = append(out, [2]int{i, next[r.IntN(len(next))]})
			}
			return out
		})
		assert.GreaterOrEqual(t, found, 0.9)
		assert.Less(t, alarms, 1.0)
	})
}

// TestFramesFound: of frames that stand 0.8 mm out or in as a whole, except the two
// next to either end, at least nine in ten are found as bumped at 0.2 mm standard
// deviation, with less than one false alarm a hull.
func TestFramesFound(t *testing.T) {
	onEach(t, withSkiff(t), func(t *testing.T, _ string, frames []hull.Frame) {
		found, alarms := trials(t, frames, 25, normal, func(r *rand.Rand) [][2]int {
			return [][2]int{{3 + r.IntN(len(frames)-6), -1}}
		})
		assert.GreaterOrEqual(t, found, 0.9)
		assert.Less(t, alarms, 1.0)
	})
}

// TestFramesFoundOnAFairHull: the same for frames that are 0.7 mm out or in on a hull
// without noise, where the surface could follow them.
func TestFramesFoundOnAFairHull(t *testing.T) {
	onEach(t, withSkiff(t), func(t *testing.T, _ string, frames []hull.Frame) {
		found, tried, others := 0, 0, 0
		for i := 3; i < len(frames)-3; i++ {
			for _, e := range []float64{-0.7, 0.7} {
				m := misfitsOf(t, displaced(frames, func(k, _ int) float64 {
					if k == i {
						return e
					}
					return 0
				}))
				tried++
				if m[i].Bumped {
					found++
				}
				others += alarms(m, func(k, _ int) bool { return k == i })
			}
		}
		t.Logf("found %d of %d, %d false alarms", found, tried, others)
		assert.GreaterOrEqual(t, float64(found), 0.9*float64(tried))
		assert.Less(t, float64(others)/float64(tried), 1.0)
	})
}

// TestMisfitTellsTheError: on an otherwise fair hull, the misfit of a wrong point is
// its error, and the shift of a bumped frame is that of the frame.
func TestMisfitTellsTheError(t *testing.T) {
	frames := bodies.Wigley(800, 23, 17)
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
	frames := bodies.Wigley(800, 23, 17)
	_, err := Misfits(context.Background(), frames[:4])
	assert.ErrorContains(t, err, "fairing needs 5 or more")
	_, err = Misfits(context.Background(), bodies.Wigley(800, 40, 200))
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
	frames := bodies.Wigley(800, 21, 100)
	for b.Loop() {
		misfitsOf(b, frames)
	}
}
