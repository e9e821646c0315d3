package views

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/loft"
)

// The widths that the bench calls for are a second curve: dashed, below the
// first where less is left, with a square at every frame, and named.
func TestGaugeShowsTheBenchBesideThePlan(t *testing.T) {
	k := wigley(t)
	at, on := -1, []loft.Crossing(nil)
	for n, s := range k.Layers[0].Strakes {
		if at < 0 && !slices.ContainsFunc(s.At, func(c loft.Crossing) bool { return !c.Laid }) {
			at, on = n, slices.Clone(s.At)
		}
	}
	require.GreaterOrEqual(t, at, 0)
	for f := range on {
		on[f].WidthCut -= 0.4
	}
	v := &Gauge{X: Axis{From: -200, Scale: 2}, Bench: &BenchWidths{On: on, Where: "to port"}}
	v.Draw(k, Nothing.WithStrake(at), 900, 150)
	assert.Equal(t, len(on), count(&v.Drawing, func(it draw.Item) bool { m, ok := it.(draw.Mark); return ok && m.Shape == draw.Square }))
	var plan, bench draw.Stroke
	named := false
	for _, it := range v.Drawing.Items {
		switch it := it.(type) {
		case draw.Stroke:
			if it.Role == draw.BandInk {
				plan = it
			}
			if it.Role == draw.Chosen && len(it.Pen.Dash) > 0 && len(it.Points) > 2 {
				bench = it
			}
		case draw.Label:
			named = named || strings.Contains(it.Text, "the bench asks for it to port")
		}
	}
	assert.True(t, named)
	assert.Empty(t, plan.Pen.Dash)
	for f := range on {
		assert.Greater(t, bench.Points[f].Y, plan.Points[f].Y, "frame %d: narrower lies lower", f)
		assert.Less(t, bench.Points[f].Y, 150*0.58, "within its own diagram")
	}
}
