package cutstock

import (
	"context"
	"github.com/strakewright/strakewright/loft/internal/checks"
	"math"
	"math/rand/v2"
	"slices"
	"sort"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestStripsForLeavesItsPiecesAsTheyAre(t *testing.T) {
	count := func(pieces ...float64) int {
		n, err := StripsFor(t.Context(), pieces, 1000)
		require.NoError(t, err)
		return n
	}
	pieces := []float64{300, 700, 500, 500}
	assert.Equal(t, 2, count(pieces...))
	assert.Equal(t, []float64{300, 700, 500, 500}, pieces)
	assert.Equal(t, 1, count(math.Nextafter(1000, 0)))
	assert.Zero(t, count())
	assert.Equal(t, 3, count(1500, 2500, 400), "a piece longer than a strip takes one by itself")
}

// firstFit looks along the strips from the first for every piece: plain first fit,
// longest pieces first.
func firstFit(pieces []float64, strip float64) int {
	pieces = slices.Clone(pieces)
	sort.Sort(sort.Reverse(sort.Float64Slice(pieces)))
	var left []float64
	for _, p := range pieces {
		i := slices.IndexFunc(left, func(l float64) bool { return l >= p-1e-9 })
		if i < 0 {
			left = append(left, strip-p)
			continue
		}
		left[i] -= p
	}
	return len(left)
}

// TestStripsForIsFirstFit: the tree finds the same strip as looking along the row, so
// the counts are equal, not merely close.
func TestStripsForIsFirstFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.OneOf(
			rapid.Float64Range(0, 1200),
			rapid.SampledFrom([]float64{0, 1e-10, 100, 250, 333, 500, 500 + 1e-10, 1000, 1000 + 1e-10, math.NaN(), math.Inf(1)}),
		)
		pieces := rapid.SliceOfN(length, 0, 200).Draw(t, "pieces")
		strip := rapid.SampledFrom([]float64{0, 1, 500, 1000, math.Inf(1)}).Draw(t, "strip")
		got, err := StripsFor(context.Background(), pieces, strip)
		require.NoError(t, err)
		require.Equal(t, firstFit(pieces, strip), got)
	})
}

// somePieces are pieces of every length up to a strip.
func somePieces(n int) []float64 {
	r := rand.New(rand.NewPCG(1, 2))
	out := make([]float64, n)
	for i := range out {
		out[i] = 1000 * r.Float64()
	}
	return out
}

// TestRackTakesFewSteps: finding and setting go down and up a tree whose room is at
// most four times the strips, so n pieces take n·log n steps at most.
func TestRackTakesFewSteps(t *testing.T) {
	var r rack
	for i := range 100_000 {
		r.add(float64(i % 7))
		require.LessOrEqual(t, len(r.most), 4*(i+1))
	}
	assert.Equal(t, 6, r.first(6))
	assert.Equal(t, -1, r.first(6.5))
	r.set(6, 0)
	assert.Equal(t, 13, r.first(6))
}

// TestStripsForStops: it looks at the context once in a fixed number of pieces, and
// ends at the first look that finds it over.
func TestStripsForStops(t *testing.T) {
	const pieces = 100 * lookEvery
	looks := checks.LooksOf(t, func(ctx context.Context) error {
		_, err := StripsFor(ctx, somePieces(pieces), 1000)
		return err
	})
	assert.Equal(t, pieces/lookEvery+1, looks)
}
