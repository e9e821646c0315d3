package cutstock

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// parted gives every way to part a whole.
func (w Whole) parted() [][]float64 {
	var out [][]float64
	var grow func(from float64, marks []float64, parts []float64)
	grow = func(from float64, marks []float64, parts []float64) {
		if rest := w.Length - from; rest <= w.Longest {
			out = append(out, append(append([]float64{}, parts...), rest))
		}
		if len(parts)+1 >= w.Most {
			return
		}
		for i, m := range marks {
			if m-from <= w.Longest {
				grow(m, marks[i+1:], append(append([]float64{}, parts...), m-from))
			}
		}
	}
	grow(0, w.Marks, nil)
	return out
}

// everyWay calls with the pieces of every choice of parts.
func everyWay(wholes []Whole, pieces []float64, call func([]float64)) {
	if len(wholes) == 0 {
		call(pieces)
		return
	}
	for _, parts := range wholes[0].parted() {
		all := append([]float64{}, pieces...)
		for range wholes[0].Times {
			all = append(all, parts...)
		}
		everyWay(wholes[1:], all, call)
	}
}

// TestLeastIsABound compares with every way to part and every way to cut.
func TestLeastIsABound(t *testing.T) {
	proven, cases := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		shop := []Strip{{30, float64(rapid.IntRange(0, 3).Draw(t, "price")), -1}}
		if rapid.Bool().Draw(t, "two") {
			shop = append(shop, Strip{float64(rapid.IntRange(8, 29).Draw(t, "length")), float64(rapid.IntRange(0, 3).Draw(t, "price")), rapid.IntRange(-1, 2).Draw(t, "count")})
		}
		var box []Strip
		if rapid.Bool().Draw(t, "boxes") {
			box = append(box, Strip{float64(rapid.IntRange(8, 40).Draw(t, "box")), 0, rapid.IntRange(0, 2).Draw(t, "count")})
		}
		kerf := float64(rapid.IntRange(0, 2).Draw(t, "kerf")) / 2
		var wholes []Whole
		for range rapid.IntRange(1, 2).Draw(t, "wholes") {
			w := Whole{Length: float64(rapid.IntRange(20, 55).Draw(t, "whole")), Longest: 30, Most: 2, Times: rapid.IntRange(1, 2).Draw(t, "times")}
			for m := 6.0; m < w.Length-1; m += float64(rapid.IntRange(4, 12).Draw(t, "bay")) {
				w.Marks = append(w.Marks, m)
			}
			wholes = append(wholes, w)
		}
		kinds := append([]Strip{}, box...)
		lengthy := false
		for _, s := range shop {
			lengthy = lengthy || s.Price == 0
		}
		for _, s := range shop {
			if lengthy {
				s.Price = s.Length
			}
			kinds = append(kinds, s)
		}
		best := math.Inf(1)
		var pieces []float64
		everyWay(wholes, nil, func(p []float64) {
			if c := cheapest(p, kinds, kerf, best); c < best {
				best, pieces = c, p
			}
		})
		if pieces == nil {
			return // it can't be parted
		}
		found, err := Cut(context.Background(), pieces, box, shop, kerf)
		require.NoError(t, err)
		least, err := Least(context.Background(), wholes, box, shop, kerf, found)
		require.NoError(t, err)
		require.LessOrEqual(t, least, best+1e-9)
		if len(found.Left) == 0 {
			cases++
			if least == found.Cost {
				proven++
			}
		}
	})
	t.Logf("proven %d of %d", proven, cases)
	assert.Greater(t, 2*proven, cases, "more often than not the bound is met")
}

// Pieces cut elsewhere take fewer strips, and the bound tells so and proves it.
func TestLeastOfButtsElsewhere(t *testing.T) {
	whole := Whole{Length: 990, Marks: []float64{330, 495, 660}, Longest: 800, Most: 2, Times: 6}
	shop := []Strip{{Length: 664, Count: -1}}
	half, err := Cut(context.Background(), times(12, 495), nil, shop, 0.5)
	require.NoError(t, err)
	assert.True(t, half.Optimal(), "for these pieces")
	assert.Len(t, half.Strips, 12)
	whole.Longest = 664
	least, err := Least(context.Background(), []Whole{whole}, nil, shop, 0.5, half)
	require.NoError(t, err)
	assert.InDelta(t, 9*664, least, 1e-6)
	thirds, err := Cut(context.Background(), times(6, 330, 660), nil, shop, 0.5)
	require.NoError(t, err)
	assert.Len(t, thirds.Strips, 9)
	least, err = Least(context.Background(), []Whole{whole}, nil, shop, 0.5, thirds)
	require.NoError(t, err)
	assert.Equal(t, thirds.Cost, least)
}
