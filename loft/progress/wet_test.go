package progress

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

func did(date string, d hull.EntryKind, id string, wet bool) hull.Entry {
	return hull.Entry{Date: date, EntryKind: d, Layer: 1, Strake: id, Wet: wet}
}

func TestWetStrakes(t *testing.T) {
	k := bench45(t)
	p := k.Plan.Clone()
	p.Layers[0].Stock.Species = "American beech"
	k, err := loft.Plank(p)
	require.NoError(t, err)
	wood := []hull.Wood{{Name: "American beech", Radial: 5.5, Tangential: 11.9}}
	dry := did("2026-03-04", hull.AsLaid, "1.02", false)
	dry.Frame, dry.MM = "A", 4.9
	wetSize := did("2026-03-02", hull.AsLaid, "1.02", true)
	wetSize.Frame, wetSize.MM = "A", 5.2
	list := WetStrakes(k, 0, []hull.Entry{
		did("2026-03-01", hull.Soaking, "1.01", false), did("2026-03-01", hull.Pinned, "1.01", true), // pinned there wet
		did("2026-03-01", hull.Soaking, "1.02", false), did("2026-03-01", hull.Glued, "1.02", true), wetSize, dry, // glued wet, measured dry
		did("2026-03-01", hull.Pinned, "1.03", true), did("2026-03-03", hull.Glued, "1.03", false), // dried before the glue
		did("2026-03-01", hull.Glued, "1.04", false),                                                // never wet
		did("2026-03-01", hull.Glued, "1.05", true), did("2026-03-02", hull.Removed, "1.05", false), // taken off again
		did("2026-03-05", hull.Glued, "1.06", true), // glued wet and not measured since
	}, wood)
	by := map[string]WetStrake{}
	for _, w := range list {
		by[w.ID] = w
	}
	require.Len(t, by, 4)
	assert.True(t, by["1.01"].Awaits)
	assert.Equal(t, "2026-03-01", by["1.01"].Soaked)
	assert.Equal(t, "2026-03-01", by["1.01"].Pinned)
	assert.False(t, by["1.02"].Awaits)
	assert.True(t, by["1.02"].GluedWet)
	assert.Len(t, by["1.02"].Measured, 2)
	assert.False(t, by["1.03"].Awaits)
	assert.False(t, by["1.03"].GluedWet)
	assert.True(t, by["1.06"].Awaits)
	// From 30 to 8 percent a beech strip that was 5 mm as bought at 8 percent returns to 5
	// mm: by the Wood Handbook's eq. 4-1, S·22/30 of its soaked width.
	soaked := func(s float64) float64 { return 5 / (1 - s/100*22/30) }
	assert.InDelta(t, soaked(5.5)-5, by["1.01"].Shrinks.Low, 1e-9)
	assert.InDelta(t, soaked(11.9)-5, by["1.01"].Shrinks.High, 1e-9)
	assert.Equal(t, []string{"American beech"}, by["1.01"].Woods)

	unknown := WetStrakes(bench45(t), 0, []hull.Entry{did("2026-03-01", hull.Glued, "1.01", true)}, wood)
	require.Len(t, unknown, 1)
	assert.Empty(t, unknown[0].Woods)
	assert.Zero(t, unknown[0].Shrinks)
}

// A wet measurement is left out until the strake is measured dry.
func TestWetMeasurementsTeachNothing(t *testing.T) {
	k := bench45(t)
	e := glued("1.01")
	for _, f := range []string{"A", "C", "E"} {
		e = append(e, hull.Entry{EntryKind: hull.AsLaid, Layer: 1, Strake: "1.01", Frame: f, MM: 5.4, Wet: true})
	}
	s := replanned(t, k, e)
	assert.Equal(t, []int{1, 2, 3}, s.Wet)
	assert.False(t, s.Measured)
	assert.Zero(t, s.Creep)
}
