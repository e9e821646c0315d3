package loft

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// reaching is a search over so many frames of a hull, of a strip that is in its place
// up to a share of the hull from a hold and between two that are twice that apart, the
// share growing from end to end.
func reaching(frames int) *holding {
	h := &holding{last: frames - 1}
	h.astray = func(held []int) (bad []int, err error) {
		held = slices.Sorted(slices.Values(held))
		for i := range frames {
			k, found := slices.BinarySearch(held, i)
			at := float64(i) / float64(frames-1)
			reach := (0.02 + 0.03*at) * float64(frames-1)
			switch {
			case found:
			case k > 0 && k < len(held):
				if float64(held[k]-held[k-1]) > 2*reach {
					bad = append(bad, i)
				}
			case k == 0 && float64(held[0]-i) > reach, k == len(held) && float64(i-held[k-1]) > reach:
				bad = append(bad, i)
			}
		}
		return bad, nil
	}
	return h
}

// fromMiddle is the order in which a strip is pressed on over so many frames.
func fromMiddle(frames int) []int {
	m := frames / 2
	out := []int{m}
	for d := 1; d <= m; d++ {
		for _, i := range []int{m + d, m - d} {
			if i >= 0 && i < frames {
				out = append(out, i)
			}
		}
	}
	return out
}

// How many ways are tried to hold a strip grows with the holds and the halvings between
// them, not with the frames: eight times as many frames take three halvings more for
// each hold. The holds found do hold, and each is needed.
func TestHoldsTriedGrowLittle(t *testing.T) {
	tried := map[int]int{}
	for _, frames := range []int{11, 25, 125, 1000} {
		h := reaching(frames)
		held, err := h.search(fromMiddle(frames))
		require.NoError(t, err)
		tried[frames] = h.tried
		bad, err := h.astray(held)
		require.NoError(t, err)
		assert.Empty(t, bad, "%d frames", frames)
		for i := range held {
			bad, err := h.astray(slices.Delete(slices.Clone(held), i, i+1))
			require.NoError(t, err)
			assert.NotEmpty(t, bad, "%d frames, without %d", frames, held[i])
		}
		if frames >= 125 {
			assert.Less(t, len(held), 20, "%d frames", frames)
		}
	}
	assert.Less(t, tried[1000], tried[125]+3*20, "of %v", tried)
	assert.Less(t, tried[1000], 1000/4)
}

// The segments of a strip that is reckoned do not grow with the frames, but for the two
// that each bay must have.
func TestSpringingIsCutNoFinerOverManyFrames(t *testing.T) {
	for bays, want := range map[int]int{1: 4, 40: 4, 41: 3, 54: 2, 999: 2} {
		sp := Springing{First: 3, Last: 3 + bays}
		assert.Equal(t, want, sp.finely(searchBay), "%d bays", bays)
	}
	sp := Springing{Last: 40}
	assert.Equal(t, tellBay, sp.finely(tellBay))
}
