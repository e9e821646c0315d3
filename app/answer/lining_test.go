package answer_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// TestFrontTellsWhatIsGivenUp: before a way is taken the builder reads what of his own
// it gives up, and what becomes of the order of laying.
func TestFrontTellsWhatIsGivenUp(t *testing.T) {
	p := wigley(1)
	n := plank(t, p).Layers[0].Bands[0].Strakes
	b := &p.Layers[0].Bands[0]
	b.Strakes, b.Weights, b.Strips, b.Modes = n, make([]float64, n), make([]float64, n), make([]hull.Mode, n)
	b.Weights[0], b.Strips[1], b.Modes[2] = 1.1, 6, hull.Block
	k := plank(t, p)
	ways, err := loft.LineOff(t.Context(), p, 0, len(p.Layers[0].Bands)+1, len(p.Layers[0].Bands)+1, nil)
	require.NoError(t, err)
	f, err := answer.FrontOf(k, 0, ways, nil)
	require.NoError(t, err)
	require.Len(t, f.Plans, len(ways))
	for i, a := range f.Plans {
		told := strings.Join(a.Warnings, " ")
		assert.Contains(t, told, "the shares that you set")
		assert.Contains(t, told, "the strips that you set")
		assert.Contains(t, told, "the ways of making that you set")
		assert.NotContains(t, told, "bench record")
		assert.Contains(t, a.Laying, "Laying now goes outward: it begins under line ")
		assert.Len(t, a.Cells(), len(answer.LiningHeads()))
		assert.InDelta(t, ways[i].Waste(), a.Waste(), 1e-5)
	}
	assert.Contains(t, f.Advice, f.Plans[0].Bands())

	p.Record.Add(hull.Port, hull.Entry{Date: "2026-03-01", EntryKind: hull.Glued, Layer: 1, Strake: "1.01"})
	k = plank(t, p)
	ways, err = loft.LineOff(t.Context(), p, 0, 2, 2, nil)
	require.NoError(t, err)
	f, err = answer.FrontOf(k, 0, ways, nil)
	require.NoError(t, err)
	assert.Contains(t, strings.Join(f.Plans[0].Warnings, " "), "The bench record has 1 note on this layer")
	assert.Empty(t, f.Plans[0].Laying, "a planking that is begun keeps its order")

	_, err = answer.FrontOf(k, 3, ways, nil)
	assert.ErrorContains(t, err, "there is no layer 4")
}

// TestFrontWarnsOfForcedLines: a line along which no strip lies is told of, with
// its figure, before it is taken; a line along which one lies is not.
func TestFrontWarnsOfForcedLines(t *testing.T) {
	p := wigley(1)
	ways, err := loft.LineOff(t.Context(), p, 0, 4, 4, nil)
	require.NoError(t, err)
	f, err := answer.FrontOf(plank(t, p), 0, ways, nil)
	require.NoError(t, err)
	forced := 0
	for i, w := range ways {
		told := strings.Join(f.Plans[i].Warnings, "\n")
		for n, b := range w.Layer.Lines[1 : len(w.Layer.Lines)-1] {
			v := w.Layer.JudgeLine(b)
			along := fmt.Sprintf("Line %d: ", n+1)
			if v.Kind != loft.NeedsSheet {
				assert.NotContains(t, told, along)
				continue
			}
			forced++
			assert.Greater(t, v.Figure, v.Limit)
			assert.Contains(t, told, along+answer.VerdictText(v, w.Layer.Surface.FrameName))
		}
	}
	assert.Positive(t, forced)
}
