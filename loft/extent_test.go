package loft

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// tuckedPlan is the bluff hull with the tight tuck, planked in the given number of
// layers of 2 mm.
func tuckedPlan(layers int) *hull.Plan {
	p := oneLayer(bodies.Tucked(tuckedAtStem), bodies.FiveByTwo, 1)
	for range layers - 1 {
		p.Layers = append(p.Layers, p.Clone().Layers[0])
	}
	return p
}

// folds are the folds reported for a layer.
func folds(l *Layer) (out []Folds) {
	for _, n := range l.Notes {
		if f, ok := n.(Folds); ok {
			out = append(out, f)
		}
	}
	return out
}

// TestEveryRemedySettlesTheFold: a plan of two or of three layers is planked though the
// outer faces fold, and each remedy offered, applied as it is, leaves nothing of its
// fold to report.
func TestEveryRemedySettlesTheFold(t *testing.T) {
	for layers := 2; layers <= 3; layers++ {
		k, err := Plank(tuckedPlan(layers))
		require.NoError(t, err)
		found := folds(k.Layers[0])
		require.Len(t, found, 1)
		assert.Empty(t, folds(k.Layers[layers-1]), "nothing lies on the last layer")
		require.Len(t, found[0].Remedies(), 3)
		for _, r := range found[0].Remedies() {
			p := k.Plan.Clone()
			require.NoError(t, Take(p, 0, r))
			q, err := k.Replank(p)
			require.NoError(t, err)
			assert.Empty(t, folds(q.Layers[0]), "%T", r)
			whole, err := Plank(p)
			require.NoError(t, err)
			for i := range p.Layers {
				assert.Equal(t, whole.Layers[i].Girths, q.Layers[i].Girths, "replanked is planked")
				assert.Equal(t, whole.Layers[i].Notes, q.Layers[i].Notes)
			}
		}
	}
}

// TestLayerOfItsOwnFrames: strakes of a layer that ends early end there; the next layer
// lies on the surface below beyond that, and over the full thickness within.
func TestLayerOfItsOwnFrames(t *testing.T) {
	p := tuckedPlan(2)
	p.Layers[0].From = "C"
	k, err := Plank(p)
	require.NoError(t, err)
	assert.Contains(t, k.Layers[0].Notes, Note(LaidBetween{From: 2, To: 6}))
	for _, st := range k.Layers[0].Strakes {
		for i, c := range st.At {
			assert.False(t, c.Laid && i < 2, "strake %s is laid at frame %d", st.ID, i)
		}
	}
	assert.InDelta(t, k.Layers[0].Girths[0], k.Layers[1].Girths[0], 0.005, "resampled at 1.4 mm across a hollow of 2")
	for i := 2; i < 7; i++ {
		away, _ := k.Layers[0].Surface.away(k.Layers[1].Surface.AtDown(i, 5), i)
		assert.InDelta(t, 2, away, 0.02)
	}
	first, last := k.Layers[1].Surface.Planked()
	assert.Equal(t, [2]int{0, 6}, [2]int{first, last})

	// Where the layer over it is not laid either, nothing can fold.
	p = tuckedPlan(2)
	p.Layers[1].From = "D"
	k, err = Plank(p)
	require.NoError(t, err)
	assert.Empty(t, folds(k.Layers[0]))

	// Within the hull's own limits a layer ends where they do.
	p = tuckedPlan(2)
	p.Hull.Limits.From, p.Layers[0].To = "B", "F"
	k, err = Plank(p)
	require.NoError(t, err)
	first, last = k.Layers[0].Surface.Planked()
	assert.Equal(t, [2]int{1, 5}, [2]int{first, last})
	first, last = k.Layers[1].Surface.Planked()
	assert.Equal(t, [2]int{1, 6}, [2]int{first, last})
}

// TestBlocksAreTold: a block that does not enclose all of a fold leaves the fold
// reported; one where nothing folds is reported as full.
func TestBlocksAreTold(t *testing.T) {
	p := tuckedPlan(2)
	p.Layers[0].Blocks = []hull.Solid{{To: "C", Upper: 5, Lower: 10}, {From: "E"}}
	k, err := Plank(p)
	require.NoError(t, err)
	require.Len(t, folds(k.Layers[0]), 1)
	assert.Contains(t, k.Layers[0].Notes, Note(MadeBlock{From: 0, To: 2, Upper: 5, Lower: 10, Left: 2}))
	assert.Contains(t, k.Layers[0].Notes, Note(MadeBlock{From: 4, To: 6, Lower: math.Inf(1), Left: 2}))
}
