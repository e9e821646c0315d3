package settings

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/loft"
)

// TestTheStrakesCutsAreTold: the chosen strake's straight cuts stand in its summary,
// in the unit shown, and what is planed off it where the pointer is; of a strake that
// is not sprung neither.
func TestTheStrakesCutsAreTold(t *testing.T) {
	d := windowtest.NewDesk(t)
	sprung, other := 0, 0
	for layer, l := range d.Planking().Layers {
		for n, st := range l.Strakes {
			c := views.Nothing
			c.Layer = layer
			d.Choose(c.WithStrake(n))
			cuts := l.CutsOf(st, st.At)
			if cuts == nil {
				assert.NotContains(t, strakeSummary(d), "strip", st.ID)
				other++
				continue
			}
			sprung++
			assert.Contains(t, strakeSummary(d), answer.CutsText(l, cuts, views.Millimetres), st.ID)
			for f, at := range st.At {
				if at.Laid && at.Action == loft.Taper && cuts.WidthAt(st, f) < cuts.Strip {
					assert.Contains(t, d.StrakeText(st, f), "strip planed to "+views.Millimetres.Length(cuts.WidthAt(st, f)))
				}
			}
			d.SwitchUnits()
			assert.Contains(t, strakeSummary(d), answer.CutsText(l, cuts, views.Inches), st.ID)
			d.SwitchUnits()
		}
	}
	assert.Positive(t, sprung)
	assert.Positive(t, other)
}
