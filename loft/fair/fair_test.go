package fair

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// checkFaired checks that a fair hull keeps its promises.
func checkFaired(t *testing.T, was []hull.Frame, f Faired, tolerance float64) {
	t.Helper()
	require.Len(t, f.Frames, len(was))
	moved := map[[2]int]Move{}
	for _, m := range f.Moves {
		moved[[2]int{m.Frame, m.Point}] = m
		assert.LessOrEqual(t, max(m.Out, -m.Out), tolerance+1e-9)
	}
	for i, frame := range f.Frames {
		assert.Equal(t, was[i].Name, frame.Name)
		assert.Equal(t, was[i].Knuckles, frame.Knuckles)
		require.Len(t, frame.Points, len(was[i].Points))
		for j, p := range frame.Points {
			m, ok := moved[[2]int{i, j}]
			d := p.Sub(was[i].Points[j])
			assert.InDelta(t, max(m.Out, -m.Out), d.Len(), 1e-9, "what moved is listed, and nothing else moved")
			assert.Zero(t, d.X(), "a point moves in its frame's plane")
			held := i == 0 || i == len(was)-1 || j == 0 || j == len(frame.Points)-1 || slices.Contains(frame.Knuckles, j)
			assert.False(t, held && ok, "ends and knuckles are held")
		}
	}
	assert.LessOrEqual(t, f.RoughAfter, f.RoughBefore)
}

// TestFairComesNearer: after fairing, a hull with noise and a bumped frame is closer to
// the true one, smoother, and within the tolerance.
func TestFairComesNearer(t *testing.T) {
	t.Parallel()
	hulls := fairHulls(t)
	hulls["skiff"] = demoFrames(t, "skiff")
	for name, frames := range hulls {
		for _, tolerance := range []float64{0.2, 0.5, 1} {
			r := rand.New(rand.NewPCG(5, 3))
			noisy := displaced(frames, func(i, _ int) float64 {
				e := 0.2 * r.NormFloat64()
				if i == 9 {
					e += 0.8
				}
				return e
			})
			before := cloned(noisy)
			f, err := Fair(context.Background(), noisy, tolerance)
			require.NoError(t, err)
			assert.Equal(t, before, noisy, "the hull given is not changed")
			checkFaired(t, noisy, f, tolerance)
			t.Logf("%s within %.1f mm: %.3f mm from the true hull, was %.3f; rough %.3f, was %.3f", name, tolerance, rmsAway(frames, f.Frames), rmsAway(frames, noisy), f.RoughAfter, f.RoughBefore)
			assert.Less(t, rmsAway(frames, f.Frames), rmsAway(frames, noisy))
			assert.Less(t, f.RoughAfter, f.RoughBefore)
			assert.NotEmpty(t, f.Moves)
		}
	}
}

// TestFairLeavesAFairHull: on a fair hull hardly a point moves by more than 0.05 mm,
// the best accuracy to which a hull is read.
func TestFairLeavesAFairHull(t *testing.T) {
	for name, frames := range fairHulls(t) {
		f, err := Fair(context.Background(), frames, 1)
		require.NoError(t, err)
		checkFaired(t, frames, f, 1)
		far := 0
		for _, m := range f.Moves {
			if max(m.Out, -m.Out) > 0.05 {
				far++
			}
		}
		t.Logf("%s: %d moves, %d over 0.05 mm", name, len(f.Moves), far)
		assert.Less(t, far, 10)
	}
}

// TestMovesAreToTheSurface: every point that is not held moves onto the surface, or by the
// tolerance towards it.
func TestMovesAreToTheSurface(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	noisy := displaced(bodies.Wigley(800, 9, 9), func(int, int) float64 { return 0.3 * r.NormFloat64() })
	g, err := newGrid(context.Background(), noisy)
	require.NoError(t, err)
	v, err := g.judge()
	require.NoError(t, err)
	away, err := g.fairest(v)
	require.NoError(t, err)
	const tolerance = 0.15
	got, err := Fair(context.Background(), noisy, tolerance)
	require.NoError(t, err)
	moved := map[int]Move{}
	for _, m := range got.Moves {
		moved[g.first[m.Frame]+m.Point] = m
	}
	at := 0
	for k, held := range g.holds() {
		m := moved[k]
		switch off := math.Abs(away[k]); {
		case held:
			assert.Zero(t, m.Out)
		case off >= tolerance:
			assert.InDelta(t, tolerance, math.Abs(m.Out), 1e-9)
			assert.True(t, m.AtLimit)
			at++
		case off >= leastMove:
			assert.InDelta(t, -away[k], m.Out, 1e-9)
			assert.False(t, m.AtLimit)
		}
		assert.LessOrEqual(t, m.Out*away[k], 0.0, "towards the surface")
	}
	assert.Greater(t, at, 5, "the bound is met")
}

// TestFairUnevenOutlines: frames of differing numbers of points, unevenly spaced, with
// corners in some of them only, are faired like any others.
func TestFairUnevenOutlines(t *testing.T) {
	t.Parallel()
	for seed := range uint64(20) {
		r := rand.New(rand.NewPCG(seed, 6))
		frames := bodies.Wigley(800, 5+r.IntN(20), 5)
		for i := range frames {
			x := frames[i].Points[0].X()
			frames[i].Points = nil
			z := 0.0
			for z > -50 {
				frames[i].Points = append(frames[i].Points, mgl64.Vec3{x, bodies.HalfBreadth(800, x, z), z})
				z -= 1 + 12*r.Float64()
			}
			frames[i].Points = append(frames[i].Points, mgl64.Vec3{x, 0, -50})
			if r.IntN(3) == 0 {
				frames[i].Knuckles = []int{1 + r.IntN(len(frames[i].Points)-2)}
			}
		}
		noisy := displaced(frames, func(int, int) float64 {
			if r.IntN(10) == 0 {
				return 3 * r.NormFloat64()
			}
			return 0.2 * r.NormFloat64()
		})
		f, err := Fair(context.Background(), noisy, 0.5)
		require.NoError(t, err)
		checkFaired(t, noisy, f, 0.5)
		assert.Less(t, f.RoughAfter, f.RoughBefore)
	}
}

func TestFairRefuses(t *testing.T) {
	for _, tolerance := range []float64{0, -1} {
		_, err := Fair(context.Background(), bodies.Wigley(800, 9, 9), tolerance)
		assert.ErrorContains(t, err, "above 0")
	}
}
