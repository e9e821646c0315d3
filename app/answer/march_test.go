package answer_test

import (
	"bytes"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// TestMarchInBothUnits words marches that are forced, that are not, and that end
// where there is no place.
func TestMarchInBothUnits(t *testing.T) {
	p := wigley(1)
	for _, rule := range []float64{0.0001, 0.003, 0.2} {
		p.Trade = hull.NewTrade()
		p.Trade.EdgeStrain = rule
		k := plank(t, p)
		ms, err := k.March(t.Context(), 0)
		require.NoError(t, err)
		require.Len(t, ms, 2)
		for _, m := range ms {
			for _, told := range []loft.March{m, folded(m), bentAlready(m), {Band: 1, Line: 2, Up: true, Forced: -1, Folds: -1}} {
				inBothUnits(t, "march", func(u answer.Units) string { return answer.MarchText(k, k.Layers[0], &told, u) })
			}
		}
	}
}

func folded(m loft.March) loft.March {
	m.Folds, m.FoldsAt = 3, 1
	return m
}

func bentAlready(m loft.March) loft.March {
	m.Line, m.Free = 0, false
	if m.Forced > 0 {
		m.Strips, m.Forced = m.Strips[m.Forced:], 0
	}
	return m
}

// TestMarchTellsWhatItHolds: the sentence, the row and the frames of a strip say
// the same of it.
func TestMarchTellsWhatItHolds(t *testing.T) {
	p := wigley(2)
	k := plank(t, p)
	a, err := answer.MarchOf(t.Context(), k)
	require.NoError(t, err)
	require.Len(t, a.Marches, 4)
	assert.Equal(t, 0.003, a.Rule)
	for _, b := range a.Marches {
		assert.True(t, b.Free)
		assert.Contains(t, b.Told, " free line 1: ")
		for n, s := range b.Strips {
			most := 0.0
			for _, at := range s.At {
				most = math.Max(most, at.Strain)
				assert.InDelta(t, math.Abs(at.EdgeSet)/1000*s.Width/2, at.Strain, 1e-5)
			}
			assert.LessOrEqual(t, most, s.Strain+1e-9)
			assert.Equal(t, s.Strain > a.Rule, len(s.Forced) > 0)
			if b.Forced != nil {
				assert.Equal(t, n+1 == *b.Forced, len(s.Forced) > 0 && n+1 <= *b.Forced)
			}
		}
	}
	var text bytes.Buffer
	require.NoError(t, a.Text(&text))
	assert.Contains(t, text.String(), "Layer 2\n")
	assert.Contains(t, text.String(), a.Marches[3].Told)
}
