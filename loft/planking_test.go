package loft

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// TestReplankIsPlank: reusing surfaces changes nothing in the result.
func TestReplankIsPlank(t *testing.T) {
	p := workload(t, 25)
	p.Layers = append(p.Layers, p.Layers[0])
	first, err := Plank(p)
	require.NoError(t, err)
	q := *p
	q.Layers = append([]hull.Layer{}, p.Layers...)
	q.Layers[0].Stock.Thickness = 1 // the second layer's surface must follow
	again, err := first.Replank(&q)
	require.NoError(t, err)
	afresh, err := Plank(&q)
	require.NoError(t, err)
	assert.Same(t, first.Layers[0].Surface, again.Layers[0].Surface)
	assert.NotSame(t, first.Layers[1].Surface, again.Layers[1].Surface)
	for i := range afresh.Layers {
		assert.Equal(t, afresh.Layers[i].Strakes, again.Layers[i].Strakes)
		assert.Equal(t, afresh.Layers[i].Lines, again.Layers[i].Lines)
	}
}

func TestUnsoundPlansAreRefused(t *testing.T) {
	cases := map[string]func(*hull.Layer){
		"width is 0 mm":        func(l *hull.Layer) { l.Stock.Width = 0 },
		"thickness is -1 mm":   func(l *hull.Layer) { l.Stock.Thickness = -1 },
		"half a strip or more": func(l *hull.Layer) { l.Creep = 5 },
		"no band":              func(l *hull.Layer) { l.Bands = nil },
		"one line fewer":       func(l *hull.Layer) { l.Lines = l.Lines[:1] },
		"bevelled or square":   func(l *hull.Layer) { l.Edges = "round" },
		"no line type":         func(l *hull.Layer) { l.Lines[0].LineType = "bent" },
		"two different frames": func(l *hull.Layer) { l.Lines[0].Aim = l.Lines[0].Hold },
		"handles for 25":       func(l *hull.Layer) { l.Lines[0].Handles = nil },
	}
	for want, spoil := range cases {
		p := workload(t, 25)
		spoil(&p.Layers[0])
		_, err := Plank(p)
		assert.ErrorContains(t, err, want)
		assert.ErrorContains(t, err, "layer 1")
	}
	_, err := Plank(&hull.Plan{Hull: workload(t, 25).Hull})
	assert.ErrorContains(t, err, "no layer")
}

func TestFairLines(t *testing.T) {
	p := oneLayer(bodies.Wigley(1600, 25, 15), bodies.FiveByTwo, 1)
	for _, n := range []int{1, 2, 3, 4, 5} {
		q, err := FairLines(context.Background(), p, 0, n)
		require.NoError(t, err)
		l := plankOne(t, q)
		require.Len(t, l.Bands, n)
		for k := 1; k < n; k++ {
			manner := hull.Least
			if k == n/2 {
				manner = hull.Free
			}
			assert.Equal(t, manner, q.Layers[0].Lines[k-1].LineType)
			worst := hull.Curvature(0)
			for _, c := range l.Lines[k].EdgeSet {
				worst = max(worst, c, -c)
			}
			assert.Less(t, worst.PerMetre(), 0.5, "line %d of %d", k, n)
		}
	}
	assert.Len(t, p.Layers[0].Bands, 1, "the plan given is not changed")
	_, err := FairLines(context.Background(), p, 1, 2)
	assert.ErrorContains(t, err, "no layer 2")
	_, err = FairLines(context.Background(), p, 0, -3)
	assert.Error(t, err)
}

// inWidths are a layer's strips in other widths.
func inWidths(p *hull.Plan, layer int, widths ...float64) []hull.Stock {
	stocks := make([]hull.Stock, len(widths))
	for i, w := range widths {
		stocks[i] = p.Layers[layer].Stock
		stocks[i].Width = w
	}
	return stocks
}

func TestCompare(t *testing.T) {
	p := oneLayer(bodies.Trough(5, 60, func(float64) [][2]float64 { return bodies.Flat(92) }), bodies.FiveByTwo, 2)
	rows, err := compare(t.Context(), p, 0, inWidths(p, 0, 4, 5, 6))
	require.NoError(t, err)
	require.Len(t, rows, 3)
	assert.Equal(t, []int{9, 9}, rows[1].Strakes)
	assert.InDelta(t, 1, rows[1].LeftOver[0], 1e-6)
	assert.InDelta(t, 5, rows[1].Narrowest, 1e-9, "a millimetre in nine strips is what they creep apart")
	// 36 strakes of 240 mm, four to a strip of a metre: nine strips.
	assert.Equal(t, 9, rows[1].Strips)
	assert.InDelta(t, 36*240, rows[1].Length, 1e-6)
	assert.InDelta(t, 9*1000-36*240, rows[1].Waste, 1e-6)
	assert.Equal(t, Dry, rows[1].How, "an upright side is flat")
	_, err = compare(t.Context(), p, 1, nil)
	assert.ErrorContains(t, err, "no layer 2")
	_, err = compare(t.Context(), p, 0, inWidths(p, 0, -1))
	assert.ErrorContains(t, err, "strips -1 mm wide")
}

// TestOffsetKeepsKnuckles: round a right-angled corner the outer face is longer by t on
// each side.
func TestOffsetKeepsKnuckles(t *testing.T) {
	s, err := Loft(bodies.Boxy(7))
	require.NoError(t, err)
	o := s.offset(2, 0, s.Frames()-1)
	assert.Empty(t, o.folds)
	require.Len(t, o.panels, 2)
	assert.InDelta(t, s.Girth(3)+4, o.Girth(3), 0.01)
}

// TestCompareThickness: on a cylinder of radius R every strip along the axis is flat,
// and one round a frame would be strained by t/2R; the strakes of a cone by their own
// share of that.
func TestCompareThickness(t *testing.T) {
	p := oneLayer(bodies.Revolved(bodies.Spaced(0, 200, 9), 31, func(x float64) float64 { return 40 }), bodies.FiveByTwo, 2)
	for i := range p.Layers[0].Lines[0].Handles {
		p.Layers[0].Lines[0].Handles[i].Down = 40 + 10*float64(i) // a helix of slope 80 in 200
	}
	p.Trade = hull.NewTrade()
	p.Trade.LeastWidth = 0.05 // so that none drops out, whose neighbours bend aside
	thick := bodies.FiveByTwo
	thick.Thickness = 4
	rows, err := compare(t.Context(), p, 0, []hull.Stock{bodies.FiveByTwo, thick})
	require.NoError(t, err)
	sin2 := 80. * 80 / (80*80 + 200*200)
	assert.InEpsilon(t, 2*sin2/40/2, rows[0].FaceStrainMax, 0.15, "the strakes beside the line run nearly with it")
	assert.InEpsilon(t, 2, rows[1].FaceStrainMax/rows[0].FaceStrainMax, 0.1)
	assert.GreaterOrEqual(t, rows[1].Strakes[0], rows[0].Strakes[0], "thicker strips lose more to the bevel")
}

// compare is Compare of a plan that is planked first.
func compare(ctx context.Context, p *hull.Plan, layer int, stocks []hull.Stock) ([]StockRow, error) {
	k, err := plank(ctx, p, nil)
	if err != nil {
		return nil, err
	}
	return k.Compare(ctx, layer, stocks)
}
